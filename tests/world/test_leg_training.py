"""High-speed leg training in three phases: Table 1 of Trials 2017;18 (doi 10.1186/s13063-017-2129-7)."""

from __future__ import annotations

from planlang.model.show import dose_text
from tests.world.programmes import plan_of, sessions_a_week, text_of, training, weeks_of

PHASES = {1: range(1, 3), 2: range(3, 6), 3: range(6, 9)}
LEG_PRESS = {1: "2x8-12 at 20-40 %1RM", 2: "2x5-8 at 40-60 %1RM", 3: "2-3x2-5 at 60-80 %1RM"}
OTHERS = {1: "2x8-12", 2: "2x5-8", 3: "2-3x2-5"}


def doses(exercise: str) -> dict[int, str | None]:
    weeks = training(weeks_of(text_of("high-speed-leg-training")))
    done = {w.training_week: w.exercises.get(exercise) for w in weeks}
    return {week: dose_text(d.dose) if d else None for week, d in done.items()}


def as_published(by_phase: dict[int, str | None]) -> dict[int, str | None]:
    return {week: by_phase[phase] for phase, weeks in PHASES.items() for week in weeks}


def test_leg_press_takes_a_share_of_the_maximum_in_each_phase():
    assert doses("leg-press") == as_published(LEG_PRESS)


def test_step_up_and_sit_to_stand_keep_the_repetitions_of_the_phase():
    assert doses("step-up") == doses("sit-to-stand") == as_published(OTHERS)


def test_the_empty_cell_of_calf_raise_is_a_dose_to_be_set():
    assert doses("calf-raise") == as_published({1: "2x8-12", 2: "to be set at week 3", 3: "2-3x2-5"})


def test_squat_stair_climb_and_lunge_join_in_phase_two():
    for name in ("squat", "stair-climb", "lunge"):
        assert doses(name) == as_published({1: None, 2: "2x5-8", 3: "2-3x2-5"})


def test_sixteen_sessions_four_six_and_six():
    held = sessions_a_week(weeks_of(text_of("high-speed-leg-training")))
    assert [sum(held[w - 1] for w in weeks) for weeks in PHASES.values()] == [4, 6, 6]


def test_repetitions_fall_while_load_rises_and_nothing_is_found_against_it():
    plan = plan_of(text_of("high-speed-leg-training"))
    steps = [s.dose for s in plan.exercise("leg-press").steps]
    assert [s.size.amounts[0].high for s in steps] == [12, 8, 5]
    assert [s.load.amount.high for s in steps] == [40, 60, 80]


def test_kilograms_of_a_share_come_from_the_test():
    # 60 kg for 5 repetitions (ours): 1RM = 60 x (1 + 5/30) = 70 kg (Epley 1985)
    plan = plan_of(text_of("high-speed-leg-training"))
    first = plan.exercise("leg-press").steps[0].dose
    assert dose_text(first, plan.today, "leg-press") == "2x8-12 at 20-40 %1RM (14-28 kg)"


def test_add_when_the_top_of_the_range_is_reached_stands_as_a_question_to_ask():
    # "add 5-10 % when the top of the range is reached in the last set": the language keeps the sentence with the pace
    pace = plan_of(text_of("high-speed-leg-training")).exercise("leg-press").pace
    assert pace.condition == "top of the range in the last set, well and fast: add 5 to 10 %"
