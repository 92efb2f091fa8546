"""What a person reads: in plain words, from the plan's own figures, and never what is not for a calendar."""

from __future__ import annotations

import re

import pytest

from planlang.calendar.entry import Entry, Kind
from planlang.model.known import BUILT_IN
from planlang.planning.telling.names import about_weight, neutral
from planlang.planning.telling.standing import Contacts
from tests.calendar.made import beds, daily, entries_of, stairs

STEPPING = (
    'progress   every 2 weeks if "every set done twice running, pain within the limit"',
    "progress every 2 weeks",
)


def on(text: str, day: str, kind: Kind = Kind.SESSION, rest: tuple[int, ...] = (), summary: str = "") -> Entry:
    """The entry of a kind on a day."""
    found = [e for e in entries_of(text, rest) if e.first_day.isoformat() == day and e.kind is kind]
    return next(e for e in found if summary in e.summary)


def of(text: str, kind: Kind, rest: tuple[int, ...] = ()) -> list[Entry]:
    return [e for e in entries_of(text, rest) if e.kind is kind]


def test_an_ordinary_day_says_what_to_do_in_the_plans_own_figures() -> None:
    lines = on(beds(), "2027-03-01").description.splitlines()
    assert lines[0] == "Today, about 35 min"
    assert "- Warm up: walk about indoors, 3 min" in lines
    assert "- Sit to stand, dining chair, hands on thighs: 2 x 6" in lines
    assert "- Tandem stance, holding on to kitchen worktop: 2 x 10 s each side" in lines
    assert "- Knee bends: 2 x 10 each side" in lines
    assert "Sore day? Sit to stand, higher chair, push with the hands: 1 x 6, and stop there. That counts." in lines


def test_every_day_with_exercise_carries_pain_flare_help_and_whose_advice_it_is() -> None:
    working = (Kind.SESSION, Kind.SPARE, Kind.DAILY)
    for entry in entries_of(beds()):
        if entry.kind in working:
            assert "Pain up to 5 out of 10 is fine if it is back to usual by tomorrow." in entry.description
            assert "A flare? Take an easier week whenever you need one. The plan has room for 3." in entry.description
            assert "Stop and get help: chest pain, faint" in entry.description
        assert "It supports your physiotherapist's advice and does not replace it" in entry.description
        assert "local rules come first" in entry.description
        assert "Made for the person it was given to" in entry.description
        assert "version 1" in entry.description


def test_an_entry_says_until_when_the_plan_is_valid() -> None:
    assert (
        "Plan of 22 Feb 2027, version 1, valid until your review on 28 Mar 2027."
        in on(beds(), "2027-03-01").description
    )


def test_a_step_up_says_what_is_new_and_when_to_stay() -> None:
    assert (
        "New today: sit to stand, 2 x 8. If last time went over 5 out of 10, or was not back to usual next morning,"
        " stay with 2 x 6."
    ) in on(beds(STEPPING), "2027-03-15").description.splitlines()


def test_a_step_up_asks_the_plans_own_question_first() -> None:
    text = on(beds(), "2027-03-15").description
    assert "Before you go up: every set done twice running, pain within the limit. If not, or if last time" in text


def test_only_the_first_day_of_a_step_is_new() -> None:
    assert "New today" in on(beds(), "2027-03-15").description
    assert "New today" not in on(beds(), "2027-03-17").description
    assert "New today" not in on(beds(), "2027-03-01").description


def test_a_step_by_date_does_not_ask_how_the_last_one_felt() -> None:
    texts = [e.description for e in of(stairs(), Kind.SESSION) if "New today: step up" in e.description]
    assert texts
    for text in texts:
        line = next(x for x in text.splitlines() if x.startswith("New today: step up"))
        assert "This step goes by the date. If above 6/10 on 3 days of 5: go back to" in line
        assert "If last time" not in line


def test_an_easier_week_is_one_entry_of_seven_days_and_says_nothing_is_lost() -> None:
    (entry,) = of(beds(), Kind.EASIER_WEEK, rest=(9,))
    assert (entry.ends - entry.starts).days == 7
    assert entry.summary == "Easier week"
    lines = entry.description.splitlines()
    assert lines[0] == "This week is part of the plan. Nothing is lost."
    assert lines[1] == "Up to 2 days: as little as you need. Then little and often:"
    assert "- Knee bends: 2 x 10, twice a day" in lines
    assert "- Walking: 5 min, 3 times a day" in lines
    assert "Do more only if it eases. Back when: easing for 2 days, and I walk as usual indoors." in lines
    assert "Not easing after 10 days; or something new? Call us: 03 5550 0100, weekdays 8 to 17." in lines


def test_an_easier_week_has_no_sessions_and_no_second_entry_for_activities() -> None:
    days = [e for e in entries_of(beds(), (9,)) if "2027-04-26" <= e.first_day.isoformat() < "2027-05-02"]
    assert [e.kind for e in days] == [Kind.EASIER_WEEK]


def test_an_easier_week_of_nothing_does_not_ask_for_movement() -> None:
    entry = of(stairs(), Kind.EASIER_WEEK, rest=(3,))[0]
    assert "No exercises this week, as agreed." in entry.description
    assert "little and often" not in entry.description
    assert "surgeon" not in entry.description


def test_a_long_rest_asks_to_be_seen_first() -> None:
    texts = [e.description for e in of(beds(), Kind.EASIER_WEEK, rest=(5, 6, 7, 8))]
    assert ["we would like to see you" in t for t in texts] == [False, False, False, True]


def test_the_first_day_back_starts_lower_on_purpose_and_says_what_was_last() -> None:
    entry = on(beds(), "2027-05-03", rest=(9,))
    assert entry.summary == "Chair and bench (easier)"
    lines = entry.description.splitlines()
    assert "Welcome back. Start one step lower on purpose:" in lines
    assert "- Sit to stand, dining chair, hands on thighs: 2 x 10 (last time 3 x 10)" in lines
    assert "It should feel too easy. Next week you go back to where you were, then on." in lines
    assert "If it flares again today, stay here one more week." in lines


def test_the_second_day_of_an_easing_does_not_welcome_again() -> None:
    text = on(beds(), "2027-05-05", rest=(9,)).description
    assert "Welcome back" not in text
    assert "Still one step lower on purpose:" in text


def test_a_longer_easing_says_when_it_is_over() -> None:
    text = next(e for e in of(stairs(), Kind.SESSION, rest=(3,)) if "Welcome back" in e.description).description
    assert "In 2 weeks you are back to where you were, then on." in text


def test_room_that_is_taken_is_counted_without_blame() -> None:
    assert "1 of 3 easier weeks taken." in on(beds(), "2027-05-03", rest=(9,)).description
    last = of(beds(), Kind.SESSION, rest=(5, 7, 9))[-1].description
    assert "Take an easier week all the same. The dates then need to move: call us, 03 5550 0100" in last


def test_a_spare_week_says_to_stay_at_the_level_reached() -> None:
    entry = of(beds(), Kind.SPARE)[0]
    assert "You did not need this spare week. Stay at the level you reached:" in entry.description
    assert "- Sit to stand, dining chair, hands on thighs: 3 x 10, with 2 kg" in entry.description


def test_a_target_is_a_checkpoint_done_or_not_yet() -> None:
    entry = on(beds(), "2027-07-04", Kind.TARGET)
    assert entry.summary == "Checkpoint"
    assert entry.description.startswith(
        "Rise from the dining chair with a weight. Done, or not yet: both are fine. Bring it to your review."
    )


def test_a_review_is_an_appointment_on_every_fourth_last_day() -> None:
    found = of(beds(), Kind.REVIEW)
    assert {e.summary for e in found} == {"Appointment"}
    assert [e.first_day.isoformat() for e in found] == ["2027-03-28", "2027-04-25", "2027-05-23", "2027-06-20"]


def test_a_task_is_to_be_done_by_its_day() -> None:
    entry = on(beds(), "2027-04-11", Kind.TASK)
    assert entry.summary == "To do: borrow a 2 kg weight"
    assert entry.description.startswith("By today: borrow a 2 kg weight.")


def test_a_daily_aim_is_one_entry_a_week_with_its_ceiling() -> None:
    found = of(beds(), Kind.DAILY)
    assert {(e.ends - e.starts).days for e in found} == {7}
    assert found[0].summary == "Walking"
    assert "- Walking: 3200 steps a day" in found[0].description
    assert "On a good day stop at 4000 steps" in found[0].description


def test_a_weekly_quota_says_the_week_and_the_floor_of_a_bad_day() -> None:
    text = of(stairs(), Kind.DAILY)[0].description
    assert "- Cycling: 40 min in the week, 10 min or more at a time" in text
    assert "On a bad day at least 2 x 5 min. That counts." in text


def test_sessions_on_days_of_ones_own_are_one_entry_for_the_week() -> None:
    found = [e for e in of(stairs(), Kind.SESSION) if e.summary == "Hands"]
    assert {(e.ends - e.starts).days for e in found} == {7}
    assert found[0].description.startswith("3 times this week, on days you choose, about 15 min each")


def test_a_visit_says_that_it_is_one_and_a_call_asks_for_nothing() -> None:
    assert "Today with us" in on(stairs(), "2027-01-07").description
    call = next(e for e in entries_of(stairs()) if e.summary.startswith("Call"))
    assert "a visit or a call, as arranged. Nothing to do beforehand." in call.description


def test_days_away_are_shown_with_what_is_done_there() -> None:
    (entry,) = of(stairs(), Kind.AWAY)
    assert (entry.first_day.isoformat(), entry.last_day.isoformat()) == ("2027-02-10", "2027-02-16")
    assert "Hands, on the days shown" in entry.description
    assert [e.summary for e in of(stairs(), Kind.AWAY_SESSION)] == ["Hands"]


def test_what_the_plan_looks_at_first_stands_above_the_exercises() -> None:
    lines = on(stairs(), "2027-01-12").description.splitlines()
    check = next(i for i, x in enumerate(lines) if x.startswith("Check first. Not today if: home reading 180/110"))
    assert check < next(i for i, x in enumerate(lines) if x.startswith("- "))


def test_the_plans_own_signs_are_added_where_the_carried_ones_do_not_say_them() -> None:
    text = on(stairs(), "2027-01-12").description
    assert "Stop if: suddenly a cold or blue foot. Then be seen today, 03 5550 0101." in text
    assert "Stop if: numb or tingling down the leg. Then call us" in text


def test_signs_that_are_carried_already_are_not_said_twice() -> None:
    assert "Stop if:" not in on(beds(), "2027-03-01").description


def test_a_sign_is_not_dropped_for_being_partly_said() -> None:
    text = beds(('stop if "the leg will not take weight" then today', 'stop if "the leg goes numb" then today'))
    assert "Stop if: the leg goes numb." in on(text, "2027-03-01").description


def test_a_sign_made_more_urgent_by_the_plan_is_said_again() -> None:
    text = beds(('hurts to move at all" then today', 'hurts to move at all" then emergency'))
    assert "Then emergency number 112." in on(text, "2027-03-01").description


def test_the_leg_is_not_spoken_of_in_a_plan_for_the_hand() -> None:
    text = daily("Europe/London", "2027-03-01").replace("knee osteoarthritis", "hand osteoarthritis")
    line = entries_of(text)[0].description
    assert "a joint newly hot and swollen" in line.lower()
    assert "calf" not in line
    assert "weight on the leg" not in line


def test_without_numbers_nothing_is_guessed() -> None:
    text = entries_of(beds(), contacts=Contacts())[0].description
    assert "your local emergency number" in text
    assert "112" not in text
    assert not re.search(r"\b(999|911|000)\b", text)


def test_a_new_replacement_is_told_to_call_first() -> None:
    text = daily("Europe/London", "2027-03-01").replace(
        "  starts", '  operation 2027-01-11 "knee replacement" left\n  starts'
    )
    line = entries_of(text)[0].description
    assert (
        "New or worse pain that lasts more than a day, or any of the signs below: call first. Do not just rest." in line
    )
    assert "A flare?" not in line


@pytest.mark.parametrize("text", [beds(), stairs()])
def test_what_is_not_for_a_calendar_is_in_none_of_its_texts(text: str) -> None:
    told = "\n".join(f"{e.summary}\n{e.description}\n{e.location}" for e in entries_of(text, (8,)))
    for word in (
        "raised beds in one morning",  # the goal
        "Saturdays with the crew",  # because
        "lift is broken",
        "osteoarthritis",
        "P-0",
        "T-03",
        "84 kg",
        "91 kg",
        "Lose 4",
        "blood",
        "neighbour",
        "9 reps",
        "sturdy chair private",
    ):
        assert word not in told


@pytest.mark.parametrize("text", [beds(), stairs()])
def test_no_text_blames_counts_down_or_promises(text: str) -> None:
    told = "\n".join(e.description for e in entries_of(text, (8,))).lower()
    for word in (
        "missed",
        "allowance",
        "adher",
        "complian",
        "lapse",
        "streak",
        "behind",
        "overdue",
        "safe",
        "will reach",
    ):
        assert word not in told


@pytest.mark.parametrize(
    "text", [beds(("calendar full", "calendar discreet")), beds(("agreed 2027-02-22 calendar full, diary yes", ""))]
)
def test_a_discreet_calendar_says_where_to_read_and_no_more(text: str) -> None:
    found = entries_of(text, (9,))
    assert {e.description for e in found} == {
        "See your sheet. Stop and get help for the signs on it. Version 1.",
    }
    assert {e.summary for e in found} == {"Exercise", "Easier week", "Checkpoint", "Appointment", "To do"}
    assert {e.location for e in found} == {None}


def test_a_discreet_calendar_has_the_same_times_and_identities() -> None:
    full, quiet = entries_of(beds()), entries_of(beds(("calendar full", "calendar discreet")))
    assert [(e.uid, e.starts, e.ends) for e in full] == [(e.uid, e.starts, e.ends) for e in quiet]


def test_a_name_that_tells_too_much_is_replaced() -> None:
    assert on(stairs(), "2027-01-12").summary == "Exercise"
    assert {e.summary for e in of(stairs(), Kind.TASK)} == {"To do", "To do: ask for a rail"}


@pytest.mark.parametrize(
    "name",
    ["Chair and bench", "Two raised beds", "Carry 5 kg of shopping", "Rise with a weight", "Knee bends", "Stairs"],
)
def test_names_that_may_be_seen(name: str) -> None:
    assert neutral(name, BUILT_IN)


@pytest.mark.parametrize(
    "name",
    [
        "Knee arthritis class",
        "P-014 bench",
        "Sore knee day",
        "Hip replacement group",
        "Weigh 80 kg",
        "Knee pain",
        "RA hands",
    ],
)
def test_names_that_tell_too_much(name: str) -> None:
    assert not neutral(name, BUILT_IN)


@pytest.mark.parametrize("title", ["Lose 4 kg", "Body weight 80 kg", "BMI under 30", "Weight loss", "lose two stone"])
def test_titles_about_body_weight(title: str) -> None:
    assert about_weight(title)


def test_in_a_week_partly_away_the_days_of_ones_own_are_those_that_are_left() -> None:
    text = stairs(("2027-02-10 to 2027-02-16", "2027-02-10 to 2027-02-12"))
    entry = on(text, "2027-02-13", summary="Hands")
    assert (entry.first_day.isoformat(), entry.last_day.isoformat()) == ("2027-02-13", "2027-02-16")


def test_on_the_easiest_step_no_sore_day_version_is_offered() -> None:
    eased = [e for e in of(stairs(), Kind.SESSION, rest=(3,)) if e.summary == "Hands (easier)"]
    assert eased
    assert not any("Sore day?" in e.description for e in eased)


def test_a_step_by_deed_asks_for_the_deed() -> None:
    text = beds(("every set done twice running, pain within the limit", "")).replace(
        'progress   every 2 weeks if ""', "progress   after 3 sessions clean, about every 2 weeks"
    )
    assert (
        "Before you go up: the last 3 sessions done as written. If not, or if last time"
        in on(text, "2027-03-15").description
    )


def test_two_limits_of_pain_are_both_said() -> None:
    text = beds(("accept     up to 5/10 during", "accept     up to 5/10 during\n  rise       of at most 2 points"))
    said = on(text, "2027-03-15").description
    assert "Pain up to 5 out of 10, and no more than 2 points above your usual, is fine if it is back to usual" in said
    assert "last time went over 5 out of 10 or went more than 2 points above your usual, or was not" in said


@pytest.mark.parametrize(
    ("usual", "limit"), [("2/10", "4 out of 10"), ("3/10", "5 out of 10"), ("9/10", "10 out of 10")]
)
def test_a_limit_above_usual_is_said_as_the_number_that_it_is(usual: str, limit: str) -> None:
    text = beds(
        ("accept     up to 5/10 during", "accept     up to 2 points above usual"),
        ("pain     3/10", f"pain     {usual}"),
    )
    said = on(text, "2027-03-15").description
    assert f"Pain up to {limit} is fine if it is back to usual" in said
    assert f"last time went over {limit}, or was not" in said


def test_a_limit_above_a_usual_that_nobody_wrote_down_is_said_in_points() -> None:
    text = beds(("accept     up to 5/10 during", "accept     up to 2 points above usual"), ("usual-pain     3/10", ""))
    said = on(text, "2027-03-15").description
    assert "Pain up to 2 points above your usual is fine if it is back to usual" in said


def test_what_is_done_instead_keeps_its_dose() -> None:
    text = stairs(("at least   2x5 min", 'at least   2x5 min\n  if "wet" do cycling-indoors 3x5 min'))
    assert "If wet: cycling indoors, 3 x 5 min instead." in of(text, Kind.DAILY)[0].description
