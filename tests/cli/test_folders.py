"""lint and tidy over folders: what is left out, what links lead to, several processes, one bad file among many."""

import sys
from pathlib import Path

import pytest

from planlang.cli import lint as lint_module
from planlang.cli.main import run
from tests.cli.small_library import PLAIN, write_library


@pytest.fixture
def library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    root = tmp_path / "clinic"
    write_library(root)
    monkeypatch.chdir(root)
    return root


def test_ignored_files_are_neither_checked_nor_tidied(library, capsys):
    untidy = "plan 'x'\n".replace("'", '"') + "lasts   8 weeks\n"
    for name in ("drafts/a.plan", "people/z.old.plan"):
        path = library / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(untidy, "utf-8")
    with (library / "clinic.yaml").open("a", encoding="utf-8") as file:
        file.write('ignore: [drafts/, "*.old.plan"]\n')
    run(["lint", ".", "--format", "junit"])
    assert "drafts" not in capsys.readouterr().out
    assert run(["tidy", "."]) == 0
    assert "drafts" not in capsys.readouterr().out
    assert (library / "drafts" / "a.plan").read_text("utf-8") == untidy
    assert (library / "people" / "z.old.plan").read_text("utf-8") == untidy
    assert run(["tidy", "drafts/a.plan"]) == 0
    assert (library / "drafts" / "a.plan").read_text("utf-8") != untidy


def test_tidy_writes_nothing_outside_the_library(library, tmp_path, capsys):
    outside = tmp_path / "outside.plan"
    outside.write_text('plan "x"\nlasts   8 weeks\n', "utf-8")
    (library / "people" / "link.plan").symlink_to(outside)
    assert run(["tidy", "."]) == 1
    assert "this is a link that leads out of the library" in capsys.readouterr().out
    assert outside.read_text("utf-8") == 'plan "x"\nlasts   8 weeks\n'


def test_a_link_out_of_the_library_fails_the_run_and_stops_nothing(library, tmp_path, capsys):
    (tmp_path / "outside.plan").write_text('plan "secret words"\n', "utf-8")
    (library / "people" / "link.plan").symlink_to(tmp_path / "outside.plan")
    assert run(["lint", "."]) == 1
    said = capsys.readouterr().out
    assert "leads out of the library" in " ".join(said.split())
    assert "secret words" not in said
    assert "people/e.plan" in said


def test_a_template_outside_the_library_is_not_opened(library, tmp_path, capsys):
    (tmp_path / "base.plan").write_text('template "secret words"\n  lasts 8 weeks\n', "utf-8")
    path = library / "people" / "a.plan"
    path.write_text(path.read_text("utf-8").replace("../templates/base", "../../base"), "utf-8")
    assert run(["lint", "people/a.plan"]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "lies outside the library" in said
    assert "secret words" not in said


@pytest.mark.parametrize("format_", ["text", "json", "sarif", "junit", "github"])
def test_several_processes_write_the_very_same_report(format_, library, capsys):
    for number in range(8):
        text = PLAIN.replace("P-104", f"P-{number % 6 + 200}").replace("8 weeks", f"{number + 3} weeks")
        (library / "people" / f"m{number:02}.plan").write_text(text, "utf-8")
    (library / "people" / "broken.plan").write_text('plan "Broken"\n  lasts 8 mnths\n', "utf-8")
    reports = []
    for jobs in ("1", "3"):
        assert run(["lint", ".", "--format", format_, "--jobs", jobs]) == 1
        reports.append(capsys.readouterr().out)
    assert reports[0] == reports[1]
    assert "P-200" not in reports[0] or format_ in ("text", "json")


def test_a_folder_with_settings_only_holds_no_file(tmp_path, monkeypatch, capsys):
    (tmp_path / "clinic.yaml").write_text("clinic: Made up\n", "utf-8")
    monkeypatch.chdir(tmp_path)
    assert run(["lint", "."]) == 2
    assert "There is no file that ends in .plan or .diary in ." in capsys.readouterr().err


def test_files_named_twice_are_looked_at_once(library, capsys):
    assert run(["lint", "people", "people/d.plan", "./people/../people/d.plan", "--format", "json"]) == 0
    assert '"files": 5,' in capsys.readouterr().out


def test_a_file_on_which_the_program_fails_makes_three_and_is_named(library, monkeypatch, capsys):
    from planlang.checking import file as module

    real = module.check

    def broken(source, *more, **rest):
        if source.name.endswith("d.plan"):
            raise ZeroDivisionError("week")
        return real(source, *more, **rest)

    monkeypatch.setattr(module, "check", broken)
    assert run(["lint", "."]) == 3
    said = capsys.readouterr()
    assert "people/e.plan" in said.out
    assert "so it was not checked" in " ".join(said.out.split())
    assert "planlang itself failed on people/d.plan" in said.err


def test_a_bar_is_shown_at_a_terminal_only(library, monkeypatch, capsys):
    monkeypatch.setattr(lint_module, "LONG", 3)
    run(["lint", "people"])
    assert "checking" not in capsys.readouterr().err
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    run(["lint", "people", "--jobs", "2"])
    shown = capsys.readouterr()
    assert "checking" in shown.err
    assert "100%" in shown.err
    assert "checking" not in shown.out


def test_findings_on_disk_are_gone_after_the_run(library, tmp_path, monkeypatch, capsys):
    where = tmp_path / "tmp"
    where.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(where))
    run(["lint", ".", "--jobs", "2"])
    assert list(where.iterdir()) == []


def test_a_wrong_clinic_file_stops_tidy_before_it_writes(library, capsys):
    path = library / "people" / "d.plan"
    path.write_text(PLAIN.replace("  lasts", "  lasts    "), "utf-8")
    before = path.read_text("utf-8")
    (library / "clinic.yaml").write_text("ignored: [people/]\n", "utf-8")
    assert run(["tidy", "."]) == 2
    assert "Nothing was tidied" in capsys.readouterr().err
    assert path.read_text("utf-8") == before


def test_a_pattern_that_is_none_is_a_fault_with_its_place(library, capsys):
    (library / "clinic.yaml").write_text('ignore: ["a/**/", "!"]\n', "utf-8")
    assert run(["lint", "."]) == 2
    assert 'clinic.yaml:1:19: "!" is no pattern' in capsys.readouterr().err
