"""Each fault put into a clean plan brings the finding that is meant for it, at its place, and no other that fails."""

import pytest

from planlang.checking.check import Checked
from planlang.checking.own import OWN
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook
from tests.seeded.seeding import FAILING, Seed, failing, flagged, lines_of, plans, seeds

Faulty = dict[str, tuple[Seed, Checked, set[int]]]
ALL = [seed.fault for seed in seeds()]


@pytest.mark.parametrize("name", plans())
def test_a_plan_without_a_fault_brings_nothing(name: str, clean: dict[str, Checked]) -> None:
    assert [(f.rule, f.message) for f in failing(clean[name].findings)] == []


@pytest.mark.parametrize("fault", ALL)
def test_a_fault_brings_what_is_meant(fault: str, faulty: Faulty, clean: dict[str, Checked]) -> None:
    seed, result, _ = faulty[fault]
    assert seed.brings in {f.rule for f in result.findings}
    assert seed.brings not in {f.rule for f in clean[seed.plan].findings}


@pytest.mark.parametrize("fault", ALL)
def test_a_fault_brings_nothing_else_that_fails(fault: str, faulty: Faulty) -> None:
    seed, result, _ = faulty[fault]
    brought = {f.rule for f in failing(result.findings)}
    assert brought - {seed.brings} == set(seed.also), [(f.rule, f.message) for f in failing(result.findings)]


@pytest.mark.parametrize("fault", ALL)
def test_a_finding_points_at_the_fault(fault: str, faulty: Faulty) -> None:
    seed, result, touched = faulty[fault]
    source = result.source
    meant = {n for n in range(1, len(source.line_starts) + 1) if seed.at in source.line(n)} if seed.at else touched
    assert len(meant) > 0
    for finding in result.findings:
        if finding.rule == seed.brings:
            assert lines_of(finding, source) & meant, f"it points at line {lines_of(finding, source)}, not {meant}"


def test_a_companion_has_its_reason_and_fails_itself(faulty: Faulty, book: Rulebook) -> None:
    for seed, result, _ in faulty.values():
        levels = {f.rule: f.level for f in result.findings}
        assert all(reason.strip() and levels[rule] in FAILING for rule, reason in seed.also.items())


def test_every_fault_has_a_name_of_its_own() -> None:
    assert len(set(ALL)) == len(ALL)


def test_there_are_eighty_faults_or_more() -> None:
    assert len(ALL) >= 80


def test_every_rule_finds_a_fault_that_was_put_in(book: Rulebook) -> None:
    sown = {seed.brings for seed in seeds()}
    assert [rule.name for rule in of_plans(book) if rule.name not in sown] == []


def of_plans(book: Rulebook) -> list[Rule]:
    """The rules that judge plans: those that judge diaries have a story of their own."""
    return [rule for rule in book.in_force() if "plan" in rule.applies.files]


def test_every_case_of_every_rule_finds_one(book: Rulebook) -> None:
    found = {(one.rule.name, one.rule.cases.index(one.case)) for seed in seeds() for one in flagged(seed, book)}
    every = {(rule.name, n) for rule in of_plans(book) for n in range(len(rule.cases))}
    assert sorted(every - found) == []


def test_the_engine_finds_its_own_kinds_of_fault(book: Rulebook) -> None:
    kept = {"calendar-key-missing", "person-file-under-version-control"}  # of the file on its disk, not of its text
    template = {"range-searched"}
    former = set() if any(rule.aliases for rule in book.rules) else {"waiver-by-former-name"}
    assert OWN.keys() - {seed.brings for seed in seeds()} - kept - template - former == set()
