"""One rulebook, and every plan and fault read and judged once for all tests of this folder."""

import pytest

from planlang.checking.check import Checked
from planlang.checking.rulebook import Rulebook
from tests.seeded.seeding import Seed, checked, plans, rules, seeds, sown


@pytest.fixture(scope="session")
def book() -> Rulebook:
    return rules()


@pytest.fixture(scope="session")
def clean(book: Rulebook) -> dict[str, Checked]:
    """The clean plans as judged, by name."""
    return {name: checked(name, text, book) for name, text in plans().items()}


@pytest.fixture(scope="session")
def faulty(book: Rulebook) -> dict[str, tuple[Seed, Checked, set[int]]]:
    """By its name each fault, what is found of it, and the lines that it touched."""
    return {seed.fault: (seed, *sown(seed, book)) for seed in seeds()}
