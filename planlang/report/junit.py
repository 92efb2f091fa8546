"""Findings as a JUnit report: one test case a file, passing ones too."""

from __future__ import annotations

import re
from collections.abc import Sequence
from xml.etree import ElementTree as Xml

from planlang.report.outside import message, waiver
from planlang.report.result import Options, Result, Shown, closing, counts, fails, relative, shown
from planlang.text.finding import ORDER

# Readers want a time and a machine: neither is ours to say, and the same input gives the same bytes.
TIMESTAMP = "1970-01-01T00:00:00"
HOST = "localhost"
_NOT_XML = re.compile("[^\t\n\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def render(results: Sequence[Result], options: Options) -> str:
    """One suite. A file fails by what is at the failing levels; all else stands in the suite's output."""
    suites = Xml.Element("testsuites")
    by_result = [(result, list(shown([result]))) for result in results]
    failed = [any(fails(one.finding, options.failing) for one in found) for _, found in by_result]
    suite = Xml.SubElement(
        suites,
        "testsuite",
        name="planlang",
        package="planlang",
        id="0",
        tests=str(len(results)),
        failures=str(sum(failed)),
        errors="0",
        time="0",
        timestamp=TIMESTAMP,
        hostname=HOST,
    )
    properties = Xml.SubElement(suite, "properties")
    Xml.SubElement(properties, "property", name="version", value=options.version)
    Xml.SubElement(properties, "property", name="rules run", value=str(options.rules))
    Xml.SubElement(properties, "property", name="rules switched off", value=str(len(options.off)))
    Xml.SubElement(properties, "property", name="findings waived", value=str(counts(results)["waived"]))
    for name in options.not_judged:
        Xml.SubElement(properties, "property", name="not judged", value=name)
    for name, reason in options.off.items():
        Xml.SubElement(properties, "property", name=f"off: {name}", value=_clean(reason))
    rest: list[str] = []
    for result, found in by_result:
        name = _clean(relative(result.name, options.root))
        case = Xml.SubElement(suite, "testcase", name=name, classname="planlang", time="0")
        failing = [one for one in found if fails(one.finding, options.failing)]
        if failing:
            worst = min(failing, key=lambda one: ORDER[one.finding.level])
            rules = sorted({one.finding.rule for one in failing})
            failure = Xml.SubElement(
                case, "failure", type=worst.finding.level.value, message=f"{len(failing)}: {', '.join(rules)}"
            )
            failure.text = "\n".join(_line(one, options) for one in failing)
        rest += [_line(one, options) for one in found if not fails(one.finding, options.failing)]
    rest.append(closing(results, options))
    Xml.SubElement(suite, "system-out").text = "\n".join(rest)
    Xml.SubElement(suite, "system-err")
    Xml.indent(suites)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + Xml.tostring(suites, encoding="unicode") + "\n"


def _line(one: Shown, options: Options) -> str:
    where = f":{one.place.line}" if one.place else ""
    waived = f" [waived: {waiver(one, options)}]" if one.finding.waived else ""
    said = f"{relative(one.file, options.root)}{where}: {one.finding.level.value}: {one.finding.rule}"
    return _clean(f"{said}: {message(one, options)}{waived}")


def _clean(text: str) -> str:
    """Text that XML 1.0 can hold."""
    return _NOT_XML.sub("\ufffd", text)
