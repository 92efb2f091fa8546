"""Each threshold at its edge: one value within it, where the rule is quiet, and the next one out, where it speaks."""

from typing import Any

import pytest

from planlang.checking.check import Checked
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook
from planlang.text.finding import Level
from tests.seeded.seeding import HERE, checked, edited, plans, rules, table

ROWS = table(HERE / "edges.yaml")


def judged(row: dict[str, Any], value: object, book: Rulebook) -> Checked:
    edits = [(old, new.replace("{}", str(value))) for old, new in row["edit"]]
    result = checked(row["plan"], edited(plans()[row["plan"]], edits)[0], book)
    assert [f.message for f in result.findings if f.rule in ("unreadable", "contradiction", "unreckonable")] == []
    return result


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["edge"])
def test_just_within_the_rule_is_quiet(row: dict[str, Any], book: Rulebook) -> None:
    assert [f.message for f in judged(row, row["quiet"], book).findings if f.rule == row["rule"]] == []


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["edge"])
def test_just_outside_the_rule_speaks(row: dict[str, Any], book: Rulebook) -> None:
    assert [f.rule for f in judged(row, row["loud"], book).findings if f.rule == row["rule"]] != []


def _fails(rule: Rule) -> bool:
    """Rules of plans that fail a run; those of diaries have their edges in tests/checking/test_diary_rules.py."""
    return rule.level in (Level.UNSAFE, Level.UNREALISTIC) and "plan" in rule.applies.files


def test_failing_rules_with_a_threshold_are_looked_at_on_their_edge() -> None:
    edged = {row["rule"] for row in ROWS}
    with_settings = {r.name for r in rules().rules if r.settings and _fails(r)}
    assert with_settings - edged == {
        "hot-joint-loaded"
    }  # its setting says how long swelling after an operation is taken as its trace
