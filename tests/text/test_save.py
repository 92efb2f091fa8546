"""Files are written whole or not at all."""

import os

import pytest

from planlang.text.save import save


def test_new_file_is_written_with_the_users_own_mask(tmp_path):
    before = os.umask(0o027)
    try:
        assert save(tmp_path / "a.plan", b"x\r\n") is None
    finally:
        os.umask(before)
    assert (tmp_path / "a.plan").read_bytes() == b"x\r\n"
    assert (tmp_path / "a.plan").stat().st_mode & 0o777 == 0o640


def test_file_keeps_its_permissions_and_a_link_is_followed(tmp_path):
    (tmp_path / "a.plan").write_bytes(b"old")
    (tmp_path / "a.plan").chmod(0o600)
    (tmp_path / "link.plan").symlink_to(tmp_path / "a.plan")
    assert save(tmp_path / "link.plan", b"new") is None
    assert (tmp_path / "link.plan").is_symlink()
    assert (tmp_path / "a.plan").read_bytes() == b"new"
    assert (tmp_path / "a.plan").stat().st_mode & 0o777 == 0o600


def test_nothing_is_left_behind_when_writing_fails(tmp_path, monkeypatch):
    (tmp_path / "a.plan").write_bytes(b"old")

    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    assert save(tmp_path / "a.plan", b"new") == f"{tmp_path / 'a.plan'} can't be written: No space left on device"
    assert [(p.name, p.read_bytes()) for p in tmp_path.iterdir()] == [("a.plan", b"old")]


@pytest.mark.parametrize("name", ["none/a.plan", ".", "a\0b"])
def test_reason_is_in_words(tmp_path, name):
    said = save(str(tmp_path) + os.sep + name, b"x")
    assert "can't be written" in said or "is a folder" in said


def test_folder_that_takes_no_file(tmp_path, monkeypatch):
    def refuse(**_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("tempfile.mkstemp", refuse)  # whoever runs the tests may write everywhere
    assert save(tmp_path / "a.plan", b"x").endswith("can't be written: Permission denied")
