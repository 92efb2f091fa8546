"""Every report format: golden files, published schemas, and what may leave the house."""

import json
import re
from datetime import date
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from junitparser import JUnitXml
from lxml import etree
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from planlang.report.formats import FORMATS, render
from planlang.report.quoting import columns, quoted
from planlang.report.result import Options, Result, RuleInfo, fails
from planlang.text.finding import Finding, Level, Related, Waived, unreadable
from planlang.text.source import Place, Source, Span

HERE = Path(__file__).parent
PLAN = """\
plan "Round the lake by autumn"
  for        P-021, aged 58
  about      hip osteoarthritis, left

activity walking
  kind       aerobic
  begin      2600 steps/day
  rise       1200 steps/day every week to 7400 steps/day

session "Kitchen"
  days       Tue, Fri
  do         step-up
"""
CLASS = 'plan "Garden class: 100 % fun, really"\n  starts     2027-03-01\n  lasts      8 mnths\n'
INFOS = {
    "daily-steps-jump": RuleInfo(
        "The daily aim rises steeply",
        "A steep rise is what brings a flare in joints that are not used to it.",
        Level.UNREALISTIC,
        ("Flemish public-health institute, +500 steps a day each week",),
    ),
    "no-cue": RuleInfo("A session has nothing to remind of it", level=Level.ADVICE),
    "no-room-for-rest": RuleInfo("No room for easier weeks", level=Level.UNREALISTIC),
}


def at(source: Source, words: str) -> Span:
    start = source.text.index(words)
    return Span(start, start + len(words))


def lake(*, person: bool = True, waived: bool = False) -> Result:
    source = Source("people/lake.plan", PLAN)
    jump = Finding(
        "daily-steps-jump",
        Level.UNREALISTIC,
        "In week 2 the aim rises by 1200 steps a day, 46 % above the week before.",
        at(source, "1200 steps/day every week"),
        source,
        lambda: "Would 500 steps a day each week do? It reaches 7400 in week 11.",
        (Related("the week before", at(source, "2600 steps/day")),),
        ("Flemish public-health institute, +500 steps a day each week",),
    )
    cue = Finding(
        "no-cue", Level.ADVICE, 'Nothing reminds of "Kitchen".', at(source, "Kitchen"), source, "After which meal?"
    )
    if waived:
        cue = Finding(
            **{name: getattr(cue, name) for name in ("rule", "level", "message", "span", "source", "help")},
            waived=Waived("her sister rings each time", "T-03", date(2027, 6, 1)),
        )
    return Result(source.name, source, (cue, jump), person=person)


def garden() -> Result:
    source = Source("library/garden.plan", CLASS)
    return Result(
        source.name,
        source,
        (
            unreadable('"mnths" is no unit of time.', at(source, "mnths"), source, "Write 8 weeks, or a date."),
            Finding("no-room-for-rest", Level.UNREALISTIC, "There is no room for easier weeks.", None, source),
        ),
    )


def options(**parts) -> Options:
    return Options(**{"version": "1.0", "rules": 57, "infos": INFOS, **parts})


NOBODY = Finding("nobody-to-call", Level.INCOMPLETE, "clinic.yaml names nobody to call.")
CASES = {
    "nothing": ([], options()),
    "clean": ([Result("library/clean.plan", Source("library/clean.plan", PLAN), ())], options()),
    "without-a-place": ([Result("library/none.plan", None, (NOBODY,))], options()),
    "waived": ([lake(waived=True)], options(off={"no-review": "reviews are booked at the desk"})),
    "several-files": ([lake(), garden()], options(not_judged=("strength-under-two-days",))),
    "quoted": ([lake(waived=True)], options(quote=True)),
}
SUFFIX = {"text": "txt", "json": "json", "sarif": "sarif", "junit": "xml", "github": "txt"}


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("name", FORMATS)
def test_golden_file(name, case, snapshot):
    class AsFile(SingleFileSnapshotExtension):
        _write_mode = WriteMode.TEXT
        file_extension = SUFFIX[name]

        @classmethod
        def get_snapshot_name(cls, *, test_location, index):
            return str(index)

    assert render(name, *CASES[case]) == snapshot(extension_class=AsFile, name=f"{name}-{case}")


@pytest.mark.parametrize("case", CASES)
def test_sarif_is_valid_by_the_published_schema(case):
    # OASIS, Static Analysis Results Interchange Format 2.1.0, JSON schema
    schema = json.loads((HERE / "schemas" / "sarif-2.1.0-rtm.5.json").read_text("utf-8"))
    log = json.loads(render("sarif", *CASES[case]))
    jsonschema.validate(log, schema)
    run = log["runs"][0]
    for result in run["results"]:  # which a schema can't see
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"]


@pytest.mark.parametrize("case", CASES)
def test_junit_is_valid_by_the_published_schema(case):
    text = render("junit", *CASES[case])
    etree.XMLSchema(file=str(HERE / "schemas" / "jenkins-junit.xsd")).assertValid(etree.fromstring(text.encode()))


def test_junit_read_by_another_reader_has_one_case_a_file():
    suite = next(iter(JUnitXml.fromstring(render("junit", *CASES["several-files"]).encode())))
    assert [(case.name, bool(case.result)) for case in suite] == [
        ("people/lake.plan", True),
        ("library/garden.plan", True),
    ]
    clean = next(iter(JUnitXml.fromstring(render("junit", *CASES["clean"]).encode())))
    assert (clean.tests, clean.failures, len(list(clean))) == (1, 0, 1)


@pytest.mark.parametrize("name", ["sarif", "junit", "github"])
def test_formats_that_leave_the_house_say_nothing_of_a_persons_plan(name):
    text = render(name, [lake(waived=True)], options())
    for words in (
        "1200",
        "2600",
        "46 %",
        "Kitchen",
        "sister",
        "500 steps a day each week do",
        "P-021",
        "the week before",
    ):
        assert words not in text
    assert "daily-steps-jump" in text
    assert "lake.plan" in text


@pytest.mark.parametrize("name", ["sarif", "junit", "github"])
def test_quoting_can_be_asked_for(name):
    text = render(name, [lake(waived=True)], options(quote=True))
    assert "rises by 1200 steps a day" in text
    assert "her sister rings each time" in text


@pytest.mark.parametrize("name", ["text", "json"])
def test_formats_for_the_clinician_quote(name):
    assert "rises by 1200 steps a day" in render(name, [lake()], options())


def fingerprints(results, **parts) -> list[str]:
    log = json.loads(render("sarif", results, options(**parts)))
    return [result["partialFingerprints"]["planlang/v1"] for result in log["runs"][0]["results"]]


def moved(result: Result, lines: int) -> Result:
    source = Source(result.name, "# a comment\n" * lines + result.source.text)
    by = 12 * lines
    findings = [
        Finding(f.rule, f.level, f.message, f.span and Span(f.span.start + by, f.span.end + by), source)
        for f in result.findings
    ]
    return Result(result.name, source, tuple(findings), result.person)


@pytest.mark.parametrize("person", [True, False])
def test_fingerprints_survive_moved_lines(person):
    here = lake(person=person)
    assert fingerprints([here]) == fingerprints([moved(here, 7)])


def test_fingerprints_of_equal_findings_differ():
    source = Source("a.plan", "x\nx\n")
    findings = tuple(Finding("no-cue", Level.ADVICE, "m", Span(i, i + 1), source) for i in (0, 2))
    assert len(set(fingerprints([Result("a.plan", source, findings)]))) == 2


def test_file_names_are_relative_uris():
    result = Result("/clinic/library/Übung 1.plan", None, (Finding("no-cue", Level.ADVICE, "m"),))
    log = json.loads(render("sarif", [result], options(root="/clinic")))
    location = log["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]
    assert location == {"uri": "library/%C3%9Cbung%201.plan"}


@pytest.mark.parametrize(
    ("root", "called"),
    [("/clinic", "library/a.plan"), ("/clinic/people", "/clinic/library/a.plan"), (None, "/clinic/library/a.plan")],
)
def test_file_below_where_one_stands_is_called_by_its_short_name(root, called):
    result = Result("/clinic/library/a.plan", None, (Finding("no-cue", Level.ADVICE, "m"),))
    assert render("text", [result], options(root=root)).startswith(f"{called}\n")


def test_annotations_are_escaped():
    source = Source("a,b:c.plan", "x")
    result = Result(source.name, source, (Finding("no-cue", Level.ADVICE, "100 %\nof: it", Span(0, 1), source),))
    first = render("github", [result], options()).splitlines()[0]
    assert (
        first
        == "::notice file=a%2Cb%3Ac.plan,line=1,endLine=1,col=1,endColumn=2,title=advice%3A no-cue::100 %25%0Aof: it"
    )


def test_annotations_are_worst_first_and_say_how_many_are_not_shown():
    source = Source("a.plan", "x\n" * 30)
    advice = [Finding("no-cue", Level.ADVICE, f"m{i}", Span(2 * i, 2 * i + 1), source) for i in range(12)]
    unsafe = [Finding("screening-not-clear", Level.UNSAFE, "u", Span(50, 51), source)]
    lines = render("github", [Result("a.plan", source, (*advice, *unsafe))], options()).splitlines()
    assert lines[0].startswith("::error ")
    assert sum(line.startswith("::notice ") for line in lines) == 10
    assert "2 more findings are not shown as annotations:" in lines
    assert any("m11" in line for line in lines)


def test_no_line_of_an_annotation_report_is_a_command_of_the_plans():
    source = Source("a.plan", "x")
    evil = Finding(
        "no-cue",
        Level.ADVICE,
        "m\n::stop-commands::t",
        None,
        source,
        waived=Waived("\n::set-env::x", "T-03", date(2027, 6, 1)),
    )
    lines = render("github", [Result("a.plan", source, (evil,))], options()).splitlines()
    assert not any(line.startswith("::") for line in lines)


def test_terminal_sees_no_control_characters():
    source = Source("a.plan", 'plan "\x1b[2Jx\u202e"\r\n')
    finding = Finding("no-cue", Level.ADVICE, "says \x1b[31m", Span(6, 9), source)
    text = render("text", [Result("a.plan", source, (finding,))], options())
    assert "\x1b" not in text
    assert "\u202e" not in text


def test_colour_is_never_the_only_sign():
    plain = render("text", *CASES["several-files"])
    results, _ = CASES["several-files"]
    painted = render("text", results, options(not_judged=("strength-under-two-days",), colour=True))
    assert re.sub("\x1b\\[[0-9;]*m", "", painted) == plain


def test_reason_is_given_once_a_file():
    def twice(name):
        source = Source(name, "x\ny\n")
        found = (Finding("daily-steps-jump", Level.UNREALISTIC, f"m{i}", Span(i, i + 1), source) for i in (0, 2))
        return Result(name, source, tuple(found))

    text = render("text", [twice("a.plan"), twice("b.plan")], options())
    assert [text.count(words) for words in ("m0", "m2", "Why:")] == [2, 2, 2]


def test_run_without_findings_is_not_called_safe():
    text = render("text", *CASES["clean"])
    assert text == (
        "57 rules ran on 1 file, none flagged; that is not a statement that the plan is\n"
        "safe. None switched off, none waived. Free text is not understood.\n"
    )


@pytest.mark.parametrize("name", FORMATS)
def test_what_ran_what_is_off_and_what_is_waived_stand_in_every_format(name):
    waived = lake(waived=True)
    only_waived = Result(waived.name, waived.source, tuple(f for f in waived.findings if f.waived))
    text = " ".join(render(name, [only_waived], options(off={"no-review": "booked at the desk"})).split())
    if name == "json":
        answer = json.loads(text)
        assert (answer["rules"], answer["off"]) == (57, {"no-review": "booked at the desk"})
        assert [f["waived"]["by"] for f in answer["findings"]] == ["T-03"]
    else:
        assert "57 rules ran on 1 file, none flagged beside what is waived" in text
        assert "1 switched off (no-review), 1 waived." in text
        assert "Free text is not understood." in text


def test_waived_finding_never_fails_and_an_unreadable_one_always_does():
    source = Source("a.plan", "x")
    assert fails(unreadable("m", None, source), frozenset())
    assert not fails(Finding("a", Level.UNSAFE, "m", waived=Waived("r", "T-1", date(2027, 1, 1))), frozenset(Level))


@pytest.mark.parametrize("width", [40, 80, 100])
def test_text_keeps_within_its_width(width):
    text = render("text", CASES["several-files"][0], options(width=width))
    assert max(columns(line) for line in text.splitlines()) <= width


@settings(max_examples=200, deadline=None)
@given(st.text(min_size=1, max_size=120), st.data())
def test_underline_stands_below_the_words(line, data):
    line = line.replace("\n", " ").replace("\r", " ")
    source = Source("a", line)
    start = data.draw(st.integers(0, len(line)))
    end = data.draw(st.integers(start, len(line)))
    shown_line, under = quoted(source, Place(1, start + 1, 1, end + 1), 60)
    assert columns(shown_line) <= 62
    assert set(under) <= {" ", "~"}
    assert "~" in under


def test_underline_counts_wide_and_combining_characters():
    source = Source("a", "ひざ e\u0301a 3x8")
    start = source.text.index("3x8")
    line, under = quoted(source, Place(1, start + 1, 1, start + 4), 60)
    assert (line, under) == (source.text, " " * 8 + "~~~")


def test_long_line_is_cut_about_the_words():
    source = Source("a", "word " * 60 + "here " + "word " * 60)
    start = source.text.index("here")
    line, under = quoted(source, Place(1, start + 1, 1, start + 5), 60)
    assert "here" in line
    assert line.startswith("…")
    assert line.endswith("…")
    assert line[under.index("~") : under.index("~") + 4] == "here"
