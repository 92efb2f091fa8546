"""What the checking tests share: the built-in rulebook, plans from text, and rules made on the spot."""

from collections.abc import Callable

import pytest

from planlang.checking.check import Checked, check
from planlang.checking.facts import every
from planlang.checking.facts.registry import Facts
from planlang.checking.loader import load_rule
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook, assembled, built_in
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.text.finding import Finding
from planlang.text.source import Source

HEAD = """
plan "Stairs without the rail"
  starts 2027-03-01
  lasts 12 weeks
  written 2027-02-22
"""

RULE = """\
title: A rule for a test
level: advice
strength: consensus
looks at: plan
flags when: its length > 4 weeks
message: it lasts {its length}
help: make it shorter
why: because
limits: none
sources: [{source: "common practice, no source", known: practice}]
since: "2026-11-25"
reviewed: "2026-11-25"
flagged: ["plan \\"x\\""]
clean: ["plan \\"x\\""]
"""


@pytest.fixture(scope="session")
def book() -> Rulebook:
    return built_in()


@pytest.fixture(scope="session")
def facts_of() -> Callable[[str], Facts]:
    """The facts of a plan text, which must be read without a finding of level unsafe."""

    def made(text: str) -> Facts:
        plan, findings = read_plan(Source("test.plan", text))
        assert plan is not None
        assert [f.message for f in findings if f.rule == "unreadable"] == []
        return Facts(plan, reckon(plan))

    return made


@pytest.fixture(scope="session")
def rule_of() -> Callable[..., Rule]:
    """A rule from the text above, with some of its lines changed: `rule_of(level="unsafe")`."""

    def made(name: str = "test-rule", **changes: str) -> Rule:
        rule, faults = load_rule(Source(f"{name}.yaml", changed(RULE, **changes)), name, "tests", every())
        assert [f.message for f in faults] == []
        assert rule is not None
        return rule

    return made


@pytest.fixture(scope="session")
def faults_of() -> Callable[..., list[Finding]]:
    """The faults of such a rule."""

    def made(text: str | None = None, **changes: str) -> list[Finding]:
        source = Source("test-rule.yaml", text if text is not None else changed(RULE, **changes))
        rule, faults = load_rule(source, "test-rule", "tests", every())
        assert rule is None
        return list(faults)

    return made


@pytest.fixture(scope="session")
def checked_by() -> Callable[..., Checked]:
    """A plan text checked by some rules alone."""

    def made(text: str, *rules: Rule, **options: object) -> Checked:
        return check(Source("test.plan", text), assembled(rules), **options)  # type: ignore[arg-type]

    return made


def changed(text: str, **changes: str) -> str:
    """The rule's text with other lines for these keys; `_` in a key is a space; "" takes the line out."""
    lines = text.splitlines()
    for key, value in changes.items():
        word = key.replace("_", " ")
        at = next((i for i, line in enumerate(lines) if line.startswith(f"{word}:")), None)
        if at is None:
            lines.append(f"{word}: {value}")
        elif value == "":
            del lines[at]
        else:
            lines[at] = f"{word}: {value}"
    return "\n".join(lines) + "\n"
