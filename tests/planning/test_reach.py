"""Where a dose stands on a ladder, and the date on which it is reached for one placement of rest."""

from __future__ import annotations

from datetime import date
from itertools import combinations

import pytest

from planlang.planning.reach import Aim, aim, reached_on
from tests.planning.plans import BEDS, plan_of, read, reckoned


def stand(dose: str) -> Aim:
    ladder = "begin 2x6\nthen 2x8\nthen 3x8\nthen 3x8 at 2 kg\nthen 3x8 at 4 kg\nprogress every 1 week"
    plan = plan_of(f'exercise squat\n{ladder}\ntarget "T"\nby week 4\nreach {dose} in squat')
    return aim(plan.exercises[0], plan.targets[0].reach, plan.today)


@pytest.mark.parametrize(
    ("dose", "expected"),
    [
        ("2x6", Aim(0, True)),
        ("2x7", Aim(1, True)),
        ("3x6", Aim(2, True)),
        ("1x8 at 3 kg", Aim(4, True)),
        ("3x12", Aim(None, True, 4)),
        ("3x8 at 6 kg", Aim(None, True, 4)),
        ("20 min", Aim(None, False)),
        ("3x8 each side", Aim(None, False)),
    ],
)
def test_the_first_step_at_least_a_dose(dose, expected):
    assert stand(dose) == expected


@pytest.mark.parametrize(
    ("rest", "expected"),
    [((), date(2027, 4, 26)), ((3, 6, 9), date(2027, 6, 28))],
)
def test_the_dates_of_the_worked_answer(rest, expected):
    assert reached_on(reckoned(read(BEDS), *rest), "sit-to-stand", 4) == expected


def test_the_worked_answer_over_every_placement():
    # earliest, latest, worst rest and verdict as the answer for this plan is fixed in the description of the commands.
    plan = read(BEDS)
    dates = {
        rest: reached_on(reckoned(plan, *rest), "sit-to-stand", 4)
        for many in range(4)
        for rest in combinations(range(1, 19), many)
    }
    assert None not in dates.values()
    assert (min(dates.values()), max(dates.values())) == (date(2027, 4, 26), date(2027, 6, 28))
    worst = [rest for rest, day in dates.items() if day == max(dates.values())]
    assert min(worst, key=lambda rest: (len(rest), rest)) == (3, 6, 9)
    assert max(dates.values()) <= date(2027, 7, 4)


def first_of(lines: str, step: int = 1, head: str = "", weeks: int = 4):
    return reached_on(reckoned(plan_of(lines, weeks, head=head)), "walking", step)


DAILY = "activity walking\nbegin 3000 steps/day\nrise 500 steps/day every week to 4000 steps/day"


def test_a_daily_activity_counts_from_the_first_day_of_the_week():
    assert first_of(DAILY) == date(2027, 3, 8)


def test_a_daily_activity_counts_from_the_first_day_that_is_not_away():
    assert first_of(DAILY, head="away 2027-03-08 to 2027-03-09") == date(2027, 3, 10)


def test_a_weekly_quota_counts_at_the_end_of_the_week():
    assert first_of("activity walking\nbegin 60 min/week\nrise 10 min/week every week to 80 min/week") == date(
        2027, 3, 14
    )


def test_where_the_person_picks_the_days_it_counts_at_the_end_of_the_week():
    ladder = "begin 10 min\nthen 12 min\nprogress every 1 week"
    body = f'exercise walking\n{ladder}\nsession "A"\ndays 3 a week, you choose\ndo walking'
    assert first_of(body) == date(2027, 3, 14)


def test_a_step_that_no_week_reaches_has_no_date():
    assert first_of(DAILY, step=5) is None
    assert reached_on(reckoned(plan_of(DAILY)), "nothing", 0) is None
