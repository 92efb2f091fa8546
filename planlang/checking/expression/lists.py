"""Counting and testing over the plan's lists, with a variable bound to each item."""

from __future__ import annotations

from planlang.checking.expression.parse import Node
from planlang.checking.expression.places import Places
from planlang.checking.expression.scope import Bound, Code, Typed, fault
from planlang.checking.expression.types import COUNT, TEXT, TRUTH, Type, thing
from planlang.checking.expression.units import NUMBER, SHARE
from planlang.text.meant import did_you_mean

AMOUNTS = {"at least": "ge", "at most": "le", "more than": "gt", "fewer than": "lt", "exactly": "eq"}


class Lists(Places):
    """Nodes that go over a list."""

    def over(self, node: Node) -> tuple[Code, int, Bound, Code | None]:
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
                raise fault(
                    f'no list is called "{name.word}"', name, did_you_mean(name.word, self.scope.registry.lists)
                )
            fact = self.scope.registry.facts["", plural]
            self.ask(fact)
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
            field_ = self.field(Typed(bound.code, bound.type, key.span), key)
            self.words(field_.type, Typed(["text", text.word[1:-1]], TEXT, text.span), text)
            self.must_be(field_, TEXT, key)
            kind = ["eq", field_.code, ["text", text.word[1:-1]]]
        self.scope.names[variable] = bound
        if called is None and type.thing:
            self.scope.names[type.thing] = bound
        return code, slot, bound, kind

    def _within(self, list_: Node, *conditions: Node | None) -> tuple[Code, int, list[Code | None]]:
        """The list's code and slot, and the code of conditions that may speak of its variable."""
        names = dict(self.scope.names)
        code, slot, bound, kind = self.over(list_)
        with self.scope.about(bound, names):
            found: list[Code | None] = [None if c is None else self.condition(c).code for c in conditions]
        if kind is not None:
            found[0] = kind if found[0] is None else ["and", kind, found[0]]
        return code, slot, found

    def _on_some(self, node: Node) -> Typed:
        where = node.parts[1] if len(node.parts) > 1 else None
        code, slot, (condition,) = self._within(node.part(0), where)
        return Typed(["some", code, slot, condition], TRUTH, node.span)

    def _on_none(self, node: Node) -> Typed:
        return Typed(["not", self._on_some(node).code], TRUTH, node.span)

    def _on_every(self, node: Node) -> Typed:
        code, slot, (where, condition) = self._within(node.part(0), node.parts[1], node.part(2))
        return Typed(["every", code, slot, where, condition], TRUTH, node.span)

    def _on_so_many(self, node: Node) -> Typed:
        amount = self.typed(node.part(1))
        size, counted = amount.code, amount.type.dimension
        if counted == "span":  # so many weeks of a list of weeks
            size, counted = ["scaled", size, "1/7"], NUMBER
        if counted not in (NUMBER, SHARE):
            raise fault(f"a plain number or a share is needed here, and this is {amount.type}", node.part(1))
        code, slot, (condition,) = self._within(node.part(2), node.part(3))
        op = AMOUNTS[" ".join(node.word.split())]
        return Typed(["so_many", op, size, counted, code, slot, condition], TRUTH, node.span)

    def _on_number_of(self, node: Node) -> Typed:
        where = node.parts[1] if len(node.parts) > 1 else None
        code, slot, (condition,) = self._within(node.part(0), where)
        return Typed(["count", code, slot, condition], COUNT, node.span)

    def _on_longest_run(self, node: Node) -> Typed:
        code, slot, (condition,) = self._within(node.part(0), node.part(1))
        return Typed(["run", code, slot, condition], COUNT, node.span)

    def _one(self, node: Node, op: str) -> Typed:
        code, slot, (condition,) = self._within(node.part(0), node.parts[1])
        return Typed([op, code, slot, condition], self._item(node.part(0)), node.span)

    def _item(self, list_: Node) -> Type:
        names = dict(self.scope.names)
        bound = self.over(list_)[2]
        self.scope.names = names
        return bound.type

    def _on_first_of(self, node: Node) -> Typed:
        return self._one(node, "first")

    def _on_last_of(self, node: Node) -> Typed:
        return self._one(node, "last")

    def _on_folded(self, node: Node) -> Typed:
        how = "sum" if node.word.startswith("sum") else node.word
        names = dict(self.scope.names)
        code, slot, bound, kind = self.over(node.part(2))
        with self.scope.about(bound, names):
            value = self.typed(node.part(1))
            condition = None if node.parts[3] is None else self.condition(node.part(3)).code
        if kind is not None:
            condition = kind if condition is None else ["and", kind, condition]
        if value.type.name != "number" and not (how != "sum" and value.type.name == "date"):
            raise fault(f"a number is needed here, and this is {value.type}", node.part(1))
        return Typed(["fold", how, value.code, code, slot, condition], value.type, node.span)
