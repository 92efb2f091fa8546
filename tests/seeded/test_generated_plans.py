"""More than two hundred plans drawn within every threshold: none of them is called unsafe or unrealistic."""

from collections import Counter

import pytest
from hypothesis import HealthCheck, given, settings

from planlang.checking.check import Checked
from planlang.checking.rulebook import Rulebook
from planlang.planning.week import WeekKind
from tests.seeded.modest import modest_plans
from tests.seeded.modest_people import CONDITIONS
from tests.seeded.second_block import two_blocks
from tests.seeded.seeding import checked, failing, rules

IN_WORDS = {
    "falls 0": 60,
    "unsteady yes": 10,
    "lighter every": 20,
    "rise ": 40,
    "away ": 30,
    "easier ": 30,
    "operation ": 40,
    "tags one-leg": 10,
    "min/week": 30,
    "%1RM": 20,
    "clear yes for vigorous": 30,
    "bones fragile": 20,
    "points above usual": 60,
    "every second": 3,
    "you choose": 5,
    "reach ": 60,
}
"""What plans are to have, and in how many of them at least."""

thorough = settings(
    max_examples=36, derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck)
)


def nothing_fails(result: Checked) -> None:
    assert [(f.rule, f.message) for f in failing(result.findings)] == []
    assert [f.message for f in result.findings if f.rule in ("unreckonable", "unknown-word")] == []
    assert len(result.rules) >= 70
    assert result.not_judged == ()
    assert result.weeks is not None
    assert sum(week.kind is WeekKind.TRAINING for week in result.weeks.weeks) >= 2


@pytest.mark.parametrize("kind", CONDITIONS)
def test_a_plan_within_every_threshold_brings_nothing_that_fails(kind: str, book: Rulebook) -> None:
    @thorough
    @given(modest_plans(kind))
    def drawn(text: str) -> None:
        nothing_fails(checked("drawn", text, book))

    drawn()


@thorough
@given(two_blocks())
def test_a_block_that_goes_on_modestly_brings_nothing_that_fails(blocks: tuple[str, str]) -> None:
    after, before = blocks
    nothing_fails(checked("after", after, rules(), others={"before.plan": before}))


def test_the_plans_drawn_are_of_many_kinds() -> None:
    seen: Counter[str] = Counter()
    for kind in CONDITIONS:

        @thorough
        @given(modest_plans(kind))
        def drawn(text: str) -> None:
            seen.update(words for words in IN_WORDS if f"\n{words}" in text or words in text)

        drawn()
    assert {words: (seen[words], least) for words, least in IN_WORDS.items() if seen[words] < least} == {}
