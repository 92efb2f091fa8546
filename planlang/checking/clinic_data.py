"""A clinic's own conditions and measures: read strictly, and held to what a plan and the built-in data can take."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import TypeVar

from planlang.model import catalogue
from planlang.model.build.context import LARGEST
from planlang.model.catalogue import read_catalogue
from planlang.model.known import BUILT_IN, Catalogue, as_written
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.model.records import ConditionData, FlareRate, Measure
from planlang.text.finding import Finding, unreadable
from planlang.text.load import load_data
from planlang.text.meant import did_you_mean
from planlang.text.source import Source
from planlang.text.strict_yaml import Document
from planlang.text.strict_yaml import Path as At

T = TypeVar("T", bound=ConditionData | Measure)
Fault = tuple[At, str, str]
"""Where in an entry, what is wrong, what to do."""
_RATING = re.compile(r"/[1-9][0-9]{0,2}\Z")
_MOST_WEEKS = 520


def own_data(conditions: Path | None, measures: Path | None) -> tuple[Catalogue, list[Finding]]:
    """The built-in data with what these files add, and everything that is wrong with them."""
    own_conditions, faults = _read(ConditionData, conditions, BUILT_IN.conditions, as_written, faults_of_condition)
    own_measures, more = _read(Measure, measures, BUILT_IN.measures, str, faults_of_measure)
    return Catalogue(own_conditions, own_measures), [*faults, *more]


def _read(
    cls: type[T],
    path: Path | None,
    built_in: Mapping[str, T],
    key: Callable[[str], str],
    wrong: Callable[[T], Iterator[Fault]],
) -> tuple[tuple[T, ...], list[Finding]]:
    if path is None:
        return (), []
    source = load_data(path)
    if isinstance(source, Finding):
        return (), [source]
    taken = {key(word): one.name for one in built_in.values() for word in (one.name, *one.aliases)}

    def judge(document: Document, i: int, entry: T) -> Iterator[Finding]:
        for at, message, help in (*_names(entry, built_in, taken, key), *wrong(entry)):
            where = (i, *at)
            yield unreadable(message, document.values.get(where) or document.place(where), source, help)

    found, faults = read_catalogue(cls, source, judge)
    return found, list(faults)


def _names(entry: T, built_in: Mapping[str, T], taken: dict[str, str], key: Callable[[str], str]) -> Iterator[Fault]:
    """Names that are used already. Those of an entry are taken by it, so that the next one may not have them."""
    if entry.replaces and entry.name not in built_in:
        help = did_you_mean(entry.name, built_in) or 'Leave "replaces" out: it adds a new one.'
        yield ("replaces",), f'nothing built in is called "{entry.name}"', help
    for place, word in ((("name",), entry.name), *((("aliases", i), a) for i, a in enumerate(entry.aliases))):
        whose = taken.get(key(word))
        if whose is None or (entry.replaces and whose == entry.name):
            taken[key(word)] = entry.name
        elif whose in built_in:
            help = "Choose another name; or, to use yours in the place of the built-in one, add: replaces: true"
            yield place, f'"{word}" is built in already, as a name of "{whose}"', help
        else:
            yield place, f'"{word}" is also a name of "{whose}"', "Keep one of the two."


def faults_of_condition(entry: ConditionData) -> Iterator[Fault]:
    """What is wrong with a condition as a clinic's own, apart from its names being taken."""
    known = catalogue.signs()
    for i, sign in enumerate(entry.signs or ()):
        if sign not in known:
            help = did_you_mean(sign, known) or f"The signs are {', '.join(known)}."
            yield ("signs", i), f'no sign is called "{sign}"', help
    if entry.operation and entry.signs is None and not entry.replaces:
        help = "After most operations at least: signs: [wound, calf-clot]"
        yield (), f'"{entry.name}" is an operation, and doesn\'t say which signs its plans carry', help
    if not entry.flare.strip():
        yield ("flare",), "the sentence that the person reads about a flare is empty", ""
    for place, word in ((("name",), entry.name), *((("aliases", i), a) for i, a in enumerate(entry.aliases))):
        plan = _probe(f"  about {word}\n")
        if plan is None or [about.name for about in plan.about] != [word]:
            yield place, f'"{word}" can\'t be written in an about line', "Lower-case words, without comma or quotes."
    if entry.rate is not None:
        yield from _rate(entry.rate)


def _rate(rate: FlareRate) -> Iterator[Fault]:
    if not (rate.flares >= 1 and 1 <= rate.weeks <= _MOST_WEEKS and rate.lasting >= 1 and 1 <= rate.varies <= 100):
        help = f"flares from 1, weeks up to {_MOST_WEEKS}, lasting from 1 week, varies 1 (much) to 100 (hardly)."
        yield ("rate",), "this can't be a rate of flares", help
    elif rate.flares * rate.lasting >= rate.weeks or rate.flares / (rate.weeks - rate.flares * rate.lasting) >= 1:
        yield ("rate",), f"{rate.flares} flares lasting so long don't fit into {rate.weeks} weeks", ""
    if not rate.grounds:
        yield (
            ("rate",),
            "a rate names what it rests on",
            'grounds: [{source: "our audit of 2026", known: practice}]',
        )


def faults_of_measure(entry: Measure) -> Iterator[Fault]:
    """What is wrong with a measure as a clinic's own, apart from its names being taken."""
    names = ((("name",), entry.name), *((("aliases", i), alias) for i, alias in enumerate(entry.aliases)))
    for place, word in names:
        if not _writable(word, "3"):
            help = "Lower-case words with hyphens, as in stair-climb; no word that already means something."
            yield place, f"\"{word}\" can't be a measure's name in a plan", help
    units = ((("unit",), entry.unit), *((("units", i), unit) for i, unit in enumerate(entry.units)))
    for place, unit in units:
        if not _writable("chair-stands", f"3{unit if _RATING.match(unit) else f' {unit}'}"):
            help = 'As in s, min, m, cm, kg, reps, steps/day, degrees; /10 for a rating; "" for a plain number.'
            yield place, f'"{unit}" is no unit that can stand in a plan', help
    if not 0 <= entry.lowest < entry.highest <= LARGEST:
        yield ("highest",), f"lowest and highest should go up, from 0 or more to {LARGEST} at most", ""
    for part in ("error", "important"):
        figure = getattr(entry, part)
        if figure is not None and not 0 < figure.low <= (figure.low if figure.high is None else figure.high):
            yield (part,), "low should be more than 0, and high no less than low", ""


def _writable(name: str, value: str) -> bool:
    """Whether `today` can hold a line of that name and value."""
    plan = _probe(f"  starts 2027-03-01\n  lasts 4 weeks\ntoday\n  {name} {value}\n")
    return plan is not None and len(plan.today.measures) == 1


def _probe(lines: str) -> Plan | None:
    plan, findings = read_plan(Source("", f'plan "A"\n{lines}'))
    return None if any(f.rule == "unreadable" for f in findings) else plan
