"""Every published programme is read, reckoned and compiled; its sessions a week are as published."""

from __future__ import annotations

from pathlib import Path

import icalendar
import pytest

from planlang.calendar.making import Made, make
from planlang.checking.check import blocks, check
from planlang.checking.rulebook import built_in
from planlang.planning.telling.standing import Contacts
from planlang.planning.week import WeekKind
from planlang.syntax.tidy import tidy
from planlang.text.finding import Level
from planlang.text.source import Source
from tests.world.programmes import FILES, found_in, sessions_a_week, text_of, weeks_of, without

SESSIONS_A_WEEK = {
    # NHLBI 12-week schedule: newer printing "at least five times each week"; from week 13 "three or four times a week"
    ("walking-twelve-weeks", "Walk"): [5] * 12 + [3] * 4,
    # Trials 2017;18, doi 10.1186/s13063-017-2129-7: 8 weeks, 16 sessions
    ("high-speed-leg-training", "Quick legs"): [2] * 8,
    # Cochrane PMC4324332: 2 a week, 1 a week, 2 a month, 1 a month, three months each (a month as 4 weeks)
    ("gym-to-home", "Gym"): [2] * 12 + [1] * 12 + [1, 0] * 6 + [1, 0, 0, 0] * 3,
    ("gym-to-home", "Home"): [1] * 12 + [2] * 12 + [3] * 24,
    # Arch Phys Med Rehabil 2012 (PMC3637853): 3 training days, 4 ordinary days
    ("step-ladder-ten-per-cent", "Extra walk"): [3] * 26,
    # Trials 2023, doi 10.1186/s13063-023-07502-x: at least one rest day between runs
    ("return-to-run-phases", "Run"): [3] * 6,
    # OxSport leaflet: every other day for seven weeks
    ("return-to-run-every-other-day", "Jog and walk"): [4, 3, 4, 3, 4, 3, 4],
    # CDC with Tufts 2002: part one 2 or 3 times (the lower end is planned), later three days that don't touch
    ("strength-in-three-parts", "Part one"): [2, 2] + [0] * 10,
    ("strength-in-three-parts", "Part two"): [0, 0] + [3] * 4 + [0] * 6,
    ("strength-in-three-parts", "Part three"): [0] * 6 + [3] * 6,
}


def test_every_programme_has_its_sessions_a_week_checked():
    assert {file.stem for file in FILES} == {name for name, _ in SESSIONS_A_WEEK}


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_nothing_but_advice_is_found_in_reading_and_reckoning(file: Path):
    found = found_in(text_of(file.stem))
    assert [f.message for f in found if f.level is not Level.ADVICE] == []


@pytest.mark.parametrize(("name", "session"), SESSIONS_A_WEEK, ids="/".join)
def test_sessions_a_week_are_as_published(name: str, session: str):
    assert sessions_a_week(weeks_of(text_of(name)), session) == SESSIONS_A_WEEK[name, session]


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_compiled_a_programme_has_one_entry_for_each_session(file: Path):
    weeks = weeks_of(text_of(file.stem))
    made = make(weeks, Contacts("112", "03 5550 0101", "03 5550 0100"))
    assert isinstance(made, Made), [f.message for f in made]
    calendar = icalendar.Calendar.from_ical(made.data)
    timed = [e for e in calendar.walk("VEVENT") if hasattr(e.decoded("DTSTART"), "hour")]
    expected = [s.starts for w in weeks.weeks for s in w.sittings]
    assert sorted(e.decoded("DTSTART") for e in timed) == sorted(expected)


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_no_published_programme_is_called_unsafe(file: Path):
    # a checker that calls one of these unsafe has most likely a wrong rule
    checked = check(Source(file.name, text_of(file.stem)), built_in())
    assert checked.rules
    assert checked.not_judged == ()
    assert [(f.rule, f.message) for f in checked.findings if f.level is Level.UNSAFE] == []
    assert blocks(checked) == ()


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_a_published_programme_is_by_and_large_sound(file: Path):
    # two hold walking and nothing for the legs: said, with its reason, and no more than that
    checked = check(Source(file.name, text_of(file.stem)), built_in())
    walking_only = file.stem in ("walking-twelve-weeks", "step-ladder-ten-per-cent")
    unrealistic = {f.rule for f in checked.findings if f.level is Level.UNREALISTIC}
    assert unrealistic == ({"leg-strength-missing"} if walking_only else set())


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_without_the_rules_that_we_made_up_it_is_not_unsafe_either(file: Path):
    checked = check(Source(file.name, without(text_of(file.stem), "rest", "pain", "screening", "today")), built_in())
    assert [(f.rule, f.message) for f in checked.findings if f.level is Level.UNSAFE] == []


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_tidy_leaves_a_programme_as_it_stands(file: Path):
    assert tidy(Source(file.name, text_of(file.stem))).text == text_of(file.stem)


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_weeks_after_the_training_weeks_are_spare_and_hold(file: Path):
    weeks = weeks_of(text_of(file.stem))
    spare = [w for w in weeks.weeks if w.kind is WeekKind.SPARE]
    assert len(spare) == weeks.plan.room > 0
    assert weeks.dropped == 0
