"""Tidy text: one way of writing it, every comment kept, the same meaning, and nothing more to do the second time."""

from __future__ import annotations

import re

import pytest

from planlang.syntax.nodes import Statement
from planlang.syntax.spell import written
from planlang.syntax.statements import FORMS
from planlang.syntax.tidy import tidy
from planlang.text.source import Source
from tests.syntax.reading import script

PLAN = """\
plan "Two raised beds by spring"
  for        P-014, aged 67
  starts     2027-03-01

agreed 2027-02-22 calendar full, diary yes

today                                   # where the person is now
  chair-stands   9 reps
  has            "sturdy chair"

rest
  room for   3 weeks                     # taken whenever a flare comes
  starts when 2 points above usual for 2 days
  tell us if "not easing after 10 days"

stop if "faint" then emergency
stop if "the knee turns hot" then today

# the main thing
exercise sit-to-stand
  kind       strength
  # from the high chair
  easier     1x6 "higher chair"
  begin      2x6 "dining chair"
  stay on this step because "it is enough"
"""


def tidied(text: str) -> str:
    """The tidy text of a text; nothing was left as it was."""
    made = tidy(Source("made.plan", text))
    assert made.findings == ()
    assert made.changed == (made.text != text)
    return made.text


def test_tidy_text_stays_as_it_is() -> None:
    made = tidy(Source("made.plan", PLAN))
    assert made.text == PLAN
    assert not made.changed


def test_blank_lines_and_indentation_are_set() -> None:
    loose = "\n".join(line.strip() for line in PLAN.splitlines() if line.strip())
    assert re.sub(" +#", " #", tidied(loose)) == re.sub(" +#", " #", PLAN)


@pytest.mark.parametrize(
    ("written_so", "tidy_text"),
    [
        ("starts 1 weeks after 2027-02-10", "starts 1 week after 2027-02-10"),
        ("start 2027-03-01", "starts 2027-03-01"),
        ("last 1 week", "lasts 1 week"),
        ("last done 2012", "last done 2012"),
        ("starts after 4 week of strength", "start after 4 weeks of strength"),
        ("begins 1x1 hours", "begin 1x1 hour"),
        ("begin 2x2 hour", "begin 2x2 hours"),
        ("begin 20 minutes", "begin 20 min"),
        ("begin 1 repetition", "begin 1 rep"),
        ("begin 3x8 at 1 reps in reserve", "begin 3x8 at 1 rep in reserve"),
        ("begin 3x8 steps 15 cm", "begin 3x8 step 15 cm"),
        ("begin 3x8 at 10lbs", "begin 3x8 at 10 lb"),
        ("begin 1.5 mile", "begin 1.5 miles"),
        ("begin 3x30 seconds", "begin 3x30 s"),
        ("rise 10% every week to 5000 step/day", "rise 10 % every week to 5000 steps/day"),
        ("at 7:30,18:00", "at 7:30,18:00"),
        ("at 7:30, 18:00 for 1 hours", "at 07:30, 18:00 for 1 hour"),
        ("days Monday, Weds", "days Monday, Weds"),
        ("days Monday, Tues , Friday", "days Mon, Tue, Fri"),
        ("day 3 a weeks", "days 3 a week"),
        ("training week 5 to 10", "training weeks 5 to 10"),
        ("training weeks 5", "training week 5"),
        ("training weeks 5 on", "training week 5 on"),
        ("training week 1, 3", "training weeks 1, 3"),
        ("visit in week 1, 2", "visit in weeks 1, 2"),
        ("at most 1 visits", "at most 1 visit"),
        ("progress every 1 weeks from training weeks 3", "progress every 1 week from training week 3"),
        ("progress after 1 sessions clean", "progress after 1 session clean"),
        ("return 1 steps lower for 2 week", "return 1 step lower for 2 weeks"),
        ("expects 1 flares in 1 weeks lasting 5 day", "expect 1 flare in 1 week lasting 5 days"),
        ("resting 2 mins between exercise", "resting 2 min between exercises"),
        ("joint knee, left", "joints knee, left"),
        ("joints knee, right hot", "joint knee, right hot"),
        ("settles within 1 hours", "settle within 1 hour"),
        ("keep “boots” 1 days/week", 'keep "boots" 1 day/week'),
        ("works quadriceps ,gluteals", "works quadriceps, gluteals"),
        ("begin 3×8–12", "begin 3x8-12"),
        ("begin\u00a03x8\tat\u20092 kg", "begin 3x8 at 2 kg"),
        ("by weeks 4", "by week 4"),
        ("kit 'x' from steps 5", "kit 'x' from steps 5"),
        ('kit "x" from steps 5', 'kit "x" from step 5'),
    ],
)
def test_one_way_of_writing(written_so: str, tidy_text: str) -> None:
    (line,) = tidied(written_so).splitlines()
    assert " ".join(line.split()) == tidy_text


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
def test_an_example_is_written_as_tidy_text_has_it(form) -> None:  # type: ignore[no-untyped-def]
    (line,) = script(form.example).lines
    assert isinstance(line, Statement)
    assert written(line) == form.example


def test_values_stand_in_one_column() -> None:
    lines = tidied('session "A"\nat 07:30\nplace "x"\nif not done drop\nwarm-up 3 min\n').splitlines()
    assert lines[1:] == ["  at         07:30", '  place      "x"', "  if not done drop", "  warm-up    3 min"]


def test_measures_stand_in_a_wider_column_each_today_its_own() -> None:
    text = tidied('today\ntimed-up-and-go-test 12 s\nhas "x"\ntoday\nusual-pain 3/10\n')
    assert text == 'today\n  timed-up-and-go-test 12 s\n  has                  "x"\n\ntoday\n  usual-pain     3/10\n'


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_and_the_last_one(end: str) -> None:
    text = PLAN.rstrip("\n").replace("\n", end)
    assert tidied(text) == PLAN


def test_the_byte_order_mark_goes() -> None:
    assert tidied("\ufeff" + PLAN) == PLAN


def test_the_byte_order_mark_goes_before_a_line_that_cannot_be_read() -> None:
    assert tidied("\ufeffplna  x\n") == "plna  x\n"


def test_what_cannot_be_read_stays_to_the_letter() -> None:
    bad = "   Lasts\t18   mnths,“so” × 3   # remark "
    made = tidied(f'plan "x"\n  starts 2027-03-01\n{bad}\r\n   revision   1\n')
    assert made.splitlines()[2] == bad
    assert made.splitlines()[3] == "  revision   1"


def test_comments_stay_where_they_are() -> None:
    text = tidied(
        '#first\nplan "x"   #a\n   # of the next\n lasts 8 weeks\n# of the last\n\n\n# alone\n\nrest #b\n'
        "# of the exercise\nexercise step-up#c\nkind strength\n#end"
    )
    assert text == (
        '#first\nplan "x"   #a\n  # of the next\n  lasts      8 weeks\n  # of the last\n\n# alone\n\nrest  #b\n\n'
        "# of the exercise\nexercise step-up  #c\n  kind       strength\n  #end\n"
    )


def test_a_comment_keeps_its_characters() -> None:
    assert tidied("plan “x” # ×3 – “as is”\u00a0»\n") == 'plan "x" # ×3 – “as is”\u00a0»\n'.replace('" #', '"  #', 1)


def test_a_number_sign_in_a_text_is_no_comment() -> None:
    assert tidied('tell  "# 1"#2\n') == 'tell "# 1"  #2\n'


def test_nothing_is_tidy() -> None:
    assert tidied("") == ""
    assert tidied("\n \n\t\n") == ""
    assert tidied("  # only\n\n\n") == "# only\n"


def test_lines_that_stand_anywhere_are_not_indented() -> None:
    assert tidied('plan "x"\n  lasts 8 weeks\n  tell "y"\n  tell "z"\n') == (
        'plan "x"\n  lasts      8 weeks\n\ntell "y"\ntell "z"\n'
    )
