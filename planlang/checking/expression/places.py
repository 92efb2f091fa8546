"""Numbers, texts, names, and the facts of things: the leaves of an expression."""

from __future__ import annotations

from fractions import Fraction

from planlang.checking.expression.parse import Node
from planlang.checking.expression.scope import Code, Typed, Typing, fault
from planlang.checking.expression.types import TEXT, Type
from planlang.checking.expression.units import KNOWN, unit, words
from planlang.model.catalogue import patterns
from planlang.text.meant import did_you_mean


class Places(Typing):
    """Nodes that name something."""

    def _on_number(self, node: Node) -> Typed:
        text = node.part(0).word
        if len(text) > 15:
            raise fault("this number is too large to be meant", node.part(0))
        word = node.parts[1].word if node.parts[1] is not None else ""
        found = unit(word)
        if found is None:
            raise fault(f'no unit is called "{word}"', node.part(1), did_you_mean(word, words()))
        value = Fraction(text) * found.factor
        return Typed(["number", str(value)], Type("number", found.dimension, found.word), node.span)

    def _on_text(self, node: Node) -> Typed:
        return Typed(["text", node.word[1:-1]], TEXT, node.span)

    def _on_named(self, node: Node) -> Typed:
        return self.begin(node.part(0))

    def _on_mention(self, node: Node) -> Typed:
        name, denial = node.part(0), node.parts[1]
        text = self.must_be(self.typed(node.part(2)), TEXT, node.part(2))
        if name.word not in self.scope.phrases and name.word in patterns():
            if denial is not None:
                raise fault("a shape can't be denied by words before it", denial, "Leave the without out.")
            return Typed(["shape", name.word, text.code], TEXT, node.span)
        for one in (name, denial):
            if one is not None and one.word not in self.scope.phrases:
                help = did_you_mean(one.word, [*self.scope.phrases, *(patterns() if one is name else ())])
                raise fault(f'this rule has no words called "{one.word}"', one, help)
        code: Code = ["mention", name.word, text.code]
        if denial is not None:
            code.append(denial.word)
        return Typed(code, TEXT, node.span)

    def begin(self, name: Node) -> Typed:
        """What a name at the beginning of a place stands for."""
        bound = self.scope.names.get(name.word)
        if bound is not None:
            self.scope.used.add(name.word)
            return Typed(bound.code, bound.type, name.span)
        plural = self.scope.registry.lists.get(name.word, name.word)
        fact = self.scope.registry.fact("", plural)
        if fact is None:
            raise fault(f'nothing is called "{name.word}" here', name, did_you_mean(name.word, self.scope.known()))
        self.ask(fact)
        return Typed(["fact", "", plural, ["none"]], fact.type, name.span)

    def field(self, of: Typed, name: Node, asked: Typed | None = None) -> Typed:
        """A fact of a thing."""
        if of.type.name != "thing":
            raise fault(f"{of.type} has no facts of its own", name)
        fact = self.scope.registry.fact(of.type.thing, name.word)
        if fact is None:
            known = self.scope.registry.of(of.type.thing)
            help = did_you_mean(name.word, known) or f"It has: {', '.join(known)}."
            raise fault(f'{of.type} has no "{name.word}"', name, help)
        self.ask(fact)
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
            typed = self.field(typed, name, asked if i == len(names) - 1 else None)
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
            begin = self.begin(node.part(0))
        return self._tail(begin, node.parts[1:], asked)

    def _on_place(self, node: Node) -> Typed:
        return self._place(node)

    _on_its = _on_bracketed = _on_place

    def _on_asked(self, node: Node) -> Typed:
        asked = self.typed(node.part(1))
        if len(node.part(0).parts) < 2:
            raise fault('only a fact of something can take a "for"', node)
        return self._place(node.part(0), asked)
