"""What is known of conditions and measures while a plan is read: the built-in data, with a clinic's own beside them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from types import MappingProxyType
from typing import TypeVar

from planlang.model import catalogue
from planlang.model.records import ConditionData, Measure
from planlang.text.data import define

T = TypeVar("T", ConditionData, Measure)
OTHER = "other long-standing joint pain"
"""A condition without data is taken for this one."""


@define(frozen=True, slots=False, eq=False)
class Catalogue:
    """Conditions and measures by name; a clinic's own stand beside the built-in ones, or in the place of one."""

    own_conditions: tuple[ConditionData, ...] = ()
    own_measures: tuple[Measure, ...] = ()

    @cached_property
    def conditions(self) -> Mapping[str, ConditionData]:
        """Conditions and replacements, by name."""
        return _joined(catalogue.conditions(), self.own_conditions)

    @cached_property
    def measures(self) -> Mapping[str, Measure]:
        """Measures, by name."""
        return _joined(catalogue.measures(), self.own_measures)

    @cached_property
    def _conditions(self) -> dict[str, ConditionData]:
        return {as_written(word): c for c in self.conditions.values() for word in (c.name, *c.aliases)}

    @cached_property
    def _measures(self) -> dict[str, Measure]:
        return {word: m for m in self.measures.values() for word in (m.name, *m.aliases)}

    def condition(self, words: str) -> ConditionData | None:
        """The condition that the words of an `about` or `operation` line name, or None."""
        return self._conditions.get(words) or self._conditions.get(as_written(words))

    def measure(self, name: str) -> Measure | None:
        """The measure of that name; `named-activity-2` is one of its kind. None where it isn't known."""
        known = self._measures
        if name in known:
            return known[name]
        stem, _, number = name.rpartition("-")
        found = known.get(stem)
        return found if found and found.numbered and number.isdigit() else None

    def names(self, of: str) -> Iterable[str]:
        """The names of the measures, conditions, muscle groups or kinds of exercise."""
        match of:
            case "measure":
                return self.measures
            case "condition":
                return self.conditions
            case "muscle group":
                return catalogue.muscles()
            case "kind of exercise":
                return catalogue.kinds()
        raise KeyError(of)

    def knows(self, of: str, name: str) -> bool:
        """Whether such a thing is called so."""
        return name in self.names(of) or (of == "measure" and self.measure(name) is not None)

    @property
    def other(self) -> ConditionData:
        """What a condition without data is taken for."""
        return self.conditions[OTHER]


def as_written(words: str) -> str:
    """A condition's words, where capitals, hyphens and spaces make no difference."""
    return " ".join(words.lower().replace("-", " ").split())


def _joined(built_in: Mapping[str, T], own: Iterable[T]) -> Mapping[str, T]:
    return MappingProxyType({**built_in, **{one.name: one for one in own}}) if own else built_in


BUILT_IN = Catalogue()
