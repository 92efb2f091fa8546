"""Every shape of dose that a plan can say, read into the model."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planlang.model.dose import Dose, Effort, Load, Measured, Rest, Size, SizeKind
from planlang.model.quantity import Quantity, Range
from tests.model.reading_help import exercise, messages


def q(value: object, unit: str) -> Quantity:
    return Quantity(Fraction(str(value)), unit)


def reps(sets: Range | int, *amounts: Range | int) -> Size:
    made = tuple(a if isinstance(a, Range) else Range.of(a) for a in amounts)
    return Size(SizeKind.REPS, made, "reps", sets if isinstance(sets, Range) else Range.of(sets))


def timed(sets: int, amount: int, unit: str) -> Size:
    return Size(SizeKind.TIMED_SETS, (Range.of(amount),), unit, Range.of(sets))


def one(kind: SizeKind, amount: object, unit: str, **more: object) -> Size:
    return Size(kind, (Range.of(Fraction(str(amount))),), unit, **more)  # type: ignore[arg-type]


THREE_EIGHT = reps(3, 8)
DOSES: dict[str, Dose] = {
    "3x8": Dose(THREE_EIGHT),
    "3x8-12": Dose(reps(3, Range.of(8, 12))),
    "2-3x2-5": Dose(reps(Range.of(2, 3), Range.of(2, 5))),
    "3x30 s": Dose(timed(3, 30, "s")),
    "3x10 holding 5 s": Dose(reps(3, 10), hold=q(5, "s")),
    "3x10 holding 5-10 s": Dose(reps(3, 10), hold=q(5, "s"), hold_to=q(10, "s")),
    "30, 15, 15, 15 reps": Dose(reps(4, 30, 15, 15, 15)),
    "10, 5, 5 min": Dose(Size(SizeKind.TIMED_SETS, (Range.of(10), Range.of(5), Range.of(5)), "min", Range.of(3))),
    "4x3 min resting 2 min": Dose(timed(4, 3, "min"), rest=Rest(Range.of(2), "min")),
    "8x2 min at 80 %HRmax easy 2 min at 60 %HRmax": Dose(
        timed(8, 2, "min"), heart_rate=Range.of(80), easy=q(2, "min"), easy_heart_rate=Range.of(60)
    ),
    "20 min": Dose(one(SizeKind.TIME, 20, "min")),
    "1.5 km with 100 m of climb": Dose(one(SizeKind.DISTANCE, "1.5", "km"), climb=q(100, "m")),
    "2 miles": Dose(one(SizeKind.DISTANCE, 2, "mile")),
    "3200 steps/day": Dose(one(SizeKind.PER_DAY, 3200, "steps/day")),
    "70 min/week in bouts of 10 min": Dose(one(SizeKind.PER_WEEK, 70, "min/week", bout=q(10, "min"))),
    "2x10 each side": Dose(reps(2, 10), each_side=True),
    "left 3x8 at 4 kg right 2x8 at 2 kg": Dose(
        left=Dose(THREE_EIGHT, load=Load("mass", Range.of(4), "kg")),
        right=Dose(reps(2, 8), load=Load("mass", Range.of(2), "kg")),
    ),
    "right 3x8": Dose(right=Dose(THREE_EIGHT)),
    "3x8 at 4.5 kg": Dose(THREE_EIGHT, load=Load("mass", Range.of(Fraction("4.5")), "kg")),
    "3x8 at 5 lb": Dose(THREE_EIGHT, load=Load("mass", Range.of(5), "lb")),
    "3x8 at 60-80 %1RM": Dose(THREE_EIGHT, load=Load("1RM", Range.of(60, 80), "%")),
    "3x8 at 60 %1RM of leg-press": Dose(THREE_EIGHT, load=Load("1RM", Range.of(60), "%", "leg-press")),
    "3x8 at 12RM": Dose(THREE_EIGHT, load=Load("RM", Range.of(12), "RM")),
    "3x8 at 8-10RM": Dose(THREE_EIGHT, load=Load("RM", Range.of(8, 10), "RM")),
    "3x8 at 10 % of body-weight": Dose(THREE_EIGHT, load=Load("body weight", Range.of(10), "%")),
    "3x8 at effort 6/10": Dose(THREE_EIGHT, effort=Effort(Range.of(6), 10)),
    "3x8 at effort 3-5/10": Dose(THREE_EIGHT, effort=Effort(Range.of(3, 5), 10)),
    "3x8 at effort 13/20": Dose(THREE_EIGHT, effort=Effort(Range.of(13), 20)),
    "3x8 at 3 reps in reserve": Dose(THREE_EIGHT, reserve=Range.of(3)),
    "3x8 step 15 cm": Dose(THREE_EIGHT, step_height=q(15, "cm")),
    "3x8 chair 18 inch": Dose(THREE_EIGHT, chair_height=q(18, "inch")),
    '3x8 with "firm band"': Dose(THREE_EIGHT, band="firm band"),
    "3x8 tempo 2-1-4": Dose(THREE_EIGHT, tempo=(2, 1, 4)),
    "3x8 resting 30-60 s": Dose(THREE_EIGHT, rest=Rest(Range.of(30, 60), "s")),
    "3x8 resting as long as a set": Dose(THREE_EIGHT, rest=Rest()),
    "3x8 twice a day": Dose(THREE_EIGHT, times_a_day=Range.of(2)),
    "3x8 2 to 3 times a day": Dose(THREE_EIGHT, times_a_day=Range.of(2, 3)),
    "3x to fatigue, at most 15": Dose(
        Size(SizeKind.OPEN, (), "reps", Range.of(3), open_ended="to fatigue", at_most=15)
    ),
    "as tolerated": Dose(Size(SizeKind.OPEN, (), "", open_ended="as tolerated")),
    "to be set at week 2": Dose(set_at=2),
    "80 % of measured walking in week 1": Dose(measured=Measured(Fraction(80), "walking", 1)),
    '2x6 "dining chair, hands on thighs"': Dose(reps(2, 6), variant="dining chair, hands on thighs"),
}


@pytest.mark.parametrize("text", DOSES)
def test_dose_is_read_as_written(text: str) -> None:
    assert exercise(f"begin {text}").steps[0].dose == DOSES[text]


def test_what_a_step_does_not_say_carries_on() -> None:
    first, second = exercise(
        'begin 2x8 at 2 kg step 15 cm with "firm band" "slow"\nthen 3x8\nprogress every week'
    ).steps
    assert second.dose == Dose(
        THREE_EIGHT, load=Load("mass", Range.of(2), "kg"), step_height=q(15, "cm"), band="firm band", variant="slow"
    )
    assert second.written == Dose(THREE_EIGHT)
    assert first.dose == first.written


def test_a_step_with_a_new_variant_carries_nothing_on() -> None:
    steps = exercise('begin 3x10 at 2 kg "low step"\nthen 3x8 "high step"\nprogress every week').steps
    assert steps[1].dose == Dose(THREE_EIGHT, variant="high step")


def test_sides_and_times_a_day_are_said_each_time() -> None:
    steps = exercise("begin 2x10 each side twice a day\nthen 3x8\nprogress every week", "heel-slide").steps
    assert steps[1].dose == Dose(THREE_EIGHT)


def test_each_side_carries_on_its_own() -> None:
    steps = exercise("begin left 2x8 at 4 kg right 2x8 at 2 kg\nthen left 3x8 right 3x8\nprogress every week").steps
    assert steps[1].dose.left == Dose(THREE_EIGHT, load=Load("mass", Range.of(4), "kg"))
    assert steps[1].dose.right == Dose(THREE_EIGHT, load=Load("mass", Range.of(2), "kg"))


def test_the_easier_step_neither_gives_nor_takes() -> None:
    made = exercise('easier 1x6 at 1 kg "high chair"\nbegin 3x8')
    assert made.steps[0].dose == Dose(THREE_EIGHT)
    assert made.easier is not None
    assert made.easier.dose.variant == "high chair"


@pytest.mark.parametrize(
    ("line", "underlined"),
    [
        ("begin 3x8 at 4 kg at 60 %1RM", "60 %1RM"),
        ("begin 3x8 at effort 3/10 at effort 5/10", "5/10"),
        ("begin 3x12-8", "3x12-8"),
        ("begin 0x8", "0x8"),
        ("begin 3x8 at effort 7/12", "7/12"),
        ("begin 3x8 at effort 12/10", "12/10"),
        ("begin 3x8 at 10 % of squat", "squat"),
    ],
)
def test_a_dose_that_makes_no_sense_is_one_finding(line: str, underlined: str) -> None:
    found = messages(f"exercise squat\n{line}\n")
    assert [text for _, text in found] == [underlined]
    assert found[0][0] in ("contradiction", "unreadable")
