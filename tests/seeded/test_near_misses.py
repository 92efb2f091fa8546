"""What a rule of thumb would call a fault and is none: never unsafe or unrealistic, and the rule itself is quiet."""

from pathlib import Path
from typing import Any

import pytest

from planlang.checking.check import Checked
from planlang.checking.own import OWN
from planlang.checking.rulebook import Rulebook
from planlang.text.finding import Level
from tests.seeded.seeding import HERE, checked, edited, failing, plans, squeezed, table

PROGRAMMES = HERE.parents[1] / "examples" / "programmes"
ROWS = table(HERE / "near_misses.yaml")


def base(name: str) -> str:
    """A clean plan, or a published programme."""
    programme: Path = PROGRAMMES / f"{name}.plan"
    return plans()[name] if name in plans() else squeezed(programme.read_text("utf-8"))


@pytest.fixture(scope="module")
def judged(book: Rulebook) -> dict[str, Checked]:
    return {row["miss"]: checked(row["plan"], edited(base(row["plan"]), row["edit"])[0], book) for row in ROWS}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["miss"])
def test_it_is_read_as_written(row: dict[str, Any], judged: dict[str, Checked]) -> None:
    found = judged[row["miss"]].findings
    assert [f.message for f in found if f.rule in ("unreadable", "contradiction", "unreckonable", "unknown-word")] == []


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["miss"])
def test_it_is_not_called_unsafe_or_unrealistic(row: dict[str, Any], judged: dict[str, Checked]) -> None:
    found = failing(judged[row["miss"]].findings)
    assert [f.message for f in found if f.level is Level.UNSAFE] == []
    assert {f.rule for f in found} == set(row.get("also", {})), [(f.rule, f.message) for f in found]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["miss"])
def test_the_rules_that_would_cry_wolf_are_quiet(row: dict[str, Any], judged: dict[str, Checked]) -> None:
    said = {f.rule: f.message for f in judged[row["miss"]].findings if f.rule in row["quiet"]}
    assert said == {}


def test_the_rules_named_are_rules(book: Rulebook) -> None:
    named = {name for row in ROWS for name in (*row["quiet"], *row.get("also", {}))}
    assert sorted(name for name in named if book.rule(name) is None and name not in OWN) == []
