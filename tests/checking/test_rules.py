"""The built-in rules: each has its ground, and does to its own examples what it says."""

import pytest

from planlang.checking.check import check
from planlang.checking.examples import MARK, run_examples
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook, built_in
from planlang.text.finding import Level
from planlang.text.source import Source

RULES = built_in().rules
FORBIDDEN = ("compliance", "adherence", "allowance", "missed", "failed", "non-compliant", "lazy", "safe ")


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_its_examples_are_as_they_should_be(rule: Rule, book: Rulebook) -> None:
    assert [str(failure) for failure in run_examples(rule, book)] == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_its_flagged_examples_mark_the_line_to_change(rule: Rule) -> None:
    assert [text for text in rule.flagged if MARK not in text] == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_it_names_its_sources_and_what_is_from_memory(rule: Rule) -> None:
    assert rule.sources
    for ground in rule.sources:
        assert ground.source.strip()
        assert "evidence.md" not in ground.source
        if ground.known == "memory":
            assert any(line.endswith("(from memory)") for line in rule.source_lines())


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_its_settings_have_bounds(rule: Rule) -> None:
    assert all(s.least < s.most and s.means for s in rule.settings)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_its_words_blame_nobody_and_promise_nothing(rule: Rule) -> None:
    said = " ".join(f"{spoken.message} {spoken.help}" for spoken in rule.spoken).lower()
    assert [word for word in FORBIDDEN if word in said] == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_what_it_finds_is_printed_whole(rule: Rule, book: Rulebook) -> None:
    for text in rule.flagged:
        for finding in check(Source("x.plan", text), book).findings:
            if finding.rule == rule.name:
                assert "{" not in finding.message + finding.advice
                assert "not written" not in finding.message + finding.advice
                assert finding.message.endswith(".")
                assert finding.span is not None


def test_what_is_contested_is_advice() -> None:
    assert [rule.name for rule in RULES if rule.contested and rule.level is not Level.ADVICE] == []


def test_rules_that_cannot_be_waived() -> None:
    assert {rule.name for rule in RULES if rule.never_waived} >= {"screening-not-clear"}


@pytest.mark.parametrize(
    ("name", "level"),
    [
        ("goal-from-an-old-level", "incomplete"),
        ("goal-is-only-a-weight", "unrealistic"),
        ("targets-two-or-three", "advice"),
        ("target-after-the-goal", "incomplete"),
        ("target-not-trained", "incomplete"),
        ("no-room-for-rest", "unrealistic"),
        ("target-out-of-reach", "unrealistic"),
        ("rest-week-left-empty", "incomplete"),
        ("daily-steps-jump", "unrealistic"),
        ("steps-jump-without-a-strength-base", "unsafe"),
        ("walking-raised-before-strength", "advice"),
        ("hard-strength-days-in-a-row", "advice"),
        ("strength-under-two-days", "advice"),
        ("session-without-when-or-where", "incomplete"),
        ("pain-rule-missing", "incomplete"),
        ("screening-not-clear", "unsafe"),
    ],
)
def test_levels_are_those_agreed(name: str, level: str, book: Rulebook) -> None:
    rule = book.rule(name)
    assert rule is not None
    assert book.level(rule) == level
