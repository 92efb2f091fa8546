"""What the parts of an expression are: numbers with a dimension, texts, truths, dates, things and lists of them."""

from __future__ import annotations

from attrs import evolve

from planlang.checking.expression.units import DEFAULT_UNIT, NUMBER, SHARE, plural, unit
from planlang.text.data import frozen


@frozen
class Type:
    """One type. `name` is number, text, truth, date, thing or list.

    `dimension` and `unit` (in which it is shown) of a number; `thing` of a thing or of a list of things
    (empty for a list of texts); `words`: all the texts that it can be, where they are known; `known`: what of
    the data it names (`measure`, `condition`, `muscle group`, `kind of exercise`), beside `words`.
    """

    name: str
    dimension: str = ""
    unit: str = ""
    thing: str = ""
    words: tuple[str, ...] = ()
    known: str = ""

    def __str__(self) -> str:
        if self.name == "number":
            if self.dimension in (NUMBER, SHARE):
                return {"number": "a plain number", "share": "a share (in %)"}[self.dimension]
            return f"a number of {plural(self.unit)}"
        if self.name == "truth":
            return "a condition"
        if self.name == "thing":
            return with_article(self.thing)
        if self.name == "list":
            return f"a list of {several(self.thing or 'text')}"
        return "words for a message" if self.name == "wording" else f"a {self.name}"

    def like(self, other: Type) -> bool:
        """True where the two can be compared: units and words don't matter, dimensions and things do."""
        return self.bare() == other.bare()

    def bare(self) -> Type:
        """The type without its unit, its words and what it names."""
        return evolve(self, unit="", words=(), known="")


def with_article(noun: str) -> str:
    """`a plan`, `an exercise`."""
    return f"an {noun}" if noun[:1] in "aeio" else f"a {noun}"


def several(noun: str) -> str:
    """`exercises`, `clashes`."""
    return f"{noun}es" if noun.endswith(("s", "sh", "x")) else f"{noun}s"


TEXT = Type("text")
WORDING = Type("wording")
"""Words for a message: they can be printed, or asked whether they are there, and never set against a text."""
TRUTH = Type("truth")
DATE = Type("date")
TEXTS = Type("list")
COUNT = Type("number", NUMBER)
SHARES = Type("number", SHARE, "%")


def number(word: str) -> Type:
    """A number shown in the unit of that word. Raises KeyError where there is no such unit."""
    found = unit(word)
    if found is None:
        raise KeyError(word)
    return Type("number", found.dimension, found.word)


def of_dimension(dimension: str, word: str) -> Type:
    """A number of a dimension, shown in that unit, or in the dimension's usual one."""
    return Type("number", dimension, DEFAULT_UNIT.get(dimension, word))


def one_of(*words: str) -> Type:
    """A text that is one of these words."""
    return Type("text", words=words)


def name_of(known: str) -> Type:
    """A text that names something of the data."""
    return Type("text", known=known)


def names_of(known: str) -> Type:
    """A list of such texts."""
    return Type("list", known=known)


def thing(name: str) -> Type:
    """A thing with facts of its own."""
    return Type("thing", thing=name)


def things(name: str) -> Type:
    """A list of such things."""
    return Type("list", thing=name)
