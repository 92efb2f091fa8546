"""Mistakes in quotes, signs and characters."""

from __future__ import annotations

from re import Match

from planlang.syntax.mistakes.row import Row

INVISIBLE = (
    r"[\x00-\x08\x0b-\x1f\x7f-\x9f\xad\u034f\u061c\u115f\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f"
    r"\ud800-\udfff\ufff0-\ufffd]"
)
_QUOTES = "A text stands in double quotes."
LIKE_THIS = 'Write it "like this".'


def _code_point(match: Match[str]) -> str:
    return f"A character that can't be seen or read stands here (U+{ord(match.group()):04X})."


FIRST = (
    Row("invisible-character", INVISIBLE, _code_point, "Delete it and type the words around it anew.", always=True),
    Row(
        "bullet",
        r"(?:[-*•·‣◦▪+>]|\(?\d{1,2}[.)])\s",
        "A line has no bullet or number before it.",
        "Start it with its first word.",
        start=True,
    ),
    Row("colon", r"([\w-]+)\s*([:=])", 'No "{2}" stands after "{1}".', "Write {1}, a space and the rest.", start=True),
    Row("full-stop", r"[.;:!?]+(?=\s*$)", "No {0} stands at the end of a line.", "Leave it out."),
    Row("other-remark", r"//|--|/\*|<!--|%%", "A remark starts with #.", "Write # before it.", always=True),
    Row("single-quotes", r"['‘’‚‹›`´]", _QUOTES, LIKE_THIS, expects="STRING", always=True),
    Row("odd-quote", r"[“”„«»‟]", "This quote has no partner on its line.", 'Write the text "like this".', always=True),
)

LAST = (
    Row("brackets", r"[()\[\]{}]", "Brackets mean nothing here.", 'Write a text "like this", or a remark after #.'),
    Row("unquoted-text", r"[^\W\d].*", _QUOTES, LIKE_THIS, expects="STRING", unless_near=True, at_stop=True),
)
