"""From a rule's written expressions to its code; every fault is placed in the file's own lines."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from attrs import field

from planlang.checking.expression.parse import Misread, Node, parse
from planlang.checking.expression.printing import Piece
from planlang.checking.expression.scope import Bound, Code, Scope
from planlang.checking.expression.typer import Typer
from planlang.checking.expression.types import Type
from planlang.checking.expression.wording import pieces
from planlang.checking.facts.registry import Registry
from planlang.checking.rule import Case
from planlang.model.known import Catalogue
from planlang.text.data import define
from planlang.text.finding import Finding, unreadable
from planlang.text.source import Span
from planlang.text.strict_yaml import Document, Path

T = TypeVar("T")


@define
class Compiler:
    """Compiles the expressions of one case, which stand at known paths of a document."""

    document: Document
    registry: Registry
    catalogue: Catalogue
    settings: Mapping[str, Type]
    phrases: frozenset[str]
    faults: list[Finding] = field(factory=list)
    asks: set[str] = field(factory=set)
    used: set[str] = field(factory=set)

    def case(self, path: Path, looks_at: str, flags_when: str, reckons: Mapping[str, str], **texts: Any) -> Case | None:
        """The case, or None where it has faults. `texts`: message, help, underline, related, never_waived."""
        before = len(self.faults)
        scope = Scope(self.registry, phrases=self.phrases, catalogue=self.catalogue)
        for name, type in self.settings.items():
            scope.names[name] = Bound(type, ["setting", name])
        typer = Typer(scope)
        subject = self._at((*path, "looks at"), looks_at, lambda text: subject_of(parse(text, "subject"), typer))
        if subject is None:
            return None
        for name, text in reckons.items():
            self._reckon(name, text, path, typer)
        flags = self._at((*path, "flags when"), flags_when, lambda text: typer.condition(parse(text)))
        self.asks |= scope.asks
        message = self._pieces((*path, "message"), texts["message"], typer)
        help = self._pieces((*path, "help"), texts["help"], typer)
        underline = [
            self._at((*path, "underline", i), text, lambda text: self._place(parse(text), typer))
            for i, text in enumerate(texts.get("underline", ()))
        ]
        related = [
            [
                self._at((*path, "related", i, "place"), place, lambda text: self._place(parse(text), typer)),
                self._pieces((*path, "related", i, "message"), said, typer),
            ]
            for i, (place, said) in enumerate(texts.get("related", ()))
        ]
        self.used |= scope.used
        if len(self.faults) > before or flags is None:
            return None
        never = bool(texts.get("never_waived", False))
        return Case(subject, flags.code, message, help, underline, related, scope.slots, never)

    def _reckon(self, name: str, text: str, path: Path, typer: Typer) -> None:
        key = name.replace(" ", "-")
        where = (*path, "reckons", name)
        if key in typer.scope.known():
            self.fault(where, f'"{name}" already means something else here', "Choose another name.")
            return
        typed = self._at(where, text, lambda text: typer.typed(parse(text)))
        if typed is not None:
            typer.scope.names[key] = Bound(typed.type, ["reckoned", typer.scope.slot(), typed.code])

    def _place(self, node: Node, typer: Typer) -> Code:
        typed = typer.typed(node)
        code = typed.code[1] if typed.code[0] == "scaled" else typed.code
        if typed.type.name == "thing":
            return ["thing", typed.type.thing, code]
        if code[0] == "fact" and code[1]:
            return ["place", code[1], code[2], code[3]]
        raise Misread(
            "only something that stands in the plan can be underlined", node.span, "Name a thing or one of its facts."
        )

    def _pieces(self, path: Path, text: str, typer: Typer) -> list[Piece]:
        return self._at(path, text, lambda text: pieces(text, typer)) or []

    def _at(self, path: Path, text: str, work: Callable[[str], T]) -> T | None:
        try:
            return work(text)
        except Misread as e:
            span = placed(self.document, path, text, e.span)
            self.faults.append(unreadable(e.message, span, self.document.source, e.help))
            return None

    def fault(self, path: Path, message: str, help: str = "") -> None:
        """Notes a fault at a path of the document."""
        self.faults.append(unreadable(message, self.document.place(path), self.document.source, help))


def subject_of(node: Node, typer: Typer) -> Code:
    """What a rule looks at, as code; `its` and its name are bound to it from here on. Raises Misread."""
    scope = typer.scope
    if node.kind == "alone":
        typed = typer.begin(node.part(0))
        if typed.type.name != "thing":
            raise Misread(
                f'"{node.word}" is {typed.type}', node.span, "A list is looked at by: each ..., or first ...."
            )
        scope.names[node.word] = Bound(typed.type, ["slot", 1])
        scope.its.append(Bound(typed.type, ["slot", 1]))
        return ["one", typed.code, None]
    names = dict(scope.names)
    slots = scope.slots
    code, slot, bound, kind = typer.over(node.part(0))
    here = Bound(bound.type, ["slot", 1])
    for name, value in scope.names.items():
        if names.get(name) is not value and value.code == ["slot", slot]:
            scope.names[name] = here
    scope.slots = slots
    scope.its.append(here)
    condition = None if node.parts[1] is None else typer.condition(node.part(1)).code
    if kind is not None:
        kind = [kind[0], _moved(kind[1], slot), kind[2]]
        condition = kind if condition is None else ["and", kind, condition]
    return ["first" if node.kind == "first_of" else "each", code, condition]


def _moved(code: Code, slot: int) -> Code:
    """The same code over slot 1 instead of `slot`."""
    if code == ["slot", slot]:
        return ["slot", 1]
    return [_moved(part, slot) if isinstance(part, list) else part for part in code]


def placed(document: Document, path: Path, text: str, span: Span) -> Span | None:
    """Where in the file a place of a value's text stands: characters are matched, line ends and indents passed over."""
    whole = document.values.get(path)
    if whole is None:
        return document.place(path)
    file = document.source.text
    offsets: list[int] = []
    at = whole.start
    if file[at : at + 1] in "|>":
        at = file.find("\n", at) + 1
    elif file[at : at + 1] in "\"'":
        at += 1
    for char in text:
        if char.isspace():
            offsets.append(at)
            continue
        found = at
        while found < whole.end and file[found] != char and (file[found].isspace() or file[found] in "\\'\""):
            found += 1
        if found >= whole.end or file[found] != char:
            return whole
        offsets.append(found)
        at = found + 1
    offsets.append(at)
    start = offsets[min(span.start, len(text))]
    end = offsets[min(span.end, len(text)) - 1] + 1 if span.end > span.start else start
    return Span(start, max(start, end))
