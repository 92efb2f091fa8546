"""Conditions: and, or, not, comparisons, what is written, texts and their lists."""

from __future__ import annotations

from attrs import evolve

from planlang.checking.expression.parse import Node
from planlang.checking.expression.scope import Code, Typed, Typing, fault
from planlang.checking.expression.types import TEXT, TRUTH

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


class Conditions(Typing):
    """Nodes that are conditions and hold no list."""

    def _joined(self, node: Node, op: str) -> Typed:
        code: Code = [op]
        for part in node.parts:
            assert part is not None
            inner = self.condition(part).code
            code += inner[1:] if inner[0] == op else [inner]
        return Typed(code, TRUTH, node.span)

    def _on_any_holds(self, node: Node) -> Typed:
        return self._joined(node, "or")

    def _on_all_hold(self, node: Node) -> Typed:
        return self._joined(node, "and")

    def _on_negated(self, node: Node) -> Typed:
        return Typed(["not", self.condition(node.part(0)).code], TRUTH, node.span)

    def _on_compared(self, node: Node) -> Typed:
        op = COMPARISONS[" ".join(node.word.split())]
        left, right = self.typed(node.part(0)), self.typed(node.part(2))
        if left.type.name not in ("number", "date"):
            raise fault(f"only numbers and dates can be compared so, and this is {left.type}", node.part(0))
        return Typed([op, left.code, self.alike(left, right, node.part(2)).code], TRUTH, node.span)

    def _same(self, node: Node, op: str) -> Typed:
        left, right = self.typed(node.part(0)), self.typed(node.part(1))
        if left.type.name in ("list", "truth"):
            raise fault(f"this is {left.type}; it can't be set against something else", node.part(0))
        code: Code = [op, left.code, self.alike(left, right, node.part(1)).code]
        if left.type.name == "thing":  # two things that say the same are still two
            code = ["same", *code[1:]] if op == "eq" else ["not", ["same", *code[1:]]]
        return Typed(code, TRUTH, node.span)

    def _on_equal(self, node: Node) -> Typed:
        return self._same(node, "eq")

    def _on_unequal(self, node: Node) -> Typed:
        return self._same(node, "ne")

    def _on_missing(self, node: Node) -> Typed:
        return Typed(["missing", self.typed(node.part(0)).code], TRUTH, node.span)

    def _on_written(self, node: Node) -> Typed:
        return Typed(["not", ["missing", self.typed(node.part(0)).code]], TRUTH, node.span)

    def _texts(self, of: Typed, node: Node) -> list[str]:
        texts = []
        for part in node.parts:
            assert part is not None
            texts.append(part.word[1:-1])
            self.words(of.type, Typed(["text", texts[-1]], TEXT, part.span), part)
        return texts

    def _on_among(self, node: Node) -> Typed:
        left = self.must_be(self.typed(node.part(0)), TEXT, node.part(0))
        return Typed(["among", left.code, self._texts(left, node.part(1))], TRUTH, node.span)

    def _on_not_among(self, node: Node) -> Typed:
        return Typed(["not", self._on_among(node).code], TRUTH, node.span)

    def _on_has(self, node: Node) -> Typed:
        left = self._list_of_texts(node.part(0))
        return Typed(["has", left.code, self._texts(left, node.part(1))], TRUTH, node.span)

    def _on_shares(self, node: Node) -> Typed:
        left, right = self._list_of_texts(node.part(0)), self._list_of_texts(node.part(1))
        return Typed(["shares", left.code, right.code], TRUTH, node.span)

    def _list_of_texts(self, node: Node) -> Typed:
        typed = self.typed(node)
        if typed.type.name != "list" or typed.type.thing:
            raise fault(f"a list of texts is needed here, and this is {typed.type}", node)
        return typed

    def _on_chosen(self, node: Node) -> Typed:
        condition, then, other = self.condition(node.part(0)), self.typed(node.part(1)), self.typed(node.part(2))
        self.alike(then, other, node.part(2))
        return Typed(
            ["chosen", condition.code, then.code, other.code], evolve(then.type, words=(), known=""), node.span
        )
