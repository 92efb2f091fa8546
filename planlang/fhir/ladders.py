"""Doses and ladders as one line of text: FHIR R4 has no place for a dose of exercise in parts."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from planlang.model.dose import Dose
from planlang.model.exercise import Exercise, Pace, Step, Window
from planlang.model.quantity import number_text
from planlang.model.show import dose_text

MANY = 12  # steps that `rise` made are said by its rule where there are more


def dose(dose: Dose, notes: bool) -> str:
    """A dose in the plan language's words; its quoted words (band, variant) only with `notes`."""
    if notes:
        return dose_text(dose) + (f" ({dose.variant})" if dose.variant else "")
    return dose_text(_wordless(dose)) + (" (with what the plan names)" if _band(dose) else "")


def _wordless(dose: Dose) -> Dose:
    left, right = (side and _wordless(side) for side in (dose.left, dose.right))
    return evolve(dose, band=None, variant=None, left=left, right=right)


def _band(dose: Dose) -> bool:
    return dose.band is not None or any(side and _band(side) for side in (dose.left, dose.right))


def ladder(exercise: Exercise, notes: bool) -> str:
    """`sit-to-stand (strength): 2x6, then 2x8, then 2x10; every 2 weeks; on a sore day 1x6`."""
    parts = [_steps(exercise, notes)]
    parts += [text for text in (_pace(exercise, notes), _begins(exercise), _within(exercise.window)) if text]
    if exercise.easier:
        parts.append(f"on a sore day {dose(exercise.easier.dose, notes)}")
    parts += _bounds(exercise, notes)
    if notes:
        parts += _words(exercise)
    kind = f" ({exercise.kind})" if exercise.kind else ""
    return f"{exercise.name}{kind}: " + "; ".join(part for part in parts if part)


def _steps(exercise: Exercise, notes: bool) -> str:
    rise = exercise.rise
    if rise and len(exercise.steps) > MANY:
        first = dose(exercise.steps[0].dose, notes)
        return f"{first}, up by {rise.amount} every {_weeks(rise.weeks)} to {rise.to}"
    said: list[str] = []
    for step in exercise.steps:
        words = _step(step, notes)
        # What differs may be a quoted word only.
        said.append(
            "the same in another way" if said and words == _step(exercise.steps[len(said) - 1], notes) else words
        )
    return ", then ".join(said)


def _step(step: Step, notes: bool) -> str:
    return dose(step.dose, notes) + (f" for {_weeks(step.weeks)}" if step.weeks else "")


def _weeks(count: int) -> str:
    return "week" if count == 1 else f"{count} weeks"


def _pace(exercise: Exercise, notes: bool) -> str:
    pace = exercise.pace
    if exercise.stay_because is not None and len(exercise.steps) == 1:
        return "stays on this step" + (f" ({exercise.stay_because})" if notes and exercise.stay_because else "")
    if pace is None or len(exercise.steps) < 2:
        return ""
    said = _how_often(pace)
    if notes and pace.condition:
        said += f" if {pace.condition}"
    if notes and pace.down_if:
        said += f", one step down if {pace.down_if}"
    return said


def _how_often(pace: Pace) -> str:
    every = f"every {_weeks(pace.weeks)}" if pace.weeks else ""
    if pace.by == "deed" and pace.sessions:
        about = f", about {every}" if every else ""
        return f"a step up after {pace.sessions} clean sessions{about}"
    said = f"a step up {every}" if every else ""
    if said and pace.by == "date":
        said += ", by date"
    if said and pace.from_week:
        said += f", from training week {pace.from_week}"
    return said


def _begins(exercise: Exercise) -> str:
    start = exercise.start
    if start is None:
        return ""
    if start.training_week:
        return f"from training week {start.training_week}"
    if start.weeks and start.of:
        return f"begins after {_weeks(start.weeks) if start.weeks > 1 else '1 week'} of {start.of}"
    if start.reach and start.of:
        return f"begins once {dose(start.reach, False)} is reached in {start.of}"
    return ""


def _within(window: Window | None) -> str:
    return f"in training weeks {window_text(window)}" if window else ""


def window_text(window: Window) -> str:
    """`5 to 10, 12 on`."""
    return ", ".join(str(a) if a == b else f"{a} on" if b is None else f"{a} to {b}" for a, b in window.ranges)


def _bounds(exercise: Exercise, notes: bool) -> Iterator[str]:
    if exercise.at_least:
        yield f"at least {dose(exercise.at_least, notes)}"
    most = exercise.at_most
    if most and most.amount:
        yield f"at most {dose(most.amount, notes)}"
    elif most and most.percent_above is not None:
        yield f"at most {number_text(most.percent_above)} % above the aim"


def _words(exercise: Exercise) -> Iterator[str]:
    if exercise.hold_on_to:
        yield f"holding on to {exercise.hold_on_to}"
    yield from (f"paused while {text}" for text in exercise.pause_while)
    for other in exercise.instead:
        instead = other.exercise or (f'session "{other.session}"' if other.session else "")
        size = f" {dose(other.dose, True)}" if other.dose else ""
        yield f"if {other.when}, {instead}{size}"
