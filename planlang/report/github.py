"""Findings as annotations of a GitHub workflow: worst first, and what doesn't fit is counted and listed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator

from attrs import evolve

from planlang.report.outside import PLACES, message, waiver
from planlang.report.quoting import visible
from planlang.report.result import Options, Result, Shown, closing, relative, shown
from planlang.text.finding import ORDER

SHOWN = 10  # annotations of one kind that are shown for one step; further ones vanish without a word


def pieces(results: Collection[Result], options: Options) -> Iterator[str]:
    """Workflow commands, then one line a finding that isn't shown, then what ran."""
    used: Counter[str] = Counter()
    for one in _by_level(results):
        kind = PLACES[one.finding.level.value]
        used[kind] += 1
        if used[kind] <= SHOWN:
            yield f"{_command(kind, one, options)}\n"
    over = sum(max(0, number - SHOWN) for number in used.values())
    if over:
        yield f"{over} more findings are not shown as annotations:\n"
        used.clear()
        for one in _by_level(results):
            kind = PLACES[one.finding.level.value]
            used[kind] += 1
            if used[kind] > SHOWN:
                yield f"{_plain(one, options)}\n"
    for one in shown(results):
        if one.finding.waived:
            yield f"Waived: {_plain(one, options)} [{_one_line(waiver(one, options))}]\n"
    yield f"{closing(results, options)}\n"


def _by_level(results: Collection[Result]) -> Iterator[Shown]:
    """What isn't waived, the worst first; gone over once a level, so that nothing is held."""
    for level in ORDER:
        for result in results:
            few = evolve(result, findings=tuple(f for f in result.findings if f.level is level and not f.waived))
            yield from shown((few,))


def _command(kind: str, one: Shown, options: Options) -> str:
    fields = {"file": relative(one.file, options.root)}
    place = one.place
    if place:
        fields["line"] = str(place.line)
        fields["endLine"] = str(place.end_line)
        if place.line == place.end_line:
            fields["col"] = str(place.column)
            fields["endColumn"] = str(place.end_column)
    fields["title"] = f"{one.finding.level.value}: {one.finding.rule}"
    said = ",".join(f"{name}={_property(value)}" for name, value in fields.items())
    return f"::{kind} {said}::{_data(message(one, options))}"


def _plain(one: Shown, options: Options) -> str:
    where = f":{one.place.line}" if one.place else ""
    said = f"{relative(one.file, options.root)}{where} {one.finding.level.value} {one.finding.rule}"
    return _one_line(f"{said}: {message(one, options)}")


def _one_line(text: str) -> str:
    """No line of ours may begin a command, or a plan could give orders to the workflow."""
    return " ".join(visible(text).split()).replace("::", ": :")


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
