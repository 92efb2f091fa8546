"""Mistakes in the lines of a diary."""

from __future__ import annotations

from re import Match

from planlang.syntax.mistakes import readings as r
from planlang.syntax.mistakes.row import QUOTED, Row
from planlang.text.meant import listed

_DAY = r"\d{4}-\d{2}-\d{2}\s+"
_DATES = "Dates are written year first, so that everybody reads the same day."
_LASTING = r"(?P<what>flare|illness|pause)"
_OVER = r"(?:(?:has|is)\s+)?(?:ended|ends?|stopped|finished|gone|settled|better|done)"
_DIARY = ("diary",)
_FIRST = (
    "done|part|extra|not done|missed|moved|flare|illness|morning|walked|did|kept|measured|told|acted|sign|fell"
    "|gave way|confidence|worry|note|new"
)


def _joint(match: Match[str]) -> str:
    side = match["before"] or match["after"]
    of = "of" if match["what"].lower() == "flare" else "for"
    words = f"{match['what'].lower()} {of} {match['joint'].lower()}"
    return f"Write {words}, {side.lower()}." if side else f"Write {words}."


def _scales(match: Match[str]) -> str:
    number = int(match["n"])
    return f"Write {listed([f'effort {number}/{scale}' for scale in (10, 20) if number <= scale])}."


LINES = (
    Row(
        "diary-date-in-numbers",
        r"(?P<a>\d{1,2})[/.-](?P<b>\d{1,2})[/.-](?P<y>\d{4}|\d{2})(?=[\s:])",
        _DATES,
        r.written_in_numbers,
        start=True,
        blocks=_DIARY,
    ),
    Row(
        "diary-date-with-short-parts",
        r"(?P<y>\d{4})(?:[/.](?P<b>\d{1,2})[/.](?P<a>\d{1,2})|-(?!\d{2}-\d{2}\b)(?P<b2>\d{1,2})-(?P<a2>\d{1,2}))(?=[\s:])",
        _DATES,
        r.year_first,
        start=True,
        blocks=_DIARY,
    ),
    Row(
        "day-of-nothing",
        r"\d{4}-\d{2}-\d{2}$",
        "Nothing is told of this day.",
        "Leave the line out: a day of which nothing is written is blank, and that is not the same as not done.",
        start=True,
        blocks=_DIARY,
    ),
    Row(
        "time-in-a-diary",
        rf"{_DAY}\d{{1,2}}[:.]\d{{2}}\b",
        "A diary goes by days, without times.",
        "Leave the time out, or write it in a note.",
        start=True,
        blocks=_DIARY,
    ),
    Row(
        "over-in-another-word",
        rf"{_DAY}(?:{_LASTING}\s+{_OVER}\b|(?:end|ended|over)\s+(?:of\s+)?(?:the\s+)?(?P<what2>flare|illness|pause)\b)",
        "What is over is said in one way.",
        lambda m: f"Write {(m['what'] or m['what2']).lower()} over.",
        start=True,
        blocks=_DIARY,
    ),
    Row(
        "easier-week-in-a-diary",
        rf"{_DAY}(?:an?\s+)?(?:easier|rest|easy)\s+week\b",
        "An easier week is one word here.",
        "Write rest: it is the calendar week that holds the day.",
        start=True,
        blocks=_DIARY,
    ),
    Row(
        "joint-and-side",
        rf"{_DAY}(?P<what>flare|rest)\s+(?:of|in|for)\s+(?:the\s+|my\s+)?(?:(?P<before>left|right|both)\s+)?"
        r"(?P<joint>[^\W\d][\w-]*)(?:[\s,]+(?P<after>left|right|both))?$",
        "A joint stands with its side behind a comma.",
        _joint,
        start=True,
        blocks=_DIARY,
    ),
    Row(
        "not-done-in-another-word",
        rf"{_DAY}(?:skipped|did\s*n[o']t(?:\s+do)?|left\s+out|forgot|cancelled|no)\s+{QUOTED}",
        "What was not done is said in one way.",
        'Write not done "...", with a reason if there is one: because flare, because illness or because life "...".',
        start=True,
        blocks=_DIARY,
    ),
    Row(
        "reason-without-quotes",
        r"because\s+(?:of\s+)?(?P<why>(?!(?:flare|illness|life)\b)[^\W\d][\w -]*)",
        "A reason is flare, illness or life; more of it stands in quotes.",
        lambda m: f'Write because life "{m["why"].strip()}".',
        blocks=_DIARY,
        unless_near=True,
    ),
    Row(
        "rating-in-a-diary",
        r"(?P<what>pain|before|during|morning|confidence)\s+(?P<n>10|\d)(?:\s+(?:of|out\s+of|from)\s+10\b)?(?![\d/.,])",
        "A rating carries its scale.",
        lambda m: f"Write {m['what'].lower()} {m['n']}/10.",
        expects="RATING",
        blocks=_DIARY,
    ),
    Row(
        "effort-in-a-diary",
        r"effort\s+(?P<n>1\d|20|\d)(?![\d/.,])",
        "A rating carries its scale.",
        _scales,
        expects="RATING",
        blocks=_DIARY,
    ),
    Row(
        "walked-so-much",
        r"walked\s+(?P<n>\d+)$",
        "A walk has a unit.",
        lambda m: f"Write {m['n']} steps, {m['n']} min or {m['n']} km, as it was meant.",
        blocks=_DIARY,
    ),
    Row(
        "no-day",
        rf"(?:{_FIRST})\b\s*",
        "A line of a diary begins with its day.",
        lambda m: f"Write the day first, like this: 2027-03-01 {m[0].strip().lower()}",
        start=True,
        blocks=_DIARY,
    ),
)
