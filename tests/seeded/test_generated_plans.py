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

IN_WORDS = (
    "falls 0",
    "unsteady yes",
    "lighter every",
    "rise ",
    "away ",
    "easier ",
    "operation ",
    "tags one-leg",
    "min/week",
    "%1RM",
    "clear yes for vigorous",
    "bones fragile",
    "points above usual",
    "every second",
    "you choose",
    "reach ",
)
"""What plans are to have, each in several of them at least."""
SEVERAL = 3  # hypothesis draws otherwise as other modules are loaded, so no larger share can be asked for

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

        @settings(thorough, max_examples=100)
        @given(modest_plans(kind))
        def drawn(text: str) -> None:
            seen.update(words for words in IN_WORDS if words in text)

        drawn()
    assert {words: seen[words] for words in IN_WORDS if seen[words] < SEVERAL} == {}
