"""A rule's expressions in words that a clinician reads: signs, settings and yes-or-no facts said as people would."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from attrs import field

from planlang.checking.expression.parse import Node
from planlang.checking.expression.scope import Typed
from planlang.checking.expression.typer import Typer
from planlang.checking.expression.types import with_article
from planlang.checking.facts.registry import Fact
from planlang.model.catalogue import patterns
from planlang.text.data import define

SIGNS = {"<": "less than", ">": "more than", "<=": "at most", ">=": "at least"}
DATES = {"<": "before", ">": "after", "<=": "no later than", ">=": "no sooner than"}
NAMES = {"starts": "first day", "ends": "last day"}
BLOCKS = {"pain": "pain block", "rest": "rest block", "clinic": "clinic's contacts"}
TELLING = (" words tell", " name tells")
SUMS = {"+": "plus", "-": "less", "*": "times", "/": "divided by"}
JOINED = {"all_hold": "all", "any_holds": "any"}
HEADS = {"all_hold": "all of these hold", "any_holds": "any of these holds"}
LISTED = {
    "some": "there is {0}",
    "none": "there is no {1}",
    "first_of": "the first {1}",
    "last_of": "the last {1}",
    "number_of": "the number of {1}",
}
LONG = 110
"""A part of more characters is taken apart."""
INDENT = "  "
NO_ARTICLE = ("today",)


@define(eq=False)
class Noting(Typer):
    """Types an expression, and remembers the type of each part and every fact that is asked for."""

    noted: dict[int, Typed] = field(factory=dict)
    asked: dict[tuple[str, str], Fact] = field(factory=dict)

    def typed(self, node: Node) -> Typed:
        """Any tree."""
        result = super().typed(node)
        self.noted[id(node)] = result
        return result

    def ask(self, fact: Fact) -> None:
        """Notes that the expression asks for a fact."""
        super().ask(fact)
        self.asked[fact.owner, fact.name] = fact


@define(eq=False)
class Sayer:
    """Says the parts of expressions that were typed. `settings`: each with its value as people read it."""

    typer: Noting
    settings: Mapping[str, str]
    reckoned: frozenset[str] = frozenset()
    used: set[str] = field(factory=set)
    """Reckoned names that were said since somebody last looked."""

    def parts(self, node: Node) -> tuple[str, list[str]]:
        """How the parts of a condition hang together (`all`, `any`; nothing where there is one), and each of them.

        What is long is taken apart again, in lines that are set in by two spaces more.
        """
        node = _opened(node)
        if node.kind in JOINED:
            return JOINED[node.kind], [line for part in _flat(node, node.kind) for line in self.outline(part)]
        return "", list(self.outline(node))

    def outline(self, node: Node, depth: int = 0) -> Iterator[str]:
        """A part in one line, or, where that is long, as a head with its own parts set in below it."""
        node = _opened(node)
        said = self.say(node)
        head, inner = ("", None) if len(said) <= LONG else self._apart(node)
        if inner is None:
            yield INDENT * depth + said
            return
        yield f"{INDENT * depth}{head}{HEADS[inner.kind]}:"
        for part in _flat(inner, inner.kind):
            yield from self.outline(part, depth + 1)

    def _apart(self, node: Node) -> tuple[str, Node | None]:
        """The head of a long part, and the chain of and, or of or, that stands below it; None where there is none."""
        head, below = "", node
        if node.kind == "negated":
            head, below = "not so: ", _opened(node.part(0))
        if below.kind in LISTED and (where := _where(below, 1)) is not None:
            start = LISTED[below.kind].format(with_article(self._list(below.part(0))), self._list(below.part(0)))
            head, below = f"{head}{start} for which ", _opened(where)
        return (head, below) if below.kind in JOINED else ("", None)

    def subject(self, node: Node) -> str:
        """What is looked at."""
        if node.kind == "alone":
            return self._name(node.word)
        first = "the first" if node.kind == "first_of" else "each"
        return self._with_where(f"{first} {self._list(node.part(0))}", node.parts[1])

    def say(self, node: Node) -> str:
        """Any part."""
        said: str = getattr(self, "_say_" + node.kind)(node)
        return said

    def _say_any_holds(self, node: Node) -> str:
        return self._joined(node, "any_holds", " or ")

    def _say_all_hold(self, node: Node) -> str:
        return self._joined(node, "all_hold", " and ")

    def _joined(self, node: Node, kind: str, word: str) -> str:
        others = {"any_holds", "all_hold"} - {kind}
        said = [f"({self.say(part)})" if part.kind in others else self.say(part) for part in _flat(node, kind)]
        return word.join(said)

    def _say_negated(self, node: Node) -> str:
        inner = node.part(0)
        said = self.say(inner)
        return f"not so: {said}" if inner.kind not in ("any_holds", "all_hold") else f"not so: ({said})"

    def _say_compared(self, node: Node) -> str:
        sign = " ".join(node.word.split()).removeprefix("is ")
        signs = DATES if self.typer.noted[id(node.part(0))].type.name == "date" else SIGNS
        return f"{self._being(node)} {signs.get(sign, sign)} {self.say(node.part(2))}"

    def _being(self, node: Node) -> str:
        """The first part with its verb: `its days are`."""
        named = node.part(0).kind in ("place", "its")
        said = self.say(node.part(0))
        return f"{said} {'are' if named and _several(said) else 'is'}"

    def _say_equal(self, node: Node) -> str:
        return f"{self._being(node)} {self.say(node.part(1))}"

    def _say_unequal(self, node: Node) -> str:
        return f"{self._being(node)} not {self.say(node.part(1))}"

    def _say_missing(self, node: Node) -> str:
        return self._there(node.part(0), False)

    def _say_written(self, node: Node) -> str:
        return self._there(node.part(0), True)

    def _there(self, node: Node, there: bool) -> str:
        if node.kind == "mention":
            return self._mentions(node, there)
        said = self.say(node)
        if said.startswith('"') and len(node.parts) == 1:
            return f"{said} is {'' if there else 'not '}found"
        if len(node.parts) == 1 and node.kind == "place":
            return f"there is {with_article(_block(node.word)) if there else f'no {_block(node.word)}'}"
        if self.typer.noted[id(node)].type.name == "truth":
            return f"it is {'' if there else 'not '}known whether {said}"
        return f"{said} {'are' if _several(said) else 'is'} {'' if there else 'not '}written"

    def _mentions(self, node: Node, there: bool) -> str:
        name, denial, text = node.part(0).word, node.parts[1], self.say(node.part(2))
        if self.typer.noted[id(node)].code[0] == "shape":
            verb = "hold" if _several(text) else "holds"
            return f"{text} {verb} {'' if there else 'nothing like '}{patterns()[name].means}"
        unless = f", unless denied by {self._bare(denial.word)}" if denial is not None else ""
        verb = "mention" if _several(text) else "mentions"
        return f"{text} {verb} {'one' if there else 'none'} of {self._bare(name)}{unless}"

    def _say_mention(self, node: Node) -> str:
        name = node.part(0).word
        shape = self.typer.noted[id(node)].code[0] == "shape"
        return f"{patterns()[name].means if shape else f'one of {self._bare(name)}'} in {self.say(node.part(2))}"

    def _say_among(self, node: Node) -> str:
        return f"{self._being(node)} {self.say(node.part(1))}"

    def _say_not_among(self, node: Node) -> str:
        return f"{self._being(node)} none of {self.say(node.part(1))}"

    def _say_has(self, node: Node) -> str:
        said = self.say(node.part(0))
        verb = "of" if said.endswith(TELLING) else "hold" if _several(said) else "holds"
        return f"{said} {verb} {self.say(node.part(1))}"

    def _say_shares(self, node: Node) -> str:
        return f"{self.say(node.part(0))} and {self.say(node.part(1))} have one in common"

    def _say_texts(self, node: Node) -> str:
        said = [self.say(part) for part in node.parts if part is not None]
        return " or ".join((", ".join(said[:-1]), said[-1])) if len(said) > 1 else said[0]

    def _say_text(self, node: Node) -> str:
        return node.word

    def _say_some(self, node: Node) -> str:
        return self._with_where(f"there is {with_article(self._list(node.part(0)))}", _where(node, 1))

    def _say_none(self, node: Node) -> str:
        return self._with_where(f"there is no {self._list(node.part(0))}", _where(node, 1))

    def _say_every(self, node: Node) -> str:
        return self._with_where(f"every {self._list(node.part(0))}", node.parts[1]) + f": {self.say(node.part(2))}"

    def _say_so_many(self, node: Node) -> str:
        amount = f"{' '.join(node.word.split())} {self.say(node.part(1))}"
        return f"in {amount} of the {self._list(node.part(2))}, {self.say(node.part(3))}"

    def _say_number_of(self, node: Node) -> str:
        return self._with_where(f"the number of {self._list(node.part(0))}", _where(node, 1))

    def _say_longest_run(self, node: Node) -> str:
        return self._with_where(f"the longest run of {self._list(node.part(0))}", node.part(1))

    def _say_first_of(self, node: Node) -> str:
        return self._with_where(f"the first {self._list(node.part(0))}", node.part(1))

    def _say_last_of(self, node: Node) -> str:
        return self._with_where(f"the last {self._list(node.part(0))}", node.part(1))

    def _say_folded(self, node: Node) -> str:
        how = "the sum of" if node.word.startswith("sum") else f"the {node.word}"
        return self._with_where(f"{how} ({self.say(node.part(1))}) over {self._list(node.part(2))}", node.parts[3])

    def _say_chosen(self, node: Node) -> str:
        condition, then, other = (self.say(node.part(i)) for i in range(3))
        return f"{then} where {condition}, else {other}"

    def _with_where(self, said: str, where: Node | None) -> str:
        return said if where is None else f"{said} where {self.say(where)}"

    def _list(self, node: Node) -> str:
        name, place, key, text, cut, called = node.parts
        assert name is not None
        said = _spaced(name.word)
        if place is not None:
            said += f" in {self.say(place)}"
        if key is not None and text is not None:
            said += f" of {_spaced(key.word)} {text.word}"
        if cut is not None:
            said += f" {'up to' if cut.kind == 'up_to' else 'after'} {self.say(cut.part(0))}"
        return said if called is None else f'{said} (the "{_spaced(called.word)}")'

    def _say_added(self, node: Node) -> str:
        return f"{self.say(node.part(0))} {SUMS[node.part(1).word]} {self.say(node.part(2))}"

    _say_multiplied = _say_added

    def _say_portion(self, node: Node) -> str:
        return f"{self.say(node.part(0))} of {self.say(node.part(1))}"

    def _say_fallback(self, node: Node) -> str:
        return f"{self.say(node.part(0))} ({self.say(node.part(1))} where not written)"

    def _say_counted_in(self, node: Node) -> str:
        return f"{self.say(node.part(0))} in {node.part(1).word}"

    def _say_number(self, node: Node) -> str:
        return " ".join(part.word for part in node.parts if part is not None)

    def _say_asked(self, node: Node) -> str:
        return f"{self.say(node.part(0))} for {self.say(node.part(1))}"

    def _say_named(self, node: Node) -> str:
        return self._name(node.part(0).word)

    def _say_bracketed(self, node: Node) -> str:
        inner = self.say(node.part(0))
        if len(node.parts) > 1:
            names = [_spaced(part.word) for part in node.parts[1:] if part is not None]
            return f"the {' of the '.join(reversed(names))} of {inner}"
        return f"({inner})" if node.part(0).kind in ("any_holds", "all_hold", "added", "multiplied") else inner

    def _say_its(self, node: Node) -> str:
        return self._placed(node, "its", "it")

    def _say_place(self, node: Node) -> str:
        name = self._name(node.word)
        return name if len(node.parts) == 1 else self._placed(node, f"{name}'s", name)

    def _placed(self, node: Node, whose: str, who: str) -> str:
        names = [part.word for part in node.parts[1:] if part is not None]
        typed = self.typer.noted.get(id(node))
        if typed is not None and typed.type.name == "truth" and typed.code[0] == "fact":
            of = who if len(names) == 1 else " ".join([whose, "'s ".join(map(_spaced, names[:-1]))])
            return _of(self.typer.scope.registry.facts[typed.code[1], typed.code[2]].meaning, of)
        return " ".join([whose, "'s ".join(map(_spaced, names))])

    def _name(self, word: str) -> str:
        """A name at the beginning of a place."""
        if word in self.settings:
            return f'"{_spaced(word)}" ({self.settings[word]})'
        if word in self.reckoned:
            self.used.add(word)
            return f'"{_spaced(word)}"'
        return word if word in NO_ARTICLE else f"the {_block(word)}"

    def _bare(self, word: str) -> str:
        return f'"{_spaced(word)}"' if word in self.typer.scope.phrases else _spaced(word)


def _of(meaning: str, who: str) -> str:
    """A yes-or-no fact's meaning, said of something: `it says by when` of the goal is `the goal says by when`."""
    if who == "it":
        return meaning
    if meaning.startswith("it "):
        return f"{who} {meaning[3:]}"
    if meaning.startswith("its "):
        return f"{who}'s {meaning[4:]}"
    return f"{meaning} ({who})"


def _spaced(word: str) -> str:
    return NAMES.get(word, word.replace("-", " "))


def _block(word: str) -> str:
    return BLOCKS.get(word) or _spaced(word)


def _several(said: str) -> bool:
    """Whether a name is of several: `its days`, but not `its distance less 5 weeks`."""
    return said.endswith("s") and not said.endswith("ss") and "(" not in said and " of " not in said


def _opened(node: Node) -> Node:
    """What stands in brackets, which mean nothing where it stands alone."""
    alone = node.kind == "bracketed" and len(node.parts) == 1
    return _opened(node.part(0)) if alone else node


def _where(node: Node, i: int) -> Node | None:
    return node.parts[i] if len(node.parts) > i else None


def _flat(node: Node, kind: str) -> list[Node]:
    """The parts of a chain of and, or of or."""
    found: list[Node] = []
    for part in node.parts:
        assert part is not None
        found += _flat(part, kind) if part.kind == kind else [part]
    return found
