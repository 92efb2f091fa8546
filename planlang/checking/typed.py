"""Types and units of an expression, checked when a rule is loaded; out comes code, nested lists fit for JSON.

Code is resolved: facts by owner and name, numbers in base units, variables by slot. `closures.py` runs it.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from attrs import define, evolve, field, frozen

from planlang.checking.facts.registry import Fact, Registry
from planlang.checking.parse import Misread, Node
from planlang.checking.types import COUNT, DATE, SHARES, TEXT, TRUTH, Type, number, of_dimension, thing
from planlang.checking.units import KNOWN, NUMBER, SHARE, unit, words
from planlang.text.meant import did_you_mean, listed
from planlang.text.source import Span

Code = list[Any]
FIRST_SLOT = 2
"""Slots 0 and 1 of a frame hold the facts and the thing looked at."""

COMPARISONS = {
    "<": "lt",
    "is less than": "lt",
    "is before": "lt",
    ">": "gt",
    "is more than": "gt",
    "is after": "gt",
    "<=": "le",
    "is at most": "le",
    "is no later than": "le",
    ">=": "ge",
    "is at least": "ge",
    "is no sooner than": "ge",
}
AMOUNTS = {"at least": "ge", "at most": "le", "more than": "gt", "fewer than": "lt", "exactly": "eq"}


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

    def slot(self) -> int:
        """A new slot of the frame."""
        self.slots += 1
        return self.slots - 1

    def known(self) -> list[str]:
        """All names that may stand at the beginning of a place."""
        return [*self.names, *self.phrases, *(n for (o, n) in self.registry.facts if not o), *self.registry.lists]


def fault(message: str, node: Node, help: str = "") -> Misread:
    """A Misread at a node."""
    return Misread(message, node.span, help)


@define
class Typer:
    """Turns trees into typed code, within a scope."""

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
        result: Typed = getattr(self, "on_" + node.kind)(node)
        return result

    # conditions

    def _joined(self, node: Node, op: str) -> Typed:
        code: Code = [op]
        for part in node.parts:
            assert part is not None
            inner = self.condition(part).code
            code += inner[1:] if inner[0] == op else [inner]
        return Typed(code, TRUTH, node.span)

    def on_any_holds(self, node: Node) -> Typed:
        return self._joined(node, "or")

    def on_all_hold(self, node: Node) -> Typed:
        return self._joined(node, "and")

    def on_negated(self, node: Node) -> Typed:
        return Typed(["not", self.condition(node.part(0)).code], TRUTH, node.span)

    def on_compared(self, node: Node) -> Typed:
        op = COMPARISONS[" ".join(node.word.split())]
        left, right = self.typed(node.part(0)), self.typed(node.part(2))
        if left.type.name not in ("number", "date"):
            raise fault(f"only numbers and dates can be compared so, and this is {left.type}", node.part(0))
        return Typed([op, left.code, self._alike(left, right, node.part(2)).code], TRUTH, node.span)

    def _alike(self, left: Typed, right: Typed, at: Node) -> Typed:
        if left.type.like(right.type):
            self._words(left.type, right, at)
            self._words(right.type, left, at)
            return right
        help = ""
        if left.type.dimension == SHARE and right.type.dimension == NUMBER and at.kind == "number":
            help = f'Did you mean "{at.word} %"?'
        elif left.type.name == right.type.name == "number" and left.type.unit and at.kind == "number":
            help = f'Did you mean "{at.part(0).word} {left.type.unit}"?'
        raise fault(f"this is {right.type}, and it is set against {left.type}", at, help)

    def _words(self, type: Type, other: Typed, at: Node) -> None:
        if type.words and other.code[0] == "text" and other.code[1] not in type.words:
            help = did_you_mean(other.code[1], type.words) or f"It can be {listed(type.words)}."
            raise fault(f'this is never "{other.code[1]}"', at, help)

    def _same(self, node: Node, op: str) -> Typed:
        left, right = self.typed(node.part(0)), self.typed(node.part(1))
        if left.type.name in ("list", "truth"):
            raise fault(f"this is {left.type}; it can't be set against something else", node.part(0))
        return Typed([op, left.code, self._alike(left, right, node.part(1)).code], TRUTH, node.span)

    def on_equal(self, node: Node) -> Typed:
        return self._same(node, "eq")

    def on_unequal(self, node: Node) -> Typed:
        return self._same(node, "ne")

    def on_missing(self, node: Node) -> Typed:
        return Typed(["missing", self.typed(node.part(0)).code], TRUTH, node.span)

    def on_written(self, node: Node) -> Typed:
        return Typed(["not", ["missing", self.typed(node.part(0)).code]], TRUTH, node.span)

    def _texts(self, of: Typed, node: Node) -> list[str]:
        texts = []
        for part in node.parts:
            assert part is not None
            texts.append(part.word[1:-1])
            self._words(of.type, Typed(["text", texts[-1]], TEXT, part.span), part)
        return texts

    def on_among(self, node: Node) -> Typed:
        left = self.must_be(self.typed(node.part(0)), TEXT, node.part(0))
        return Typed(["among", left.code, self._texts(left, node.part(1))], TRUTH, node.span)

    def on_not_among(self, node: Node) -> Typed:
        return Typed(["not", self.on_among(node).code], TRUTH, node.span)

    def on_has(self, node: Node) -> Typed:
        left = self._list_of_texts(node.part(0))
        return Typed(["has", left.code, self._texts(left, node.part(1))], TRUTH, node.span)

    def on_shares(self, node: Node) -> Typed:
        left, right = self._list_of_texts(node.part(0)), self._list_of_texts(node.part(1))
        return Typed(["shares", left.code, right.code], TRUTH, node.span)

    def _list_of_texts(self, node: Node) -> Typed:
        typed = self.typed(node)
        if typed.type.name != "list" or typed.type.thing:
            raise fault(f"a list of texts is needed here, and this is {typed.type}", node)
        return typed

    # lists

    def _over(self, node: Node) -> tuple[Code, int, Bound, Code | None]:
        """A list's code, its variable's slot, what the variable stands for, and the condition of `of KIND`."""
        name, place, key, text, cut, called = (*node.parts,)
        assert name is not None
        if place is not None:
            of = self.typed(place)
            if of.type.name != "list":
                raise fault(f"a list is needed after in, and this is {of.type}", place)
            code, type = of.code, of.type
        else:
            plural = self.scope.registry.lists.get(name.word)
            if plural is None:
                raise fault(f'no list is called "{name.word}"', name, did_you_mean(name.word, self.scope.registry.lists))
            fact = self.scope.registry.facts["", plural]
            self._ask(fact)
            code, type = ["fact", "", plural, ["none"]], fact.type
        slot = self.scope.slot()
        bound = Bound(thing(type.thing) if type.thing else TEXT, ["slot", slot])
        if cut is not None:
            amount = self.typed(cut.part(0))
            if amount.type.dimension not in (NUMBER, "span"):
                raise fault(f"a number is needed here, and this is {amount.type}", cut)
            size = amount.code if amount.type.dimension == NUMBER else ["scaled", amount.code, "1/7"]
            code = [cut.kind, code, size]
        variable = (called or name).word
        kind: Code | None = None
        if key is not None:
            assert text is not None
            field_ = self._field(Typed(bound.code, bound.type, key.span), key)
            self._words(field_.type, Typed(["text", text.word[1:-1]], TEXT, text.span), text)
            self.must_be(field_, TEXT, key)
            kind = ["eq", field_.code, ["text", text.word[1:-1]]]
        self.scope.names[variable] = bound
        if called is None and type.thing:
            self.scope.names[type.thing] = bound
        return code, slot, bound, kind

    def _within(self, list_: Node, *conditions: Node | None) -> tuple[Code, int, list[Code | None]]:
        """The list's code and slot, and the code of conditions that may speak of its variable."""
        names = dict(self.scope.names)
        code, slot, bound, kind = self._over(list_)
        self.scope.its.append(bound)
        found: list[Code | None] = [None if c is None else self.condition(c).code for c in conditions]
        self.scope.its.pop()
        self.scope.names = names
        if kind is not None:
            found[0] = kind if found[0] is None else ["and", kind, found[0]]
        return code, slot, found

    def on_some(self, node: Node) -> Typed:
        where = node.parts[1] if len(node.parts) > 1 else None
        code, slot, (condition,) = self._within(node.part(0), where)
        return Typed(["some", code, slot, condition], TRUTH, node.span)

    def on_none(self, node: Node) -> Typed:
        return Typed(["not", self.on_some(node).code], TRUTH, node.span)

    def on_every(self, node: Node) -> Typed:
        code, slot, (where, condition) = self._within(node.part(0), node.parts[1], node.part(2))
        return Typed(["every", code, slot, where, condition], TRUTH, node.span)

    def on_so_many(self, node: Node) -> Typed:
        amount = self.typed(node.part(1))
        if amount.type.dimension not in (NUMBER, SHARE):
            raise fault(f"a plain number or a share is needed here, and this is {amount.type}", node.part(1))
        code, slot, (condition,) = self._within(node.part(2), node.part(3))
        op = AMOUNTS[" ".join(node.word.split())]
        return Typed(["so_many", op, amount.code, amount.type.dimension, code, slot, condition], TRUTH, node.span)

    def on_number_of(self, node: Node) -> Typed:
        where = node.parts[1] if len(node.parts) > 1 else None
        code, slot, (condition,) = self._within(node.part(0), where)
        return Typed(["count", code, slot, condition], COUNT, node.span)

    def on_longest_run(self, node: Node) -> Typed:
        code, slot, (condition,) = self._within(node.part(0), node.part(1))
        return Typed(["run", code, slot, condition], COUNT, node.span)

    def _one(self, node: Node, op: str) -> Typed:
        code, slot, (condition,) = self._within(node.part(0), node.parts[1])
        return Typed([op, code, slot, condition], self._item(node.part(0)), node.span)

    def _item(self, list_: Node) -> Type:
        names = dict(self.scope.names)
        bound = self._over(list_)[2]
        self.scope.names = names
        return bound.type

    def on_first_of(self, node: Node) -> Typed:
        return self._one(node, "first")

    def on_last_of(self, node: Node) -> Typed:
        return self._one(node, "last")

    def on_folded(self, node: Node) -> Typed:
        how = "sum" if node.word.startswith("sum") else node.word
        names = dict(self.scope.names)
        code, slot, bound, kind = self._over(node.part(2))
        self.scope.its.append(bound)
        value = self.typed(node.part(1))
        condition = None if node.parts[3] is None else self.condition(node.part(3)).code
        self.scope.its.pop()
        self.scope.names = names
        if kind is not None:
            condition = kind if condition is None else ["and", kind, condition]
        if value.type.name != "number" and not (how != "sum" and value.type.name == "date"):
            raise fault(f"a number is needed here, and this is {value.type}", node.part(1))
        return Typed(["fold", how, value.code, code, slot, condition], value.type, node.span)

    def on_chosen(self, node: Node) -> Typed:
        condition, then, other = self.condition(node.part(0)), self.typed(node.part(1)), self.typed(node.part(2))
        self._alike(then, other, node.part(2))
        return Typed(["chosen", condition.code, then.code, other.code], evolve(then.type, words=()), node.span)

    # sums

    def on_added(self, node: Node) -> Typed:
        left, right = self.typed(node.part(0)), self.typed(node.part(2))
        op = "add" if node.word == "+" else "subtract"
        if left.type == DATE and right.type == DATE and op == "subtract":
            return Typed(["days", left.code, right.code], number("day"), node.span)
        if left.type == DATE and right.type.dimension == "span":
            return Typed(["shifted", op, left.code, right.code], DATE, node.span)
        if left.type.name != "number":
            raise fault(f"only numbers can be added, and this is {left.type}", node.part(0))
        self._alike(left, right, node.part(2))
        return Typed([op, left.code, right.code], left.type, node.span)

    def on_multiplied(self, node: Node) -> Typed:
        left, right = self.typed(node.part(0)), self.typed(node.part(2))
        for typed, part in ((left, node.part(0)), (right, node.part(2))):
            if typed.type.name != "number":
                raise fault(f"a number is needed here, and this is {typed.type}", part)
        return self._product(left, right, "multiply" if node.word == "*" else "divide", node)

    def _product(self, left: Typed, right: Typed, op: str, node: Node) -> Typed:
        a, b = left.type.dimension, right.type.dimension
        plain = (NUMBER, SHARE)
        code = [op, left.code, right.code]
        if op == "divide" and a == b:
            return Typed(code, SHARES, node.span)
        if b in plain:
            return Typed(code, left.type, node.span)
        if a in plain and op == "multiply":
            return Typed(code, right.type, node.span)
        sign = "times" if op == "multiply" else "divided by"
        raise fault(f"{left.type} {sign} {right.type} means nothing here", node)

    def on_portion(self, node: Node) -> Typed:
        left, right = self.typed(node.part(0)), self.typed(node.part(1))
        if left.type.dimension not in (NUMBER, SHARE):
            raise fault(f"a share is needed before of, and this is {left.type}", node.part(0))
        if right.type.name != "number":
            raise fault(f"a number is needed after of, and this is {right.type}", node.part(1))
        return Typed(["multiply", left.code, right.code], right.type, node.span)

    def on_fallback(self, node: Node) -> Typed:
        left, right = self.typed(node.part(0)), self.typed(node.part(1))
        self._alike(left, right, node.part(1))
        return Typed(["fallback", left.code, right.code], left.type, node.span)

    def on_counted_in(self, node: Node) -> Typed:
        left = self.typed(node.part(0))
        found = unit(node.part(1).word)
        if found is None:
            raise fault(f'no unit is called "{node.part(1).word}"', node.part(1), did_you_mean(node.part(1).word, words()))
        if left.type.dimension != found.dimension:
            raise fault(f"{left.type} can't be counted in {found.word}", node.part(1))
        return Typed(left.code, of_dimension(found.dimension, found.word), node.span)

    # words, numbers, places

    def on_number(self, node: Node) -> Typed:
        text = node.part(0).word
        if len(text) > 15:
            raise fault("this number is too large to be meant", node.part(0))
        word = node.parts[1].word if node.parts[1] is not None else ""
        found = unit(word)
        if found is None:
            raise fault(f'no unit is called "{word}"', node.part(1), did_you_mean(word, words()))
        value = Fraction(text) * found.factor
        return Typed(["number", str(value)], Type("number", found.dimension, found.word), node.span)

    def on_text(self, node: Node) -> Typed:
        return Typed(["text", node.word[1:-1]], TEXT, node.span)

    def on_named(self, node: Node) -> Typed:
        return self._begin(node.part(0))

    def on_mention(self, node: Node) -> Typed:
        name = node.part(0)
        if name.word not in self.scope.phrases:
            raise fault(f'this rule has no words called "{name.word}"', name, did_you_mean(name.word, self.scope.phrases))
        text = self.must_be(self.typed(node.part(1)), TEXT, node.part(1))
        self.scope.used.add(name.word)
        return Typed(["mention", name.word, text.code], TEXT, node.span)

    def _begin(self, name: Node) -> Typed:
        bound = self.scope.names.get(name.word)
        if bound is not None:
            self.scope.used.add(name.word)
            return Typed(bound.code, bound.type, name.span)
        plural = self.scope.registry.lists.get(name.word, name.word)
        fact = self.scope.registry.fact("", plural)
        if fact is None:
            raise fault(f'nothing is called "{name.word}" here', name, did_you_mean(name.word, self.scope.known()))
        self._ask(fact)
        return Typed(["fact", "", plural, ["none"]], fact.type, name.span)

    def _ask(self, fact: Fact) -> None:
        self.scope.asks |= fact.asks

    def _field(self, of: Typed, name: Node, asked: Typed | None = None) -> Typed:
        if of.type.name != "thing":
            raise fault(f"{of.type} has no facts of its own", name)
        fact = self.scope.registry.fact(of.type.thing, name.word)
        if fact is None:
            known = self.scope.registry.of(of.type.thing)
            help = did_you_mean(name.word, known) or f"It has: {', '.join(known)}."
            raise fault(f'a {of.type.thing} has no "{name.word}"', name, help)
        self._ask(fact)
        code: Code = ["fact", fact.owner, fact.name, of.code]
        if fact.asked is not None:
            if asked is None:
                raise fault(f'"{name.word}" needs a "for": {fact.meaning}', name)
            self.must_be(asked, fact.asked, name)
            code.append(asked.code)
        factor = KNOWN[fact.type.unit].factor if fact.type.name == "number" else Fraction(1)
        if factor != 1:
            code = ["scaled", code, str(factor)]
        return Typed(code, fact.type, of.span.to(name.span))

    def _tail(self, typed: Typed, names: tuple[Node | None, ...], asked: Typed | None = None) -> Typed:
        for i, name in enumerate(names):
            assert name is not None
            typed = self._field(typed, name, asked if i == len(names) - 1 else None)
        return typed

    def _place(self, node: Node, asked: Typed | None = None) -> Typed:
        if node.kind == "its":
            if not self.scope.its:
                raise fault('"its" belongs to nothing here', node.part(0))
            bound = self.scope.its[-1]
            begin = Typed(bound.code, bound.type, node.part(0).span)
        elif node.kind == "bracketed":
            begin = self.typed(node.part(0))
        else:
            begin = self._begin(node.part(0))
        return self._tail(begin, node.parts[1:], asked)

    def on_place(self, node: Node) -> Typed:
        return self._place(node)

    on_its = on_bracketed = on_place

    def on_asked(self, node: Node) -> Typed:
        asked = self.typed(node.part(1))
        if len(node.part(0).parts) < 2:
            raise fault('only a fact of something can take a "for"', node)
        return self._place(node.part(0), asked)
