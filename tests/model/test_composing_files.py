"""Files that a file names: inside the library only, each read once, whole."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from planlang.model.composing import files as module
from planlang.model.composing.compose import compose
from planlang.model.composing.files import InLibrary, NotOpened, read_whole
from planlang.text.load import load
from planlang.text.source import Source
from tests.model.composing_help import KNEE, PLAN


@pytest.fixture
def clinic(tmp_path):
    (tmp_path / "clinic" / "people").mkdir(parents=True)
    (tmp_path / "clinic" / "knee.plan").write_text(KNEE)
    (tmp_path / "outside.plan").write_text(KNEE)
    return tmp_path / "clinic"


def found(clinic, name, raw=None):
    """The findings of a plan of the clinic that is made from the template called so."""
    path = clinic / "people" / "p.plan"
    path.write_text(PLAN.replace("knee.plan", name))
    if raw is not None:
        (clinic / "knee.plan").write_bytes(raw)
    source, findings = compose(load(path), InLibrary(clinic))
    return [(f.message, source.place(f.span).line, f.related) for f in findings]


def test_template_is_found_from_the_plans_folder(clinic):
    assert found(clinic, "../knee.plan") == []


@pytest.mark.parametrize("name", ["../../outside.plan", "../knee/../../outside.plan", "/etc/passwd"])
def test_nothing_outside_the_library_is_opened(clinic, name, monkeypatch):
    monkeypatch.setattr(module, "load", lambda path: pytest.fail(f"{path} was opened"))
    ((message, line, _),) = found(clinic, name)
    assert "outside the library" in message
    assert line == 4


def test_link_that_leads_outside_is_not_opened(clinic, monkeypatch):
    (clinic / "link.plan").symlink_to(clinic.parent / "outside.plan")
    monkeypatch.setattr(module, "load", lambda path: pytest.fail(f"{path} was opened"))
    ((message, _, _),) = found(clinic, "../link.plan")
    assert "outside the library" in message


def test_link_inside_is_one_file_with_what_it_leads_to(clinic):
    (clinic / "link.plan").symlink_to(clinic / "knee.plan")
    files = InLibrary(clinic)
    beside = Source(str(clinic / "people" / "p.plan"), "")
    assert files.open("../link.plan", beside) is files.open("../knee.plan", beside)


def test_link_in_a_circle(clinic):
    (clinic / "a.plan").symlink_to(clinic / "b.plan")
    (clinic / "b.plan").symlink_to(clinic / "a.plan")
    ((message, line, _),) = found(clinic, "../a.plan")
    assert "leads nowhere" in message
    assert line == 4


@pytest.mark.parametrize("name", ["", " ", "x" * 5000])
def test_name_that_is_none(clinic, name):
    ((_, line, _),) = found(clinic, name)
    assert line == 4


def test_name_with_a_zero_in_it(clinic):
    assert isinstance(InLibrary(clinic).open("a\0b", Source("p.plan", "")), NotOpened)


def test_missing_template(clinic):
    ((message, line, _),) = found(clinic, "../hip.plan")
    assert "there is no such file" in message
    assert line == 4


def test_folder_for_a_template(clinic):
    ((message, _, _),) = found(clinic, "../people")
    assert "folder" in message


def test_template_that_is_not_utf8_is_shown_at_its_line(clinic):
    raw = KNEE.encode().replace(b"knee osteoarthritis", b"knee \xff osteoarthritis")
    ((message, line, related),) = found(clinic, "../knee.plan", raw)
    assert "not UTF-8" in message
    assert line == 4
    assert related[0].source.name.endswith("knee.plan")
    assert related[0].source.place(related[0].span).line == 2


def test_template_that_is_too_large(clinic):
    ((message, _, _),) = found(clinic, "../knee.plan", b"#" * (1 << 21))
    assert "larger than 1 MiB" in message


def test_template_that_changes_while_it_is_read(clinic, monkeypatch):
    times = iter(range(10**9, 10**12, 10**9))

    def load_and_touch(path):
        os.utime(path, ns=(0, next(times)))
        return load(path)

    monkeypatch.setattr(module, "load", load_and_touch)
    ((message, line, _),) = found(clinic, "../knee.plan")
    assert "was being written" in message
    assert line == 4


def test_template_that_changes_once_is_read_anew(clinic, monkeypatch):
    path = clinic / "knee.plan"
    texts = iter([KNEE.replace("Knee", "Knees")])

    def load_and_change(name):
        read = load(name)
        for text in texts:
            path.write_text(text)
        return read

    monkeypatch.setattr(module, "load", load_and_change)
    read = read_whole(path, "knee.plan")
    assert not isinstance(read, NotOpened)
    assert '"Knees base"' in read.text


def test_template_is_read_once_in_a_run(clinic, monkeypatch):
    files = InLibrary(clinic)
    beside = Source(str(clinic / "people" / "p.plan"), "")
    first = files.open("../knee.plan", beside)
    monkeypatch.setattr(module, "load", lambda path: pytest.fail(f"{path} was read again"))
    assert files.open("../knee.plan", beside) is first
    assert files.open("knee.plan", Source(str(clinic / "q.plan"), "")) is first


def test_folder_that_is_a_link_itself(clinic):
    (clinic.parent / "other").symlink_to(clinic, target_is_directory=True)
    files = InLibrary(Path(clinic.parent / "other"))
    assert isinstance(
        files.open("../knee.plan", Source(str(clinic.parent / "other" / "people" / "p.plan"), "")), Source
    )
