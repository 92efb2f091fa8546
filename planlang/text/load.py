"""Files into sources: whatever can be wrong with a file is one finding that says what to do."""

from __future__ import annotations

import errno
import os
import sys
from pathlib import Path

from planlang.text.finding import Finding, unreadable
from planlang.text.source import Source, Span

LARGEST = 1 << 20  # bytes; a plan is a few thousand
_SAVE_AS = "Open it in the editor and save it again as UTF-8 text."
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


def load(path: str | os.PathLike[str]) -> Source | Finding:
    """The text of a file as UTF-8, or a finding. The source is named as the path was given."""
    data = _bytes(path)
    return data if isinstance(data, Finding) else load_text(data, os.fspath(path))


def load_data(path: str | os.PathLike[str]) -> Source | Finding:
    """The same for a file of rules or settings, which may be empty."""
    data = _bytes(path)
    return data if isinstance(data, Finding) else _decoded(data, os.fspath(path))


def load_text(data: bytes, name: str) -> Source | Finding:
    """The text in the bytes of a plan's file called `name`, or a finding. A byte-order mark is dropped."""
    source = _decoded(data, name)
    if not isinstance(source, Finding) and not source.text.strip():
        return _whole(name, "this file is empty", 'Write a plan in it, beginning with a line: plan "What it is for"')
    return source


def _bytes(path: str | os.PathLike[str]) -> bytes | Finding:
    name = os.fspath(path)
    try:
        if Path(name).is_dir():
            return _whole(name, "this is a folder, not a file", "Name a file in it.")
        if not Path(name).is_file() and Path(name).exists():
            return _whole(name, "this is not an ordinary file", "Name a text file.")
        with open(name, "rb") as file:  # noqa: PTH123 - read no more than could be a plan
            return file.read(LARGEST + 1)
    except (OSError, ValueError) as e:
        return _whole(name, *_why(e))


def _decoded(data: bytes, name: str) -> Source | Finding:
    if len(data) > LARGEST:
        return _whole(name, "this file is larger than 1 MiB; no plan or rule is", "Check that it is the right file.")
    if data.startswith(_UTF16_MARKS):
        return _whole(name, "this file is UTF-16, not UTF-8 text", _SAVE_AS)
    if data.startswith(b"\xef\xbb\xbf"):
        data = data[3:]
    if b"\0" in data:
        return _whole(name, *_with_zeros(data))
    try:
        return Source(name, data.decode("utf-8"))
    except UnicodeDecodeError as e:
        return _not_utf8(data, name, e.start)


def load_standard_input(name: str) -> Source | Finding:
    """The text on standard input, called `name`, or a finding."""
    return load_text(sys.stdin.buffer.read(LARGEST + 1), name)


def _whole(name: str, message: str, help: str = "") -> Finding:
    return unreadable(message, None, Source(name, ""), help)


def _why(e: OSError | ValueError) -> tuple[str, str]:
    number = getattr(e, "errno", None)
    if number in (errno.ENOENT, errno.ENOTDIR):
        return "there is no such file", "Check the name and the folder."
    if number in (errno.EACCES, errno.EPERM):
        return "there is no permission to read this file", "Ask whoever keeps it, or copy it to a folder of your own."
    if number == errno.ELOOP:
        return "this is a link that leads in a circle", "Name the file itself."
    if number == errno.ENAMETOOLONG or isinstance(e, ValueError):
        return "this can't be a file's name", "Check the name and the folder."
    return f"this file can't be read: {getattr(e, 'strerror', None) or e}", ""


def _with_zeros(data: bytes) -> tuple[str, str]:
    """UTF-16 without its mark reads as nothing but letters and spaces; anything else with zeros is no text."""
    for encoding in ("utf-16-le", "utf-16-be"):
        start = data[:400].decode(encoding, "replace").rstrip("\ufffd")
        if len(data) % 2 == 0 and all(c.isprintable() or c.isspace() for c in start) and "\ufffd" not in start:
            return "this file is UTF-16, not UTF-8 text", _SAVE_AS
    return "this is not a text file", "It should be plain text: no word-processor file, no picture."


def _not_utf8(data: bytes, name: str, at: int) -> Finding:
    """Named by line; shown with the bytes before and after read as far as they can be."""
    good = data.decode("utf-8", "replace")
    place = len(data[:at].decode("utf-8"))
    source = Source(name, good)
    line = source.line_of(place)
    message = f"line {line} holds a byte that is not UTF-8 (0x{data[at]:02X}, byte {at + 1} of the file)"
    return unreadable(message, Span(place, place + 1), source, _SAVE_AS)
