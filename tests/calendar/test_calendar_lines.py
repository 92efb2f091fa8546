"""The bytes: RFC 5545, 3.1 (lines and folding) and 3.3.11 (text), with any text at all."""

from __future__ import annotations

import re
import unicodedata
from datetime import date

from hypothesis import example, given, settings
from hypothesis import strategies as st

from planlang.calendar.entry import Entry, Kind
from planlang.calendar.folding import fold, unfold
from planlang.calendar.writing import Stamp, plain, to_bytes
from tests.calendar.readers import by_dateutil, by_icalendar

STAMP = Stamp(date(2027, 2, 22), 1000)
ANY = st.text(max_size=300)
AWKWARD = st.text(st.sampled_from("a\\,;:\"\n\r\t n e\u0301ß語😀👩🏽‍🚀\u200d\x07\u2028\x85 ^'"), max_size=400)


def written(summary: str, description: str, location: str | None = None) -> bytes:
    day = date(2027, 3, 1)
    return to_bytes([Entry(Kind.TASK, "uid-1", day, date(2027, 3, 2), summary, description, location)], None, STAMP)


@given(st.one_of(ANY, AWKWARD))
@example("\\" * 200)
@example("e" + "\u0301" * 200)
@settings(max_examples=150, deadline=None)
def test_unfolding_what_was_folded_gives_the_line_again(text: str) -> None:
    line = "".join(c for c in text if unicodedata.category(c) not in ("Cc", "Cs"))
    assert unfold(fold(line)) == [line]


@given(st.one_of(ANY, AWKWARD))
@settings(max_examples=150, deadline=None)
def test_no_row_is_longer_than_75_octets_and_each_is_whole_characters(text: str) -> None:
    line = "".join(c for c in text if unicodedata.category(c) not in ("Cc", "Cs"))
    for row in fold(line).split(b"\r\n"):
        assert len(row) <= 75
        row.decode("utf-8")


@given(st.text(st.sampled_from("\\n,;ae\u0301"), min_size=60, max_size=400))
@settings(max_examples=150, deadline=None)
def test_a_row_never_ends_between_a_backslash_and_its_character(text: str) -> None:
    escaped = text.replace("\\", "\\\\").replace(",", "\\,").replace(";", "\\;")
    for row in fold(escaped).decode().split("\r\n")[:-1]:
        backslashes = len(row) - len(row.rstrip("\\"))
        assert backslashes % 2 == 0


def test_a_row_never_ends_between_a_letter_and_its_accent() -> None:
    rows = fold("x" * 73 + "e\u0301" + "o\u0308" * 60).decode().split("\r\n")
    assert len(rows) > 3
    assert not any(unicodedata.combining(row.lstrip(" ")[:1] or "a") for row in rows)


@given(st.one_of(ANY, AWKWARD), st.one_of(ANY, AWKWARD), st.one_of(ANY, AWKWARD))
@settings(max_examples=120, deadline=None)
def test_any_text_comes_back_from_the_file_as_it_was_without_control_characters(
    summary: str, description: str, location: str
) -> None:
    data = written(summary, description, location)
    for event in (by_icalendar(data)[0], by_dateutil(data)[0]):
        assert event.summary == plain(summary, one_line=True)
        assert event.description == plain(description)
        assert event.location == plain(location, one_line=True)


@given(AWKWARD)
@settings(max_examples=80, deadline=None)
def test_every_line_of_the_file_ends_with_crlf_and_holds_no_control_character(text: str) -> None:
    data = written(text, text)
    assert data.endswith(b"\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert b"\r" not in data.replace(b"\r\n", b"")
    assert not any(unicodedata.category(c) == "Cc" for c in data.decode().replace("\r\n", ""))


def test_backslash_comma_semicolon_and_new_line_are_escaped_once() -> None:
    data = written("a", "one\\two, three; four\nfive")
    assert b"DESCRIPTION:one\\\\two\\, three\\; four\\nfive\r\n" in data


def test_a_colon_and_quotes_in_a_text_are_left_alone() -> None:
    data = written('Say: "well done"', "b")
    assert b'SUMMARY:Say: "well done"\r\n' in data


def test_a_text_cannot_begin_a_line_of_its_own() -> None:
    data = written("a\r\nATTENDEE:mailto:someone@example.org", "b\r\nBEGIN:VALARM")
    names = re.findall(rb"(?m)^([A-Z-]+)[:;]", data)
    assert b"ATTENDEE" not in names
    assert names.count(b"BEGIN") == 2


def test_line_ends_of_every_system_are_one_line_end_in_a_text() -> None:
    assert plain("a\r\nb\rc\nd\u2028e\x85f") == "a\nb\nc\nd\ne\nf"
    assert plain("a\r\nb", one_line=True) == "a b"
