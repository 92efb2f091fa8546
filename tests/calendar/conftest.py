"""A calendar server for each file of tests that asks for one, and an account of its own for each test."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest

from planlang.cli.main import run
from tests.calendar.caldav_server import PASSWORD, USERS, Account, Between, Radicale
from tests.calendar.made import text_of

CLINIC = """clinic: Riverside physiotherapy
contacts:
  emergency: "112"
  same-day: "03 5550 0101"
  clinic: "03 5550 0100"
calendar-key-file: .calendar-key
"""
_numbers = count()


@pytest.fixture(scope="module")
def radicale(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Radicale]:
    server = Radicale(tmp_path_factory.mktemp("radicale"))
    server.start()
    yield server
    server.kill()


@pytest.fixture
def account(radicale: Radicale, monkeypatch: pytest.MonkeyPatch) -> Account:
    """An account that holds nothing yet, whose password is in the environment."""
    user = USERS[next(_numbers) % len(USERS)]
    monkeypatch.setenv("PLANLANG_PASSWORD", PASSWORD)
    monkeypatch.setenv("PLANLANG_USER", user)
    return Account(radicale.port, user)


@pytest.fixture
def between(radicale: Radicale) -> Iterator[Between]:
    with Between(radicale.port) as one:
        yield one


class Desk:
    """A clinician's folder: plans in it are published as they would be."""

    def __init__(self, folder: Path, url: str, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self.url, self.capsys = folder, url, capsys
        (folder / "clinic.yaml").write_text(CLINIC, "utf-8")
        (folder / ".calendar-key").write_text("made up for a test\n", "utf-8")

    def plan(self, *changes: tuple[str, str], name: str = "five-weeks", file: str = "one.plan") -> Path:
        return self.written(text_of(name, *changes), file)

    def written(self, text: str, file: str = "one.plan") -> Path:
        path = self.folder / file
        path.write_text(text, "utf-8")
        return path

    def publish(self, path: Path, *more: str, to: str | None = None) -> tuple[int, dict[str, object]]:
        """Exit code and answer."""
        code = run(["publish", str(path), "--to", to or self.url, "--json", *more])
        said = self.capsys.readouterr()
        assert "Traceback" not in said.err
        assert PASSWORD not in said.out + said.err
        answer = json.loads(said.out) if said.out.strip() else {}
        return code, {**answer, "err": " ".join(said.err.split())}


@pytest.fixture
def desk(tmp_path: Path, radicale: Radicale, capsys: pytest.CaptureFixture[str]) -> Desk:
    return Desk(tmp_path, radicale.url, capsys)
