"""Whole calendars, byte for byte. After a wanted change run tests.calendar.golden and read the difference."""

from __future__ import annotations

import pytest

from tests.calendar.golden import CALENDARS
from tests.calendar.made import GOLDEN


@pytest.mark.parametrize("name", CALENDARS)
def test_the_calendar_is_the_one_that_was_looked_at(name: str) -> None:
    assert CALENDARS[name]() == (GOLDEN / name).read_bytes()


def test_every_golden_file_is_made_here() -> None:
    assert {path.name for path in GOLDEN.iterdir()} == set(CALENDARS)
