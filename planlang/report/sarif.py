"""Findings as SARIF 2.1.0 (OASIS), for code hosts."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from planlang.report.lists import dumped
from planlang.report.outside import Fingerprints, may_quote, message, uri, waiver
from planlang.report.result import Options, Result, RuleInfo, Shown, closing, counts, shown
from planlang.text.source import Place

LEVELS = {"unsafe": "error", "unrealistic": "warning", "incomplete": "warning", "advice": "note"}
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


_FILES, _RESULTS = "\0files", "\0results"


def pieces(results: Collection[Result], options: Options) -> Iterator[str]:
    """One run; every rule that has a finding is described once, waivers are suppressions with their justification."""
    rules = sorted({finding.rule for result in results for finding in result.findings} | set(options.infos))
    index = {rule: number for number, rule in enumerate(rules)}
    marks = Fingerprints(options)
    run: dict[str, Any] = {
        "tool": {
            "driver": {
                "name": "planlang",
                "semanticVersion": _semantic(options.version),
                "rules": [_rule(rule, options.infos.get(rule), options) for rule in rules],
            }
        },
        "columnKind": "unicodeCodePoints",
        "artifacts": _FILES,
        "results": _RESULTS,
        "properties": {
            "rulesRun": options.rules,
            "notJudged": list(options.not_judged),
            "off": dict(options.off),
            "waived": counts(results)["waived"],
            "note": closing(results, options),
        },
    }
    files = ({"location": {"uri": uri(result.name, options)}} for result in results)
    found = (_result(one, options, index[one.finding.rule], marks) for one in shown(results))
    whole = {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}
    yield from dumped(whole, (_FILES, 4, files), (_RESULTS, 4, found))


def _semantic(version: str) -> str:
    """The version with the three numbers that semantic versions have."""
    return ".".join([*version.split("."), "0", "0"][:3])


def _rule(name: str, info: RuleInfo | None, options: Options) -> dict[str, Any]:
    rule: dict[str, Any] = {"id": name, "shortDescription": {"text": options.title(name)}}
    if info is not None:
        if info.why:
            rule["fullDescription"] = {"text": info.why}
        rule["defaultConfiguration"] = {"level": LEVELS[info.level.value]}
        rule["properties"] = {"level": info.level.value, "sources": list(info.sources)}
    return rule


def _result(one: Shown, options: Options, index: int, marks: Fingerprints) -> dict[str, Any]:
    finding = one.finding
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "ruleIndex": index,
        "level": LEVELS[finding.level.value],
        "message": {"text": message(one, options)},
        "locations": [_location(one.file, one.place, options)],
        "partialFingerprints": {"planlang/v1": marks.of(one)},
        "properties": {"level": finding.level.value},
    }
    if finding.related and may_quote(one, options):
        result["relatedLocations"] = _related(one, options)
    if finding.waived:
        result["suppressions"] = [{"kind": "inSource", "status": "accepted", "justification": waiver(one, options)}]
    return result


def _related(one: Shown, options: Options) -> list[dict[str, Any]]:
    found = []
    for number, related in enumerate(one.finding.related):
        source = related.source or one.source
        place = source.place(related.span) if source and related.span else None
        location = _location(source.name if source else one.file, place, options)
        found.append({"id": number, **location, "message": {"text": related.message}})
    return found


def _location(file: str, place: Place | None, options: Options) -> dict[str, Any]:
    physical: dict[str, Any] = {"artifactLocation": {"uri": uri(file, options)}}
    if place:
        physical["region"] = {
            "startLine": place.line,
            "startColumn": place.column,
            "endLine": place.end_line,
            "endColumn": place.end_column,
        }
    return {"physicalLocation": physical}
