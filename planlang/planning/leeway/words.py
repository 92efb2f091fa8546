"""Verdicts in words, for the clinician."""

from __future__ import annotations

from collections.abc import Iterable

from planlang.planning.leeway.data import Assumption, Standing, Verdict
from planlang.planning.wording import counted

VARIES = {4: "people differ a little", 2: "people differ", 1: "people differ much"}
NOT_A_PROGNOSIS = "Arithmetic on this plan's own assumptions, not a prognosis."


def in_words(standing: Standing, room: int) -> str:
    """One or two sentences: what becomes of a target wherever the easier weeks fall."""
    if standing.verdict is Verdict.OPEN:
        return f"Open, because no ladder decides it: {standing.reason}"
    if standing.verdict is Verdict.ALWAYS:
        return f"Holds{_wherever(room)}."
    if standing.verdict is Verdict.NEVER:
        return f"Not by its date{_wherever(room) or ' as the plan stands'}. {standing.reason}"
    later = counted(standing.days_late, "day") + " later" if standing.days_late else "not within the plan"
    return f"Not yet by its date {_if_in(standing.worst_rest or ())}: then {later}."


def _wherever(room: int) -> str:
    if room < 1:
        return ""
    return " wherever the easier week falls" if room == 1 else f" wherever the {room} easier weeks fall"


def _if_in(weeks: tuple[int, ...]) -> str:
    if not weeks:
        return "if no easier week is taken"
    if len(weeks) == 1:
        return f"if an easier week falls in week {weeks[0]}"
    return f"if easier weeks fall in weeks {listed(weeks)}"


def listed(numbers: Iterable[int]) -> str:
    """`2`, `2 and 4`, `2, 4 and 6`."""
    words = [str(number) for number in numbers]
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def margin_in_words(standing: Standing, room: int) -> str:
    """How many easier weeks a target bears wherever they fall; empty where there is no such number."""
    margin = standing.margin
    if margin is None:
        return ""
    if margin == 0:
        return "It bears no easier week before it."
    bears = f"It bears {counted(margin, 'easier week')} wherever {'it falls' if margin == 1 else 'they fall'}"
    if margin > room:
        return f"{bears}: {margin - room} more than there is room for."
    return f"{bears}, and not {margin + 1}."


def assumed_in_words(assumed: Assumption) -> str:
    """What the chances assume, and where it comes from."""
    days = assumed.lasting * 7
    lasting = counted(int(assumed.lasting), "week") if assumed.lasting.denominator == 1 else f"{float(days):g} days"
    flares = (
        counted(int(assumed.flares), "flare")
        if assumed.flares.denominator == 1
        else f"{float(assumed.flares):g} flares"
    )
    alike = VARIES.get(assumed.varies or 0, "everyone alike")
    said = f"{flares} in {counted(assumed.weeks, 'week')} lasting {lasting}, {alike}"
    if not assumed.default:
        return f"{said}: the plan's own `expect` line."
    note = f", {assumed.note}" if assumed.note else ""
    sources = "; ".join(assumed.sources)
    return f"{said}: nothing is written, so the published rate for {assumed.condition}{note} ({sources})."
