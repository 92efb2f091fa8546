"""Lines that an exercise library can't hold: each is said, none is passed over."""

from __future__ import annotations

import pytest

from planlang.checking.check import check
from planlang.checking.rulebook import built_in
from planlang.text.source import Source

LIBRARY = """\
library "Clinic"
{head}exercise squat
  kind strength
  works quadriceps
  begin 2x6
  then 2x8
  progress every 2 weeks
{block}"""


def said(head: str = "", block: str = "") -> list[tuple[str, str]]:
    source = Source("l.plan", LIBRARY.format(head=head, block=block))
    found = check(source, built_in()).findings
    return [(one.rule, source.text[one.span.start : one.span.end]) for one in found if one.span is not None]


@pytest.mark.parametrize("line", ["starts 2027-03-01", "lasts 8 weeks", "for P-014, aged 67", "zone Australia/Hobart"])
def test_a_line_of_a_plan_is_found_at_its_place(line: str) -> None:
    assert said(head=f"  {line}\n") == [("unreadable", line)]


@pytest.mark.parametrize("block", ['session "Home"\n  days Mon\n', "pain\n  accept up to 9/10 during\n", "rest\n"])
def test_a_block_of_a_plan_is_found_at_its_header(block: str) -> None:
    assert said(block=block) == [("unreadable", block.partition("\n")[0])]


def test_what_a_library_holds_is_left_alone() -> None:
    assert said(head="  language en\n", block="activity walking\n  kind aerobic\n  begin 20 min\n") == []
