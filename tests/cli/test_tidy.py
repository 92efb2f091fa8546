"""`planlang tidy`: formats in place, or only says so."""

import io
import json
import sys
from pathlib import Path

import pytest

from planlang.cli.main import run

LOOSE = '\ufeffplan "Steps to the jetty"\r\nstarts 2027-03-01   # a Monday\r\n  lasts 8 weeks'
UNREADABLE = 'plan "Steps to the jetty"\n  starts 2027-03-01\n  lasts 8 mnths\n'


@pytest.fixture
def tidy(capsys):
    def call(*args):
        code = run(["tidy", *map(str, args)])
        return code, *capsys.readouterr()

    return call


@pytest.fixture
def loose(tmp_path):
    path = tmp_path / "a.plan"
    path.write_bytes(LOOSE.encode())
    return path


def test_file_is_formatted_in_place(tidy, loose):
    code, out, _ = tidy(loose)
    assert code == 0
    assert f"tidied: {loose}" in out
    text = loose.read_bytes().decode()
    assert text.startswith('plan "Steps to the jetty"\n')
    assert text.endswith("\n")
    assert "# a Monday" in text
    assert "\r" not in text


def test_tidy_file_is_left_alone(tidy, loose):
    tidy(loose)
    before = loose.stat().st_mtime_ns
    code, out, _ = tidy(loose)
    assert code == 0
    assert "1 file: 0 tidied, 1 tidy already." in out
    assert loose.stat().st_mtime_ns == before


def test_check_only_says_what_would_change(tidy, loose):
    code, out, _ = tidy("--check", loose)
    assert code == 1
    assert f"would change: {loose}" in out
    assert loose.read_bytes() == LOOSE.encode()
    tidy(loose)
    assert tidy("--check", loose)[0] == 0


def test_line_that_cannot_be_read_stays(tidy, tmp_path):
    (tmp_path / "a.plan").write_text(UNREADABLE)
    tidy(tmp_path / "a.plan")
    assert "8 mnths" in (tmp_path / "a.plan").read_text()


def test_folder_is_walked(tidy, loose, tmp_path):
    (tmp_path / ".hidden").mkdir()
    (tmp_path / ".hidden" / "b.plan").write_bytes(LOOSE.encode())
    (tmp_path / "notes.txt").write_text("no plan")
    code, out, _ = tidy(tmp_path, "--json")
    assert code == 0
    assert json.loads(out) == {"files": 1, "changed": [str(loose)], "not_written": [], "findings": []}


def test_run_that_looked_at_no_file_is_a_wrong_call(tidy, tmp_path):
    code, out, err = tidy(tmp_path)
    assert (code, out) == (2, "")
    assert "no file that ends in .plan or .diary" in err


def test_file_that_cannot_be_loaded_is_a_finding_and_the_rest_goes_on(tidy, loose, tmp_path):
    (tmp_path / "b.plan").write_bytes(b"\xff\xfex\0")
    code, out, _ = tidy(tmp_path / "b.plan", loose)
    assert code == 1
    assert "UTF-16" in out
    assert f"tidied: {loose}" in out


def test_standard_input_is_formatted_to_standard_output(monkeypatch, capsysbinary):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(LOOSE.encode())))
    assert run(["tidy", "-"]) == 0
    assert capsysbinary.readouterr().out.startswith(b'plan "Steps to the jetty"\n')


def test_examples_are_tidy(tidy):
    folder = Path(__file__).parents[2] / "examples"
    code, out, _ = tidy("--check", *(folder / name for name in ("people", "library", "drafts")))
    assert code == 0, out
