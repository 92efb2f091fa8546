"""Proposals: smallest single changes as text edits, proved by whatever lint the caller brings."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import pytest

from planlang.model.quantity import Quantity
from planlang.model.reading import read_plan
from planlang.planning.leeway.verdicts import Verdicts
from planlang.planning.mend.edits import Edit, applied, before, draft, inner_line, line_above, line_below, replaced
from planlang.planning.mend.grain import grain, larger, smaller
from planlang.planning.mend.proposal import proposal
from planlang.planning.mend.proving import Lints, NoMoreProofs, block_line
from planlang.planning.mend.search import proposals
from planlang.text.finding import Finding, Level
from planlang.text.source import Source, Span

PLAN = """\
plan "Stairs without the rail"   # the whole of it
  starts     2027-03-01
  lasts      {weeks} weeks       # until summer
  revision   1
target "Ten with a weight"       # hers
  by         {by}   # asked for
  reach      {reach} in step-up  # leading
rest
  room for   {room} weeks
  return     {back}
exercise step-up
  kind       strength
  begin      2x6 "low step"
  then       2x8
  then       2x10 "high step"
  then       3x10 "high step" at 2 kg
  progress   every {every}     # as she likes
session "Kitchen"
  days       Mon, Thu
  do         step-up
"""


def text(by="2027-04-19", reach="3x10 at 2 kg", weeks=12, room=2, every="2 weeks", back="1 step lower for 1 week"):
    return PLAN.format(by=by, reach=reach, weeks=weeks, room=room, every=every, back=back)


def plan_of(written):
    plan, findings = read_plan(Source("stairs.plan", written))
    assert plan is not None
    assert [f.message for f in findings] == []
    return plan


def nothing_found(_):
    return ()


def offered(written, harder=False, prove=nothing_found, findings=()):
    plan = plan_of(written)
    return {one.kind: one for one in proposals(plan, findings, prove, harder)}


def changed(written, one):
    return applied(written, one.all_edits(plan_of(written)))


def verdict_of(written):
    plan = plan_of(written)
    return Verdicts(plan).of(plan.targets[0])


def test_a_later_date_is_the_first_that_always_holds():
    written = text(weeks=16)
    one = offered(written)["later date"]
    after = verdict_of(changed(written, one))
    assert (after.verdict, after.by) == ("always", after.latest)
    earlier = changed(written, one).replace(str(after.by), str(after.by - timedelta(1)))
    assert verdict_of(earlier).verdict == "depends"
    assert one.before == "by 2027-04-19"


def test_a_later_date_brings_as_many_more_weeks_as_it_needs():
    written = text(weeks=10)
    one = offered(written)["later date"]
    made = plan_of(changed(written, one))
    assert one.before == "lasts 10 weeks; by 2027-04-19"
    assert Verdicts(made).of(made.targets[0]).verdict == "always"
    shorter = changed(written, one).replace(f"lasts      {made.weeks} weeks", f"lasts      {made.weeks - 1} weeks")
    assert verdict_of(shorter).latest is None


def test_a_date_in_weeks_stays_one():
    assert offered(text(by="week 8", weeks=16))["later date"].after.startswith("by week ")


def test_an_earlier_step_is_the_highest_that_always_holds_and_says_what_tells_it_apart():
    written = text(by="2027-05-16", weeks=16)
    one = offered(written)["earlier step"]
    assert one.after == "reach 2x10 in step-up"
    assert verdict_of(changed(written, one)).verdict == "always"


def test_an_earlier_step_mends_a_dose_above_the_ladder():
    assert offered(text(by="week 16", weeks=16, reach="5x20"))["earlier step"].after == "reach 3x10 at 2 kg in step-up"


def test_more_weeks_are_the_fewest_with_which_the_date_holds():
    """With rest or without: 7 training weeks come to step 4, and a plan of 8 with room for 2 holds 6."""
    written = text(by="2027-05-09", weeks=8, back="at the same step")
    one = offered(written)["more weeks"]
    assert (one.before, one.after) == ("lasts 8 weeks", "lasts 9 weeks")


def test_what_asks_more_is_offered_only_when_asked_for_and_last():
    written = text(by="week 13", weeks=19, room=3)
    assert not any(one.harder for one in offered(written).values())
    kinds = list(offered(written, harder=True))
    assert kinds[-3:] == ["quicker progression", "less easing", "less room"]


def test_a_quicker_pace_is_the_slowest_that_holds():
    written = text(by="week 12", weeks=20, every="3 weeks", room=1)
    one = offered(written, harder=True)["quicker progression"]
    assert (one.before, one.after) == ("progress every 3 weeks", "progress every 2 weeks")


def test_less_easing_goes_as_far_as_it_must():
    written = text(by="week 9", weeks=14, room=2, back="2 steps lower for 3 weeks")
    one = offered(written, harder=True)["less easing"]
    assert verdict_of(changed(written, one)).verdict == "always"
    assert one.after == "return at the same step"


def test_less_room_is_the_largest_that_holds():
    written = text(by="week 10", weeks=16, room=4)
    one = offered(written, harder=True)["less room"]
    room = plan_of(changed(written, one)).room
    more = changed(written, one).replace(f"room for   {room} week", f"room for   {room + 1} week")
    assert (verdict_of(changed(written, one)).verdict, verdict_of(more).verdict) == ("always", "depends")


@pytest.mark.parametrize("harder", [False, True])
def test_every_proposal_keeps_the_rest_of_the_text_and_writes_the_draft(harder):
    written = text(by="week 9", weeks=14)
    for one in offered(written, harder).values():
        made = changed(written, one)
        assert plan_of(made).draft
        assert "  state      draft\n" in made
        old, new = written.splitlines(), [line for line in made.splitlines() if "state" not in line]
        differing = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
        assert 1 <= len(differing) <= 2
        for a, b in differing:
            assert a.partition("#")[1:] == b.partition("#")[1:]


def test_nothing_is_offered_where_every_target_holds():
    assert offered(text(by="week 16", weeks=16), harder=True) == {}


def test_what_brings_a_new_finding_is_not_offered():
    def prove(made):
        flagged = "lasts      10" not in made
        return [Finding("too-long", Level.ADVICE, "This plan is longer.", Span(0, 4))] if flagged else []

    assert "later date" not in offered(text(weeks=10), prove=prove)
    assert "earlier step" in offered(text(by="2027-05-02", weeks=10), prove=prove)


def test_what_asks_more_is_not_offered_where_a_rule_has_something_against_the_line_already():
    def prove(made):
        at = made.index("room for")
        return [Finding("little-room", Level.ADVICE, "Room for 4 would do.", Span(at, at + 8))]

    written = text(by="week 13", weeks=19, room=3)
    kinds = offered(written, harder=True, prove=prove, findings=prove(written))
    assert "less room" not in kinds
    assert "less easing" in kinds


def test_a_finding_that_was_there_before_and_the_drafts_own_are_not_new():
    def old(made):
        at = made.index("session")
        return [Finding("no-cue", Level.ADVICE, "No cue.", Span(at, at + 7))]

    def prove(made):
        return [*old(made), Finding("state-draft", Level.INCOMPLETE, "A draft.", Span(0, 4))]

    written = text(weeks=10)
    assert offered(written, prove=prove, findings=old(written)).keys() == offered(written).keys()


WALK = """\
plan "Round the lake"
  starts 2027-03-01
  lasts 12 weeks
rest
  room for 1 week
activity walking   # every day
  begin 2000 steps/day
  rise 900 steps/day every week to 6000 steps/day   # up
exercise squat
  kind strength
  begin 2x6
  then 2x12
  progress every week
session "S"
  days Mon
  do squat
"""


def flagging(pattern, rule, said):
    """A lint of one rule: flags the line that holds the pattern's number where `said` of it is true."""
    import re

    def prove(made):
        return [
            Finding(rule, Level.UNREALISTIC, f"{found[1]} is too much.", Span(found.start(), found.end()))
            for found in re.finditer(pattern, made)
            if said(int(found[1]))
        ]

    return prove


def mended(prove, harder=False):
    plan = plan_of(WALK)
    return [(one.kind, one.before, one.after) for one in proposals(plan, prove(WALK), prove, harder)]


def test_a_rise_too_steep_becomes_the_steepest_that_passes():
    prove = flagging(r"rise (\d+)", "steep", lambda n: n > 470)
    assert mended(prove) == [
        (
            "gentler rise",
            "rise 900 steps/day every week to 6000 steps/day",
            "rise 450 steps/day every week to 6000 steps/day",
        )
    ]


def test_room_too_small_becomes_the_room_that_is_enough():
    prove = flagging(r"room for (\d+)", "small", lambda n: n < 4)
    assert mended(prove) == [("more room", "room for 1 week", "room for 4 weeks")]


def test_less_room_asks_more_of_the_person():
    prove = flagging(r"room for (\d+)", "large", lambda n: n > 0)
    assert mended(prove) == []
    assert mended(prove, harder=True) == [("less room", "room for 1 week", "room for 0 weeks")]


def test_a_start_before_the_base_becomes_the_first_week_that_passes():
    def prove(made):
        if any(f"start after {n} weeks of strength" in made for n in range(3, 13)):
            return []
        at = made.index("activity")
        return [Finding("no-base", Level.ADVICE, "Of the 4 weeks before it 0 held strength.", Span(at, at + 8))]

    assert mended(prove) == [("later start", "", "start after 3 weeks of strength")]


def test_a_step_too_large_is_gone_up_in_as_few_steps_as_pass():
    def prove(made):
        plan, _ = read_plan(Source("x", made))
        steps = plan.exercise("squat").steps
        reps = [one.dose.size.amounts[0].low for one in steps]
        return [
            Finding("large-step", Level.ADVICE, f"{b - a} more.", steps[n].span)
            for n, (a, b) in enumerate(pairwise(reps), 1)
            if b - a > 2
        ]

    assert mended(prove) == [("steps between", "", "then 2x8; then 2x10")]


def test_a_finding_without_a_number_takes_no_lint():
    count = []

    def prove(made):
        count.append(made)
        return []

    plan = plan_of(WALK)
    at = WALK.index("session")
    proposals(plan, [Finding("no-cue", Level.ADVICE, "No cue.", Span(at, at + 1))], prove)
    assert count == []


def test_at_most_two_hundred_lints_are_taken_and_what_was_found_is_kept():
    block = "activity walk-{}\n  begin 2000 steps/day\n  rise 900 steps/day every week to 6000 steps/day\n"
    blocks = "".join(block.format(n) for n in range(60))
    written = WALK.replace("exercise squat", f"{blocks}exercise squat")
    count = []

    def prove(made):
        count.append(made)
        return flagging(r"rise (\d+)", "steep", lambda n: n > 470)(made)

    plan = plan_of(written)
    found = proposals(plan, prove(written), prove)
    assert len(count) == 201  # the first is the plan's own
    assert len(found) > 20


def test_one_text_is_linted_once():
    plan = plan_of(WALK)
    lints = Lints(plan, (), nothing_found, most=1)
    edit = replaced(plan.source, plan.places["lasts"], r"(\d+)", "13")
    assert lints.brings_nothing_new((edit,))
    assert lints.brings_nothing_new((edit,))
    with pytest.raises(NoMoreProofs):
        lints.brings_nothing_new(())


def test_edits_are_made_together_and_places_found_again():
    source = Source("x", "one two three")
    edits = (Edit(Span(8, 13), "3"), Edit(Span(0, 3), "eleven"))
    assert applied(source.text, edits) == "eleven two 3"
    assert [before(edits, at) for at in (0, 5, 7, 11)] == [0, 0, 4, 8]
    assert before((Edit(Span(4, 4), "new "),), 9) == 5


def test_new_lines_are_indented_and_ended_as_the_text_is():
    source = Source("x", "plan\r\n\tlasts 3 weeks  # all\r\n")
    lasts = Span(7, 20)
    lines = {
        line_below(source, lasts, "zone x"): "plan\r\n\tlasts 3 weeks  # all\r\n\tzone x\r\n",
        line_above(source, 7, "zone x"): "plan\r\n\tzone x\r\n\tlasts 3 weeks  # all\r\n",
        inner_line(source, Span(0, 4), "zone x"): "plan\r\n\tzone x\r\n\tlasts 3 weeks  # all\r\n",
    }
    for edit, expected in lines.items():
        assert applied(source.text, [edit]) == expected


def test_a_draft_stays_one():
    plan = plan_of(text().replace("  revision   1\n", "  revision   1\n  state      draft\n"))
    assert draft(plan) == ()


def test_a_plan_without_revision_gets_the_draft_below_its_name():
    plan = plan_of('plan "A"\nstarts 2027-03-01\nlasts 2 weeks\n')
    assert applied(plan.source.text, draft(plan)).splitlines()[1] == "  state draft"


def test_lines_before_and_after_leave_comments_out_and_texts_alone():
    source = Source("x", 'begin  2x6   "low  # step"   # why')
    one = proposal(source, "k", (Edit(Span(7, 8), "3"),))
    assert (one.before, one.after) == ('begin 2x6 "low  # step"', 'begin 3x6 "low  # step"')


def test_a_block_is_known_by_its_header():
    source = Source("x", "plan\n a\nexercise e\n  begin\n  then\nrest\n  room")
    assert [block_line(source, source.text.index(word)) for word in ("a\n", "then", "room")] == [1, 3, 6]


@pytest.mark.parametrize(
    ("value", "unit", "first", "last"),
    [(900, "steps/day", 850, 50), (10, "%", 9, 1), (5, "kg", 4.5, 0.5), (910, "steps/day", 900, 10)],
)
def test_numbers_are_tried_as_people_write_them(value, unit, first, last):
    from fractions import Fraction

    values = list(smaller(Quantity(Fraction(value), unit)))
    assert (float(values[0]), float(values[-1])) == (first, last)
    assert max(larger(Quantity(Fraction(value), unit))) == 2 * value
    assert grain(Quantity(Fraction(value), unit)) > 0


def test_dates_of_proposals_are_days_of_sessions():
    found = verdict_of(changed(text(weeks=16), offered(text(weeks=16))["later date"]))
    assert found.by.weekday() == date(2027, 3, 1).weekday()
