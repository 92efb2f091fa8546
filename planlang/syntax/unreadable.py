"""A line that can't be read, explained: where reading stopped, what could stand there, what was most likely meant."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from functools import cache

from planlang.syntax.mistakes.find import recognise
from planlang.syntax.nodes import Statement, Unread
from planlang.syntax.recover import Fault, Line, accepted_after, parse
from planlang.syntax.statements import ANYWHERE, FIRST_WORDS, FORMS, HEADERS, Form, forms_of
from planlang.syntax.words import Token
from planlang.text.finding import Finding, unreadable
from planlang.text.meant import LIKE_ENOUGH, listed, meant
from planlang.text.source import Source, Span
from planlang.text.words import WORDS, said, spellings

MOST_WORDS = 4
"""No more alternatives than these are named; the statement's example says the rest."""
LONGEST = 40
VERY_LIKE = 0.75
_WORD = re.compile(r'"[^"\n]*"?|[^\s,;"]+|\S')
_KEYWORDS = frozenset(name for name, word in WORDS.items() if word.one)
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def explain(fault: Fault, unread: Unread, header: str | None, text: str, source: Source) -> Finding:
    """The one finding for a line that can't be read. `header`: the block it stands in, if any."""
    known = bool(fault.tokens and fault.tokens[0].type != "NAME") or _is_measure(fault, unread, header)
    form, expected = _form(fault, unread.word, header) if known else (FORMS["baseline"], fault.expected)
    word = _phrase(_found(fault, text), expected, text[fault.stop : fault.end])
    near = _near(word, expected)
    own_word = fault.found is not None and fault.found.type in _KEYWORDS and fault.expected != {"STRING"}
    mistake = recognise(fault, known, near is not None or own_word, header, text)
    if mistake:
        return unreadable(mistake.message, mistake.span, source, mistake.help)
    if not known or (form.name == "baseline" and meant(unread.word[:LONGEST], FIRST_WORDS, VERY_LIKE)):
        return _no_such_start(unread.word, unread.like, header, _first(unread), source)
    slip = None if near else _misread(fault, text)
    if slip:
        name, near = slip
        message, span, expected = f"This line can't be read from {_quoted(str(name))} on.", _place(name), frozenset()
    elif not word:
        message, span = "Something is missing at the end of this line.", _last(fault, unread)
    else:
        span = Span(fault.stop, fault.stop + len(word))
        message = f"This line can't be read from {_quoted(word)} on."
        if fault.expected == {"_NL"} and fault.tokens:
            message = f"This line should end before {_quoted(word)}."
    return unreadable(message, span, source, _help(near, said(expected, _after_number(fault)), form))


def out_of_place(line: Statement, header: str | None, text: str, source: Source) -> Finding:
    """A line that is read and stands in a block where it can't: a line of another block, or a misspelled one."""
    first = line.tokens[0]
    span = _place(first)
    form = FORMS[line.name]
    here = f'here is "{header}"' if header else "here no block has begun"
    if form.blocks == ("diary",) and line.name != "diary":
        message = f"A line that starts with {'a date' if first.type == 'DATE' else 'that'} belongs in a diary; {here}."
        return unreadable(message, span, source, "Move it to the person's diary, a file that begins: diary for P-014")
    if ANYWHERE in form.blocks:
        here = f"this file is a {header}" if header in ("library", "diary") else here
        message = f'"{first}" belongs in a plan; {here}.'
        return unreadable(message, span, source, "Move the line to the plan.")
    if line.name == "baseline" and first.type == "NAME":
        name = str(first)[:LONGEST]
        like = meant(name, [f.word for f in _fitting(header)]) or meant(name, FIRST_WORDS)
        if like:
            return _no_such_start(str(first), like, header, span, source)
        message = f'No line starts with {_quoted(str(first))}. If it is a measure, it stands under "today"; {here}.'
    else:
        message = f'"{first}" belongs under {_blocks(form)}; {here}.'
    if header == "pain" and first.type == "_PAIN":
        return unreadable(message, span, source, f"For a limit, write it like this: {FORMS['accept'].example}")
    block = FORMS[form.blocks[0]]
    return unreadable(message, span, source, f"Move the line under one that starts a block, like this: {block.example}")


def _is_measure(fault: Fault, unread: Unread, header: str | None) -> bool:
    """True for a line under `today` that starts with a name and is read so far that only a measure can be meant."""
    if header != "today" or not fault.tokens or fault.tokens[0].type != "NAME":
        return False
    return len(fault.tokens) > 1 or not unread.like


def _no_such_start(word: str, like: str | None, header: str | None, span: Span, source: Source) -> Finding:
    message = f"No line starts with {_quoted(word)}." if word != '"' else "No line starts with a text in quotes."
    if like:
        form = next((f for f in forms_of(like) if header in f.blocks), None) or forms_of(like)[0]
        return unreadable(message, span, source, f'Did you mean "{like}"? For example: {form.example}')
    some = list(dict.fromkeys(f.word for f in _fitting(header) if f.word))[:MOST_WORDS]
    where = f'Under "{header}"' if header else "Before the first block"
    return unreadable(message, span, source, f"{where} a line starts with {listed(_all_quoted(some))}, for example.")


def _near(word: str, expected: Collection[str]) -> str | None:
    """The word that could stand there and is most like the one found."""
    known = spellings(expected) + (list(_WEEKDAYS) if "WEEKDAY" in expected else [])
    whole = {part: k for k in reversed(known) for part in (k.split()[0], k) if part != word}
    # where any text can stand in quotes, only a word that is very like one of the language's is taken for it
    near = meant(word[:LONGEST], whole, VERY_LIKE if "STRING" in expected else LIKE_ENOUGH) if word else None
    return whole[near] if near else None


def _misread(fault: Fault, text: str) -> tuple[Token, str] | None:
    """The last word read, where it was taken for a name and is like another that could stand there; and that one."""
    last = fault.tokens[-1] if len(fault.tokens) > 1 else None
    if last is None or last.type != "NAME":
        return None
    near = _near(str(last), accepted_after(text[fault.start : last.start_pos]) | {"STRING"})
    return (last, near) if near else None


def _after_number(fault: Fault) -> bool:
    return bool(fault.tokens) and fault.tokens[-1].type in ("NUMBER", "RANGE")


def _help(near: str | None, words: list[str], form: Form) -> str:
    """What was meant, what could stand there where it is little enough to say, and the statement's own example."""
    parts = [f'Did you mean "{near}"?'] if near else []
    if words and len(words) <= MOST_WORDS and words != [WORDS["_NL"].said] and words != [f'"{near}"']:
        parts.append(f"Expected here: {listed(words)}.")
    parts.append(f"For example: {form.example}")
    return " ".join(parts)


def _form(fault: Fault, word: str, header: str | None) -> tuple[Form, frozenset[str]]:
    """The statement that the line was most likely meant to be, and the tokens that could have stood there.

    Of the statements that begin alike the one that is at home in this block; what only others would
    go on with is left out.
    """
    candidates = forms_of(word) or [FORMS["baseline"]]
    read = [t.type for t in fault.tokens]
    alike = {f.name: _alike(read, _types()[f.name]) for f in candidates}
    most = max(alike.values())
    close = [f for f in candidates if alike[f.name] == most]
    home = [f for f in close if header in f.blocks or ANYWHERE in f.blocks]
    away = {t for f in close if f not in home for t in _types()[f.name][len(read) : len(read) + 1]}
    own = {t for f in home for t in _types()[f.name][len(read) : len(read) + 1]}
    left = fault.expected - (away - own) if home and most == len(read) else fault.expected
    return (home or close)[0], left or fault.expected


def _alike(read: list[str], types: list[str]) -> int:
    return next((i for i, (a, b) in enumerate(zip(read, types, strict=False)) if a != b), min(len(read), len(types)))


@cache
def _types() -> dict[str, list[str]]:
    """The tokens of every statement's example."""
    _, lines = parse("".join(f"{form.example}\n" for form in FORMS.values()))
    return {
        form.name: [t.type for t in line.tokens]
        for form, line in zip(FORMS.values(), lines, strict=True)
        if isinstance(line, Line)
    }


def _fitting(header: str | None) -> list[Form]:
    """The statements that can stand in a block, its own first; before any block the headers."""
    if header is None:
        return [FORMS[name] for name in HEADERS]
    own = [f for f in FORMS.values() if header in f.blocks and f.name != header]
    own.sort(key=lambda f: len(f.blocks))
    return own + [f for f in FORMS.values() if ANYWHERE in f.blocks] + [FORMS[name] for name in HEADERS]


def _blocks(form: Form) -> str:
    return listed(_all_quoted(form.blocks))


def _all_quoted(words: Iterable[str]) -> list[str]:
    return [f'"{word}"' for word in words]


def _found(fault: Fault, text: str) -> str:
    """The word at which reading stopped; empty at the end of the line."""
    if fault.found is not None and fault.found.type in ("_NL", "$END"):
        return ""
    match = _WORD.match(text, fault.stop, fault.end)
    return match.group() if match else ""


def _phrase(word: str, expected: Collection[str], rest: str) -> str:
    """The words found, as many as those that could stand there and begin with the same one (`next mornig`)."""
    for several in spellings(expected):
        first, _, more = several.partition(" ")
        if more and first == word:
            found = re.match(r"\S+" + r"(?: +[^\s,;\"#]+)?" * len(more.split()), rest)
            return found.group() if found else word
    return word


def _first(unread: Unread) -> Span:
    return Span(unread.span.start, unread.span.start + max(1, len(unread.word)))


def _last(fault: Fault, unread: Unread) -> Span:
    """The last word that was read, after which something is missing."""
    if not fault.tokens:
        return unread.span
    return _place(fault.tokens[-1])


def _place(token: Token) -> Span:
    return Span(token.start_pos, token.end_pos)


def _quoted(word: str) -> str:
    """A word as a message shows it: cut where it is long, without characters that can't be shown."""
    shown = "".join(c if c.isprintable() else "?" for c in word[: LONGEST + 1])
    shown = shown if len(shown) <= LONGEST else shown[: LONGEST - 3] + "..."
    return shown if shown.startswith('"') else f'"{shown}"'
