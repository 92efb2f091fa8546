"""Two blocks drawn as text: one, and the next that begins where it ended, or one modest step on."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import strategies as st

from tests.seeded.modest import reps

FIRST = date(2027, 3, 1)
REST = [
    "rest",
    "room for 2 weeks",
    "still do finger-bends 1x5 each side 3 times a day",
    "return 1 step lower for 1 week",
]
ASKED = [
    "by T-03",
    "clear yes for moderate",
    "asked heart no, diabetes no, kidney no, symptoms no",
    "falls 0 in 12 months",
]


def block(
    title: str, starts: date, weeks: int, steps: int, ladder: list[str], every: int, walk: list[str]
) -> list[str]:
    """A block of chair and walking, with all that a plan should say."""
    return [
        f'plan "{title}"',
        "for P-063, aged 60",
        "about knee osteoarthritis, left",
        f"starts {starts}",
        f"lasts {weeks} weeks",
        "zone Australia/Hobart",
        f"written {starts}",
        "revision 1",
        f"screening {FIRST}",
        *ASKED,
        "today",
        f"daily-steps {steps} steps/day over 7 days",
        "usual-pain 2/10",
        "base strength 6 weeks",
        "weights 1, 2, 3, 4, 5, 6, 7, 8 kg",
        *REST,
        "pain",
        "accept up to 5/10 during",
        "settle by next morning",
        "exercise sit-to-stand",
        "kind strength",
        "works quadriceps, gluteals",
        f"begin {ladder[0]}",
        *(f"then {dose}" for dose in ladder[1:]),
        f"progress every {every} weeks",
        "activity walking",
        "kind aerobic",
        *walk,
        'session "Chair"',
        "days Mon, Thu",
        "at 18:00 for 20 min",
        'place "front room"',
        "do sit-to-stand",
        "review every 4 weeks",
    ]


def on_from(draw: st.DrawFn, top: str) -> str:
    """The top dose itself, or one step beyond the ladder: half as many repetitions more, or 2 kg."""
    size, _, load = top.partition(" at ")
    sets, count, *side = size.replace(" ", "x", 1).split("x", 2)
    sides = f" {side[0]}" if side else ""
    more = f"{sets}x{int(count) * 3 // 2}{sides}" + (f" at {load}" if load else "")
    heavier = f"{size} at {int(load.split()[0]) + 2} kg" if load else top
    return draw(st.sampled_from([top, more, heavier]))


@st.composite
def two_blocks(draw: st.DrawFn) -> tuple[str, str]:
    """(the next block, the block before): the exercise begins at the step it ended on or the one above.

    After three weeks or more between the two both begin lower; steps a day begin at most 500 or a quarter higher.
    """
    ladder = reps(draw)
    weeks, every = draw(st.integers(8, 16)), draw(st.integers(1, 4))
    ended = min(len(ladder) - 1, (weeks - 3) // every)
    first, by, rises = draw(st.integers(20, 60)) * 100, draw(st.integers(100, 500)), draw(st.integers(1, 4))
    last = first + by * rises
    walk = [f"begin {first} steps/day", f"rise {by} steps/day every week to {last} steps/day"]
    before = block("The near end", FIRST, weeks, first, ladder, every, walk)
    gap = draw(st.integers(0, 6))
    starts = FIRST + timedelta(weeks=weeks + gap)
    if gap >= 3 and ended > 0:
        step, steps = ended - 1, last - 100
    else:
        step = min(len(ladder) - 1, ended + draw(st.integers(0, 1 if gap < 3 else 0)))
        steps = last + (draw(st.sampled_from([0, 500, last // 4])) if gap < 3 else -100)
    walk = [f"begin {steps} steps/day", f"rise 300 steps/day every week to {steps + 900} steps/day"]
    first_dose = on_from(draw, ladder[step]) if step == ended == len(ladder) - 1 else ladder[step]
    later = [first_dose, *ladder[step + 1 :]] if step < len(ladder) - 1 else [first_dose, ladder[-1] + ' "slowly"']
    now = draw(st.sampled_from([last, steps]))
    after = block("The far end", starts, draw(st.integers(8, 16)), now, later, 2, walk)
    after.insert(8, 'continues "before.plan"')
    return "\n".join(after) + "\n", "\n".join(before) + "\n"
