"""Every statement outside ladders read into the model, and every way to contradict oneself."""

from __future__ import annotations

from datetime import date, time
from fractions import Fraction

import pytest

from planlang.model.plan import Agreed, Away, Condition, Goal, Limit, Measuring, Prepare, Review, Waiver, When
from planlang.model.quantity import Quantity
from planlang.model.rest import Expect, Lighter, PainLevel, Return, Sign, SignLeftOut
from planlang.model.session import Days, Kit, Visit
from tests.model.reading_help import HEAD, clean, messages, read, session


def test_the_plan_block() -> None:
    plan = clean("about knee osteoarthritis, both; hand osteoarthritis, left\nlanguage de\nstate draft\n")
    assert (plan.title, plan.code, plan.aged, plan.weeks) == ("Test", "P-001", 60, 12)
    assert (plan.starts, plan.zone, plan.written, plan.revision) == (
        date(2027, 3, 1),
        "Europe/London",
        date(2027, 2, 1),
        1,
    )
    assert plan.about == (Condition("knee osteoarthritis", "both"), Condition("hand osteoarthritis", "left"))
    assert (plan.language, plan.draft) == ("de", True)


def test_a_start_after_an_event_is_worked_out() -> None:
    plan = clean("", 'plan "Hip"\nstarts 1 week after 2027-02-10 "operation"\nlasts 6 weeks\n')
    assert plan.starts == date(2027, 2, 17)
    assert plan.starts_after == (7, date(2027, 2, 10), "operation")


def test_an_operation_with_its_limits() -> None:
    operation = clean(
        'operation 2026-12-21 "hip replacement" left\nweight-bearing full\n'
        'limits "no low chairs" until 2027-02-03 from "surgeon"\n'
    ).operations[0]
    assert (operation.day, operation.text, operation.side) == (date(2026, 12, 21), "hip replacement", "left")
    assert operation.weight_bearing == "full"
    assert operation.limits == (Limit("no low chairs", date(2027, 2, 3), "surgeon"),)


def test_screening() -> None:
    made = clean(
        "screening 2027-02-22\nby T-03\nclear yes for moderate\nasked heart no, diabetes yes\nfalls 1 in 12 months\n"
        "unsteady yes\nfloor gets up with help\nblood-pressure 148/88 mmHg\nbones fragile\n"
        "takes rate-slowing, blood-thinner\ngood until 2028-02-22\n"
    ).screening
    assert made is not None
    assert (made.by, made.clear, made.asked) == ("T-03", "yes for moderate", {"heart": "no", "diabetes": "yes"})
    assert (made.falls, made.falls_months, made.unsteady, made.floor) == (1, 12, "yes", "gets up with help")
    assert (made.blood_pressure, made.bones) == ((148, 88), "fragile")
    assert (made.takes, made.good_until) == (("rate-slowing", "blood-thinner"), date(2028, 2, 22))


def test_today() -> None:
    made = clean(
        "today\nchair-stands 9 reps\ndaily-steps 3200 steps/day over 7 days\nusual-pain 3/10\n"
        "body-weight 84 kg private\n"
        'has "sturdy chair"\nbase strength 9 weeks\ntested leg-press 40 kg for 8 reps\nweights 1, 2, 3 kg\n'
    ).today
    steps, usual, weight = (made.measure(n) for n in ("daily-steps", "usual-pain", "body-weight"))
    assert steps is not None
    assert (steps.value, steps.over_days) == (Quantity(Fraction(3200), "steps/day"), 7)
    assert usual is not None
    assert (usual.value, usual.rating_of) == (Quantity(Fraction(3)), 10)
    assert weight is not None
    assert weight.private
    assert (made.has, made.base) == (("sturdy chair",), (("strength", 9),))
    assert (made.tested[0].exercise, made.tested[0].reps) == ("leg-press", 8)
    assert made.weights == tuple(Quantity(Fraction(n), "kg") for n in (1, 2, 3))


def test_rest_and_pain_may_be_measures() -> None:
    plan = clean("today\npain 4/10\n", HEAD)
    assert plan.today.measures[0].measure == "pain"
    assert plan.pain is None


def test_goal_and_targets() -> None:
    plan = clean(
        'goal "Beds"\nby 2027-08-14\nbecause "greens"\nconfidence 7/10\nlast done 2012\nchanged "both knees"\n'
        "measured by chair-stands from 9 to 12\nscore less 9, expected 11\n"
        'target "Chair"\nby week 8\nreach 3x10 at 2 kg in squat\ntarget "Boots"\nby week 4\n'
        'keep "boots out" 5 days/week\n'
        'target "Crew"\ndo "ask the crew"\n'
    )
    assert plan.goal == Goal(
        "Beds",
        When(day=date(2027, 8, 14)),
        "greens",
        7,
        2012,
        ("both knees",),
        Measuring("chair-stands", Quantity(Fraction(9)), Quantity(Fraction(12))),
        (("less", Fraction(9)), ("expected", Fraction(11))),
    )
    chair, boots, crew = plan.targets
    assert (chair.by, chair.reach_in) == (When(week=8), "squat")
    assert (boots.keep, boots.keep_days, crew.do) == ("boots out", 5, "ask the crew")


def test_rest() -> None:
    made = clean(
        "rest\nroom for 3 weeks\nstarts when 2 points above usual for 2 days\nfirst 2 days as little as needed\n"
        "still do walking 5 min 3 times a day\nback when usual for 2 days\nreturn 1 step lower for 1 week\n"
        'return 2 steps lower for 2 weeks after 2 weeks\ntell us if "worse"\nspare empty\nleave step-up\n'
        "expect 4 flares in 52 weeks lasting 8 days varies much\nlighter every 4 weeks by 1 step\n"
    ).rest
    assert made is not None
    assert made.room == 3
    assert made.starts_when == PainLevel(points=Fraction(2), days=2)
    assert made.back_when == PainLevel(usual=True, days=2)
    assert made.returns == (Return(1, 1, 1), Return(2, 2, 2))
    assert made.expect == Expect(Fraction(4), 52, Fraction(8, 7), 1)
    assert (made.lighter, made.spare_empty, made.leave) == (Lighter(4, 1), True, ("step-up",))
    assert [s.name for s in made.still_do] == ["walking"]


def test_return_at_the_same_step_is_no_easing() -> None:
    made = clean("rest\nroom for 1 week\nreturn at the same step\n").rest
    assert made is not None
    assert made.returns == (Return(0, 0, 1),)


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("6/10 for 2 days", PainLevel(rating=Fraction(6), days=2)),
        ("usual for 2 days", PainLevel(usual=True, days=2)),
        ("1/10", PainLevel(rating=Fraction(1))),
        ('"easing for 2 days"', PainLevel(text="easing for 2 days")),
    ],
)
def test_typed_pain_tests(text: str, level: PainLevel) -> None:
    made = clean(f"rest\nback when {text}\n").rest
    assert made is not None
    assert made.back_when == level


def test_pain_and_signs() -> None:
    plan = clean(
        "pain\naccept up to 5/10 during\nrise of at most 2 points\nsettle within 24 hours\n"
        'stop if "faint" then emergency\nnot today if "reading 180/110" then tell us\n'
        'leave out red-flag locked because "known" by T-03\n'
    )
    assert plan.pain is not None
    assert (plan.pain.accept, plan.pain.rise, plan.pain.settle) == (5, 2, Quantity(Fraction(24), "h"))
    assert plan.signs == (Sign("faint", "emergency"), Sign("reading 180/110", "tell us", before=True))
    assert plan.signs_left_out == (SignLeftOut("locked", "known", "T-03"),)


@pytest.mark.parametrize(
    ("line", "days"),
    [
        ("days Mon, Wed, Fri", Days(fixed=(0, 2, 4))),
        ("days 3 a week from Mon, Tue, Thu, Sat", Days(low=3, high=3, among=(0, 1, 3, 5))),
        ("days 3 a week, you choose", Days(low=3, high=3, you_choose=True)),
        ("days 3 to 4 a week", Days(low=3, high=4)),
        ("days every second", Days(every_second=True)),
        ("days every day", Days(fixed=tuple(range(7)))),
        ("days 3 a week with 1 day between", Days(low=3, high=3, between=1)),
        ("days once every 4 weeks", Days(low=1, high=1, every_weeks=4)),
        ("days twice a week", Days(low=2, high=2)),
    ],
)
def test_day_rules(line: str, days: Days) -> None:
    assert session(line).days == (days,)


def test_a_session() -> None:
    made = session(
        'days Mon, Thu training weeks 1 to 4\ndays Mon training week 5 on\nat 07:30, 18:00 for 35 min\nplace "hall"\n'
        'kit "chair", "2 kg weight" from step 5\nwarm-up 10 min at effort 5/10 "walk"\ncool-down 5 min\nrounds 2\n'
        'resting 2 min between exercises\ncue "after tea"\nif not done move within the week\nwith "neighbour"\n'
        "visit in weeks 1, 2\nvisit twice in week 4\nat most 12 visits\n"
    )
    assert [d.window.ranges for d in made.days if d.window] == [((1, 4),), ((5, None),)]
    assert (made.times, made.minutes) == ((time(7, 30), time(18)), 35)
    assert made.kit == (Kit("chair"), Kit("2 kg weight", 5))
    assert made.warm_up is not None
    assert (made.warm_up.minutes, made.warm_up.text) == (10, "walk")
    assert (made.rounds, made.between, made.if_not_done) == (2, Quantity(Fraction(2), "min"), "move within the week")
    assert made.visits == (Visit(((1, 1), (2, 1))), Visit(((4, 2),)))
    assert (made.max_visits, made.companions, made.cue) == (12, ("neighbour",), "after tea")


def test_the_lines_that_stand_anywhere() -> None:
    plan = clean(
        'agreed 2027-02-22 calendar full, diary yes\nsession "Band"\ndays Mon\n'
        'away 2027-04-19 to 2027-04-25 "holidays" do session "Band"\nprepare "borrow" by week 6\nreview every 4 weeks\n'
        'review at week 4, 2028-01-10\nafter "dunes"\npause all from 2027-05-03 because "scan"\n'
        'waive no-cue by T-03 because "class" until 2027-06-01\n'
    )
    assert plan.agreed == Agreed(date(2027, 2, 22), "full", "yes")
    assert plan.away == (Away(date(2027, 4, 19), date(2027, 4, 25), "holidays", "Band"),)
    assert plan.prepares == (Prepare("borrow", When(week=6)),)
    assert plan.reviews == (Review(4), Review(at=(When(week=4), When(day=date(2028, 1, 10)))))
    assert plan.after == ("dunes",)
    assert plan.pause is not None
    assert plan.waivers == (Waiver("no-cue", "T-03", "class", date(2027, 6, 1)),)


@pytest.mark.parametrize(
    ("text", "rule", "underlined"),
    [
        ("starts 2027-03-02\n", "contradiction", "starts 2027-03-02"),
        ('operation 2027-02-30 "knee" left\n', "unreadable", "2027-02-30"),
        ('operation 3027-02-01 "knee" left\n', "unreadable", "3027-02-01"),
        ("weight-bearing full\n", "contradiction", "weight-bearing full"),
        ('session "A"\nat 24:30\n', "unreadable", "24:30"),
        ("rest\nroom for 2.5 weeks\n", "unreadable", "2.5"),
        (
            "rest\nreturn at the same step\nreturn 1 step lower for 1 week\n",
            "contradiction",
            "return 1 step lower for 1 week",
        ),
        (
            "rest\nexpect 9 flares in 8 weeks lasting 1 week\n",
            "unreckonable",
            "expect 9 flares in 8 weeks lasting 1 week",
        ),
        ("pain\naccept up to 5/20\n", "unreadable", "5/20"),
        ("screening 2027-02-01\nblood-pressure 88/148 mmHg\n", "unreadable", "88/148"),
        ("screening 2027-02-01\nasked heart no, heart yes\n", "contradiction", "heart yes"),
        ("away 2027-04-25 to 2027-04-19\n", "contradiction", "away 2027-04-25 to 2027-04-19"),
        ("exercise strength\nbegin 2x8\n", "unreadable", "exercise strength"),
        ("exercise squat\nbegin 2x8\nexercise squat\nbegin 3x8\n", "contradiction", "exercise squat"),
        ("pain\naccept up to 4/10\npain\naccept up to 5/10\n", "contradiction", "pain"),
        ("exercise squat\nkind strenght\nbegin 2x8\n", "unknown-word", "kind strenght"),
        ("about gout\n", "unknown-word", "gout"),
        ('session "A"\nin turn with "C"\n', "unreckonable", 'in turn with "C"'),
        ("exercise squat\nthen 2x8\n", "unreckonable", "then 2x8"),
        ('exercise squat\nbegin 2x8 twice a day\nsession "A"\ndo squat\n', "unreckonable", "begin 2x8 twice a day"),
        ('target "Empty"\nby week 4\n', "unreckonable", 'target "Empty"'),
        ("rest\nroom for 99999999999999999999 weeks\n", "unreadable", "99999999999999999999"),
    ],
)
def test_one_fault_is_one_finding_at_its_place(text: str, rule: str, underlined: str) -> None:
    assert messages(text) == [(rule, underlined)]


def test_contradictions_in_dangerous_places_are_unsafe() -> None:
    _, findings = read("pain\naccept up to 4/10\naccept up to 6/10\n")
    assert [(f.rule, f.level) for f in findings] == [("contradiction", "unsafe")]


def test_contradictions_elsewhere_are_incomplete() -> None:
    _, findings = read('session "A"\nplace "hall"\nplace "barn"\n')
    assert [(f.rule, f.level) for f in findings] == [("contradiction", "incomplete")]


def test_a_file_without_a_plan() -> None:
    from planlang.model.reading import read_plan
    from planlang.text.source import Source

    plan, findings = read_plan(Source("a.plan", "# nothing yet\n"))
    assert plan is None
    assert [f.rule for f in findings] == ["unreadable"]


def test_what_a_misspelled_header_hides_is_known() -> None:
    plan, findings = read("exersise heel-raise\nbegin 2x8\nthen 3x8\n")
    assert len(findings) == 1
    assert plan.exercises == ()
    assert {"exercise", "begin", "works"} <= plan.unread


def test_a_plan_that_does_not_say_when_it_starts() -> None:
    _, findings = read("", 'plan "X"\nlasts 6 weeks\n')
    assert [f.rule for f in findings] == ["unreckonable"]
