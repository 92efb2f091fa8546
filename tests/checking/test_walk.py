"""Folders: order, what is left out, links, circles, what can't be read, and that nothing outside is opened."""

import os
from pathlib import Path

import pytest

from planlang.checking.batch import Batch, check_batch
from planlang.checking.fault import RuleFault
from planlang.checking.file import Run, check_file, read_file
from planlang.checking.shard import read_shard
from planlang.checking.walk import files_in
from planlang.text.finding import Finding

PLAN = 'plan "Round the lake"\n  starts 2027-03-01\n  lasts 8 weeks\n'


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    root = tmp_path / "clinic"
    for name in ("b.plan", "a.plan", "deep/z.plan", "deep/er/y.plan", "people/p.diary", "people/notes.txt"):
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(PLAN, "utf-8")
    monkeypatch.chdir(root)
    return root


def walked(folder: str = ".", **how: bool) -> list[str]:
    return list(files_in(Path(folder), **how))


def message(path: str, given: Path | None = None) -> str:
    found = read_file(Path(path), Run(given=given))
    assert isinstance(found, Finding)
    assert found.rule == "unreadable"
    return found.message


def test_a_folder_s_own_files_come_first_and_all_by_name(root):
    assert walked() == ["a.plan", "b.plan", "deep/z.plan", "deep/er/y.plan", "people/p.diary"]


def test_files_are_called_as_the_folder_was_named(root):
    assert walked("deep") == ["deep/z.plan", "deep/er/y.plan"]
    assert walked(str(root / "deep" / "er")) == [str(root / "deep" / "er" / "y.plan")]


def test_hidden_files_and_folders_are_left_out(root):
    (root / ".old").mkdir()
    (root / ".old" / "x.plan").write_text(PLAN, "utf-8")
    (root / ".#a.plan").write_text(PLAN, "utf-8")
    assert walked("deep/..") == ["a.plan", "b.plan", "deep/z.plan", "deep/er/y.plan", "people/p.diary"]


@pytest.mark.parametrize(
    ("patterns", "left"),
    [
        ("[deep/]", {"a.plan", "b.plan", "people/p.diary"}),
        ("[er/]", {"a.plan", "b.plan", "deep/z.plan", "people/p.diary"}),
        ('["*.diary", /a.plan]', {"b.plan", "deep/z.plan", "deep/er/y.plan"}),
        ('["*.plan", "!b.plan"]', {"b.plan", "people/p.diary"}),
        ('["deep/**/y.plan"]', {"a.plan", "b.plan", "deep/z.plan", "people/p.diary"}),
    ],
)
def test_what_a_clinic_ignores_is_left_out(patterns, left, root):
    (root / "clinic.yaml").write_text(f"ignore: {patterns}\n", "utf-8")
    assert set(walked()) == left


def test_patterns_are_seen_from_the_clinic_s_file_wherever_the_walk_begins(root):
    (root / "clinic.yaml").write_text("ignore: [/deep/er/]\n", "utf-8")
    assert walked("deep") == ["deep/z.plan"]


def test_a_file_that_is_named_is_looked_at_though_it_is_ignored(root):
    (root / "clinic.yaml").write_text('ignore: ["a.plan"]\n', "utf-8")
    assert check_file(Path("a.plan"), Run()).plan is not None


def test_a_faulty_clinic_s_file_is_said_and_nothing_is_walked(root):
    (root / "clinic.yaml").write_text("ignored: [deep/]\n", "utf-8")
    with pytest.raises(RuleFault, match="ignored"):
        walked()


def test_a_library_within_a_library_has_settings_of_its_own(root):
    (root / "clinic.yaml").write_text('ignore: ["z.plan"]\n', "utf-8")
    (root / "deep" / "clinic.yaml").write_text('ignore: ["y.plan"]\n', "utf-8")
    assert walked() == ["a.plan", "b.plan", "deep/z.plan", "people/p.diary"]


def test_settings_are_walked_where_they_are_asked_for(root):
    (root / "clinic.yaml").write_text("clinic: Made up\n", "utf-8")
    assert walked(settings=True)[0] == "clinic.yaml"
    assert "clinic.yaml" not in walked()


def test_a_link_within_the_library_is_gone_through_once(root):
    (root / "people" / "again").symlink_to(root / "deep")
    (root / "people" / "a-again.plan").symlink_to(root / "a.plan")
    assert walked() == ["a.plan", "b.plan", "deep/z.plan", "deep/er/y.plan", "people/p.diary"]


def test_a_link_to_a_part_of_the_library_that_the_walk_does_not_reach_is_followed(root):
    (root / "clinic.yaml").write_text("clinic: Made up\n", "utf-8")
    (root / "people" / "again").symlink_to(root / "deep")
    (root / "people" / "one.plan").symlink_to(root / "a.plan")
    (root / "people" / "two.plan").symlink_to(root / "a.plan")
    assert walked("people") == [
        "people/p.diary",
        "people/again/z.plan",
        "people/again/er/y.plan",
        "people/one.plan",
    ]


def test_links_in_a_circle_end(root):
    (root / "deep" / "er" / "up").symlink_to(root)
    (root / "self.plan").symlink_to(root / "self.plan")
    (root / "clinic.yaml").write_text("clinic: Made up\n", "utf-8")
    names = walked("deep")
    assert len(names) == len(set(names)) == 6
    assert message("self.plan") == "this is a link that leads in a circle"


def test_a_link_out_of_the_library_is_named_and_not_opened(root, tmp_path):
    secret = tmp_path / "secret.plan"
    secret.write_text('plan "Not for here"\n', "utf-8")
    (root / "out.plan").symlink_to(secret)
    (root / "outside").symlink_to(tmp_path)
    assert walked()[-2:] == ["out.plan", "outside"]
    for name in ("out.plan", "outside"):
        assert message(name, given=root) == "this is a link that leads out of the library"
    (root / "clinic.yaml").write_text("clinic: Made up\n", "utf-8")
    assert message("out.plan") == "this is a link that leads out of the library"


def test_what_lies_outside_is_quoted_nowhere(root, tmp_path):
    (tmp_path / "secret.plan").write_text("nothing that can be read\n", "utf-8")
    (root / "out.plan").symlink_to(tmp_path / "secret.plan")
    shard = tmp_path / "shard.jsonl"
    summary = check_batch(Batch(tuple(walked()), str(shard), given="."))
    assert summary.unreadable == 1
    assert "nothing that can be read" not in shard.read_text("utf-8")


def test_a_named_link_without_any_library_is_followed(root, tmp_path):
    (tmp_path / "alone").mkdir()
    (tmp_path / "alone" / "link.plan").symlink_to(root / "a.plan")
    assert check_file(tmp_path / "alone" / "link.plan", Run()).plan is not None


def test_others_of_a_person_are_not_looked_for_through_links(root, tmp_path):
    (tmp_path / "twin.plan").write_text(PLAN + "  for P-014\n", "utf-8")
    (root / "a.plan").write_text(PLAN + "  for P-014\n", "utf-8")
    (root / "twin.plan").symlink_to(tmp_path / "twin.plan")
    run = Run()
    checked = check_file(Path("a.plan"), run)
    assert checked.plan is not None
    assert run.folders.files(root.resolve(), "P-014") == []


def test_a_folder_that_can_t_be_read_is_named_and_the_rest_goes_on(root, monkeypatch):
    real = os.scandir

    def closed(path):
        if Path(path).name == "deep":
            raise PermissionError(13, "Permission denied", str(path))
        return real(path)

    monkeypatch.setattr(os, "scandir", closed)
    assert walked() == ["a.plan", "b.plan", "deep", "people/p.diary"]
    assert message("deep") == "this folder can't be looked into: permission denied"


def test_a_file_that_vanishes_between_walk_and_reading_is_one_finding(root, tmp_path):
    names = walked()
    (root / "b.plan").unlink()
    summary = check_batch(Batch(tuple(names), str(tmp_path / "s.jsonl")))
    found = {one.name: one.findings for one in read_shard(tmp_path / "s.jsonl")}
    assert list(found) == names
    assert [f.message for f in found["b.plan"]] == ["there is no such file"]
    assert (summary.files, summary.unreadable, summary.failed) == (5, 1, ())


def test_a_file_that_is_not_utf_8_stops_nothing(root, tmp_path):
    (root / "b.plan").write_bytes('plan "Über den Hügel"\n'.encode("latin-1"))
    check_batch(Batch(tuple(walked()), str(tmp_path / "s.jsonl")))
    found = {one.name: one.findings for one in read_shard(tmp_path / "s.jsonl")}
    assert "line 1 holds a byte that is not UTF-8" in found["b.plan"][0].message
    assert len(found) == 5


def test_a_file_on_which_the_program_fails_is_said_and_stops_nothing(root, tmp_path, monkeypatch):
    from planlang.checking import file as module

    def broken(source, *_, **__):
        if source.name == "b.plan":
            raise KeyError("week")
        return real(source, *_, **__)

    real = module.check
    monkeypatch.setattr(module, "check", broken)
    summary = check_batch(Batch(tuple(walked()), str(tmp_path / "s.jsonl")))
    found = {one.name: one.findings for one in read_shard(tmp_path / "s.jsonl")}
    assert summary.failed == ("b.plan",)
    assert found["b.plan"][0].message.startswith("planlang itself failed on this file (KeyError: 'week')")
    assert found["b.plan"][0].blocks
    assert len(found) == 5


def test_a_file_that_is_being_written_is_read_anew_and_then_said(root, monkeypatch):
    from planlang.checking import file as module

    real, calls = module.load, []

    def while_written(path):
        found = real(path)
        calls.append(path)
        if len(calls) <= times:
            Path(path).write_text(PLAN + "# more\n" * len(calls), "utf-8")
        return found

    monkeypatch.setattr(module, "load", while_written)
    times = 1
    source = read_file(Path("a.plan"), Run())
    assert not isinstance(source, Finding)
    assert source.text == PLAN + "# more\n"
    calls.clear()
    times = 99
    assert message("b.plan") == "this file was being written while it was read"
