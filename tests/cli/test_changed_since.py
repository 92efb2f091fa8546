"""lint --changed-since: what git says has changed, what depends on it, and how wrong calls are answered."""

import json
import subprocess
from pathlib import Path

import pytest

from planlang.cli.main import run
from tests.cli.small_library import write_library


def git(folder: Path, *words: str) -> None:
    who = ["-c", "user.name=T-01", "-c", "user.email=t01@clinic.example", "-c", "init.defaultBranch=main"]
    subprocess.run(["git", "-C", str(folder), *who, *words], check=True, capture_output=True)


@pytest.fixture
def library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    home = tmp_path / "home"
    home.mkdir()
    monkeypatch.setenv("HOME", str(home))
    root = tmp_path / "clinic"
    write_library(root)
    git(root, "init", "-q")
    git(root, "add", "-A")
    git(root, "commit", "-q", "-m", "As it is")
    monkeypatch.chdir(root)
    return root


@pytest.fixture
def looked_at(capsys: pytest.CaptureFixture[str]):
    def call(*words: str, since: str = "HEAD") -> set[str]:
        """The files that a run looks at."""
        assert run(["lint", *(words or (".",)), "--changed-since", since, "--format", "sarif"]) in (0, 1)
        answer = json.loads(capsys.readouterr().out)
        return {one["location"]["uri"] for one in answer["runs"][0]["artifacts"]}

    return call


def add(path: Path, text: str = "\n# seen again\n") -> None:
    path.write_text(path.read_text("utf-8") + text, "utf-8")


FROM_BASE = {"templates/base.plan", "templates/gentle.plan", "people/a.plan", "people/b.plan"}
"""The template, the template that is made from it, and the plans made from either."""
FROM_LIBRARY = {"exercises.plan", "people/c.plan"}
ALL = FROM_BASE | FROM_LIBRARY | {"people/d.plan", "people/e.plan"}


def test_nothing_changed_is_said_and_is_no_fault(library, capsys):
    assert run(["lint", ".", "--changed-since", "HEAD"]) == 0
    assert "Nothing that is checked here differs from HEAD, so no file was looked at." in capsys.readouterr().out


def test_nothing_changed_is_still_one_json_object(library, capsys):
    assert run(["lint", ".", "--changed-since", "HEAD", "--json"]) == 0
    said = capsys.readouterr()
    assert json.loads(said.out)["files"] == 0
    assert "Nothing that is checked here differs" in said.err


def test_a_changed_plan_is_looked_at_and_no_other(library, looked_at):
    add(library / "people" / "d.plan")
    assert looked_at() == {"people/d.plan"}


def test_a_staged_and_a_committed_change_count_against_the_older_commit(library, looked_at):
    add(library / "people" / "d.plan")
    git(library, "add", "-A")
    assert looked_at() == {"people/d.plan"}
    git(library, "commit", "-q", "-m", "On")
    assert looked_at(since="HEAD~1") == {"people/d.plan"}


def test_an_untracked_file_counts(library, looked_at):
    (library / "people" / "new.plan").write_text((library / "people" / "d.plan").read_text("utf-8"), "utf-8")
    assert "people/new.plan" in looked_at()


def test_a_file_that_git_ignores_counts_since_git_can_t_say_that_it_is_the_same(library, looked_at):
    (library / "private").mkdir()
    (library / ".gitignore").write_text("private/\n", "utf-8")
    text = (library / "people" / "d.plan").read_text("utf-8").replace("P-104", "P-204")
    (library / "private" / "x.plan").write_text(text, "utf-8")
    git(library, "add", "-A")
    git(library, "commit", "-q", "-m", "Kept apart")
    assert looked_at() == {"private/x.plan"}


def test_a_renamed_plan_counts_by_its_new_name(library, looked_at):
    git(library, "mv", "people/d.plan", "people/dd.plan")
    assert looked_at() == {"people/dd.plan"}


def test_whatever_is_made_from_a_changed_template_counts_through_templates_too(library, looked_at):
    add(library / "templates" / "base.plan")
    assert looked_at() == FROM_BASE


def test_a_template_in_a_folder_that_is_not_named_counts_for_its_dependants(library, looked_at):
    add(library / "templates" / "base.plan")
    assert looked_at("people") == {"people/a.plan", "people/b.plan"}


def test_a_deleted_template_counts_for_its_dependants(library, looked_at):
    (library / "templates" / "base.plan").unlink()
    assert looked_at() == FROM_BASE - {"templates/base.plan"}


def test_whatever_uses_a_changed_library_counts(library, looked_at):
    add(library / "exercises.plan")
    assert looked_at() == FROM_LIBRARY


def test_the_block_that_follows_counts_with_the_one_before(library, looked_at):
    text = (library / "people" / "d.plan").read_text("utf-8")
    (library / "people" / "d.plan").write_text(text.replace("8 weeks", "9 weeks"), "utf-8")
    follows = text.replace("P-104", "P-105").replace("  lasts", '  continues "d.plan"\n  lasts')
    (library / "people" / "e.plan").write_text(follows, "utf-8")
    assert looked_at() == {"people/d.plan", "people/e.plan"}


def test_other_files_of_a_changed_plan_s_person_count(library, looked_at):
    text = (library / "people" / "d.plan").read_text("utf-8")
    (library / "people" / "d2.plan").write_text(text, "utf-8")
    (library / "people" / "d.diary").write_text("diary for P-104\n2027-03-01 pain 3/10\n", "utf-8")
    git(library, "add", "-A")
    git(library, "commit", "-q", "-m", "Two of one person")
    add(library / "people" / "d2.plan")
    assert looked_at() == {"people/d.plan", "people/d2.plan", "people/d.diary"}
    git(library, "commit", "-q", "-am", "On")
    (library / "people" / "d2.plan").unlink()
    assert looked_at() == {"people/d.plan", "people/d.diary"}


@pytest.mark.parametrize("name", ["clinic.yaml", "own/measures.yaml", "own/rules/house/kettle.yaml"])
def test_a_change_of_what_the_clinic_sets_counts_for_every_file(name, library, looked_at):
    add(library / name, "\n# read again\n")
    assert looked_at() == ALL


def test_a_rule_file_that_is_gone_counts_for_every_file(library, looked_at):
    (library / "own" / "rules" / "house" / "kettle.yaml").unlink()
    assert looked_at() == ALL


def test_a_clinic_s_file_that_is_gone_counts_for_every_file(library, looked_at):
    (library / "clinic.yaml").unlink()
    assert looked_at() == ALL


def test_the_calendar_key_is_not_under_version_control_and_changes_nothing(library, looked_at):
    (library / ".calendar-key").write_text("x" * 40, "utf-8")
    (library / ".gitignore").write_text(".calendar-key\n", "utf-8")
    git(library, "add", "-A")
    git(library, "commit", "-q", "-m", "The key is kept out")
    assert looked_at("people", "exercises.plan") == set()


def test_templates_in_a_circle_are_gone_round_once(library, looked_at):
    (library / "templates" / "base.plan").write_text('template "Base"\n  from template "gentle.plan"\n', "utf-8")
    git(library, "commit", "-q", "-am", "A circle")
    add(library / "people" / "d.plan")
    assert looked_at() == {"people/d.plan"}


@pytest.mark.parametrize(
    ("since", "said"),
    [
        ("--output=/tmp/x", '"--output=/tmp/x" is no commit'),
        ("-p", '"-p" is no commit'),
        ("", '"" is no commit'),
        ("no-such-branch", 'git knows no commit "no-such-branch"'),
        ("HEAD; touch oops", 'git knows no commit "HEAD; touch oops"'),
        ("$(touch oops)", 'git knows no commit "$(touch oops)"'),
    ],
)
def test_a_commit_that_is_none_is_a_wrong_call_in_a_sentence(since, said, library, capsys):
    assert run(["lint", ".", f"--changed-since={since}"]) == 2
    assert said in capsys.readouterr().err
    assert not (library / "oops").exists()


def test_a_folder_in_no_repository_is_a_wrong_call(tmp_path, monkeypatch, capsys):
    write_library(tmp_path / "loose")
    monkeypatch.chdir(tmp_path / "loose")
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path))
    assert run(["lint", ".", "--changed-since", "HEAD"]) == 2
    assert "is not in a git repository" in capsys.readouterr().err


def test_standard_input_is_no_file_of_git_s(library, capsys):
    assert run(["lint", "-", "--changed-since", "HEAD"]) == 2
    assert "standard input (-) is none" in capsys.readouterr().err


def test_without_git_it_says_so(library, monkeypatch, capsys):
    monkeypatch.setenv("PATH", str(library / "nothing"))
    assert run(["lint", ".", "--changed-since", "HEAD"]) == 2
    assert "git is not installed here" in capsys.readouterr().err
