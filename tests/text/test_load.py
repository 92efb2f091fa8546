"""Files that can't be read are findings that say what to do."""

import os

import pytest

from planlang.text.finding import Finding
from planlang.text.load import LARGEST, load, load_text
from planlang.text.source import Source

PLAN = 'plan "Steps to the jetty"\n'


def finding(data: bytes) -> Finding:
    found = load_text(data, "a.plan")
    assert isinstance(found, Finding)
    assert (found.rule, found.level, found.blocks) == ("unreadable", "unsafe", True)
    assert found.source.name == "a.plan"
    return found


def test_plain_text_is_read_as_it_stands(tmp_path):
    path = tmp_path / "a.plan"
    path.write_bytes(PLAN.replace("\n", "\r\n").encode())
    source = load(path)
    assert isinstance(source, Source)
    assert (source.name, source.text) == (str(path), PLAN.replace("\n", "\r\n"))


def test_byte_order_mark_is_dropped():
    assert load_text(b"\xef\xbb\xbf" + PLAN.encode(), "a.plan").text == PLAN


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_utf_16_is_named(encoding):
    found = finding((PLAN * 3).encode(encoding))
    assert found.message == "this file is UTF-16, not UTF-8 text"
    assert "save it again as UTF-8" in found.advice


@pytest.mark.parametrize("data", [b"PK\x03\x04\x14\0\x06\0\x08\0", bytes(range(256)), b"plan\0"])
def test_binary_file_is_no_text(data):
    assert finding(data).message == "this is not a text file"


@pytest.mark.parametrize("data", [b"", b"\n \r\n\t", b"\xef\xbb\xbf"])
def test_empty_file_says_how_to_begin(data):
    found = finding(data)
    assert found.message == "this file is empty"
    assert "plan" in found.advice


def test_file_over_one_mebibyte_is_refused():
    assert isinstance(load_text(b"#" * LARGEST, "a.plan"), Source)
    assert "larger than 1 MiB" in finding(b"#" * (LARGEST + 1)).message


def test_byte_that_is_not_utf8_is_named_with_its_line():
    data = b'plan "Caf' + b"\xe9" + b'"\nstarts 2027-03-01\n'
    found = finding(b"# one\n" + data)
    assert found.message == "line 2 holds a byte that is not UTF-8 (0xE9, byte 16 of the file)"
    place = found.source.place(found.span)
    assert (place.line, place.column) == (2, 10)


def test_byte_beside_a_longer_character_is_placed_in_code_points():
    found = finding("# é😀".encode() + b"\xff\n")
    assert found.source.place(found.span).column == 5


def test_missing_file(tmp_path):
    found = load(tmp_path / "none.plan")
    assert found.message == "there is no such file"


def test_file_taken_for_a_folder(tmp_path):
    (tmp_path / "a").write_text(PLAN)
    assert load(tmp_path / "a" / "b.plan").message == "there is no such file"


def test_folder(tmp_path):
    assert load(tmp_path).message == "this is a folder, not a file"


def test_name_that_no_file_has():
    assert load("a\0.plan").message == "this can't be a file's name"
    assert load("a" * 5000).message == "this can't be a file's name"


def test_link_in_a_circle(tmp_path):
    (tmp_path / "a.plan").symlink_to(tmp_path / "a.plan")
    assert load(tmp_path / "a.plan").message == "this is a link that leads in a circle"


def test_no_permission(tmp_path, monkeypatch):
    path = tmp_path / "a.plan"
    path.write_text(PLAN)

    def refuse(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("builtins.open", refuse)  # whoever runs the tests may read everything
    assert load(path).message == "there is no permission to read this file"


def test_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "a.plan")
    assert load(tmp_path / "a.plan").message == "this is not an ordinary file"
