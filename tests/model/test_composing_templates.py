"""A plan made from a template is the plan that somebody would have written by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planlang.model.composing.compose import compose
from planlang.text.source import Source
from tests.model.composing_help import KNEE, PLAN, by_hand, clean, one, together

HAND = """\
plan "Hill"
  for        P-014, aged 67
  starts     2027-03-01
  about      knee osteoarthritis
  lasts      12 weeks
goal "Up the hill with a neighbour"
  by         week 12
  because    "the view"
target "More from the chair"
  by         week 10
  reach      3x8 in sit-to-stand
rest
  room for   2 weeks
  still do   walking 5 min 3 times a day
  return     1 step lower for 1 week
pain
  accept     up to 5/10 during
exercise sit-to-stand
  kind       strength
  works      quadriceps
  easier     1x4 "high chair"
  begin      2x6 "chair"
  then       2x8
  then       3x8
  then       3x8 at 2 kg
  progress   every 2 weeks
exercise hip-hinge
  kind       strength
  begin      2x8
  then       2x10
  progress   every 3 weeks
activity walking
  kind       aerobic
  begin      3200 steps/day
  rise       300 steps/day every week to 5000 steps/day
  at most    25 % above the aim
session "Chair and hinge"
  days       Mon, Wed, Fri
  at         07:30 for 30 min
  place      "front room"
  do         sit-to-stand, hip-hinge
  cue        "after breakfast"
tell "Sore does not mean harm."
review every 4 weeks
"""


def changed(*pairs):
    text = HAND
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    return by_hand(text)


def test_filled_template_is_the_plan_written_by_hand():
    assert clean(PLAN, knee=KNEE) == by_hand(HAND)


def test_plan_by_itself_is_given_back_untouched():
    source = Source("p.plan", HAND)
    made, found = compose(source)
    assert made is source
    assert found == ()


@pytest.mark.parametrize("word", ["changed", "fillet", "ladders"])
def test_word_that_only_looks_like_it_leaves_a_plan_untouched(word):
    source = Source("p.plan", f'plan "A"\n  {word} "from template"\n')
    assert compose(source)[0] is source


def test_changed_line_takes_the_place_of_the_templates():
    plan = clean(PLAN + 'change session "Chair and hinge"\n  days Tue, Thu\n', knee=KNEE)
    assert plan == changed(("days       Mon, Wed, Fri", "days Tue, Thu"))


def test_changed_pace_takes_the_place_of_another_kind_of_pace():
    plan = clean(PLAN + "change exercise hip-hinge\n  progress after 2 sessions clean, about every week\n", knee=KNEE)
    assert plan == changed(("progress   every 3 weeks", "progress after 2 sessions clean, about every week"))


def test_own_begin_takes_the_place_of_the_whole_ladder_and_keeps_the_pace():
    own = 'change exercise sit-to-stand\n  begin 1x5 "stool"\n  then 1x8\n'
    plan = clean(PLAN + own, knee=KNEE)
    ladder = HAND[HAND.index("  easier     1x4") : HAND.index("  progress   every 2 weeks")]
    assert plan == changed((ladder, '  begin 1x5 "stool"\n  then 1x8\n'))


def test_own_rise_takes_the_place_of_steps_and_pace():
    own = "change exercise hip-hinge\n  begin 2x8 at 2 kg\n  rise 1 kg every 2 weeks to 5 kg\n"
    plan = clean(PLAN + own, knee=KNEE)
    ladder = "  begin      2x8\n  then       2x10\n  progress   every 3 weeks\n"
    assert plan == changed((ladder, "  begin 2x8 at 2 kg\n  rise 1 kg every 2 weeks to 5 kg\n"))


@pytest.mark.parametrize(
    ("block", "line", "old"),
    [
        ("goal", 'because "my sister lives up there"', 'because    "the view"'),
        ("rest", "room for 3 weeks", "room for   2 weeks"),
        ("pain", "accept up to 4/10 during", "accept     up to 5/10 during"),
        ("plan", "lasts 16 weeks", "lasts      12 weeks"),
        ("plan", "review at week 3, week 9", "review every 4 weeks"),
        ('target "More from the chair"', "by week 11", "by         week 10"),
        ("activity walking", "at most 4500 steps/day", "at most    25 % above the aim"),
    ],
)
def test_block_is_changed_line_by_line(block, line, old):
    assert clean(f"{PLAN}change {block}\n  {line}\n", knee=KNEE) == changed((old, line))


def test_what_stands_anywhere_is_added_even_under_change_plan():
    plan = clean(f'{PLAN}change plan\n  lasts 16 weeks\ntell "Slowly."\n', knee=KNEE)
    assert sorted(plan.tells) == ["Slowly.", "Sore does not mean harm."]
    assert plan.weeks == 16


def test_left_out_exercise_goes_from_its_session_too():
    plan = clean(PLAN + '  leave out exercise hip-hinge because "the back does not like it"\n', knee=KNEE)
    block = HAND[HAND.index("exercise hip-hinge") : HAND.index("activity walking")]
    assert plan == changed((block, ""), (", hip-hinge", ""))


def test_left_out_activity_goes_from_easier_weeks_too():
    plan = clean(PLAN + '  leave out activity walking because "not yet"\n', knee=KNEE)
    block = HAND[HAND.index("activity walking") : HAND.index("session")]
    assert plan == changed((block, ""), ("  still do   walking 5 min 3 times a day\n", ""))


def test_left_out_session_and_target():
    out = """\
  leave out session "Chair and hinge" because "at work"
  leave out target "More from the chair" because "not hers"
"""
    plan = clean(PLAN + out, knee=KNEE)
    assert plan.sessions == ()
    assert plan.targets == ()


def test_own_block_of_a_new_name_is_added():
    own = "exercise calf-raise\n  kind strength\n  begin 2x8\n  then 2x10\n  progress every 2 weeks\n"
    assert clean(PLAN + own, knee=KNEE) == by_hand(HAND + own)


def test_own_today_is_put_into_the_templates():
    knee = KNEE + '\ntoday\n  daily-steps <steps-now>\n  has "sturdy chair"\n'
    plan = clean(PLAN + 'today\n  body-weight 84 kg\n  has "step"\n', knee=knee)
    assert [m.measure for m in plan.today.measures] == ["daily-steps", "body-weight"]
    assert plan.today.has == ("sturdy chair", "step")


def test_templates_made_from_templates_four_deep():
    steps = "exercise x\n  begin 1x<n>\n  then 1x<n + 1>\n  progress every week\n"
    slower = "change exercise x\n  progress every 2 weeks\n"
    files = {
        "a": f'template "A"\n  lasts 12 weeks\n  blank n 1 to 9\n{steps}',
        "b": 'template "B"\n  from template "a.plan"\n  blank m 1 to 4\n  fill n <2 x m>\n',
        "c": f'template "C"\n  from template "b.plan"\n  blank k 1 to 4\n  fill m <k>\n{slower}',
        "d": 'template "D"\n  from template "c.plan"\n  fill k 3\n',
    }
    plan = clean('plan "P"\n  starts 2027-03-01\n  from template "d.plan"\n', **files)
    hand = 'plan "P"\nstarts 2027-03-01\nlasts 12 weeks\nexercise x\nbegin 1x6\nthen 1x7\nprogress every 2 weeks\n'
    assert plan == by_hand(hand)


NESTED = {
    "knee": KNEE,
    "mine": """\
template "Mine"
  from template "knee.plan"
  leave out exercise hip-hinge because "nobody here does it"
  fill steps-now 3200 steps/day
  fill reps-now 6
  fill load 2 kg
  fill helper "a neighbour"

change session "Chair and hinge"
  days Tue, Thu
""",
}


def test_template_may_leave_out_and_change_what_its_own_template_has():
    plan = clean('plan "Hill"\n  for P-014, aged 67\n  starts 2027-03-01\n  from template "mine.plan"\n', **NESTED)
    block = HAND[HAND.index("exercise hip-hinge") : HAND.index("activity walking")]
    assert plan == changed((block, ""), (", hip-hinge", ""), ("Mon, Wed, Fri", "Tue, Thu"))


def test_text_of_an_inner_template_is_filled_from_the_outer():
    files = {
        "a": 'template "A"\n  lasts 6 weeks\n  blank who text\ntell "Ask <who>."\n',
        "b": 'template "B"\n  from template "a.plan"\n  blank name text\n  fill who "<name>, or us"\n',
    }
    plan = clean('plan "P"\n  starts 2027-03-01\n  from template "b.plan"\n  fill name "a friend"\n', **files)
    assert plan.tells == ("Ask a friend, or us.",)


def test_fill_in_another_unit_is_converted_exactly_and_shown_as_written():
    knee = KNEE.replace("blank      load 0.5 to 5 kg", "blank      load 0 to 12 lb")
    plan = clean(PLAN.replace("load 2 kg", "load 0.90718474 kg"), knee=knee)
    load = plan.exercises[0].steps[-1].dose.load
    assert (load.amount.low, load.unit) == (Fraction("0.90718474"), "kg")


def test_line_ends_and_marks_of_a_word_processor_make_no_difference():
    text = ("\ufeff" + PLAN).replace("\n", "\r\n").replace('"', "”").replace("  fill", "\u00a0\tfill")
    knee = KNEE.replace("\n", "\r").replace("2x<", "2×<")
    assert clean(text, knee=knee) == by_hand(HAND)


def test_remark_of_the_template_is_left_there_and_the_plans_own_stays():
    _, _, source = together(
        PLAN + "# mine\n", knee=KNEE.replace("lasts      12 weeks", "lasts      12 weeks # <nobody>")
    )
    assert "# mine" in source.text
    assert "nobody" not in source.text


def test_blank_in_a_remark_is_no_blank():
    assert clean(PLAN, knee=KNEE.replace("# x", "") + "# begin <nothing>\n") == by_hand(HAND)


def test_repeated_line_says_both_values():
    finding, line = one(PLAN.replace("  starts", "  lasts 20 weeks\n  starts"), knee=KNEE)
    assert finding.rule == "contradiction"
    assert "lasts 12 weeks" in finding.message
    assert "lasts 20 weeks" in finding.message
    assert line == "lasts 20 weeks"


def test_screening_of_a_template_cannot_be_changed_and_is_said_to_belong_to_the_plan():
    own = "screening 2027-02-22\n  clear yes for moderate\n"
    finding, line = one(PLAN + own, knee=KNEE + "\nscreening 2027-01-01\n  clear yes for vigorous\n")
    assert "clear yes for vigorous" in finding.message
    assert "change screening" not in finding.advice
    assert line == "screening 2027-02-22"


def test_repeated_block_says_both_values():
    finding, line = one(PLAN + "exercise hip-hinge\n  begin 1x4\n", knee=KNEE)
    assert finding.rule == "contradiction"
    assert "2x8" in finding.message
    assert "1x4" in finding.message
    assert line == "exercise hip-hinge"
    assert finding.blocks
