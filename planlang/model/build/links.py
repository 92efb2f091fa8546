"""What a plan's parts say of each other: names that nothing bears, words that no data knows, missing lines."""

from __future__ import annotations

from planlang.model.build.context import Context
from planlang.model.catalogue import kinds, muscle, muscles, signs
from planlang.model.exercise import Exercise
from planlang.model.plan import Plan
from planlang.syntax.statements import HEADERS
from planlang.text.meant import did_you_mean


def links(plan: Plan, context: Context) -> None:
    """Adds a finding for each thing that only the whole plan can show."""
    _missing(plan, context)
    _unknown_words(plan, context)
    in_sessions = {name for session in plan.sessions for name in session.do}
    for exercise in plan.exercises:
        if exercise.name in kinds():
            context.cannot_read(
                f"`{exercise.name}` is a kind of exercise, and can't name one.", exercise.span, "Give it another name."
            )
        if exercise.name in HEADERS:
            context.cannot_read(
                f"`{exercise.name}` starts a block, and can't name an exercise.", exercise.span, "Give it another name."
            )
        if exercise.name in in_sessions:
            _times_in_session(exercise, context)
        later = exercise.places.get("then") or exercise.places.get("rise")
        if not exercise.steps and later and not {"begin", "?"} & plan.unread:
            context.cannot_reckon(
                f"The ladder of `{exercise.name}` has no first step.",
                later,
                "Write `begin` with the dose to start from.",
            )
    for target in plan.targets:
        nothing = target.reach is None and target.keep is None and target.do is None and target.measured is None
        if nothing and not {"reach", "keep", "do_once", "measured_by", "?"} & plan.unread:
            context.cannot_reckon(
                f'The target "{target.title}" does not say what is done.',
                target.span,
                "Add a line: reach (a dose in an exercise), keep (a habit), do (a one-off) or measured by.",
            )
    turns = {s.name for s in plan.sessions}
    for session in plan.sessions:
        if session.in_turn_with is not None and session.in_turn_with not in turns:
            context.cannot_reckon(
                f'There is no session "{session.in_turn_with}" to take turns with.',
                session.places.get("in_turn"),
                did_you_mean(session.in_turn_with, turns),
            )
    for away in plan.away:
        if away.session is not None and away.session not in turns:
            context.cannot_reckon(
                f'There is no session "{away.session}".', away.span, did_you_mean(away.session, turns)
            )


def _missing(plan: Plan, context: Context) -> None:
    for name, there, what in (
        ("starts", plan.starts is not None, "its first day: starts 2027-03-01"),
        ("lasts", plan.weeks is not None, "how long it is: lasts 18 weeks"),
    ):
        if (
            not there
            and name not in plan.places
            and not {name, "?"} & plan.unread
            and "starts_after" not in plan.places
        ):
            context.cannot_reckon(
                f"The plan does not say {what.split(':')[0]}.", plan.span, f"Add a line:{what.split(':')[1]}."
            )


def _times_in_session(exercise: Exercise, context: Context) -> None:
    for step in exercise.steps:
        if step.written.times_a_day is not None:
            context.cannot_reckon(
                "A session is done at its own times; times a day have no meaning in it.",
                step.span,
                "Give the session two times (at 07:30, 18:00), or make this an activity.",
            )
            return


def _unknown_words(plan: Plan, context: Context) -> None:
    for about in plan.about:
        if plan.catalogue.condition(about.name) is None:
            context.unknown(
                f'The condition "{about.name}" is not known here; rules for known conditions do not judge this plan.',
                about.span,
                did_you_mean(about.name, plan.catalogue.conditions)
                or "Write it as the clinic's data names it, or take the finding as a reminder. "
                "A clinic's own conditions stand in a file that its clinic.yaml names.",
            )
    known_kinds, known_muscles = kinds(), muscles()
    for exercise in plan.exercises:
        if exercise.kind is not None and exercise.kind not in known_kinds:
            context.unknown(
                f'"{exercise.kind}" is no kind of exercise that is known.',
                exercise.places["kind"],
                did_you_mean(exercise.kind, known_kinds) or f"Choose one of {', '.join(known_kinds)}.",
            )
        for name in exercise.works:
            if muscle(name) is None:
                context.unknown(
                    f'"{name}" is no muscle group that is known.',
                    exercise.places["works"],
                    did_you_mean(name, known_muscles) or f"Choose one of {', '.join(known_muscles)}.",
                )
    for sign in plan.signs_left_out:
        if sign.name not in signs():
            context.unknown(
                f'No sign is called "{sign.name}"; nothing is left out.',
                sign.span,
                did_you_mean(sign.name, signs()) or f"Choose one of {', '.join(signs())}.",
            )
    named = [(m.measure, m.span) for m in plan.today.measures]
    named += [(t.measured.measure, t.measured.span) for t in (plan.goal, *plan.targets) if t and t.measured]
    for name, span in named:
        if plan.catalogue.measure(name) is None:
            help = did_you_mean(name, plan.catalogue.measures) or (
                "No rule judges it. A clinic's own measures stand in a file that its clinic.yaml names."
            )
            context.unknown(f'"{name}" is no measure that is known.', span, help)
