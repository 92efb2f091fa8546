"""Findings as a JUnit report: one test case a file, passing ones too."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from xml.etree import ElementTree as Xml
from xml.sax.saxutils import escape

from planlang.report.outside import message, waiver
from planlang.report.result import Options, Result, Shown, closing, counts, fails, relative, shown
from planlang.text.finding import ORDER

# Readers want a time and a machine: neither is ours to say, and the same input gives the same bytes.
TIMESTAMP = "1970-01-01T00:00:00"
HOST = "localhost"
_NOT_XML = re.compile("[^\t\n\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


_CASES = "cases"


def pieces(results: Collection[Result], options: Options) -> Iterator[str]:
    """One suite. A file fails by what is at the failing levels; all else stands in the suite's output."""
    suites = Xml.Element("testsuites")
    suite = Xml.SubElement(
        suites,
        "testsuite",
        name="planlang",
        package="planlang",
        id="0",
        tests=str(len(results)),
        failures=str(sum(any(fails(f, options.failing) for f in result.findings) for result in results)),
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
    Xml.SubElement(suite, _CASES)
    Xml.SubElement(suite, "system-out").text = _CASES
    Xml.SubElement(suite, "system-err")
    Xml.indent(suites)
    head, middle, tail = re.split(f"<{_CASES} />\n +|(?<=>){_CASES}(?=<)", Xml.tostring(suites, encoding="unicode"))
    yield f'<?xml version="1.0" encoding="UTF-8"?>\n{head}'
    for result in results:
        yield _case(result, options)
    yield middle
    for one in shown(results):
        if not fails(one.finding, options.failing):
            yield f"{escape(_line(one, options))}\n"
    yield escape(closing(results, options))
    yield f"{tail}\n"


def _case(result: Result, options: Options) -> str:
    """One file, with what fails it, at its depth of the whole."""
    name = _clean(relative(result.name, options.root))
    case = Xml.Element("testcase", name=name, classname="planlang", time="0")
    failing = [one for one in shown([result]) if fails(one.finding, options.failing)]
    if failing:
        worst = min(failing, key=lambda one: ORDER[one.finding.level])
        rules = sorted({one.finding.rule for one in failing})
        failure = Xml.SubElement(
            case, "failure", type=worst.finding.level.value, message=f"{len(failing)}: {', '.join(rules)}"
        )
        failure.text = "\n".join(_line(one, options) for one in failing)
    Xml.indent(case, level=2)
    return f"{Xml.tostring(case, encoding='unicode').rstrip()}\n    "


def _line(one: Shown, options: Options) -> str:
    where = f":{one.place.line}" if one.place else ""
    waived = f" [waived: {waiver(one, options)}]" if one.finding.waived else ""
    said = f"{relative(one.file, options.root)}{where}: {one.finding.level.value}: {one.finding.rule}"
    return _clean(f"{said}: {message(one, options)}{waived}")


def _clean(text: str) -> str:
    """Text that XML 1.0 can hold."""
    return _NOT_XML.sub("\ufffd", text)
