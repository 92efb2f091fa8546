"""When a session is held, as a FHIR Timing.

R4 says of `timeOfDay` and `dayOfWeek` that frequency and period can't be used with them, of `event` beside `repeat`
that it is how the repeat works out, and of `code` that it is the complete statement in words
(hl7.org/fhir/R4/datatypes.html#Timing). So each Timing has the words, the dates, and as much of the rule as there is
room for.
"""

from __future__ import annotations

from datetime import date, datetime, time

from planlang.fhir.codes import DAYS, number
from planlang.fhir.parts import Json, period, present
from planlang.fhir.phases import Phase
from planlang.model.build.sessions import WEEKDAYS
from planlang.model.session import Days
from planlang.planning.week import Sitting


def timing(phase: Phase, zone: str | None) -> Json:
    """The Timing of a session in one phase."""
    repeat = {"boundsPeriod": period(phase.first, phase.last), **_length(phase.sittings), **_rule(phase)}
    events = [] if phase.line and phase.line.you_choose else [event(s) for s in phase.sittings]
    return present({"event": sorted(set(events)), "repeat": repeat, "code": {"text": words(phase, zone)}})


def event(sitting: Sitting) -> str:
    """A dateTime: with its time where that is known with its zone."""
    return instant(sitting.starts) if sitting.starts and sitting.starts.tzinfo else sitting.day.isoformat()


def instant(moment: datetime) -> str:
    """A dateTime to the second, with its offset as R4 writes it."""
    return moment.isoformat(timespec="seconds")


def _length(sittings: tuple[Sitting, ...]) -> Json:
    lengths = sorted({s.minutes for s in sittings if s.minutes})
    if not lengths:
        return {}
    made: Json = {"duration": lengths[0]}
    if lengths[-1] > lengths[0]:
        made["durationMax"] = lengths[-1]
    return {**made, "durationUnit": "min"}


def _rule(phase: Phase) -> Json:
    line = phase.line
    if line is None:
        return {}
    if phase.turns > 1 or line.every_weeks > 1 or line.you_choose:
        return _often(line, phase)
    if line.every_second:
        return {"frequency": max(len(phase.session.times), 1), "period": 2, "periodUnit": "d"}
    days = _weekdays(phase)
    if days is None:
        return _often(line, phase)
    made: Json = {} if len(days) == 7 and phase.session.times else {"dayOfWeek": [DAYS[day] for day in days]}
    if phase.session.times:
        made["timeOfDay"] = [f"{at:%H:%M:%S}" for at in phase.session.times]
    return made


def _often(line: Days, phase: Phase) -> Json:
    """So often in so many weeks; sessions in turn share their days."""
    a_day = max(len(phase.session.times), 1)
    low, high = (len(line.fixed),) * 2 if line.fixed else (line.low or 1, line.high or line.low or 1)
    weeks = line.every_weeks * phase.turns
    if line.every_second:  # 7 days in two weeks
        low = high = 7
        weeks *= 2
    made: Json = {"frequency": low * a_day}
    if high > low:
        made["frequencyMax"] = high * a_day
    return {**made, "period": weeks, "periodUnit": "wk"}


def _weekdays(phase: Phase) -> list[int] | None:
    """The weekdays that are named, or that were chosen for every whole week alike; None where they differ."""
    line = phase.line
    assert line is not None
    if line.fixed:
        return sorted(line.fixed)
    if line.high is not None and line.low is not None and line.high > line.low:
        return None
    chosen = {tuple(sorted({s.day.weekday() for s in phase.sittings if _in(s, w.starts)})) for w in phase.weeks}
    return list(chosen.pop()) if len(chosen) == 1 else None


def _in(sitting: Sitting, starts: date) -> bool:
    return 0 <= (sitting.day - starts).days < 7


def words(phase: Phase, zone: str | None) -> str:
    """`Mon, Wed, Fri at 07:30 for 35 min (Australia/Hobart)`."""
    session, line = phase.session, phase.line
    parts = [days_words(line) if line else "on the days listed"]
    if session.times:
        parts.append("at " + ", ".join(_clock(at) for at in session.times))
    if session.minutes:
        parts.append(f"for {number(session.minutes)} min")
    if session.times and zone:
        parts.append(f"({zone})")
    said = " ".join(parts)
    if phase.turns > 1:
        said += f", in turn with {'another session' if phase.turns == 2 else f'{phase.turns - 1} others'}"
    visits = sorted({week for visit in session.visits for week, _ in visit.weeks})
    if visits and line:
        said += f"; a visit in week{'s' if len(visits) > 1 else ''} {', '.join(map(str, visits))}"
    return said


def _clock(at: time) -> str:
    return f"{at:%H:%M}"


def days_words(line: Days) -> str:
    """A `days` line in words."""
    if len(line.fixed) == 7:
        return "every day"
    if line.fixed:
        said = ", ".join(WEEKDAYS[day] for day in line.fixed)
    elif line.every_second:
        said = "every second day"
    elif line.every_weeks > 1:
        said = f"once every {line.every_weeks} weeks"
    else:
        often = f"{line.low}" if line.low == line.high or line.high is None else f"{line.low} to {line.high}"
        said = f"{often} a week"
    if line.among:
        said += " from " + ", ".join(WEEKDAYS[day] for day in line.among)
    if line.you_choose:
        said += ", on days that the person chooses"
    if line.between:
        said += f" with {line.between} {'day' if line.between == 1 else 'days'} between"
    return said
