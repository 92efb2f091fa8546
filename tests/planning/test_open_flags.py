"""Signs in a diary that wait for an answer."""

from __future__ import annotations

from datetime import date

import pytest

from planlang.model.reading import read_diary
from planlang.planning.open_flags import open_flags, stands_open
from planlang.text.source import Source

TOLD = '2027-05-02 told "calf sore and swollen" by P-014'


def flags(*lines: str, as_of: date = date(2027, 5, 9)) -> list[str | None]:
    diary, _ = read_diary(Source("made.diary", "\n".join(["diary for P-014", *lines]) + "\n"))
    assert diary
    return [entry.text or entry.name for entry in open_flags(diary, as_of)]


@pytest.mark.parametrize(
    ("lines", "found"),
    [
        ((), []),
        ((TOLD,), ["calf sore and swollen"]),
        ((TOLD, '2027-05-02 acted "sent to same-day clinic" by T-03'), []),
        ((TOLD, '2027-05-04 acted "rang back" by T-03'), []),
        (('2027-05-01 acted "rang about the boots" by T-03', TOLD), ["calf sore and swollen"]),
        ((TOLD, '2027-05-10 acted "rang back" by T-03'), ["calf sore and swollen"]),
        (('2027-05-10 told "later than asked" by P-014',), []),
        (('2027-05-02 note "calf sore"',), []),
    ],
)
def test_a_sign_is_open_until_an_answer_is_written_on_its_day_or_later(lines, found):
    assert flags(*lines) == found


def test_the_finding_names_the_line_and_is_never_less_than_unsafe():
    diary, _ = read_diary(Source("made.diary", f"diary for P-014\n{TOLD}\n"))
    finding = stands_open(open_flags(diary, date(2027, 5, 2))[0], diary)
    assert (finding.rule, finding.level, finding.blocks) == ("open-red-flag", "unsafe", True)
    assert diary.source.place(finding.span).line == 2
    assert "calf sore and swollen" in finding.message
