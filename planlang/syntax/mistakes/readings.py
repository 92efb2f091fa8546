"""What a date, a time or a number written some other way can mean: every reading, in the plan's own way of writing."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction
from re import Match

from planlang.syntax.mistakes.row import part
from planlang.text.meant import listed

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
MONTH = (
    r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?"
    r"|nov(?:ember)?|dec(?:ember)?)"
)
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def _day(year: str, month: int, day: int) -> str | None:
    number = int(year) + (2000 if len(year) == 2 else 0)
    try:
        return date(number, month, day).isoformat()
    except ValueError:
        return None


def written_in_numbers(match: Match[str]) -> str:
    """`01/03/2027`: both readings where both are days of the calendar."""
    first, second, year = int(match["a"]), int(match["b"]), match["y"]
    readings = [_day(year, second, first), _day(year, first, second)]
    return _write(dict.fromkeys(r for r in readings if r))


def year_first(match: Match[str]) -> str:
    """`2027/03/01` or `2027-3-1`."""
    return _write([r for r in [_day(match["y"], int(part(match, "b", "b2")), int(part(match, "a", "a2")))] if r])


def with_month_name(match: Match[str]) -> str:
    """`1 March 2027`, `March 1, 2027`, `March`: the date where all of it is said."""
    month = MONTHS.index(match["month"][:3].lower()) + 1
    day, year = match["day"] or match["day2"], match["y"]
    if day and year:
        return _write([r for r in [_day(year, month, int(day))] if r])
    return f'Write the whole date, year first: {year or 2027}-{month:02d}-{int(day or 1):02d}, or "week 8".'


def _write(days: dict[str, None] | list[str]) -> str:
    return f"Write {listed(days)}." if days else "There is no such day; write it like 2027-03-01."


def clock(match: Match[str]) -> str:
    """`7.30`, `7:30 pm`, `7am`, `0730`, `7h30` on the 24-hour clock."""
    hour, minute, half = int(match["h"]), int(match["m"] or 0), (match["half"] or "").lower().replace(".", "")
    if half.startswith("p") and hour < 12:
        hour += 12
    elif half.startswith("a") and hour == 12:
        hour = 0
    if hour > 23 or minute > 59:
        return "Write the time like 07:30 or 18:00."
    return f"Write {hour:02d}:{minute:02d}."


def comma_in_number(match: Match[str]) -> str:
    """`2,5` and `10,684`: the number without thousands comma or with a point, and the list."""
    parts = match["n"].split(",")
    number = "".join(parts) if all(len(p) == 3 for p in parts[1:]) and parts[0] != "0" else ".".join(parts)
    if number.count(".") > 1:
        return f"Write a list with a space after each comma: {', '.join(parts)}."
    unit = f" {match['unit']}" if match["unit"] else ""
    return f"Write {number}{unit} for one number, or {', '.join(parts)}{unit} for a list."


def decimal(match: Match[str]) -> str:
    """`1½` as 1.5."""
    return f"Write {match['n'] or 0}.{ {'½': '5', '¼': '25', '¾': '75'}[match['part']] }."


def fraction(match: Match[str]) -> str:
    """`1/2` as 0.5."""
    return f"Write {int(match['n']) / int(match['d']):g}."


def run_of_days(match: Match[str]) -> str:
    """`Mon-Fri`: each day by its name."""
    first, last = (DAYS.index(match[n][:3].capitalize()) for n in ("from", "to"))
    return f"Write {', '.join(DAYS[d % 7] for d in range(first, last + 1 + (7 if last < first else 0)))}."


def list_of_days(match: Match[str]) -> str:
    """`mon wed`, `Mon/Wed`: the days with their capitals and commas."""
    return f"Write {', '.join(d[:3].capitalize() for d in re.findall(r'[A-Za-z]{3,}', match['days']) if _is_day(d))}."


def _is_day(word: str) -> bool:
    return word[:3].capitalize() in DAYS


def months(match: Match[str]) -> str:
    """`4 months` as weeks of four to the month."""
    count = int(match["n"])
    each = 52 if match["what"].lower().startswith("y") else 4
    said = f"{count * each} weeks" if count < 1000 else "weeks"
    return f"Write {said} ({each} for each), or a date where the line takes one."


def each_week(match: Match[str]) -> str:
    """`50 hours over 6 months` as minutes a week."""
    amount, weeks = Fraction(match["n"]), int(match["of"]) * (1 if match["span"].startswith("w") else 4)
    if not weeks or len(match["n"]) > 6 or len(match["of"]) > 4:
        return "Write a quota for each week, like 70 min/week."
    minutes = amount * (60 if match["what"].startswith("h") else 1) / weeks
    return f"Write a quota for each week: {round(minutes)} min/week."


def every_week(match: Match[str]) -> str:
    """`rise 2 min every day` as so much every week."""
    if not match["n"] or len(match["n"]) > 9:
        return "Write it for a week, like every week."
    amount = Fraction(match["n"]) * 7
    shown = f"{float(amount):g}" if amount.denominator != 1 else str(amount)
    return f"Write it for a week: {shown} {match['unit']} every week."


def effort(match: Match[str]) -> str:
    """`Borg 13`, `effort 5`: with the scales that the number fits."""
    number = match["n"]
    high = Fraction(number.partition("-")[2] or number) if len(number) < 12 else Fraction(99)
    scales = [f"at effort {number}/{scale}" for scale in (10, 20) if high <= scale and (scale == 20 or high <= 10)]
    return f"Write {listed(scales)}, with the scale it is taken from." if scales else "Write it like 5/10 or 13/20."
