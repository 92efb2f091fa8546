"""The one list of facts: what each is called, what it is, what it means, and how it comes from a plan."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from datetime import date
from typing import Any, TypeVar

from attrs import field

from planlang.checking.beside import Beside
from planlang.checking.expression.types import Type, thing, things
from planlang.model.plan import Plan
from planlang.planning.past import Past
from planlang.planning.week import Week, Weeks
from planlang.text.data import define, frozen
from planlang.text.source import NOWHERE, Source, Span

T = TypeVar("T")
Get = Callable[..., Any]
At = Callable[["Facts", Any], Span | None]


@define(eq=False)
class Facts:
    """One plan with what was reckoned from it; every fact is worked out once, when it is first asked.

    `contacts`: whom the clinic's file names to call, by `emergency`, `same-day`, `clinic`; None where nobody asked.
    `past`: what a diary says of its weeks so far; then it is the diary that is judged. `told`: whether findings are put
    into words; else only which rule finds something, and where, is asked.
    """

    plan: Plan
    weeks: Weeks | None
    today: date | None = None
    beside: Beside | None = None
    contacts: Mapping[str, str] | None = None
    told: bool = True
    past: Past | None = None
    kept: dict[Hashable, Any] = field(factory=dict, repr=False)

    def once(self, key: Hashable, work: Callable[[], T]) -> T:
        """The value kept under `key`, worked out by `work` the first time."""
        try:
            kept: T = self.kept[key]
        except KeyError:
            kept = self.kept[key] = work()
        return kept

    @property
    def source(self) -> Source:
        """The text that is judged, in which findings have their places."""
        return self.past.diary.source if self.past is not None else self.plan.source

    @property
    def previous(self) -> Plan | None:
        """The plan that this one continues, where it was found."""
        beside = self.beside
        return self.once("previous", lambda: beside.previous(self.plan) if beside and self.plan.continues else None)

    @property
    def weeks_before(self) -> tuple[Week, ...]:
        """The weeks of the plan that this one continues, as they were; none where it wasn't found."""
        before, beside = self.previous, self.beside
        if before is None or beside is None:
            return ()
        return self.once("previous weeks", lambda: beside.weeks_of(before, self.plan.starts))

    @property
    def unknown(self) -> frozenset[str]:
        """Statements that are read, and name something that was not found: what asks for them is not judged."""
        return frozenset(("continues",)) if self.plan.continues and self.previous is None else frozenset()


@frozen
class Fact:
    """One fact: `OWNER's NAME`, or `NAME` alone where `owner` is empty.

    `get(facts, thing)` gives its value in the type's unit, None where it isn't written; a fact with
    `asked` takes a third argument. `asks`: the statements that could say it. `at` gives its place.
    `attribute`: that of the thing which the fact is, where it is no more.
    """

    owner: str
    name: str
    type: Type
    meaning: str
    get: Get
    asks: frozenset[str] = frozenset()
    at: At | None = None
    asked: Type | None = None
    attribute: str = ""


@frozen
class Thing:
    """A kind of thing that has facts: how one is called in a message, and where it stands."""

    name: str
    plural: str
    title: Callable[[Any], str]
    span: Callable[[Any], Span]


@define
class Registry:
    """Facts by owner and name, things by name, and the lists and things that an expression may begin with."""

    facts: dict[tuple[str, str], Fact] = field(factory=dict)
    things: dict[str, Thing] = field(factory=dict)
    lists: dict[str, str] = field(factory=dict)
    """Singular or plural word of a list of the plan to the fact's name (its plural)."""

    def fact(self, owner: str, name: str) -> Fact | None:
        """That fact, or None."""
        return self.facts.get((owner, name))

    def of(self, owner: str) -> list[str]:
        """The names of a thing's facts."""
        return [name for (of, name) in self.facts if of == owner]

    def keep(self, fact: Fact) -> None:
        """Adds a fact; two of one name are an error of the program."""
        key = (fact.owner, fact.name)
        if key in self.facts:
            raise ValueError(f"two facts are called {fact.owner}'s {fact.name}")
        self.facts[key] = fact


REGISTRY = Registry()


@frozen
class Subject:
    """A thing under which facts are declared: `target.fact("date", DATE, "...")`."""

    name: str

    def fact(
        self,
        name: str,
        type: Type,
        meaning: str,
        asks: str = "",
        at: str | At | None = None,
        asked: Type | None = None,
    ) -> Callable[[Get], Get]:
        """Declares the function below as a fact. `asks`: statement names, with spaces between.

        `at`: the key of the thing's `places`, or a function to a span; else the thing's own place.
        """

        def keep(get: Get) -> Get:
            place = _by_key(at) if isinstance(at, str) else at
            REGISTRY.keep(Fact(self.name, name, type, meaning, get, _statements(asks), place, asked))
            return get

        return keep

    def plain(self, attribute: str, type: Type, meaning: str, asks: str = "", at: str | At | None = None) -> None:
        """A fact that is an attribute of the thing; `_` in the attribute is `-` in the name."""
        place = _by_key(at) if isinstance(at, str) else at
        name = attribute.replace("_", "-")

        def get(_: Facts, it: Any) -> Any:
            return getattr(it, attribute)

        REGISTRY.keep(Fact(self.name, name, type, meaning, get, _statements(asks), place, attribute=attribute))


def _statements(asks: str) -> frozenset[str]:
    return frozenset(asks.split())


def _by_key(key: str) -> At:
    def at(_: Facts, it: Any) -> Span | None:
        span: Span | None = it.places.get(key)
        return span

    return at


def subject(
    name: str,
    plural: str = "",
    title: Callable[[Any], str] = lambda it: str(it.title),
    span: Callable[[Any], Span] = lambda it: getattr(it, "span", NOWHERE),
) -> Subject:
    """A new kind of thing."""
    REGISTRY.things[name] = Thing(name, plural, title, span)
    return Subject(name)


def root(name: str, of: str, meaning: str, get: Get, asks: str = "") -> None:
    """A thing that every expression may begin with: `goal`, `rest` ...; None where the plan has none."""
    REGISTRY.keep(Fact("", name, thing(of), meaning, get, _statements(asks)))


def root_list(singular: str, of: str, meaning: str, get: Get, asks: str = "", plural: str = "") -> None:
    """A list that every expression may count and test: `any target where ...`."""
    plural = plural or singular + "s"
    key = f"all {plural}"

    def listed(facts: Facts, _: Any) -> tuple[Any, ...]:
        found: tuple[Any, ...] | None = facts.kept.get(key)
        if found is None:
            found = facts.kept[key] = tuple(get(facts))
        return found

    REGISTRY.keep(Fact("", plural, things(of), meaning, listed, _statements(asks)))
    REGISTRY.lists[singular] = REGISTRY.lists[plural] = plural


root("plan", "plan", "the whole plan", lambda f, _: f.plan)
