"""The reference says nothing that is not so: every line on it is read, every refusal is as it reads there."""

from __future__ import annotations

import re

import pytest

from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.syntax.nodes import Statement
from planlang.syntax.statements import ANYWHERE, FORMS, HEADERS
from planlang.text.resources import folder
from planlang.text.source import Source
from tests.syntax.reading import findings, home, names, said, script, whole

PAGE = (folder("grammar") / "README.md").read_text(encoding="utf-8")


def _section(title: str, level: int = 2) -> str:
    marks = "#" * level
    found = re.search(rf"^{marks} {re.escape(title)}\n(.*?)(?=^#{{1,{level}}} |\Z)", PAGE, re.MULTILINE | re.DOTALL)
    assert found, title
    return found[1]


def _rows(text: str) -> list[list[str]]:
    lines = [line for line in text.splitlines() if line.startswith("|") and not line.startswith("|---")]
    return [[cell.strip() for cell in line.strip("|").split(" | ")] for line in lines if "`" in line]


def _code(cell: str) -> list[str]:
    return re.findall(r"`([^`]+)`", cell)


def _lines_by_block() -> list[tuple[str, str]]:
    """Each line of the reference with a block that it is said to stand in."""
    titles = re.findall(r"^### (.+)$", _section("Which line stands where"), re.MULTILINE)
    return [
        (block, line)
        for title in titles
        for block in title.split(" and ")
        for row in _rows(_section(title, 3))
        for line in _code(row[0])
    ]


LINES = _lines_by_block()
REAL = _rows(_section("What real plans say"))


@pytest.mark.parametrize(("block", "line"), LINES)
def test_a_line_may_stand_in_the_block_where_the_reference_shows_it(block: str, line: str) -> None:
    (name,) = names(line)
    assert block in FORMS[name].blocks


def test_every_statement_stands_on_the_page_in_each_of_its_blocks() -> None:
    shown = {(block, names(line)[0]) for block, line in LINES}
    assert shown == {(block, form.name) for form in FORMS.values() for block in form.blocks}


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
def test_every_example_stands_on_the_page(form) -> None:  # type: ignore[no-untyped-def]
    assert f"`{form.example}`" in PAGE


@pytest.mark.parametrize("dose", [dose for row in _rows(_section("Doses")) for dose in _code(row[0])])
def test_a_dose_is_read(dose: str) -> None:
    assert names(f"begin {dose}") == ["begin"]
    assert names(f"still do walking {dose}") == ["still_do"]
    assert names(f"reach {dose} in walking") == ["reach"]


@pytest.mark.parametrize(("line", "words"), [(_code(row[0])[0], row[1]) for row in _rows(_section("What is refused"))])
def test_a_refusal_reads_as_it_is_shown(line: str, words: str) -> None:
    (finding,) = findings(whole(_place(line), line))
    assert words in said(finding)


def test_all_75_things_are_answered() -> None:
    assert sorted({int(row[0]) for row in REAL}) == list(range(1, 76))
    assert {row[2] for row in REAL} == {"said", "found", "refused"}


@pytest.mark.parametrize("row", [row for row in REAL if row[2] == "said"], ids=lambda row: f"{row[0]} {row[1]}")
def test_what_is_said_is_read_in_its_block(row: list[str]) -> None:
    (line,) = _code(row[3])
    assert findings(whole(_place(line), line)) == []
    (statement,) = script(line).lines
    assert isinstance(statement, Statement)
    assert statement.name != "baseline"


@pytest.mark.parametrize("row", [row for row in REAL if row[2] == "refused"], ids=lambda row: f"{row[0]} {row[1]}")
def test_what_is_refused_says_what_to_write(row: list[str]) -> None:
    (line,) = _code(row[3])
    (finding,) = findings(whole(_place(line), line))
    assert row[4] in said(finding)


@pytest.mark.parametrize("row", [row for row in REAL if row[2] == "found"], ids=lambda row: f"{row[0]} {row[1]}")
def test_what_is_found_is_found(row: list[str]) -> None:
    (line,) = _code(row[3])
    text = f'plan "x"\nstarts 2027-03-01\nlasts 8 weeks\nexercise step-up\nbegin 2x8\nsession "A"\n{line}\ndo step-up\n'
    plan, found = read_plan(Source("made.plan", text))
    assert plan is not None
    everything = [*found, *reckon(plan).findings]
    assert any(row[4] in said(finding) and finding.rule == "contradiction" for finding in everything)


@pytest.mark.parametrize("code", sorted({code for row in REAL for code in _code(row[4])}))
def test_what_a_remark_shows_is_read(code: str) -> None:
    tries = [code, f"begin {code}", f"begin 3x8 {code}"]
    if code in FORMS or "/" in code:
        assert (
            code in FORMS or (folder("rules") / code.partition("/")[2]).is_file() or names(f"begin {code}") == ["begin"]
        )
    else:
        assert any("?" not in names(line) for line in tries)


def _place(line: str) -> str:
    """The block that a line is tried in; a line that can't be read in the one its first word belongs to."""
    read_names = names(line)
    if read_names != ["?"]:
        return home(read_names[0])
    word = line.split()[0]
    form = next((f for f in FORMS.values() if f.word == word and f.name not in HEADERS), None)
    return "plan" if form is None or form.blocks == (ANYWHERE,) else form.blocks[0]
