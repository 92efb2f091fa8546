"""The ready tables hold exactly what the YAML says, and are used only where they were made from it."""

import json
import shutil
from pathlib import Path

import pytest

from planlang.checking import table
from planlang.checking.rulebook import load_packs, pack_folders
from planlang.model import catalogue
from planlang.text.ready import decoded, encoded
from planlang.text.resources import folder


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A copy of grammar and rules, without tables."""
    for name in ("grammar", "rules"):
        shutil.copytree(folder(name), tmp_path / name, ignore=shutil.ignore_patterns("*.table"))
    return tmp_path / "rules"


def test_a_table_holds_what_the_files_say(home: Path) -> None:
    table.write(home)
    assert table.ready(home) == load_packs(pack_folders(home))


def test_without_a_table_there_is_none(home: Path) -> None:
    assert table.ready(home) is None


def test_a_table_of_other_files_is_not_used(home: Path) -> None:
    table.write(home)
    rule = home / "rest" / "no-room-for-rest.yaml"
    rule.write_text(rule.read_text("utf-8").replace("6 weeks", "7 weeks"), "utf-8")
    assert table.ready(home) is None


def test_a_new_rule_makes_the_table_old(home: Path) -> None:
    table.write(home)
    shutil.copy(home / "rest" / "no-room-for-rest.yaml", home / "rest" / "another.yaml")
    assert table.ready(home) is None


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"digest": "x"}', "not json"])
def test_a_broken_table_is_not_used(text: str, home: Path) -> None:
    (home / table.TABLE).write_text(text, "utf-8")
    assert table.ready(home) is None


def test_a_table_of_the_right_files_and_wrong_rules_is_not_used(home: Path) -> None:
    path = table.write(home)
    held = json.loads(path.read_text("utf-8"))
    held["rules"][0] = held["rules"][0][:-1]
    path.write_text(json.dumps(held), "utf-8")
    assert table.ready(home) is None


@pytest.mark.parametrize("entries", [catalogue.signs, catalogue.conditions, catalogue.measures])
def test_data_come_back_from_a_table_as_they_were(entries: object) -> None:
    known = tuple(entries().values())  # type: ignore[operator]
    assert decoded(json.loads(json.dumps(encoded(known))), catalogue.CLASSES) == known
