"""`planlang mend`: proposals proved by the whole lint, the fixed JSON, and what is written with --apply."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from planlang.checking.check import check
from planlang.checking.rulebook import built_in
from planlang.cli.main import run
from planlang.planning.leeway.verdicts import Verdicts
from planlang.report.quoting import columns
from planlang.text.load import load

ALLOTMENT = Path(__file__).parents[2] / "examples" / "people" / "p014-allotment.plan"
FIELDS = {"number", "kind", "harder", "target", "rule", "before", "after", "edits"}
JUMP = """\
plan "Round the lake"   # for the summer
  starts 2027-03-01
  lasts 12 weeks
today
  base strength 8 weeks
exercise sit-to-stand
  kind strength
  works quadriceps
  begin 2x8
activity walking
  kind aerobic
  begin 2000 steps/day
  rise 900 steps/day every 2 weeks to 6000 steps/day   # up
session "Kitchen"
  days Mon, Thu
  at 08:00 for 15 min
  place "kitchen"
  do sit-to-stand
"""


@pytest.fixture
def mend(capsys, monkeypatch):
    def call(*args, width=80):
        monkeypatch.setenv("COLUMNS", str(width))
        code = run(["mend", *map(str, args)])
        return code, *capsys.readouterr()

    return call


@pytest.fixture
def plan(tmp_path):
    """The allotment plan, its first target's date too early to hold wherever the rest falls."""
    path = tmp_path / "allotment.plan"
    path.write_text(ALLOTMENT.read_text(encoding="utf-8").replace("2027-07-04", "2027-06-16"), encoding="utf-8")
    return path


@pytest.fixture
def slow(tmp_path):
    """The allotment plan going up too slowly for its first target."""
    path = tmp_path / "slow.plan"
    text = ALLOTMENT.read_text(encoding="utf-8")
    path.write_text(text.replace("every 2 weeks if", "every 3 weeks if"), encoding="utf-8")
    return path


@pytest.fixture
def jump(tmp_path):
    path = tmp_path / "jump.plan"
    path.write_text(JUMP, encoding="utf-8")
    return path


def found_in(path):
    return [(f.rule, f.message) for f in check(load(path), built_in()).findings]


def test_the_json_has_the_fixed_fields(mend, plan):
    code, out, _ = mend(plan, "--json", "--harder")
    answer = json.loads(out)
    assert code == 0
    assert answer.keys() == {"plan", "proposals"}
    assert [one["number"] for one in answer["proposals"]] == list(range(1, len(answer["proposals"]) + 1))
    for one in answer["proposals"]:
        assert one.keys() == FIELDS
        assert all(e.keys() == {"line", "column", "end_line", "end_column", "text"} for e in one["edits"])


def test_the_first_proposal_is_the_first_date_that_always_holds(mend, plan):
    _, out, _ = mend(plan, "--json")
    first = json.loads(out)["proposals"][0]
    assert (first["kind"], first["target"]) == ("later date", "Rise from the dining chair with a weight")
    assert (first["before"], first["after"]) == ("by 2027-06-16", "by 2027-06-28")


def test_every_proposal_applied_mends_and_brings_nothing_but_the_draft(mend, plan):
    written = plan.read_text(encoding="utf-8")
    old = {rule for rule, _ in found_in(plan)}
    proposals = json.loads(mend(plan, "--json", "--harder")[1])["proposals"]
    assert {one["kind"] for one in proposals} >= {"later date", "earlier step"}
    for one in proposals:
        plan.write_text(written, encoding="utf-8")
        code, _, _ = mend(plan, "--harder", "--apply", one["number"], "--because", "she asked for it")
        assert code == 0
        assert {rule for rule, _ in found_in(plan)} <= old | {"state-draft"}
        made = check(load(plan), built_in()).plan
        assert made.draft
        assert Verdicts(made).of(made.targets[0]).verdict == "always"


def test_the_edits_of_the_json_make_what_apply_writes(mend, plan):
    lines = plan.read_text(encoding="utf-8").split("\n")
    one = json.loads(mend(plan, "--json")[1])["proposals"][0]
    for edit in sorted(one["edits"], key=lambda e: (e["line"], e["column"]), reverse=True):
        assert edit["line"] == edit["end_line"]
        line = lines[edit["line"] - 1]
        lines[edit["line"] - 1] = line[: edit["column"] - 1] + edit["text"] + line[edit["end_column"] - 1 :]
    mend(plan, "--apply", 1)
    assert plan.read_text(encoding="utf-8") == "\n".join(lines)


def test_applying_keeps_every_other_line_and_its_comments(mend, plan):
    before = plan.read_text(encoding="utf-8").splitlines()
    code, out, _ = mend(plan, "--apply", 1)
    after = plan.read_text(encoding="utf-8").splitlines()
    assert code == 0
    assert "It is a draft now" in out
    assert [line for line in before if line not in after] == ["  by         2027-06-16"]
    assert [line for line in after if line not in before] == ["  state      draft", "  by         2027-06-28"]


def test_what_asks_more_needs_a_reason_and_keeps_it_beside_the_change(mend, slow):
    proposals = json.loads(mend(slow, "--json", "--harder")[1])["proposals"]
    number = next(one["number"] for one in proposals if one["harder"])
    before = slow.read_bytes()
    code, _, err = mend(slow, "--harder", "--apply", number)
    assert code == 2
    assert "--because" in err
    assert slow.read_bytes() == before
    assert mend(slow, "--apply", number, "--because", "the last flare was two years ago")[0] == 0
    assert '# asks more than before, because "the last flare was two years ago"' in slow.read_text(encoding="utf-8")


def test_what_asks_more_is_not_shown_unasked(mend, slow):
    assert not any(one["harder"] for one in json.loads(mend(slow, "--json")[1])["proposals"])
    assert "asks more of the person" not in mend(slow)[1]
    assert "asks more of the person" in " ".join(mend(slow, "--harder")[1].split())


def kinds_for(mend, path, *args):
    return [(one["kind"], one["rule"]) for one in json.loads(mend(path, "--json", *args)[1])["proposals"]]


def with_flares(path, flares):
    path.write_text(path.read_text(encoding="utf-8").replace("1 flare in 8 weeks", flares), encoding="utf-8")
    return path


def test_a_change_that_the_rules_do_not_accept_is_not_offered(mend, plan):
    """Room for 2 would do for the target, but is less than the flares that the plan itself expects need."""
    assert "less room" not in dict(kinds_for(mend, plan, "--harder"))
    assert "less room" in dict(kinds_for(mend, with_flares(plan, "1 flare in 20 weeks"), "--harder"))


def test_room_too_small_for_the_flares_expected_gets_the_room_that_is_enough(mend, slow):
    found = kinds_for(mend, with_flares(slow, "1 flare in 5 weeks"))
    assert ("more room", "less-room-than-flares-need") in found


@pytest.mark.parametrize("number", [99, 0, "one"])
def test_a_number_that_is_not_there_is_a_wrong_call(mend, plan, number):
    before = plan.read_bytes()
    assert mend(plan, "--apply", number)[0] == 2
    assert plan.read_bytes() == before


def test_an_empty_reason_is_a_wrong_call(mend, plan):
    assert mend(plan, "--because", "  ")[0] == 2


def test_a_jump_too_steep_gets_the_steepest_rise_that_passes(mend, jump):
    """Public advice, Flemish institute for healthy living: 500 more steps a day each week are no jump."""
    proposals = json.loads(mend(jump, "--json")[1])["proposals"]
    one = next(p for p in proposals if p["rule"] == "daily-steps-jump" and p["kind"] == "gentler rise")
    assert one["after"] == "rise 500 steps/day every 2 weeks to 6000 steps/day"
    assert one["target"] is None


def test_a_byte_order_mark_and_line_endings_stay(mend, jump):
    jump.write_bytes(b"\xef\xbb\xbf" + JUMP.replace("\n", "\r\n").encode())
    assert mend(jump, "--apply", 1)[0] == 0
    made = jump.read_bytes()
    assert made.startswith(b"\xef\xbb\xbfplan")
    assert made.count(b"\n") == made.count(b"\r\n") == JUMP.count("\n") + 1


def test_a_plan_that_holds_says_so(mend, tmp_path):
    path = tmp_path / "held.plan"
    path.write_text('plan "A"\n  starts 2027-03-01\n  lasts 4 weeks\n')
    code, out, _ = mend(path)
    assert (code, "Nothing to propose" in out) == (0, True)


def test_a_plan_that_cannot_be_reckoned_is_a_one(mend, tmp_path):
    path = tmp_path / "nothing.plan"
    path.write_text('plan "A"\n  lasts 4 weeks\n')
    assert mend(path)[0] == 1
    code, out, _ = mend(path, "--json")
    assert (code, json.loads(out)["proposals"]) == (1, [])
    assert mend(tmp_path / "gone.plan")[0] == 1


@pytest.mark.parametrize("width", [50, 80, 120])
def test_no_line_is_wider_than_the_terminal(mend, slow, width):
    _, out, _ = mend(slow, "--harder", width=width)
    assert max(columns(line) for line in out.splitlines()) <= width
