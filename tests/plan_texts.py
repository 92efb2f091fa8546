"""Plans as text, each drawn together with the model that it should be read into.

Every strategy yields a pair: the words (or lines) of the plan language, and the part of the model that
they say, built here without the product's own builders. `laid_out` then writes the same lines as a
hurried writer with a word processor would.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, time, timedelta
from fractions import Fraction
from random import Random
from typing import Any

from attrs import evolve
from hypothesis import strategies as st

from planlang.model.dose import Dose, Effort, Load, Rest, Size, SizeKind
from planlang.model.exercise import Ceiling, Exercise, Instead, Pace, Rise, Start, Step, WarmUp, Window
from planlang.model.plan import Away, Baseline, Condition, Goal, Plan, Prepare, Review, Target, Today, When
from planlang.model.quantity import Quantity, Range
from planlang.model.rest import Expect, Lighter, Pain, PainLevel, Return, Sign, StillDo
from planlang.model.rest import Rest as RestBlock
from planlang.model.session import Days, Kit, Session
from planlang.text.source import Source

NAMES = ["sit-to-stand", "step-up", "gåing-ute", "elevación", "步行", "Treppe-2", "walking", "lift-10"]
WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
SIGN_ACTIONS = ["emergency", "today", "tell us"]

counts = st.integers(1, 40)
quoted = st.text(st.characters(exclude_categories=["Cs"], exclude_characters='"\n\r'), min_size=1, max_size=20)
days = st.integers(0, 3000).map(lambda n: date(2027, 1, 1) + timedelta(days=n))


@st.composite
def numbers(draw: st.DrawFn, most: int = 60) -> tuple[str, Fraction]:
    """`8`, `2.5`."""
    tenths = draw(st.integers(1, most * 10))
    text = f"{tenths // 10}.{tenths % 10}" if draw(st.booleans()) else str(max(1, tenths // 10))
    return text, Fraction(text)


@st.composite
def ranges(draw: st.DrawFn, most: int = 60) -> tuple[str, Range]:
    """`8`, `8-12`."""
    low = draw(st.integers(1, most))
    if draw(st.booleans()):
        return str(low), Range.of(low)
    high = low + draw(st.integers(1, 20))
    return f"{low}-{high}", Range.of(low, high)


@st.composite
def sizes(draw: st.DrawFn, in_sessions: bool = True) -> tuple[str, Size]:
    """Every kind of size but the open and the unknown ones."""
    kind = draw(
        st.sampled_from(["sets", "timed sets", "unequal", "one"] + ([] if in_sessions else ["a day", "a week"]))
    )
    if kind in ("sets", "timed sets"):
        sets_text, sets = draw(ranges(8))
        text, amount = draw(ranges())
        unit = draw(st.sampled_from(["s", "min"])) if kind == "timed sets" else "reps"
        words = f"{sets_text}x{text}" + (f" {unit}" if unit != "reps" else "")
        return words, Size(SizeKind.TIMED_SETS if unit != "reps" else SizeKind.REPS, (amount,), unit, sets)
    if kind == "unequal":
        made = draw(st.lists(ranges(), min_size=2, max_size=4))
        unit = draw(st.sampled_from(["reps", "s", "min"]))
        size_kind = SizeKind.REPS if unit == "reps" else SizeKind.TIMED_SETS
        return ", ".join(t for t, _ in made) + f" {unit}", Size(
            size_kind, tuple(r for _, r in made), unit, Range.of(len(made))
        )
    unit, size_kind = {
        "one": draw(
            st.sampled_from(
                [("min", SizeKind.TIME), ("s", SizeKind.TIME), ("km", SizeKind.DISTANCE), ("m", SizeKind.DISTANCE)]
            )
        ),
        "a day": draw(st.sampled_from([("steps/day", SizeKind.PER_DAY), ("min/day", SizeKind.PER_DAY)])),
        "a week": ("min/week", SizeKind.PER_WEEK),
    }[kind]
    whole = unit == "steps/day"
    text, value = draw(counts.map(lambda n: (str(n), Fraction(n))) if whole else numbers())
    return f"{text} {unit}", Size(size_kind, (Range(value, value),), unit)


@st.composite
def dose_parts(draw: st.DrawFn) -> tuple[list[str], dict[str, Any]]:
    """What may stand after a size, in any order, each at most once."""
    text, value = draw(numbers())
    range_text, span = draw(ranges())
    rating = draw(st.integers(0, 10))
    up, hold, down = draw(st.tuples(st.integers(0, 9), st.integers(0, 9), st.integers(0, 9)))
    words = draw(quoted)
    choices: list[tuple[str, dict[str, Any]]] = [
        draw(
            st.sampled_from(
                [
                    (f"at {range_text} kg", {"load": Load("mass", span, "kg")}),
                    (f"at {text} lb", {"load": Load("mass", Range(value, value), "lb")}),
                    (f"at {range_text} %1RM", {"load": Load("1RM", span, "%")}),
                    (f"at {range_text} %1RM of leg-press", {"load": Load("1RM", span, "%", "leg-press")}),
                    (f"at {text} % of body-weight", {"load": Load("body weight", Range(value, value), "%")}),
                    (f"at {range_text}RM", {"load": Load("RM", span, "RM")}),
                ]
            )
        ),
        (f"at effort {rating}/10", {"effort": Effort(Range.of(rating), 10)}),
        (f"at {range_text} reps in reserve", {"reserve": span}),
        (f"holding {text} s", {"hold": Quantity(value, "s")}),
        (f"step {text} cm", {"step_height": Quantity(value, "cm")}),
        (f"chair {text} cm", {"chair_height": Quantity(value, "cm")}),
        (f'with "{words}"', {"band": words}),
        (f"tempo {up}-{hold}-{down}", {"tempo": (up, hold, down)}),
        draw(
            st.sampled_from(
                [
                    (f"resting {range_text} s", {"rest": Rest(span, "s")}),
                    ("resting as long as a set", {"rest": Rest()}),
                ]
            )
        ),
        ("each side", {"each_side": True}),
        (f'"{words}"', {"variant": words}),
    ]
    picked = draw(st.lists(st.sampled_from(choices), max_size=4, unique_by=lambda c: c[0]))
    said: dict[str, Any] = {}
    for _, part in picked:
        said |= part
    return [text for text, _ in picked], said


@st.composite
def doses(draw: st.DrawFn, in_sessions: bool = True) -> tuple[str, Dose]:
    """`3x8 at 2 kg each side`."""
    text, size = draw(sizes(in_sessions))
    words, parts = draw(dose_parts())
    return " ".join([text, *words]), Dose(size=size, **parts)


CARRIED = ["load", "effort", "reserve", "band", "step_height", "chair_height", "hold", "tempo", "rest", "variant"]


def carried(before: Dose, written: Dose) -> Dose:
    """The whole dose of a step, as the language page says it: a new variant carries nothing on."""
    if written.variant not in (None, before.variant):
        return written
    kept = {n: getattr(before, n) for n in CARRIED if getattr(written, n) is None}
    return evolve(written, **kept)


@st.composite
def ladders(draw: st.DrawFn, in_sessions: bool) -> tuple[list[str], dict[str, Any]]:
    """`begin`, `then` lines, and how it goes up."""
    made = draw(st.lists(doses(in_sessions), min_size=1, max_size=4))
    lines: list[str] = []
    steps: list[Step] = []
    for text, dose in made:
        weeks = draw(st.none() | st.integers(1, 9))
        whole = carried(steps[-1].dose, dose) if steps else dose
        steps.append(Step(whole, dose, weeks))
        lines.append(f"{'then' if lines else 'begin'} {text}" + (f" for {weeks} weeks" if weeks else ""))
    said: dict[str, Any] = {"steps": tuple(steps)}
    if draw(st.booleans()):
        text, dose = draw(doses(in_sessions))
        lines.insert(draw(st.integers(0, len(lines))), f"easier {text}")
        said["easier"] = Step(dose, dose)
    every, why, deeds = draw(st.integers(1, 12)), draw(quoted), draw(counts)
    way, pace = draw(
        st.sampled_from(
            [
                (f"progress every {every} weeks", {"pace": Pace(every)}),
                (f'progress every {7 * every} days if "{why}"', {"pace": Pace(every, condition=why)}),
                (f"progress every {every} weeks from training week {deeds}", {"pace": Pace(every, from_week=deeds)}),
                (
                    f'progress every {every} weeks by date, one step down if "{why}"',
                    {"pace": Pace(every, "date", down_if=why)},
                ),
                (f"progress after {deeds} sessions clean, about every week", {"pace": Pace(1, "deed", deeds)}),
                (f'stay on this step because "{why}"', {"stay_because": why}),
                ("", {}),
            ]
        )
    )
    return [*lines, *([way] if way else [])], said | pace


@st.composite
def rises(draw: st.DrawFn) -> tuple[list[str], dict[str, Any]]:
    """A ladder made by `rise`, in steps a day."""
    start, add = draw(st.integers(500, 6000)), draw(st.integers(50, 900))
    to, every = start + draw(st.integers(1, 4000)), draw(st.integers(1, 4))
    values = [*range(start, to, add), to]
    dose = [Dose(size=Size(SizeKind.PER_DAY, (Range.of(v),), "steps/day")) for v in values]
    steps = tuple(Step(d, d if n == 0 else Dose()) for n, d in enumerate(dose))
    rise = Rise(Quantity(Fraction(add), "steps/day"), every, Quantity(Fraction(to), "steps/day"))
    lines = [f"begin {start} steps/day", f"rise {add} steps/day every {every} weeks to {to} steps/day"]
    return lines, {"steps": steps, "rise": rise, "pace": Pace(every)}


@st.composite
def windows(draw: st.DrawFn) -> tuple[str, Window]:
    """`training weeks 1 to 3, 5, 7 on`."""
    a, b, c = draw(counts), draw(counts), draw(counts)
    return draw(
        st.sampled_from(
            [
                (f"training weeks {a} to {a + b}", Window(((a, a + b),))),
                (f"training week {a}", Window(((a, a),))),
                (f"training weeks {a} to {a + b}, {a + b + c} on", Window(((a, a + b), (a + b + c, None)))),
            ]
        )
    )


@st.composite
def exercises(draw: st.DrawFn, name: str, in_sessions: bool) -> tuple[list[str], Exercise]:
    """An `exercise` block, or an `activity` block for what stands in no session."""
    lines, said = draw(ladders(True) if in_sessions else st.one_of(rises(), ladders(False)))
    text, why = draw(quoted), draw(quoted)
    window_text, window = draw(windows())
    weeks = draw(counts)
    extra: list[tuple[str, dict[str, Any]]] = [
        ("kind strength", {"kind": "strength"}),
        ("works quadriceps, calves", {"works": ("quadriceps", "calves")}),
        ("tags floor, tandem", {"tags": ("floor", "tandem")}),
        (f'how "{text}"', {"how": text}),
        (f'careful "{text}"', {"careful": text}),
        (f'hold on to "{text}"', {"hold_on_to": text}),
        (f'kit "{text}", "{why}" from step 2', {"kit": (Kit(text), Kit(why, 2))}),
        (f'with "{text}", "{why}"', {"companions": (text, why)}),
        (f'pause while "{why}"', {"pause_while": (why,)}),
        (f'because "{why}"', {"because": why}),
        (f"start after {weeks} weeks of balance", {"start": Start(weeks=weeks, of="balance")}),
        (window_text, {"window": window}),
        (f"at most {weeks} % above the aim", {"at_most": Ceiling(percent_above=Fraction(weeks))}),
        (
            f'if "{text}" do indoor-bike {weeks} min',
            {"instead": (Instead(text, "indoor-bike", Dose(size=Size(SizeKind.TIME, (Range.of(weeks),), "min"))),)},
        ),
    ]
    picked = draw(st.lists(st.sampled_from(extra), max_size=5, unique_by=lambda e: e[0]))
    for line, part in picked:
        lines.insert(draw(st.integers(0, len(lines))), line)
        said |= part
    header = "exercise" if in_sessions else "activity"
    return [f"{header} {name}", *lines], Exercise(name=name, activity=not in_sessions, **said)


@st.composite
def day_lines(draw: st.DrawFn) -> tuple[str, Days]:
    """Every day rule of the language."""
    count, more = draw(st.integers(1, 3)), draw(st.integers(1, 3))
    named = tuple(sorted(draw(st.sets(st.integers(0, 6), min_size=3, max_size=7))))
    words = ", ".join(WEEKDAYS[d] for d in named)
    text, said = draw(
        st.sampled_from(
            [
                (f"days {words}", Days(fixed=named)),
                (f"days {count} a week", Days(low=count, high=count)),
                (f"days {count} to {count + more} a week", Days(low=count, high=count + more)),
                (f"days {count}-{count + more} a week", Days(low=count, high=count + more)),
                (f"days {count} a week from {words}", Days(low=count, high=count, among=named)),
                (f"days {count} a week, you choose", Days(low=count, high=count, you_choose=True)),
                ("days every second day", Days(every_second=True)),
                ("days every day", Days(fixed=tuple(range(7)))),
                (f"days once every {more + 1} weeks", Days(low=1, high=1, every_weeks=more + 1)),
                (f"days {count} a week with 1 day between", Days(low=count, high=count, between=1)),
            ]
        )
    )
    if draw(st.booleans()):
        window_text, window = draw(windows())
        return f"{text} {window_text}", evolve(said, window=window)
    return text, said


@st.composite
def sessions(draw: st.DrawFn, title: str, do: Sequence[str]) -> tuple[list[str], Session]:
    """A `session` block that does these exercises."""
    day_text, day = draw(day_lines())
    minute = draw(st.integers(0, 24 * 60 - 1))
    at = time(minute // 60, minute % 60)
    text, minutes, effort = draw(quoted), draw(counts), draw(st.integers(0, 10))
    window_text, window = draw(windows())
    extra: list[tuple[str, dict[str, Any]]] = [
        (f"at {at:%H:%M} for {minutes} min", {"times": (at,), "minutes": Fraction(minutes)}),
        (f'place "{text}"', {"place": text}),
        (f'kit "{text}", "mat" from step {minutes}', {"kit": (Kit(text), Kit("mat", minutes))}),
        (f'warm-up {minutes} min "{text}"', {"warm_up": WarmUp(Fraction(minutes), text=text)}),
        (
            f"cool-down {minutes} min at effort {effort}/10",
            {"cool_down": WarmUp(Fraction(minutes), Range.of(effort), 10)},
        ),
        (f'cue "{text}"', {"cue": text}),
        ("if not done move within the week", {"if_not_done": "move within the week"}),
        ("if not done drop", {"if_not_done": "drop"}),
        (f"rounds {minutes}", {"rounds": minutes}),
        ("resting 2 min between exercises", {"between": Quantity(Fraction(2), "min")}),
        (f"at most {minutes} visits", {"max_visits": minutes}),
        (window_text, {"window": window}),
        (f'with "{text}"', {"companions": (text,)}),
    ]
    picked = draw(st.lists(st.sampled_from(extra), max_size=6, unique_by=lambda e: e[0].split()[0]))
    lines, said = [day_text, "do " + ", ".join(do)], {}
    for line, part in picked:
        lines.insert(draw(st.integers(0, len(lines))), line)
        said |= part
    return [f'session "{title}"', *lines], Session(name=title, days=(day,), do=tuple(do), **said)


@st.composite
def rests(draw: st.DrawFn) -> tuple[list[str], RestBlock]:
    """A `rest` block."""
    number, weeks, text = draw(st.integers(1, 9)), draw(st.integers(1, 9)), draw(quoted)
    dose_text, dose = draw(doses())
    extra: list[tuple[str, dict[str, Any]]] = [
        (f"room for {number} weeks", {"room": number}),
        (
            f"starts when {number} points above usual for {weeks} days",
            {"starts_when": PainLevel(points=Fraction(number), days=weeks)},
        ),
        (f"first {number} days as little as needed", {"first": Quantity(Fraction(number), "day")}),
        (f"still do ankle-pumps {dose_text}", {"still_do": (StillDo("ankle-pumps", dose),)}),
        (f"back when usual for {number} days", {"back_when": PainLevel(usual=True, days=number)}),
        (f'back when "{text}"', {"back_when": PainLevel(text=text)}),
        (f"return {number} steps lower for {weeks} weeks", {"returns": (Return(number, weeks),)}),
        ("return at the same step", {"returns": (Return(0, 0),)}),
        (f'tell us if "{text}"', {"tell_us_if": (text,)}),
        (
            f"expect 1 flare in {weeks + 20} weeks lasting {number} days varies much",
            {"expect": Expect(Fraction(1), weeks + 20, max(Fraction(number, 7), Fraction(1)), 1)},
        ),
        (f"lighter every {weeks} weeks by {number} steps", {"lighter": Lighter(weeks, number)}),
        ("spare empty", {"spare_empty": True}),
        ("leave step-up, lift-10", {"leave": ("step-up", "lift-10")}),
    ]
    picked = draw(st.lists(st.sampled_from(extra), max_size=6, unique_by=lambda e: e[0].split()[0]))
    said: dict[str, Any] = {}
    for _, part in picked:
        said |= part
    return ["rest", *(line for line, _ in picked)], RestBlock(**said)


@st.composite
def targets(draw: st.DrawFn, title: str, names: Sequence[str]) -> tuple[list[str], Target]:
    """A `target` block of each kind."""
    day, week, text, times = draw(days), draw(counts), draw(quoted), draw(st.integers(1, 7))
    dose_text, dose = draw(doses())
    by, when = draw(st.sampled_from([(f"by {day}", When(day=day)), (f"by week {week}", When(week=week))]))
    name = draw(st.sampled_from(names))
    line, said = draw(
        st.sampled_from(
            [
                (f"reach {dose_text} in {name}", {"reach": dose, "reach_in": name}),
                (f'keep "{text}" {times} days/week', {"keep": text, "keep_days": times}),
                (f'do "{text}"', {"do": text}),
            ]
        )
    )
    return [f'target "{title}"', by, line], Target(title, by=when, **said)


@st.composite
def plans(draw: st.DrawFn) -> tuple[list[str], Plan]:
    """A whole plan as its lines, and the plan they say. Nothing in it is a finding of the reading."""
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=4, unique=True))
    free = draw(st.booleans())
    trained = [draw(exercises(name, in_sessions=not (free and n == 0))) for n, name in enumerate(names)]
    in_sessions = [e.name for _, e in trained if not e.activity]
    session_titles = draw(st.lists(quoted, min_size=1, max_size=2, unique=True)) if in_sessions else []
    held = [draw(sessions(title, in_sessions)) for title in session_titles]
    aims = [draw(targets(f"{n}", names)) for n in range(draw(st.integers(0, 3)))]
    rest_lines, rest = draw(rests())
    starts, weeks, code = draw(days), draw(st.integers(1, 60)), draw(st.integers(1, 999))
    title, goal, text = draw(quoted), draw(quoted), draw(quoted)
    action, rating = draw(st.sampled_from(SIGN_ACTIONS)), draw(st.integers(0, 10))
    head = [
        f'plan "{title}"',
        f"for P-{code:03}, aged 67",
        "about knee osteoarthritis, right",
        f"starts {starts}",
        f"lasts {weeks} weeks",
    ]
    loose = [
        f'stop if "{text}" then {action}',
        f'away {starts + timedelta(days=9)} to {starts + timedelta(days=12)} "{text}"',
        f'prepare "{text}" by week {weeks}',
        "review every 4 weeks",
        f'after "{text}"',
        f'tell "{text}"',
    ]
    blocks = [
        ["today", "daily-steps 3200 steps/day over 7 days", f"usual-pain {rating}/10", f'has "{text}"'],
        [f'goal "{goal}"', f"by week {weeks}", f'because "{text}"', f"confidence {rating}/10"],
        rest_lines,
        ["pain", f"accept up to {rating}/10 during", "settle within 24 hours"],
        *(lines for lines, _ in aims),
        *(lines for lines, _ in trained),
        *(lines for lines, _ in held),
    ]
    placed = [[*block] for block in blocks]
    for line in loose:
        where = placed[draw(st.integers(0, len(placed) - 1))]
        where.append(line)
    plan = Plan(
        title,
        Source("drawn.plan", ""),
        code=f"P-{code:03}",
        aged=67,
        about=(Condition("knee osteoarthritis", "right"),),
        starts=starts,
        weeks=weeks,
        today=Today(
            measures=(
                Baseline("daily-steps", Quantity(Fraction(3200), "steps/day"), over_days=7),
                Baseline("usual-pain", Quantity(Fraction(rating)), rating_of=10),
            ),
            has=(text,),
        ),
        goal=Goal(goal, by=When(week=weeks), because=text, confidence=rating),
        targets=tuple(t for _, t in aims),
        rest=rest,
        pain=Pain(accept=Fraction(rating), settle=Quantity(Fraction(24), "h")),
        signs=(Sign(text, action),),
        away=(Away(starts + timedelta(days=9), starts + timedelta(days=12), text),),
        prepares=(Prepare(text, When(week=weeks)),),
        reviews=(Review(every_weeks=4),),
        after=(text,),
        tells=(text,),
        exercises=tuple(e for _, e in trained),
        sessions=tuple(s for _, s in held),
    )
    return [*head, *(line for block in placed for line in block)], plan


_PIECES = re.compile(r'"[^"]*"|[^"]+')
_COMMENTS = ["", "", "  # as agreed", " #", '# "never mind"', "#, 3x8 at 2 kg"]
_BETWEEN = ["", "# a note", "   ", "\t# begin 3x8"]


def _worded(piece: str, curly: bool, typographic: bool, space: str) -> str:
    if piece.startswith('"'):
        return f"“{piece[1:-1]}”" if curly and not set("“”„«»‟") & set(piece) else piece
    if typographic:
        piece = re.sub(r"(?<=\d)x(?=\d)", "×", piece)
        piece = re.sub(r"(?<![\d-])(\d{1,3})-(\d{1,3})(?=[ ,x×R]|$)(?!\d*-)", r"\1–\2", piece)
    return piece.replace(" ", space)


@st.composite
def laid_out(draw: st.DrawFn, lines: Sequence[str]) -> str:
    """The lines with indents, comments, blank lines, and what a word processor does."""
    curly, typographic = draw(st.booleans()), draw(st.booleans())
    space, end = draw(st.sampled_from([" ", "  ", "\t", "\xa0"])), draw(st.sampled_from(["\n", "\r\n", "\r"]))
    chance = Random(draw(st.integers(0, 10**9)))
    made = []
    for line in lines:
        text = "".join(_worded(piece, curly, typographic, space) for piece in _PIECES.findall(line))
        if chance.randrange(6) == 0:
            made.append(chance.choice(_BETWEEN))
        made.append(chance.choice(["", "  ", "\t"]) + text + chance.choice(_COMMENTS))
    return chance.choice(["", "\ufeff"]) + end.join(made) + chance.choice(["", end])
