"""Sums, products, shares, and what stands in for what isn't written."""

from __future__ import annotations

from attrs import evolve

from planlang.checking.expression.parse import Node
from planlang.checking.expression.scope import Typed, Typing, fault
from planlang.checking.expression.types import DATE, SHARES, number, of_dimension
from planlang.checking.expression.units import NUMBER, SHARE, unit, words
from planlang.text.meant import did_you_mean


class Sums(Typing):
    """Nodes that reckon."""

    def _on_added(self, node: Node) -> Typed:
        left, right = self.typed(node.part(0)), self.typed(node.part(2))
        op = "add" if node.word == "+" else "subtract"
        if left.type == DATE and right.type == DATE and op == "subtract":
            return Typed(["days", left.code, right.code], number("day"), node.span)
        if left.type == DATE and right.type.dimension == "span":
            return Typed(["shifted", op, left.code, right.code], DATE, node.span)
        if left.type.name != "number":
            raise fault(f"only numbers can be added, and this is {left.type}", node.part(0))
        self.alike(left, right, node.part(2))
        return Typed([op, left.code, right.code], left.type, node.span)

    def _on_multiplied(self, node: Node) -> Typed:
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

    def _on_portion(self, node: Node) -> Typed:
        left, right = self.typed(node.part(0)), self.typed(node.part(1))
        if left.type.dimension not in (NUMBER, SHARE):
            raise fault(f"a share is needed before of, and this is {left.type}", node.part(0))
        if right.type.name != "number":
            raise fault(f"a number is needed after of, and this is {right.type}", node.part(1))
        return Typed(["multiply", left.code, right.code], right.type, node.span)

    def _on_fallback(self, node: Node) -> Typed:
        left, right = self.typed(node.part(0)), self.typed(node.part(1))
        type = left.type
        if type.known and right.code[0] == "text":  # a word of the rule's own for what isn't written
            type = evolve(type, words=(right.code[1],))
        self.alike(Typed(left.code, type, left.span), right, node.part(1))
        return Typed(["fallback", left.code, right.code], type, node.span)

    def _on_counted_in(self, node: Node) -> Typed:
        left = self.typed(node.part(0))
        found = unit(node.part(1).word)
        if found is None:
            raise fault(
                f'no unit is called "{node.part(1).word}"', node.part(1), did_you_mean(node.part(1).word, words())
            )
        if left.type.dimension != found.dimension:
            raise fault(f"{left.type} can't be counted in {found.word}", node.part(1))
        return Typed(left.code, of_dimension(found.dimension, found.word), node.span)
