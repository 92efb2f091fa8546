"""All that the faults brought, as a colleague reads it: it blames nobody, claims nothing, and says what to do."""

import re
from collections.abc import Iterator

import pytest

from planlang.checking.check import Checked
from planlang.checking.own import OWN
from planlang.checking.rulebook import Rulebook
from planlang.model.plan import Plan
from planlang.text.finding import Finding
from tests.seeded.seeding import Seed

Faulty = dict[str, tuple[Seed, Checked, set[int]]]

# Words that blame, or make rest a debt: each has a plain word of its own in this tool.
BLAME = """
    missed, allowance, allowed rest, rest used, rest left, adherence, adherent, non-adherent, compliance, compliant,
    non-compliant, lapse, lapsed, restart, back to square one, never needed, lazy, cheat, excuse, excuses, should have,
    failed, failure, fault, is late, too late, fallen behind, at risk, unmotivated, refuses, poor, lost,
    overdue, must not, sedentary
"""
# What no check of a text can know or say.
CLAIMS = """
    safe, approved, evidence-based, clinically validated, validated, prevents, guaranteed, will reach, diagnosis,
    diagnosed, recommended dose, risk-free, harmless, proven, no risk, cured, cure
"""
ACTIONS = """
    add, agree, aim, ask, begin, check, choose, do, drop, end, give, keep, leave, let, look, make, measure, move, name,
    put, read, say, see, set, show, sign, speak, start, stay, stop, take, tie, try, wait, work, write
"""
# What is missing has no name, and what should not be there is not said again.
NAMELESS = {
    "goal-or-target-undated": "there is no goal to name",
    "nobody-to-call": "whom the clinic's file does not name is what is missing",
    "personal-details": "the text is underlined; said again it would stand in a report too",
    "screening-missing-or-old": "there is no screening to name",
    "state-draft": "it is the whole plan",
    "unreadable": "the words are underlined; what to write instead is said",
    "dose-open-or-not-set": "the dose has no number: that is what is wrong",
}


def phrases(words: str) -> re.Pattern[str]:
    listed = "|".join(re.escape(" ".join(w.split())) for w in words.split(","))
    return re.compile(rf"(?<![\w-])(?:{listed})(?![\w-])", re.IGNORECASE)


def unquoted(text: str) -> str:
    """The text without what it quotes of the plan, or offers to write into it."""
    return re.sub(r'"[^"]*"|`[^`]*`', '""', text)


@pytest.fixture(scope="module")
def found(faulty: Faulty) -> list[tuple[Finding, Plan | None]]:
    """Every finding of every fault, advice included."""
    return [(finding, result.plan) for _, result, _ in faulty.values() for finding in result.findings]


def names(plan: Plan) -> Iterator[str]:
    """What a plan calls its parts, and its words for joints and conditions."""
    yield from (e.name for e in plan.exercises)
    yield from (s.name for s in plan.sessions)
    yield from (t.title for t in plan.targets)
    yield from (about.name for about in plan.about)
    yield from (waiver.rule for waiver in plan.waivers)
    yield from (part for part in (plan.code, plan.title, plan.goal and plan.goal.title) if part)


def test_there_is_much_to_read(found: list[tuple[Finding, Plan | None]]) -> None:
    assert len({finding.message for finding, _ in found}) >= 80


def test_nobody_is_blamed(found: list[tuple[Finding, Plan | None]]) -> None:
    blame = phrases(BLAME)
    said = {(f.rule, m[0], f.message) for f, _ in found for m in blame.finditer(unquoted(f"{f.message} {f.advice}"))}
    assert said == set()


def test_nothing_is_claimed(found: list[tuple[Finding, Plan | None]]) -> None:
    claims = phrases(CLAIMS)
    said = {(f.rule, m[0]) for f, _ in found for m in claims.finditer(unquoted(f"{f.message} {f.advice}"))}
    assert said == set()


def test_a_message_holds_a_number_or_a_name_of_the_plan(found: list[tuple[Finding, Plan | None]]) -> None:
    bare = {
        (f.rule, f.message)
        for f, plan in found
        if f.rule not in NAMELESS
        and not re.search(r'[0-9]|"[^"]+"|`[^`]+`', f.message)
        and not (plan is not None and any(name in f.message for name in names(plan)))
    }
    assert bare == set()


def test_what_is_left_nameless_comes_up(found: list[tuple[Finding, Plan | None]]) -> None:
    assert NAMELESS.keys() <= {finding.rule for finding, _ in found}


def test_help_is_something_to_do_or_a_question(found: list[tuple[Finding, Plan | None]]) -> None:
    verb = phrases(ACTIONS)
    idle = {(f.rule, f.advice) for f, _ in found if "?" not in f.advice and not verb.search(unquoted(f.advice))}
    assert idle == set()


def test_help_asks_or_begins_a_sentence_with_what_to_do(found: list[tuple[Finding, Plan | None]]) -> None:
    verb = phrases(ACTIONS)
    heads = {f.rule: re.split(r"(?<=[.!?:])\s+", unquoted(f.advice)) for f, _ in found}
    neither = {
        rule: sentences
        for rule, sentences in heads.items()
        if not any(s.endswith("?") or any(verb.search(part[:40]) for part in re.split("[,;]", s)) for s in sentences)
    }
    assert neither == {}


def test_neither_is_long(found: list[tuple[Finding, Plan | None]]) -> None:
    long = {(f.rule, len(said), said) for f, _ in found for said in (f.message, f.advice) if len(said) >= 400}
    assert long == set()


def test_a_message_is_sentences(found: list[tuple[Finding, Plan | None]]) -> None:
    assert {f.message for f, _ in found if not f.message.endswith((".", "?"))} == set()
    assert {f.message for f, _ in found if "  " in f.message or "\n" in f.message or "{" in f.message} == set()


def test_no_name_of_a_rule_stands_in_what_is_said(found: list[tuple[Finding, Plan | None]], book: Rulebook) -> None:
    codes = {name for name in (*book.by_name, *OWN) if "-" in name}
    of_waivers = {"waiver"}
    said = {
        (f.rule, code)
        for f, _ in found
        if f.rule.split("-")[0] not in of_waivers  # a waiver names its rule, and so does what is wrong with it
        for code in codes
        if code in f.message
    }
    assert said == set()


def test_no_level_is_named_to_anybody(found: list[tuple[Finding, Plan | None]]) -> None:
    levels = phrases("unrealistic, unsafe, incomplete")
    said = {(f.rule, f.message) for f, _ in found if levels.search(unquoted(f.message)) and "waiver" not in f.rule}
    assert said == set()
