"""Pages of reviews for the tests of this folder, one for each thing that may be drawn."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from planlang.cli.reviewed import reviewed
from planlang.people.review.page import html
from tests.planning.review.reviews import BEDS_DIARY, PEOPLE, beds, review, week

RAN = "10 rules ran on 1 file, none flagged; that is not a statement that the plan is safe."
FLARE = "2027-03-15 flare of knee, right\n2027-03-15 pain 6/10\n2027-03-16 pain 7/10"
BLANKS = "\n".join([week("2027-03-01", "done", "-", "not done"), FLARE])
LONG = beds(("lasts      18 weeks", "lasts      52 weeks"))
AWAY = beds(("zone       Australia/Hobart", 'zone       Australia/Hobart\n  away 2027-03-08 to 2027-03-14 "the coast"'))
BARE = 'plan "Nothing much"\n  for P-014\n  starts 2027-03-01\n  lasts 4 weeks\n'


def pages() -> dict[str, str]:
    """Each by what it shows."""
    made = {path.stem: _of_files(path) for path in DIARIES}
    made["blanks and a flare now"] = page(BLANKS)
    made["an open sign"] = page('2027-03-03 told "calf sore and swollen" by P-014')
    made["a year"] = page(BEDS_DIARY, LONG, date(2028, 2, 1))
    made["away"] = page(week("2027-03-15", "done", "done", "done"), AWAY)
    made["next to nothing"] = page('2027-03-01 note "x"', BARE)
    made["before it begins"] = page("2027-02-20 confidence 7/10")
    return made


DIARIES = sorted(path for path in PEOPLE.glob("*.diary"))


def page(lines: str = BEDS_DIARY, plan: str | None = None, as_of: date | None = None) -> str:
    """The page of a review of the two raised beds, or of another plan."""
    return html(review(lines, plan or beds(), as_of), RAN)


def _of_files(diary: Path) -> str:
    """The page of an example, put together with the template that it is made from."""
    made, _ = reviewed(str(diary.with_suffix(".plan")), str(diary), None)
    assert made is not None
    return html(made, RAN)
