"""The check before a file is put in place: each fault that a writer could make is noticed."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

import pytest

from planlang.calendar.writing import Garbled, Stamp, check
from tests.calendar.made import beds, made_of

STAMP = Stamp(date(2027, 2, 22), 1000)


def without_zone(data: bytes) -> bytes:
    return re.sub(rb"BEGIN:VTIMEZONE.*END:VTIMEZONE\r\n", b"", data, flags=re.DOTALL)


def zone_last(data: bytes) -> bytes:
    block = re.search(rb"BEGIN:VTIMEZONE.*END:VTIMEZONE\r\n", data, flags=re.DOTALL)
    assert block
    return without_zone(data).replace(b"END:VCALENDAR", block[0] + b"END:VCALENDAR")


def same_uid_twice(data: bytes) -> bytes:
    first, second = re.findall(rb"UID:[0-9a-f-]+\r\n", data)[1:3]
    return data.replace(second, first, 1)


FAULTS: dict[str, Callable[[bytes], bytes]] = {
    "a zone without its block": without_zone,
    "a block after the events": zone_last,
    "another zone for an end": lambda d: d.replace(b"DTEND;TZID=Australia/Hobart", b"DTEND;TZID=Australia/Sydney", 1),
    "the same UID twice": same_uid_twice,
    "a line that is too long": lambda d: d.replace(b"SUMMARY:", b"SUMMARY:" + b"x" * 80, 1),
    "a bare line feed": lambda d: d.replace(b"\r\n", b"\n", 1),
    "a control character": lambda d: d.replace(b"SUMMARY:", b"SUMMARY:\x07", 1),
    "another text": lambda d: d.replace(b"SUMMARY:Chair and bench", b"SUMMARY:Chair and bunch", 1),
    "another time": lambda d: d.replace(b"T073000", b"T083000", 1),
    "another sequence": lambda d: d.replace(b"SEQUENCE:1000", b"SEQUENCE:1001", 1),
    "another status": lambda d: d.replace(b"STATUS:CONFIRMED", b"STATUS:CANCELLED", 1),
    "an event that is lost": lambda d: re.sub(rb"BEGIN:VEVENT.*?END:VEVENT\r\n", b"", d, count=1, flags=re.DOTALL),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_faulty_file_is_noticed(fault: str) -> None:
    made = made_of(beds())
    broken = FAULTS[fault](made.data)
    assert broken != made.data
    with pytest.raises(Garbled):
        check(broken, made.entries, STAMP)


def test_a_right_file_passes() -> None:
    made = made_of(beds())
    assert check(made.data, made.entries, STAMP) is None
