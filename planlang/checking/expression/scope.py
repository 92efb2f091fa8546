"""The ground that typing stands on: what names mean in an expression, and what may be set against what."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from attrs import field

from planlang.checking.expression.parse import Misread, Node
from planlang.checking.expression.types import TRUTH, Type
from planlang.checking.expression.units import NUMBER, SHARE, plural
from planlang.checking.facts.registry import Fact, Registry
from planlang.model.known import BUILT_IN, Catalogue
from planlang.text.data import define, frozen
from planlang.text.meant import did_you_mean, listed
from planlang.text.source import Span

Code = list[Any]
FIRST_SLOT = 2
"""Slots 0 and 1 of a frame hold the facts and the thing looked at."""


@frozen
class Typed:
    """A checked expression: its code, its type, and the place in its own text."""

    code: Code
    type: Type
    span: Span


@frozen
class Bound:
    """What a name stands for: a bound variable, or something reckoned before."""

    type: Type
    code: Code


@define
class Scope:
    """Names that an expression may use besides the facts, and what it was seen to ask for."""

    registry: Registry
    names: dict[str, Bound] = field(factory=dict)
    phrases: frozenset[str] = frozenset()
    its: list[Bound] = field(factory=list)
    slots: int = FIRST_SLOT
    asks: set[str] = field(factory=set)
    used: set[str] = field(factory=set)
    catalogue: Catalogue = BUILT_IN

    def slot(self) -> int:
        """A new slot of the frame."""
        self.slots += 1
        return self.slots - 1

    @contextmanager
    def about(self, it: Bound, names: dict[str, Bound]) -> Iterator[None]:
        """Where `its` is of such a thing; then the names are those again, also after a fault."""
        self.its.append(it)
        try:
            yield
        finally:
            self.its.pop()
            self.names = names

    def known(self) -> list[str]:
        """All names that may stand at the beginning of a place."""
        return [*self.names, *self.phrases, *(n for (o, n) in self.registry.facts if not o), *self.registry.lists]


def fault(message: str, node: Node, help: str = "") -> Misread:
    """A Misread at a node."""
    return Misread(message, node.span, help)


@define
class Typing:
    """Turns trees into typed code, within a scope; each kind of node has its method in one of the classes below it."""

    scope: Scope

    def condition(self, node: Node) -> Typed:
        """A tree that must be a condition."""
        return self.must_be(self.typed(node), TRUTH, node)

    def must_be(self, typed: Typed, type: Type, node: Node) -> Typed:
        """The typed tree, or a Misread where it isn't of that type."""
        if not typed.type.like(type):
            raise fault(f"{type} is needed here, and this is {typed.type}", node)
        return typed

    def typed(self, node: Node) -> Typed:
        """Any tree."""
        result: Typed = getattr(self, "_on_" + node.kind)(node)
        return result

    def alike(self, left: Typed, right: Typed, at: Node) -> Typed:
        """`right`, which must be of the same type as `left`; its own word where that is known."""
        if left.type.like(right.type):
            self.words(left.type, right, at)
            self.words(right.type, left, at)
            return right
        help = ""
        if left.type.dimension == SHARE and right.type.dimension == NUMBER and at.kind == "number":
            help = f'Did you mean "{at.word} %"?'
        elif left.type.name == right.type.name == "number" and left.type.unit and at.kind == "number":
            number = at.part(0).word
            help = f'Did you mean "{number} {left.type.unit if number == "1" else plural(left.type.unit)}"?'
        raise fault(f"this is {right.type}, and it is set against {left.type}", at, help)

    def words(self, type: Type, other: Typed, at: Node) -> None:
        """Refuses a text that the other side can never be: not one of its words, or nothing that the data know."""
        if other.code[0] != "text":
            return
        text = other.code[1]
        if text in type.words:
            return
        if type.words and not type.known:
            raise fault(
                f'this is never "{text}"', at, did_you_mean(text, type.words) or f"It can be {listed(type.words)}."
            )
        if type.known and not self.scope.catalogue.knows(type.known, text):
            help = did_you_mean(text, self.scope.catalogue.names(type.known))
            raise fault(f'no {type.known} is called "{text}"', at, help)

    def ask(self, fact: Fact) -> None:
        """Notes that the expression asks for a fact."""
        self.scope.asks |= fact.asks
