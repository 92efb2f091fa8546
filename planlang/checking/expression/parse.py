"""Text of an expression to its tree: places kept, depth and length bounded, faults in plain words."""

from __future__ import annotations

from functools import cache, partialmethod
from typing import TYPE_CHECKING, Any

from planlang.text.data import frozen
from planlang.text.meant import did_you_mean, listed
from planlang.text.resources import folder
from planlang.text.source import NOWHERE, Span

if TYPE_CHECKING:
    from lark import Lark

LONGEST = 4000
DEEPEST = 40
STARTS = ("start", "subject", "fill")
KINDS = frozenset(
    """fill each first_of alone any_holds all_hold negated some none every so_many number_of longest_run last_of folded
    chosen list up_to beyond named compared equal unequal missing written among not_among has shares texts added
    multiplied fallback counted_in portion text mention asked place its bracketed number""".split()  # noqa: SIM905
)


@frozen
class Node:
    """One part of an expression. `word` is the token that decides, `parts` are Nodes or None."""

    kind: str
    word: str = ""
    parts: tuple[Node | None, ...] = ()
    span: Span = NOWHERE
    depth: int = 1

    def part(self, i: int) -> Node:
        """The i-th part, which must be there."""
        part = self.parts[i]
        assert part is not None
        return part


class Misread(Exception):
    """An expression that can't be read or typed, with the place in its own text and what may help."""

    def __init__(self, message: str, span: Span, help: str = "") -> None:
        super().__init__(message)
        self.message, self.span, self.help = message, span, help


WORDS = {
    "AMOUNT": "at least, at most, more than, fewer than, exactly",
    "BY": "/",
    "COMPARED": "a comparison (<, >, is at least, is before ...)",
    "FOLD": "sum of, largest, smallest",
    "ITS": "its",
    "MINUS": "-",
    "NAME": "a name",
    "NUMBER": "a number",
    "PLUS": "+",
    "TEXT": 'a text in "quotes"',
    "TIMES": "*",
    "UNIT": "a unit",
    "_AFTER": "after",
    "_AND": "and",
    "_ANY": "any",
    "_APOS": "'s",
    "_AS": "as",
    "_COMMA": "a comma",
    "_COUNTED_IN": "counted in",
    "_EACH": "each",
    "_ELSE": "else",
    "_EVERY": "every",
    "_FIRST": "first",
    "_FOR": "for",
    "_HAS": "has",
    "_IF": "if",
    "_IF_WRITTEN_ELSE": "if written else",
    "_IN": "in",
    "_IS": "is",
    "_IS_ANY_OF": "is any of",
    "_IS_MISSING": "is missing",
    "_IS_NONE_OF": "is none of",
    "_IS_NOT": "is not",
    "_IS_WRITTEN": "is written",
    "_LAST": "last",
    "_LEFT": "(",
    "_LONGEST_RUN_OF": "longest run of",
    "_MEETS": "meets",
    "_MENTION_OF": "mention of",
    "_NO": "no",
    "_NOT": "not",
    "_NUMBER_OF": "number of",
    "_OF": "of",
    "_OR": "or",
    "_OVER": "over",
    "_RIGHT": ")",
    "_SHARES": "shares a word with",
    "_THEN": "then",
    "_UP_TO": "up to",
    "_WITHOUT": "without",
    "_WHERE": "where",
    "$END": "the end",
}


def build(strict: bool = False) -> Lark:
    """The parser of expressions. `strict` refuses any conflict or collision of terminals (slow: a test's work)."""
    import lark.lexer
    from lark import Lark, Transformer

    class ToNodes(Transformer[Any, Any]):
        pass

    for kind in KINDS:
        setattr(ToNodes, kind, partialmethod(_built, kind))
    text = (folder("grammar") / "check.lark").read_text("utf-8")
    had, lark.lexer.has_interegular = lark.lexer.has_interegular, strict and lark.lexer.has_interegular
    try:
        return Lark(
            text, parser="lalr", start=list(STARTS), strict=strict, maybe_placeholders=True, transformer=ToNodes()
        )
    finally:
        lark.lexer.has_interegular = had


@cache
def grammar() -> Lark:
    """The parser of expressions, built once a process."""
    return build()


def _built(_: Any, kind: str, children: list[Any]) -> Node:
    return _node(kind, children)


def _node(kind: str, children: list[Any]) -> Node:
    """Tokens that only say something (a comparison's sign, a name) become `word`; the rest are parts."""
    parts: list[Node | None] = []
    spans: list[Span] = []
    word = ""
    for child in children:
        if child is None or isinstance(child, Node):
            node = child
        else:
            node = Node(child.type.lower(), str(child), (), Span(child.start_pos, child.end_pos))
            word = word or node.word
        parts.append(node)
        if node is not None:
            spans.append(node.span)
    span = Span(min(s.start for s in spans), max(s.end for s in spans)) if spans else NOWHERE
    depth = 1 + max((p.depth for p in parts if p is not None), default=0)
    if depth > DEEPEST * 3:
        raise Misread("this expression is nested too deeply to be read aloud", span, "Name a part of it under reckons.")
    return Node(kind, word, tuple(parts), span, depth)


def parse(text: str, start: str = "start") -> Node:
    """The tree of an expression. Raises Misread; `start` is one of STARTS."""
    from lark.exceptions import UnexpectedCharacters, UnexpectedEOF, UnexpectedInput, UnexpectedToken, VisitError

    if len(text) > LONGEST:
        raise Misread(f"this expression has {len(text)} characters; {LONGEST} are the most", Span(0, 1))
    _bounded(text)
    try:
        tree = grammar().parse(text, start=start)
    except VisitError as e:
        if isinstance(e.orig_exc, Misread):
            raise e.orig_exc from None
        raise
    except UnexpectedToken as e:
        token = e.token
        at = len(text) if token.type == "$END" else token.start_pos or 0
        end = at if token.type == "$END" else at + len(token)
        said = "the expression ends here" if token.type == "$END" else f'"{token}" can\'t stand here'
        raise Misread(said, Span(at, end), _expected(str(token), e.expected)) from None
    except UnexpectedEOF:
        raise Misread("the expression ends here", Span(len(text), len(text))) from None
    except UnexpectedCharacters as e:
        at = e.pos_in_stream or 0
        word = _word_at(text, at)
        raise Misread(
            f'"{word}" can\'t be read here', Span(at, at + len(word)), _expected(word, e.allowed or ())
        ) from None
    except UnexpectedInput as e:
        at = e.pos_in_stream or 0
        raise Misread("this can't be read", Span(at, at + 1)) from None
    assert isinstance(tree, Node)
    return tree


def _bounded(text: str) -> None:
    depth = 0
    quoted = False
    for i, char in enumerate(text):
        if char == '"':
            quoted = not quoted
        elif not quoted and char == "(":
            depth += 1
            if depth > DEEPEST:
                raise Misread(
                    f"brackets are nested more than {DEEPEST} deep", Span(i, i + 1), "Name a part under reckons."
                )
        elif not quoted and char == ")":
            depth -= 1


def _word_at(text: str, at: int) -> str:
    end = at + 1
    while end < len(text) and (text[end].isalnum() or text[end] in "-_") and text[at].isalnum():
        end += 1
    return text[at:end]


def _expected(word: str, terminals: Any) -> str:
    known = sorted({WORDS[t] for t in terminals if t in WORDS})
    near = did_you_mean(word, known)
    if near or not known:
        return near
    shown = known if len(known) <= 6 else [*known[:6], "..."]
    return f"Expected {listed(shown)}."
