"""Who a drawn plan is for, and what a careful colleague writes of them: screening, baseline, aims, rest, pain."""

from __future__ import annotations

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
