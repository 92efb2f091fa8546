"""Plans drawn as text that stay within every threshold: what a careful colleague might write on any day.

The edges themselves are drawn too: a rise of exactly 500 steps, a quarter more, a room of a third, a pain limit just at
usual pain. Nothing here may bring a finding of a failing level.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

from hypothesis import strategies as st

from tests.seeded.modest_people import SAID, Lines, Person, aims, baseline, header, pain, people, rest, screening

DAYS = [
    "Mon, Thu",
    "Tue, Fri",
    "Mon, Wed, Fri",
    "2 a week",
    "3 a week with 1 day between",
    "every second",
    "2 to 3 a week",
]
DAYS += ["2 a week, you choose", "3 a week from Mon, Tue, Thu, Sat"]


def reps(draw: st.DrawFn) -> list[str]:
    """The doses of a ladder in sets and repetitions: a rep or two more, a set more, then a kilogram more."""
    sets, count = draw(st.integers(1, 3)), draw(st.integers(5, 10))
    side = draw(st.sampled_from(["", " each side"]))
    doses = [(sets, count, 0)]
    for _ in range(draw(st.integers(1, 4))):
        sets, count, load = doses[-1]
        turn = draw(st.sampled_from(["reps", "load"] if sets == 3 else ["reps", "sets", "load"]))
        doses.append((sets + (turn == "sets"), count + (2 if turn == "reps" else 0), load + (turn == "load")))
    return [f"{s}x{r}{side}" + (f" at {kg} kg" if kg else "") for s, r, kg in doses]


def holds(draw: st.DrawFn) -> list[str]:
    start, more = draw(st.integers(5, 20)), draw(st.integers(2, 5))
    return [f"2x{start + n * more} s" for n in range(draw(st.integers(2, 4)))]


def ranges(draw: st.DrawFn) -> list[str]:
    return [f"1x{draw(st.integers(5, 12))} each side"]


def timed(draw: st.DrawFn) -> list[str]:
    start, more = draw(st.integers(5, 15)), draw(st.integers(1, 3))
    effort = f" at effort {draw(st.integers(2, 6))}/10"
    return [f"{start + n * more} min{effort}" for n in range(draw(st.integers(2, 4)))]


LEGS = {
    "sit-to-stand": "quadriceps, gluteals",
    "step-up": "quadriceps",
    "heel-raise": "calves",
    "side-step": "hip-abductors",
}
HANDS = {"ball-squeeze": "grip, forearms", "thumb-arch": "thumb", "band-row": "upper-back"}


def exercise(
    draw: st.DrawFn, who: Person, name: str, kind: str, ladder: Callable[[st.DrawFn], list[str]], *more: str
) -> tuple[Lines, str]:
    """An exercise block, and a dose of it that comes within the plan even if every easier week is taken."""
    doses = ladder(draw)
    if kind == "mobility":
        return [f"exercise {name}", f"kind {kind}", *more, f"begin {doses[0]}", 'stay on this step because "range"'], ""
    every = draw(st.integers(1, 3))
    step = max(0, min(len(doses) - 1, who.moving // every))
    way = draw(
        st.sampled_from(
            [f"progress every {every} weeks", f"progress after 2 sessions clean, about every {every} weeks"]
        )
    )
    begin = [f"begin {doses[0]}", *(f"then {dose}" for dose in doses[1:])]
    easier = draw(st.sampled_from([[], [f"easier {doses[0]}"]])) if kind == "strength" and doses[0] != "1x5" else []
    easier = [
        line.replace("easier " + doses[0], "easier 1x4" + (" each side" if "each" in doses[0] else ""))
        for line in easier
    ]
    return [
        f"exercise {name}",
        f"kind {kind}",
        *more,
        *easier,
        *begin,
        way,
    ], f"reach {doses[step].split(' at effort')[0]} in {name}"


def walking(draw: st.DrawFn, who: Person) -> tuple[Lines, str]:
    """Daily steps that begin at most 500 or a quarter above today's and rise by at most 500 or a quarter."""
    edge = max(who.steps + 500, who.steps * 5 // 4)
    first = draw(st.sampled_from([who.steps, edge, draw(st.integers(who.steps * 4 // 5, edge))]))
    most = max(500, first // 4)
    by = draw(st.sampled_from([most, draw(st.integers(50, most))]))
    every = draw(st.integers(1, 2))
    rises = draw(st.integers(1, 5))
    aim = first + by * rises
    reached = who.moving - 5 >= rises * every
    made = ["activity walking", "kind aerobic", f"begin {first} steps/day"]
    made.append(f"rise {by} steps/day every {every} weeks to {aim} steps/day")
    made += draw(st.sampled_from([[], ["at most 25 % above the aim"], ["at least 2x5 min"]]))
    made += draw(st.sampled_from([["start after 4 weeks of strength"], []])) if who.legs and who.moving > 6 else []
    return made, f"reach {aim} steps/day in walking" if reached else ""


def cycling(draw: st.DrawFn, who: Person) -> tuple[Lines, str]:
    """Minutes a week that rise by at most 30 or a quarter."""
    minutes = [draw(st.integers(30, 90))]
    for _ in range(draw(st.integers(1, 3))):
        edge = max(30, minutes[-1] // 4)
        minutes.append(minutes[-1] + draw(st.sampled_from([edge, draw(st.integers(5, edge))])))
    begin = [f"begin {minutes[0]} min/week in bouts of 10 min", *(f"then {n} min/week" for n in minutes[1:])]
    return ["activity cycling", "kind aerobic", *begin, f"progress every {draw(st.integers(1, 3))} weeks"], ""


def press(draw: st.DrawFn, who: Person) -> tuple[Lines, str]:
    """A machine at the gym by a share of what was tested, up to hard work where that is cleared."""
    share, effort = draw(st.integers(6, 12)) * 5, draw(st.integers(3, 9 if who.vigorous else 6))
    by_share = [f"2x10 at {share + 5 * n} %1RM" for n in range(draw(st.integers(2, 4)))]
    doses = draw(st.sampled_from([by_share, [f"2x{reps} at effort {effort}/10" for reps in (8, 10, 12)]]))
    begin = [f"begin {doses[0]}", *(f"then {dose}" for dose in doses[1:])]
    made = ["exercise leg-press", "kind strength", "works quadriceps, gluteals", *begin]
    made.append(f"progress every {draw(st.integers(1, 3))} weeks")
    made += ['session "Gym"', "days 1 a week from Wed, Sun", "at 12:00 for 30 min"]
    return [*made, 'place "the gym by the station"', "do leg-press", 'cue "on the way home"'], ""


def sessions(draw: st.DrawFn, who: Person, names: list[str]) -> Lines:
    minute = draw(st.sampled_from(["07:30", "10:00", "17:45"]))
    free = [] if "march-on-the-spot" in names else [""]  # as long as its doses, which may all go up in one week
    length = draw(st.sampled_from([" for 45 min", " for 60 min", *free]))
    made = ['session "Kitchen"', f"days {draw(st.sampled_from(DAYS))}", f"at {minute}{length}", 'place "kitchen"']
    if "you choose" in made[1]:
        made.pop(2)
    made += draw(st.sampled_from([['warm-up 3 min "walk about indoors"'], [], ["warm-up 5 min at effort 3/10"]]))
    made += [f"do {', '.join(names)}", 'cue "after the breakfast dishes"']
    return [*made, draw(st.sampled_from(["if not done move within the week", "if not done drop"]))]


@st.composite
def modest_plans(draw: st.DrawFn, kind: str) -> str:
    """A whole plan as text, for one of the CONDITIONS."""
    who = draw(people(kind))
    pool = {**LEGS, **HANDS} if who.legs else HANDS
    legs = list(LEGS) if who.legs else list(HANDS)
    strong = [draw(st.sampled_from(legs))]
    strong += [n for n in draw(st.lists(st.sampled_from(list(pool)), max_size=3, unique=True)) if n not in strong]
    blocks = [exercise(draw, who, name, "strength", reps, f"works {pool[name]}") for name in strong]
    names = list(strong)
    if who.fell or who.age >= 65 or draw(st.booleans()):
        tag = draw(st.sampled_from(["tandem", "one-leg", ""]))
        hold = ['hold on to "kitchen worktop"', *([f"tags {tag}"] if tag else [])]
        blocks.append(exercise(draw, who, "heel-to-toe", "balance", holds, *hold))
        names.append("heel-to-toe")
    blocks.append(exercise(draw, who, "finger-bends", "mobility", ranges))
    names.append("finger-bends")
    if draw(st.booleans()):
        blocks.append(exercise(draw, who, "march-on-the-spot", "aerobic", timed))
        names.append("march-on-the-spot")
    if draw(st.booleans()):
        blocks.append(walking(draw, who))
    if draw(st.booleans()):
        blocks.append(cycling(draw, who))
    if who.legs and draw(st.booleans()):
        blocks.append(press(draw, who))
    reached = [line for _, line in blocks if line]
    picked = draw(st.lists(st.sampled_from(reached), max_size=2, unique=True)) if reached else []
    made = [
        *header(draw, who),
        *screening(draw, who),
        f"agreed {who.starts} calendar discreet, diary {draw(st.sampled_from(['yes', 'no']))}",
        *baseline(draw, who),
        f'tell "{draw(st.sampled_from(SAID))}"',
        *aims(draw, who, picked),
        *rest(draw, who),
        *pain(draw, who),
        *(line for lines, _ in blocks for line in lines),
        *sessions(draw, who, names),
        draw(st.sampled_from(["review every 3 weeks", "review at week 2, week 6"])),
        f'after "{draw(st.sampled_from(SAID))}"',
    ]
    if draw(st.booleans()):
        out = who.starts + timedelta(days=draw(st.integers(20, 7 * who.weeks - 15)))
        made.append(f'away {out} to {out + timedelta(days=draw(st.integers(1, 6)))} "visitors"')
    return "\n".join(made) + "\n"
