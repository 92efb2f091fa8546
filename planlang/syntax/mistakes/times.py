"""Mistakes in dates, times, days of the week and how often."""

from __future__ import annotations

from planlang.syntax.mistakes import readings as r
from planlang.syntax.mistakes.row import Row, part

_WEEKDAY = r"(?:monday|tuesday|wednesday|thursday|friday|saturday|sunday|mon|tues?|wed|thu(?:rs?)?|fri|sat|sun)"
_MORE_DAYS = rf"(?:(?:\s*[/,&+;]\s*|\s+and\s+|\s+){_WEEKDAY}\b)"
_DATES = "Dates are written year first, so that everybody reads the same day."
_CLOCK = "Times are written on the 24-hour clock."
_LIKE_MON = "Days are written like Mon, with commas between."
_ONE_WAY = "{0} is written another way here."
_MONTHS = "Months and years are not counted, because they differ in length."
_CALENDAR = "{0}: a plan names the days."

DATES = (
    Row(
        "start-in-week",
        r"start\s+(?:in|from|at)\s+(?:training\s+)?weeks?\s+(\d+)",
        "The training weeks of an exercise have a line of their own.",
        "Write training week {1} on.",
        start=True,
        blocks=("exercise", "activity", "session"),
    ),
    Row(
        "hyphen-between-dates",
        r"-\s*\d{4}-\d{2}-\d{2}",
        'Between two dates stands "to".',
        "Write to in place of the hyphen.",
        expects="_TO",
        at_stop=True,
    ),
    Row(
        "date-in-numbers",
        r"(?<![\d.])(?P<a>\d{1,2})[./-](?P<b>\d{1,2})[./-](?P<y>\d{4}|\d{2})(?![\d-])",
        _DATES,
        r.written_in_numbers,
    ),
    Row(
        "date-year-first",
        r"(?P<y>\d{4})(?:[./](?P<b>\d{1,2})[./](?P<a>\d{1,2})|-(?P<b2>\d{1,2})-(?P<a2>\d{1,2}))(?!\d)",
        "A date has four digits, two and two, with hyphens.",
        r.year_first,
    ),
    Row(
        "date-run-together",
        r"(?P<y>20\d\d)(?P<b>[01]\d)(?P<a>[0-3]\d)(?P<b2>)(?P<a2>)(?!\d)",
        "A date has four digits, two and two, with hyphens.",
        r.year_first,
    ),
    Row(
        "month-by-name",
        rf"(?:(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.)?\s+(?:of\s+)?)?(?P<month>{r.MONTH})\b\.?"
        r"(?:\s+(?P<day2>\d{1,2})(?:st|nd|rd|th)?(?!\d))?,?\s+(?P<y>\d{4})",
        _DATES,
        r.with_month_name,
    ),
    Row(
        "month-without-year",
        rf"(?:(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.)?\s+(?:of\s+)?)?(?P<month>{r.MONTH})\b\.?"
        r"(?:\s+(?P<day2>\d{1,2})(?:st|nd|rd|th)?(?!\d))?(?P<y>)",
        _DATES,
        r.with_month_name,
        expects="DATE",
    ),
    Row(
        "day-of-a-month",
        rf"(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.)?\s+(?:of\s+)?(?P<month>{r.MONTH})\b(?P<day2>)(?P<y>)",
        _DATES,
        r.with_month_name,
    ),
    Row(
        "end-of-week",
        r"(?:the\s+)?end\s+of\s+week\s+(\d+)",
        "A week in a date's place is its last day already.",
        "Write week {1}.",
        expects="WEEK",
    ),
    Row("time-half-day", r"(?P<h>\d{1,2})(?:[.:h](?P<m>\d{2}))?\s*(?P<half>[ap]\.?m\.?)(?!\w)", _CLOCK, r.clock),
    Row("time", r"(?P<h>\d{1,2})[.h](?P<m>\d{2})(?P<half>)(?!\d)", _CLOCK, r.clock, expects="TIME"),
    Row("time-run-together", r"(?P<h>[0-2]\d)(?P<m>[0-5]\d)(?P<half>)(?!\d)", _CLOCK, r.clock, expects="TIME"),
    Row("hour-alone", r"(?P<h>\d{1,2})(?:\s*o'?clock)?(?P<m>)(?P<half>)(?![\d:])", _CLOCK, r.clock, expects="TIME"),
)

OFTEN = (
    Row(
        "slash-times",
        r"(?P<n>\d+)/(?P<m>\d+)\s*(?:x|times)\b.*",
        "{0}: a slash can mean two things.",
        "Write {n} to {m} times a day.",
    ),
    Row(
        "times-a-day",
        r"(?P<n>\d+)(?:\s*(?:-|to|or)\s*(?P<m>\d+))?\s*(?:x|times)?\s*(?:(?:/|a|per|each|every)\s*day|daily)\b",
        _ONE_WAY,
        lambda m: f"Write {m['n']}{' to ' + m['m'] if m['m'] else ''} times a day.",
    ),
    Row(
        "daily",
        r"(?P<n>once|twice)?\s*(?:daily|(?:each|per|every|a)\s+day|b\.?i\.?d\.?)(?!\w)",
        _ONE_WAY,
        lambda m: f"Write {(m['n'] or 'once').lower()} a day.",
        expects="TWICE_A_DAY",
    ),
    Row("daily-habit", r"daily|nightly|each\s+(?:day|night)", _ONE_WAY, "Write every day.", blocks=("target",)),
    Row(
        "every-hours",
        r"every\s+(\d+)(?:\s*[/-]\s*\d+)?\s*h(?:ou)?rs?",
        "{0}: it depends on how long the day is.",
        "Write how often in a day, like 4 times a day.",
    ),
    Row(
        "every-other-day",
        r"(?:every\s+(?:other|2nd|2|two|alternate)(?:\s+days?)?|alternate\s+days|alternating\s+days)\b",
        _ONE_WAY,
        "Write days every second.",
        expects="_SECOND",
    ),
    Row(
        "every-other-day",
        r"(?:every\s+)?(?:other|2nd|alternate)\s+days?\b|every\s+(?:other|2)\b",
        _ONE_WAY,
        "Write days every second, in a session.",
    ),
    Row("every-day", r"days\s+(?:daily|all|each\s+day)\b", _ONE_WAY, "Write days every day.", start=True),
    Row(
        "times-a-week",
        r"(?P<n>\d+)\s*(?:x|times|days)?\s*(?:/|a\s|per|each|every)\s*(?:week|wk)\b"
        r"|(?P<n2>\d+)\s*(?:x|times|days)\s+(?:weekly|a\s+week)",
        _ONE_WAY,
        lambda m: f"Write days {part(m, 'n', 'n2')} a week in a session, {part(m, 'n', 'n2')} days/week after keep.",
    ),
    Row(
        "fortnight",
        r"(?:(?:every|a|per)\s+)?fortnight(?:ly)?|bi-?weekly",
        _ONE_WAY,
        "Write every 2 weeks; in a session, days once every 2 weeks.",
    ),
    Row("onwards", r"on\s?wards?\b", _ONE_WAY, "Write on.", expects="ON"),
    Row("weekly", r"weekly|each\s+week", _ONE_WAY, "Write every week."),
    Row(
        "a-month",
        r"(?:once|twice|one|\d+)?\s*(?:x|times)?\s*(?:(?:/|a|per|each|every)\s*month|monthly)\b",
        _MONTHS,
        "Write every 4 weeks; in a session, days once every 4 weeks.",
    ),
    Row(
        "rise-by-the-day",
        r"(?:(?P<n>\d+(?:\.\d+)?)\s*(?P<unit>%|[a-z]+(?:/[a-z]+)?)\s+)?every\s+(?:1\s+|other\s+)?(?:day|night|morning|session)s?",
        "Steps go up by whole weeks.",
        r.every_week,
        expects="WEEK",
    ),
    Row(
        "quota-for-all",
        r"(?P<n>\d+(?:\.\d+)?)\s*(?P<what>h|hours?|mins?|minutes?)\s+(?:over|in|within|during)\s+"
        r"(?P<of>\d+)\s*(?P<span>weeks?|months?)",
        "A quota for the whole course is not kept.",
        r.each_week,
    ),
    Row("months", r"(?P<n>\d+)\s*-?\s*(?P<what>months?|mths?|years?|yrs?)\b", _MONTHS, r.months),
)

DAYS = (
    Row(
        "run-of-days",
        rf"(?P<from>{_WEEKDAY})\s*(?:-|to)\s*(?P<to>{_WEEKDAY})\b",
        "A run of days is not read; each is named.",
        r.run_of_days,
    ),
    Row("list-of-days", rf"(?P<days>{_WEEKDAY}\b{_MORE_DAYS}*)", _LIKE_MON, r.list_of_days, expects="WEEKDAY"),
    Row("days-without-comma", rf"(?P<days>{_WEEKDAY}\b{_MORE_DAYS}+)", _LIKE_MON, r.list_of_days),
    Row("weekdays", r"(?:week-?|working\s+)days?\b", _CALENDAR, "Write Mon, Tue, Wed, Thu, Fri.", expects="WEEKDAY"),
    Row("weekend", r"week-?ends?\b", _CALENDAR, "Write Sat, Sun.", expects="WEEKDAY"),
)
