"""Plans drawn as text that stay within every threshold: what a careful colleague might write on any day.

The edges themselves are drawn too: a rise of exactly 500 steps, a quarter more, a room of a third, a pain limit just at
usual pain. Nothing here may bring a finding of a failing level.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from attrs import frozen
from hypothesis import strategies as st

Lines = list[str]

SAID = [
    "Little and often. On a sore day the easier version counts.",
    "Walk to the second bench, rest 2 min, walk back.",
    "By the August fair I want both hands free.",
    "3 rounds, then tea at 10:30.",
    "It was 14 degrees, so 20 min felt fine.",
    "Nights may be sore for a day or two. That is no sign of harm.",
    "The knee may swell a little in the evening.",
    "No excuse is needed for an easier week.",
    "Gå rolig, og ta trappen en om gangen.",
    "Langsam anfangen; die Treppe hat 17 Stufen.",
    "Bus 442 stops by the pool, 9 to 17 on weekdays.",
    "Chair 45 cm high, cushion 5 cm on top, 2 x 10.",
    "The stairs at the station, 34 of them, before the 07:45 train.",
    "Count 1 2 3 4 up, 1 2 3 4 down.",
    "We danced every Saturday in 1998.",
]
CONDITIONS = {
    "knee": ["knee osteoarthritis, right", "knee osteoarthritis, both", "knee OA, left; hand osteoarthritis, both"],
    "hip": ["hip osteoarthritis, left", "hip osteoarthritis, both", "hip OA, right; long-standing back pain"],
    "hand": ["hand osteoarthritis, both", "thumb osteoarthritis, left"],
    "many": ["rheumatoid arthritis", "other long-standing joint pain"],
    "new knee": ["knee replacement, left"],
    "new hip": ["hip replacement, right"],
}
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


@frozen
class Person:
    """Who a drawn plan is for: `usual` pain of 10, `steps` a day, weeks since an operation or None."""

    kind: str
    age: int
    starts: date
    weeks: int
    room: int
    usual: int
    steps: int
    fell: bool
    vigorous: bool
    operated: int | None
    lighter: int | None

    @property
    def legs(self) -> bool:
        """The plan is about a hip or knee."""
        return self.kind != "hand"

    @property
    def moving(self) -> int:
        """In how many weeks a ladder goes up at least: an easier week costs up to three, a lighter one itself."""
        weeks = self.weeks - 3 * self.room - 2
        return weeks * (self.lighter - 1) // self.lighter if self.lighter else weeks


@st.composite
def people(draw: st.DrawFn, kind: str) -> Person:
    weeks = draw(st.integers(6, 26))
    operated = draw(st.integers(6, 60)) if kind.startswith("new") else None
    fresh = operated is not None and operated < 26
    return Person(
        kind=kind,
        age=draw(st.integers(18, 92)),
        starts=date(2027, 1, 4) + timedelta(days=draw(st.integers(0, 400))),
        weeks=weeks,
        room=0 if fresh else draw(st.integers(1, weeks // 3)),
        usual=draw(st.integers(0, 6)),
        steps=draw(st.integers(12, 95)) * 100,
        fell=draw(st.booleans()),
        vigorous=draw(st.booleans()),
        operated=operated,
        lighter=draw(st.sampled_from([None, None, 3, 4, 6])),
    )


def header(draw: st.DrawFn, who: Person) -> Lines:
    code = draw(st.integers(1, 999))
    made = [
        'plan "The long way round"',
        f"for P-{code:03}, aged {who.age}",
        f"about {draw(st.sampled_from(CONDITIONS[who.kind]))}",
        f"starts {who.starts}",
        f"lasts {who.weeks} weeks",
        "zone Australia/Hobart",
        f"written {who.starts - timedelta(days=draw(st.integers(0, 14)))}",
        f"revision {draw(st.integers(1, 4))}",
    ]
    if who.operated is not None:
        day = who.starts - timedelta(weeks=who.operated)
        side = "left" if who.kind == "new knee" else "right"
        made.append(f'operation {day} "{who.kind.removeprefix("new ")} replacement" {side}')
        made += draw(
            st.sampled_from(
                [[], ["weight-bearing full"], [f'limits "no low chairs" until {who.starts} from "surgeon"']]
            )
        )
    return made


def screening(draw: st.DrawFn, who: Person) -> Lines:
    day = who.starts - timedelta(days=draw(st.integers(0, 330)))
    known = "yes" if who.vigorous or draw(st.booleans()) else "no"
    falls, unsteady = (draw(st.integers(1, 3)), draw(st.sampled_from(["yes", "no"]))) if who.fell else (0, "no")
    made = [
        f"screening {day}",
        "by T-03",
        f"clear yes for {'vigorous' if who.vigorous else 'moderate'}",
        f"asked heart {known}, diabetes no, kidney no, symptoms no",
        f"falls {falls} in 12 months",
        f"unsteady {unsteady}",
        f"floor {draw(st.sampled_from(['gets up alone', 'gets up with help', 'cannot']))}",
    ]
    pressure = draw(
        st.sampled_from(
            ["", "blood-pressure 128/76 mmHg", "blood-pressure 160/100 mmHg", "blood-pressure 180/110 mmHg"]
        )
    )
    bones = draw(st.sampled_from(["", "bones no known fragility", "bones fragile"]))
    takes = draw(
        st.sampled_from(["", "takes rate-slowing", "takes blood-thinner, insulin-like", "takes defence-lowering"])
    )
    return [*made, *filter(None, (pressure, bones, takes))]


def baseline(draw: st.DrawFn, who: Person) -> Lines:
    made = ["today", f"daily-steps {who.steps} steps/day over 7 days", f"usual-pain {who.usual}/10"]
    made.append('has "sturdy chair", "long band", "mat"')
    made.append("tested leg-press 60 kg for 8 reps")
    made.append(draw(st.sampled_from(["weights 1, 2, 3, 4, 5, 6 kg", 'has "backpack"'])))
    made += draw(st.sampled_from([[], ["base strength 4 weeks"], ["body-weight 84 kg private", "body-height 172 cm"]]))
    return made


def aims(draw: st.DrawFn, who: Person, reached: list[str]) -> Lines:
    last = who.starts + timedelta(days=7 * who.weeks - 1)
    weight = draw(
        st.sampled_from(["", "measured by body-weight from 84 kg to 80 kg", "measured by chair-stands from 9 to 10"])
    )
    goal = ['goal "Round the lake with my sister"', f"by {last + timedelta(days=draw(st.integers(0, 40)))}"]
    goal += [f'because "{draw(st.sampled_from(SAID))}"', *filter(None, [weight])]
    made = [*goal, 'target "Shoes by the door"', "by week 3", 'keep "shoes by the door at night" 5 days/week']
    for n, line in enumerate(reached):
        made += [f'target "Halfway {n + 1}"', f"by {last}", line]
    return made


def rest(draw: st.DrawFn, who: Person) -> Lines:
    made = ["rest", *([f"room for {who.room} weeks"] if who.room else [])]
    fixed = who.usual + draw(st.integers(2, 4))
    made.append(
        draw(st.sampled_from(["starts when 2 points above usual for 2 days", f"starts when {fixed}/10 for 2 days"]))
    )
    made.append("still do finger-bends 1x5 each side 3 times a day")
    made += draw(st.sampled_from([['back when "easing for 2 days"'], ["back when usual for 2 days"], []]))
    made += draw(
        st.sampled_from(
            [
                ["return 1 step lower for 1 week"],
                ["return 2 steps lower for 1 week"],
                ["return 1 step lower for 1 week", "return 2 steps lower for 2 weeks after 2 weeks"],
                [],
            ]
        )
    )
    made += [f"lighter every {who.lighter} weeks by 1 step"] if who.lighter else []
    return [*made, 'tell us if "new or worse pain, or not easing after 10 days"']


def pain(draw: st.DrawFn, who: Person) -> Lines:
    healing = who.operated is not None and who.operated <= 26
    least, most = max(2, who.usual), 5 if healing else 8
    accepts = ["accept up to 2 points above usual"] if who.usual <= 3 or not healing else []
    if least <= most:
        accepts.append(f"accept up to {draw(st.integers(least, most))}/10 during")
    lower = [f"accept up to {draw(st.integers(2, 5))}/10 during", "rise of at most 2 points"]
    said = draw(st.sampled_from([[line] for line in accepts] + [lower]))
    return ["pain", *said, draw(st.sampled_from(["settle within 24 hours", "settle by next morning"]))]


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
    length = draw(st.sampled_from([" for 45 min", " for 60 min", ""]))
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
