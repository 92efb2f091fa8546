"""Mistakes in codes and names. A person's name is never repeated."""

from __future__ import annotations

from planlang.syntax.mistakes.row import QUOTED, Row

_NOT_A_DATE = ("", "plan", "screening", "today", "rest", "pain", "exercise", "activity", "session")
_LIST_OR_NAME = "A name is one word, with hyphens for spaces; in a list stand commas."

CODES = (
    Row(
        "code-out-of-shape",
        r"([a-z]{1,4})[ -]?([0-9]{1,6})(?![\w-])",
        "A code is capital letters, a hyphen and digits.",
        lambda m: f"Write {m[1].upper()}-{m[2]}.",
        expects="CODE",
        blocks=_NOT_A_DATE,
    ),
    Row(
        "name-for-code",
        r"\S.*",
        "People are codes here, never names.",
        "Write a code: P-014 for a person, T-03 for staff.",
        expects="CODE",
        blocks=_NOT_A_DATE,
        at_stop=True,
    ),
    Row(
        "more-than-a-code",
        r"for\s+[A-Z]{1,4}-[0-9]{1,6}\b.*",
        "After the code stands the age, and nothing else about the person.",
        "Write it like this: for P-014, aged 67",
        start=True,
    ),
)

NAMES = (
    Row(
        "leave-out-exercise",
        r"leave\s+out\s+(?!red-flag)([^\W\d][\w-]*)",
        '"leave out" is for signs.',
        "Write leave {1}.",
        start=True,
        blocks=("rest",),
    ),
    Row(
        "quoted-name",
        rf"(?:exercise|activity|kind|do|in|works)\s+{QUOTED}",
        "A name has no quotes, and hyphens for spaces.",
        "Write it like this: heel-raise",
        expects="NAME",
    ),
    Row(
        "choice-of-exercises",
        r"(?<![\w-])(?:any\s+)?\d+(?:-\d+)?\s+(?:of|from)\b.*",
        "A session names what is done; it holds no choice.",
        'Write two sessions, one "in turn with" the other, or name the choice in "how".',
    ),
    Row(
        "spaced-name",
        r"(?P<head>exercise|activity|kind)\s+(?P<name>[^\W\d][\w-]*(?:\s+[\w-]+)+)",
        "A name is one word, with hyphens for spaces.",
        lambda m: f"Write {m['head'].lower()} {'-'.join(m['name'].split())}.",
        start=True,
    ),
    Row("and-in-list", r"(?:and|or)\b|[&+]", "{0}: a list has commas.", "Write a comma and a space.", expects="_COMMA"),
    Row(
        "spaced-name-in-list",
        r"(?<=\s)(?P<name>[^\W\d][\w-]*(?:\s+[^\W\d][\w-]*)+)(?=\s*(?:,|$))",
        _LIST_OR_NAME,
        lambda m: f"Write {'-'.join(m['name'].split())} for one name, or {', '.join(m['name'].split())} for a list.",
        expects="_COMMA",
    ),
)
