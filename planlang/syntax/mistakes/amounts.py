"""Mistakes in numbers, doses and units."""

from __future__ import annotations

import re

from planlang.syntax.mistakes import readings as r
from planlang.syntax.mistakes.row import Row, part

UNIT_ALIASES = {
    "kgs kilo kilos kilogram kilograms kilogramme kilogrammes": "kg",
    "pound pounds": "lb",
    "hr hrs": "hours",
    "kms kilometre kilometres kilometer kilometers": "km",
    "mi": "miles",
    "cms centimetre centimetres centimeter centimeters": "cm",
    "millimetre millimetres millimeter millimeters": "mm",
    "in ins": "inches",
    "deg degs °": "degrees",
    "times": "reps",
    "torr": "mmHg",
    "sek": "s",
    "wk wks": "weeks",
    "percent pct": "%",
}
_UNIT = {alias: unit for aliases, unit in UNIT_ALIASES.items() for alias in aliases.split()}
_ALIAS = "|".join(re.escape(alias) for alias in sorted(_UNIT, key=len, reverse=True))
_ONE_WORD = "Sets and repetitions are written in one word."
_DECIMALS = "Parts of a number are decimals."
_ONE_WAY = "{0} is written another way here."
_LIMB = r"(?:legs?|arms?|sides?|foot|feet|hands?|knees?|hips?)"

_NUMBER_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_DIGITS = {word: number for number, word in enumerate(_NUMBER_WORDS, 1)}

NUMBERS = (
    Row(
        "number-in-words",
        rf"(?P<n>{'|'.join(_DIGITS)})\b(?!-)",
        "Numbers are written in digits.",
        lambda m: f"Write {_DIGITS[m['n'].lower()]}.",
        expects="NUMBER",
    ),
    Row(
        "comma-in-number",
        r"(?P<n>\d+(?:,\d+)+)(?:\s*(?P<unit>%|[a-z]+(?:/[a-z]+)?))?",
        "A comma straight before a digit can mean two things.",
        r.comma_in_number,
    ),
    Row("raised-point", r"(\d+)[·’](\d+)", "Decimals have a point.", "Write {1}.{2}."),
    Row("part-of-a-number", r"(?P<n>\d*)\s*(?P<part>[½¼¾])", _DECIMALS, r.decimal),
    Row(
        "fraction", r"(?P<n>[1-9])/(?P<d>[248])(?![\d/])", "Parts of a number are decimals.", r.fraction, expects="SETS"
    ),
    Row(
        "every-so-many-or-so",
        r"every\s+\d+\s*(?:to|or|-)\s*(\d+)\s*weeks?",
        "The calendar needs one number here, not a range.",
        "Write the longer one: every {1} weeks.",
    ),
    Row(
        "range-in-words",
        r"(?<![\w.])(\d[\d.]*)\s*(?:to|or|until)\s*(\d[\d.]*)(?![\w.])",
        "A range has a hyphen.",
        "Write {1}-{2}.",
    ),
    Row("no-digit-before-the-point", r"(?<![\d.])\.(\d+)", "A number starts with a digit.", "Write 0.{1}."),
    Row(
        "about-a-number",
        r"(?:~|≈|ca\.?|approx(?:imately)?\.?|about|around|roughly)\s*(\d[\d.]*)",
        "{0}: a number stands alone, or in a range.",
        "Write {1}, or a range like 8-12.",
    ),
    Row(
        "more-or-less",
        r"[<>≥≤]=?\s*(\d[\d.]*)",
        "{0}: a number stands alone, or in a range.",
        'Write {1}. "at least" and "at most" are lines of their own.',
    ),
    Row("more-in-percent", r"\+\s*\d[\d.]*\s*%", "{0}: a plan holds levels, not changes.", "Write the level itself."),
    Row(
        "plus",
        r"\+\s*(\d[\d.]*\s*[%a-z/]*)",
        "{0}: a plan holds levels, not changes.",
        "Write the new level itself; for steady steps, rise {1} every week to the aim.",
    ),
    Row(
        "minus", r"(?<![\w.-])-\s*(\d[\d.]*)", "{0}: no number here is below nought.", "Write the level that is meant."
    ),
)

DOSES = (
    Row("reps-after-sets", r"(\d+x\d+)\s*(?:reps?|repetitions?)\b", "{1} says its repetitions already.", "Write {1}."),
    Row(
        "sets-apart",
        r"(?P<n>\d+(?:-\d+)?)(?:\s+[x*]\s*|[x*]\s+|\*|(?-i:X))(?P<m>\d+(?:-\d+)?)(?=[\s,]|$)",
        _ONE_WORD,
        "Write {n}x{m}.",
    ),
    Row(
        "sets-of",
        r"(?P<n>\d+(?:-\d+)?)\s+sets?\s*(?:of|x|,)?\s*(?P<m>\d+(?:-\d+)?)(?:\s*(?:reps?|repetitions?)\b)?",
        _ONE_WORD,
        "Write {n}x{m}.",
    ),
    Row("sets-alone", r"(?P<n>\d+)\s+sets?\b", "{0} of how many?", "Write {n}x8, or {n}x30 s."),
    Row(
        "to-failure",
        r"(?:to|until|till)\s+(?:failure|exhaustion|fail)\b|amrap\b|as\s+(?:many|hard|long)\b.*|max\b.*",
        "{0}: a dose with an open end is said in one way, and has a ceiling.",
        "Write 3x to fatigue, at most 15.",
        blocks=("exercise", "activity", "target"),
    ),
    Row("comma-in-dose", r",", "No comma stands between the parts of a dose.", "Leave it out.", expects="EACH_SIDE"),
    Row(
        "two-doses",
        r"or\b.*",
        "A step holds one dose.",
        "Keep one of the two.",
        expects="EACH_SIDE",
    ),
    Row("at-sign", r"@", "The sign is written out.", "Write at and a space before the load: at 20 kg."),
    Row(
        "heart-rate",
        r"(?:at\s+)?(?:(?P<n>\d+(?:-\d+)?)\s*%?\s*(?:of\s+)?(?:max(?:imum|imal)?\s+)?(?:hr(?:max|r)?|heart[\s-]*rate)(?!\w)"
        r"|hr\s*max\s*(?P<n2>\d+(?:-\d+)?)?)",
        "A heart rate is a share of the highest one.",
        lambda m: f"Write at {part(m, 'n', 'n2') or '60'} %HRmax.",
    ),
    Row(
        "reps-left",
        r"rir\s*(?P<n>\d+)|(?P<n2>\d+)\s*rir",
        "{0} is written out.",
        lambda m: f"Write at {part(m, 'n', 'n2')} reps in reserve.",
    ),
    Row(
        "effort-without-scale",
        r"(?:at\s+)?(?:effort|borg|rpe|cr-?10|omni)\s*(?:scale\s*)?(?P<n>\d+(?:\.\d+)?(?:-\d+)?)(?![\d/.])",
        "An effort carries its scale.",
        r.effort,
    ),
    Row(
        "effort-by-another-name",
        r"(?:borg|rpe|cr-?10|omni)\b\s*(?P<n>\d+/\d+)?",
        "An effort is said by its number and the end of its scale.",
        lambda m: f"Write at effort {m['n'] or '5/10'}.",
    ),
    Row(
        "each-limb",
        rf"(?:(?:on\s+)?(?:each|per|every|either|both)\s+{_LIMB}|bilateral(?:ly)?|e/s)(?!\w)",
        _ONE_WAY,
        "Write each side.",
    ),
    Row(
        "held",
        r"(?:hold|held)(?:\s+for)?\s*(?P<n>\d+)\s*(?:s|secs?|seconds?)?\b|(?P<n2>\d+)\s*-?\s*(?:s|secs?|seconds?)\s*holds?",
        'How long each one is held comes after "holding".',
        lambda m: f"Write holding {part(m, 'n', 'n2')} s.",
    ),
    Row(
        "rest-between-sets",
        r"(?:rest|pause|break)s?(?:\s+for)?\s*(?P<n>\d+)\s*(?P<u>s|secs?|seconds?|mins?|minutes?)\b"
        r"|(?P<n2>\d+)\s*(?P<u2>s|secs?|seconds?|mins?|minutes?)\s*(?:rest|pause|break)\b",
        'The rest between sets comes after "resting".',
        lambda m: f"Write resting {part(m, 'n', 'n2')} {'min' if part(m, 'u', 'u2')[0] in 'mM' else 's'}.",
    ),
)

UNITS = (
    Row(
        "steps-a-day",
        r"(?P<n>\d+)\s*steps?\b(?!/)(?:\s*(?:a|per|each)\s*day|\s*daily)?",
        "Steps are counted by the day.",
        "Write {n} steps/day.",
    ),
    Row(
        "minutes-a-week",
        r"(?P<n>\d+)\s*min(?:ute)?s?\s*(?:/|a|per|each)\s*(?P<p>week|wk|day|d)\b",
        _ONE_WAY,
        lambda m: f"Write {m['n']} min/{'week' if m['p'][0] in 'wW' else 'day'}.",
    ),
    Row(
        "unit-by-another-name",
        rf"(?<=\d)\s*(?P<u>{_ALIAS})(?![\w/])",
        _ONE_WAY,
        lambda m: f"Write {_UNIT[m['u'].lower()]}.",
    ),
    Row(
        "ounces", r"(?<=\d)\s*(?:stones?|st|oz|g|grams?)\b", "{0}: weights are in kg or lb.", "Write it in one of them."
    ),
    Row(
        "feet",
        r"(?<=\d)\s*(?:feet|foot|ft|yards?|yds?)\b",
        "{0}: lengths are in cm, m, km, inches or miles.",
        "Write it in one of them.",
    ),
    Row(
        "unit-not-read",
        r"(?<=\d)\s*(?:rpm|watts?|w|mph|km/h|kmh|kcal|kj|mets?|bpm|beats?)\b",
        "{0} is not read in a dose.",
        'Write it as text after the dose: 20 min "at 60 turns a minute".',
    ),
    Row(
        "percent-apart",
        r"(?P<n>\d+(?:-\d+)?)\s*%\s+(?P<of>1RM|HRmax)",
        "What it is a share of follows at once.",
        "Write {n} %{of}.",
    ),
    Row(
        "percent-of-what",
        r"(?P<n>\d+(?:-\d+)?)\s*%",
        "{0} of what?",
        "Write {n} %1RM, {n} %HRmax or {n} % of body-weight.",
        expects="_OF",
    ),
    Row("per-cent", r"(\d+)\s*per\s?cent\b", _ONE_WAY, "Write {1} %."),
    Row(
        "percent-here",
        r"(?P<n>\d+(?:\.\d+)?(?:-\d+)?)\s*%",
        "A share can't stand here.",
        "Write the level itself, with its unit.",
    ),
)

ELSEWHERE = (
    Row(
        "rating-without-scale",
        r"(?P<head>accept\s+up\s+to|confidence)\s+(?P<n>\d+(?:\.\d+)?)(?:\s*(?:out\s+of|of|from)\s*10)?(?=\s*$|\s+during)",
        "A rating carries its scale.",
        "Write {head} {n}/10.",
        start=True,
    ),
    Row(
        "pressure",
        r"blood-pressure\s+(?P<a>\d{2,3})\s*(?:over|on|-|\\|,)?\s*(?P<b>\d{2,3})?",
        "A blood pressure is two numbers with a slash.",
        lambda m: f"Write blood-pressure {m['a']}/{m['b'] or '88'} mmHg.",
        start=True,
    ),
    Row(
        "if-missed",
        r"if\s+missed\b",
        "Not done is said in one way only.",
        "Write if not done, and drop, move on or move within the week.",
        start=True,
    ),
    Row(
        "branch",
        r"if\s+(?!not\b)[^\ue000]*?\s+then\b.*",
        "A plan does not branch on how it goes.",
        "Write review at week 12 and decide there; the next plan continues this one.",
        start=True,
    ),
    Row(
        "half-for-weeks-missed",
        r"(?:by\s+)?half\b.*",
        "After rest a plan goes down by steps.",
        'Write return 2 steps lower for 2 weeks after 6 weeks; the floor is "at least".',
        blocks=("rest",),
        at_stop=True,
    ),
    Row(
        "number-to-call",
        r"(?:call\s+)?(?:911|999|112|000|111|ambulance|a&e|hospital)\b.*",
        "Whom to call stands in the clinic's own file.",
        "Write emergency, today or tell us.",
        expects="EMERGENCY",
        at_stop=True,
    ),
)
