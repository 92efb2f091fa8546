"""Findings of the engine itself: draft, pause, dates, the calendar key, files under version control."""

import subprocess
from datetime import date
from pathlib import Path

import pytest

from planlang.checking.check import blocks, check
from planlang.checking.rulebook import Rulebook
from planlang.checking.standing import Keeping
from planlang.checking.versioned import is_tracked
from planlang.text.source import Source
from tests.checking.conftest import HEAD

PERSON = HEAD.replace("  starts", "  for P-014, aged 67\n  starts")


def rules(text: str, book: Rulebook, today: date | None = None, keeping: Keeping | None = None) -> list[str]:
    return [f.rule for f in check(Source("x.plan", text), book, today, keeping).findings]


def test_a_date_that_is_still_to_come_is_judged_by_today_only(book: Rulebook) -> None:
    assert "date-still-to-come" not in rules(HEAD, book)
    assert "date-still-to-come" not in rules(HEAD, book, date(2027, 2, 22))
    assert "date-still-to-come" in rules(HEAD, book, date(2027, 2, 21))
    assert [f.rule for f in blocks(check(Source("x.plan", HEAD), book), date(2027, 2, 21))] == ["date-still-to-come"]


def test_a_dose_is_to_be_set_before_its_week_comes(book: Rulebook) -> None:
    text = HEAD + "exercise step-up\n  kind strength\n  begin to be set at week 2\n"
    assert "dose-still-to-be-set" not in rules(text, book, date(2027, 3, 7))
    assert "dose-still-to-be-set" in rules(text, book, date(2027, 3, 8))
    checked = check(Source("x.plan", text), book)
    assert blocks(checked) == ()
    assert [f.rule for f in blocks(checked, date(2027, 3, 8))] == ["dose-still-to-be-set"]


@pytest.mark.parametrize(
    ("text", "has_key", "said"),
    [
        (PERSON, False, True),
        (PERSON, True, False),
        (PERSON, None, False),
        (HEAD, False, False),
        (PERSON + "agreed 2027-02-22 calendar none\n", False, False),
        (PERSON + "agreed 2027-02-22 calendar full\n", False, True),
    ],
)
def test_a_missing_calendar_key_is_said_for_a_persons_plan(
    text: str, has_key: bool | None, said: bool, book: Rulebook
) -> None:
    assert ("calendar-key-missing" in rules(text, book, keeping=Keeping(None, has_key))) is said


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    (tmp_path / "people").mkdir()
    for name in ("people/p014.plan", "people/other.plan", "a.plan"):
        (tmp_path / name).write_text(PERSON, "utf-8")
    git(tmp_path, "init", "-q")
    git(tmp_path, "add", "people/p014.plan", "a.plan")
    return tmp_path


def git(where: Path, *words: str) -> None:
    subprocess.run(["git", *words], cwd=where, check=True, capture_output=True)


@pytest.mark.parametrize("version", ["2", "3", "4"])
def test_what_git_tracks_is_known_without_git(version: str, repository: Path) -> None:
    git(repository, "update-index", "--index-version", version)
    assert is_tracked(repository / "people" / "p014.plan")
    assert is_tracked(repository / "a.plan")
    assert not is_tracked(repository / "people" / "other.plan")


def test_a_work_tree_has_its_own_index(repository: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    git(repository, "-c", "user.name=a", "-c", "user.email=a@b", "commit", "-qm", "x")
    there = tmp_path_factory.mktemp("trees") / "tree"
    git(repository, "worktree", "add", "-q", str(there))
    assert is_tracked(there / "people" / "p014.plan")
    assert not is_tracked(there / "people" / "other.plan")


def test_outside_a_repository_nothing_is_tracked(tmp_path: Path) -> None:
    assert not is_tracked(tmp_path / "a.plan")


@pytest.mark.parametrize("data", [b"", b"DIRC", b"DIRC\0\0\0\2\0\0\0\5short", b"other"])
def test_an_index_that_cannot_be_read_says_nothing(data: bytes, tmp_path: Path) -> None:
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "index").write_bytes(data)
    assert not is_tracked(tmp_path / "a.plan")


def test_a_persons_file_under_version_control_is_a_finding(repository: Path, book: Rulebook) -> None:
    tracked, other = repository / "people" / "p014.plan", repository / "people" / "other.plan"
    assert "person-file-under-version-control" in rules(PERSON, book, keeping=Keeping(tracked))
    assert "person-file-under-version-control" not in rules(PERSON, book, keeping=Keeping(other))
    assert "person-file-under-version-control" not in rules(HEAD, book, keeping=Keeping(tracked))
