"""Two hundred plans drawn within every threshold: none of them is called unsafe or unrealistic."""

from collections import Counter

from hypothesis import HealthCheck, given, settings

from planlang.checking.rulebook import Rulebook, built_in
from planlang.planning.week import WeekKind
from tests.seeded.modest import modest_plans
from tests.seeded.seeding import checked, failing

DRAWN: Counter[str] = Counter()
WANTED = {"knee osteoarthritis", "hip osteoarthritis", "hand osteoarthritis", "rheumatoid arthritis", "hip replacement"}
WANTED |= {"exercise", "activity", "lighter", "rise", "away", "easier", "operation", "from 65 on", "under 65", "fell"}


def book() -> Rulebook:
    return built_in()


@settings(max_examples=200, derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck))
@given(modest_plans())
def test_a_plan_within_every_threshold_brings_nothing_that_fails(text: str) -> None:
    result = checked("drawn", text, book())
    assert [(f.rule, f.message) for f in failing(result.findings)] == []
    assert len(result.rules) >= 70
    assert result.not_judged == ()
    plan, weeks = result.plan, result.weeks
    assert plan is not None
    assert weeks is not None
    assert sum(week.kind is WeekKind.TRAINING for week in weeks.weeks) >= 2
    DRAWN.update(line.split()[0] for line in text.splitlines())
    DRAWN.update(about.name for about in plan.about)
    DRAWN["from 65 on" if (plan.aged or 0) >= 65 else "under 65"] += 1
    DRAWN["fell"] += "falls 0" not in text


def test_the_plans_drawn_are_of_many_kinds() -> None:
    test_a_plan_within_every_threshold_brings_nothing_that_fails()
    assert sorted(want for want in WANTED if DRAWN[want] < 10) == []
