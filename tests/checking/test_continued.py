"""A plan that continues a block which can't be had, or can't be the one before: said at the line."""

from __future__ import annotations

from pathlib import Path

import pytest

from planlang.checking.beside import InFolder
from planlang.checking.check import check
from planlang.checking.rulebook import built_in
from planlang.text.finding import Finding, Level
from planlang.text.load import load
from planlang.text.source import Source

BLOCK = 'plan "{0}"\n  for {1}\n{2}  starts {3}\n  lasts 8 weeks\n'


def write(folder: Path, name: str, before: str, code: str = "P-014", starts: str = "2027-03-01") -> Path:
    line = f'  continues "{before}"\n' if before else ""
    path = folder / f"{name}.plan"
    path.write_text(BLOCK.format(name, code, line, starts), "utf-8")
    return path


def of_the_line(path: Path, root: Path) -> list[Finding]:
    source = load(path)
    assert isinstance(source, Source)
    found = check(source, built_in(), beside=InFolder(path, root)).findings
    return [f for f in found if f.span and source.text[f.span.start : f.span.end].startswith("continues")]


@pytest.fixture
def clinic(tmp_path: Path) -> Path:
    write(tmp_path, "autumn", "", starts="2027-01-04")
    (tmp_path / "base.plan").write_text('template "Base"\n  lasts 8 weeks\n', "utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("before", "message"),
    [
        ("nope.plan", "there is no such file, so the jump"),
        ("../../out.plan", "lies outside the library"),
        ("now.plan", "is no plan that can be read whole"),
        ("base.plan", "is no plan that can be read whole"),
    ],
)
def test_a_block_that_can_not_be_had_is_said(clinic: Path, before: str, message: str) -> None:
    (found,) = of_the_line(write(clinic, "now", before), clinic)
    assert found.rule == "unreckonable"
    assert message in found.message
    assert found.advice


def test_a_block_that_is_there_and_earlier_is_left_alone(clinic: Path) -> None:
    assert of_the_line(write(clinic, "now", "autumn.plan"), clinic) == []


def test_a_circle_is_found_by_its_dates(clinic: Path) -> None:
    first = write(clinic, "a", "b.plan", starts="2027-01-04")
    second = write(clinic, "b", "a.plan", starts="2027-03-01")
    (found,) = of_the_line(first, clinic)
    assert (found.rule, found.level) == ("contradiction", Level.UNSAFE)  # of a date
    assert "2027-03-01" in found.message
    assert of_the_line(second, clinic) == []


def test_another_persons_block_is_found(clinic: Path) -> None:
    (found,) = of_the_line(write(clinic, "now", "autumn.plan", code="P-015"), clinic)
    assert found.rule == "contradiction"
    assert "is for P-014" in found.message
    assert found.related[0].source is not None
    assert found.related[0].source.name.endswith("autumn.plan")
