"""A clinic's library of any size, made from a seed: the exercises and templates of the examples, and people's plans.

The same seed and size always give the same bytes. Plans differ in everything that a plan says; a part of them comes
from templates, a part takes exercises from libraries, most stand by themselves, as in a clinic that has begun to use
templates.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from random import Random

EXAMPLES = Path(__file__).parents[2] / "examples"
A_FOLDER = 200
"""Plans in one folder."""
SETTINGS = """\
clinic: Made up
contacts:
  emergency: "112"
  same-day: "03 5550 0101"
  clinic: "03 5550 0100, weekdays 8 to 17"
calendar-key-file: .calendar-key
zone: Australia/Hobart
measures: library/measures.yaml
conditions: library/conditions.yaml
"""


def write(root: Path, count: int, seed: int = 1) -> list[Path]:
    """Writes a library with so many people's plans, and gives their paths."""
    root.mkdir(parents=True, exist_ok=True)
    (root / "clinic.yaml").write_text(SETTINGS, "utf-8")
    (root / ".calendar-key").write_text("made up, for one test\n", "utf-8")
    shutil.copytree(EXAMPLES / "library", root / "library", ignore=shutil.ignore_patterns("rules"))
    templates = [(path.name, path.read_text("utf-8")) for path in sorted((root / "library" / "templates").iterdir())]
    made = []
    for number, text in enumerate(texts(count, templates, seed)):
        path = root / "people" / f"{number // A_FOLDER:03}" / f"p{number:05}.plan"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
        made.append(path)
    return made


def texts(count: int, templates: list[tuple[str, str]], seed: int = 1) -> Iterator[str]:
    """The plans, one after the other; the first ones are the same however many there are."""
    for number in range(count):
        chance = Random(f"{seed} {number}")
        person = Person(chance, f"P-{number:06}")
        if chance.random() < 0.3 and templates:
            yield from_template(person, *chance.choice(templates))
        else:
            yield plain(person, with_library=chance.random() < 0.25)


GOALS = """\
Twice round the pond with the dog; Up to the attic and down again without the rail
; Stand through the Sunday service; Carry both bags from the bus; Dig two raised beds in one morning
; Dance at the August fair; Kneel to weed the front path; The long stairs to the beach
; Ride to the ferry and back; Play bowls on Saturdays; Lift the kettle with one hand"""
TELLS = """\
Sore does not mean harm. Joints like regular work in small steps.
; Little and often. On a sore day the easier one counts.
; Walk to the second bench, rest 2 min, walk back.; 3 rounds, then tea at 10:30.
; It was 14 degrees, so 20 min felt fine.
; Nights may be sore for a day or two. That is no sign of harm.
; Bus 442 stops by the pool, 9 to 17 on weekdays.; Chair 45 cm high, cushion 5 cm on top, 2 x 10.
; The stairs at the station, 34 of them, before the 07:45 train.; Count 1 2 3 4 up, 1 2 3 4 down.
; We danced every Saturday in 1998.; No excuse is needed for an easier week."""
REASONS = """\
my books are there; the grandchildren run ahead; fresh vegetables; I miss the choir
; the view from the top; the Saturday crew; it was our place; I want my mornings back"""
PLACES = "kitchen; front room; hall; garden, by the wall; landing; veranda"
CUES = """\
after the breakfast dishes; when the kettle is on; after the news at 7; before the midday meal
; after feeding the cat; when the post has come"""
HABITS = "shoes by the stairs at night; band on the door; stick by the chair; water on the table; diary by the bed"
DEEDS = """\
ask the hall when the class starts; borrow a 2 kg weight; ask the neighbour about the path
; find the old backpack; have the second rail fixed"""
REMARKS = """\
seen at home; agreed on the phone, 20 min; the left side is the better one; asked again in week 3
; stairs: 14, one rail; likes mornings"""


def _some(words: str) -> list[str]:
    return [" ".join(one.split()) for one in words.split(";")]


CONDITIONS = ["knee osteoarthritis", "hip osteoarthritis", "hand osteoarthritis", "long-standing back pain"]
STRENGTH = {
    "sit-to-stand": "quadriceps, gluteals",
    "step-up": "quadriceps",
    "heel-raise": "calves",
    "side-step": "hip-abductors",
    "wall-slide": "quadriceps",
    "band-row": "upper-back",
}
IN_LIBRARIES = {"thigh-and-hip.plan": ("step-up", "bridge"), "lower-leg-and-foot.plan": ("heel-raise",)}


class Person:
    """Whom a plan is for, and the chance by which it is drawn."""

    def __init__(self, chance: Random, code: str) -> None:
        self.chance, self.code = chance, code
        self.age = chance.randint(24, 91)
        self.starts = date(2027, 1, 4) + timedelta(days=chance.randint(0, 400))
        self.weeks = chance.randint(8, 30)
        self.room = chance.randint(1, max(1, self.weeks // 4))
        self.usual = chance.randint(1, 6)
        self.steps = chance.randint(12, 85) * 100

    def one(self, words: str) -> str:
        """One of some texts."""
        return self.chance.choice(_some(words))

    def day(self, week: int) -> date:
        """The last day of a week."""
        return self.starts + timedelta(days=7 * week - 1)


def plain(person: Person, with_library: bool) -> str:
    """A plan with ladders of its own, some of them from a library."""
    chance = person.chance
    strong = chance.sample(list(STRENGTH), chance.randint(1, 3))
    lines = [f'plan "{person.one(GOALS)}"', f"for {person.code}, aged {person.age}"]
    lines += [f"about {chance.choice(CONDITIONS)}, {chance.choice(['left', 'right', 'both'])}"]
    taken: list[str] = []
    if with_library:
        file, names = chance.choice(list(IN_LIBRARIES.items()))
        lines.append(f'use library "../../library/exercises/{file}"')
        taken = list(names)
        strong = [name for name in strong if name not in taken]
    lines += [f"starts {person.starts}", f"lasts {person.weeks} weeks", "zone Australia/Hobart"]
    lines += [f"written {person.starts - timedelta(days=chance.randint(1, 14))}", "revision 1"]
    lines += _paperwork(person)
    steps, doses, blocks = person.steps, {}, []
    for name in strong:
        ladder = _ladder(chance)
        doses[name] = ladder[-1]
        blocks += [f"exercise {name}", "kind strength", f"works {STRENGTH[name]}", f"easier 1x5{_side(ladder[0])}"]
        blocks += [f"begin {ladder[0]}", *(f"then {dose}" for dose in ladder[1:])]
        blocks += [
            chance.choice(
                [f"progress every {chance.randint(1, 3)} weeks", "progress after 2 sessions clean, about every 2 weeks"]
            )
        ]
    blocks += ["exercise tandem-stance", "kind balance", 'hold on to "kitchen worktop"']
    blocks += ["begin 2x10 s each side", "then 2x20 s each side", "then 3x20 s each side", "progress every 3 weeks"]
    blocks += ["exercise heel-slides", "kind mobility", f'how "{person.one(TELLS)}"']
    blocks += [f"begin 2x{chance.randint(6, 12)} each side", 'stay on this step because "it keeps the joint moving"']
    walking = chance.random() < 0.7
    if walking:
        more = chance.randint(1, 5) * 100
        aim = steps + more * chance.randint(2, 5)
        blocks += ["activity walking", "kind aerobic", f"begin {steps} steps/day"]
        blocks += [
            f"rise {more} steps/day every {chance.randint(1, 2)} weeks to {aim} steps/day",
            "at most 25 % above the aim",
        ]
        blocks += chance.choice([[], ["start after 3 weeks of strength"]] if strong else [[]])
    lines += _aims(person, doses, f"reach {aim} steps/day in walking" if walking else "")
    lines += _resting(person, strong)
    lines += blocks
    done = [*strong, *taken, "tandem-stance", "heel-slides"]
    lines += [f'session "{chance.choice(["Chair and bench", "Kitchen", "By the window"])}"']
    lines += [
        chance.choice(
            [
                "days Mon, Wed, Fri",
                "days Tue, Fri",
                "days 2 a week from Mon, Tue, Thu, Sat",
                "days 3 a week with 1 day between",
            ]
        )
    ]
    lines += [
        f"at {chance.choice(['07:30', '10:00', '17:45'])} for {chance.choice([35, 45, 60])} min",
        f'place "{person.one(PLACES)}"',
    ]
    lines += [
        'warm-up 3 min "walk about indoors"',
        f"do {', '.join(done)}",
        f'cue "{person.one(CUES)}"',
        "if not done move within the week",
    ]
    if chance.random() < 0.3:
        out = person.starts + timedelta(days=chance.randint(20, 7 * person.weeks - 15))
        lines.append(f'away {out} to {out + timedelta(days=chance.randint(1, 6))} "visitors"')
    lines += [
        f'prepare "{person.one(DEEDS)}" by week 3',
        chance.choice(["review every 3 weeks", "review at week 2, week 6"]),
    ]
    lines += [f'after "{person.one(GOALS)}"']
    return laid_out(lines)


def _paperwork(person: Person) -> list[str]:
    chance = person.chance
    asked = person.starts - timedelta(days=chance.randint(0, 60))
    lines = [
        f"# {person.one(REMARKS)}",
        f"screening {asked}",
        f"by T-{chance.randint(1, 40):02}",
        "clear yes for moderate",
    ]
    lines += [
        "asked heart no, diabetes no, kidney no, symptoms no",
        f"falls {chance.choice([0, 0, 0, 1])} in 12 months",
    ]
    lines += [f"unsteady {chance.choice(['no', 'no', 'yes'])}", "floor gets up alone"]
    lines += [f"agreed {person.starts} calendar {chance.choice(['full', 'discreet', 'none'])}, diary yes", "today"]
    lines += [f"chair-stands {chance.randint(5, 16)} reps", f"daily-steps {person.steps} steps/day over 7 days"]
    lines += [
        f"usual-pain {person.usual}/10",
        'has "sturdy chair", "long band", "mat", "backpack"',
        "weights 1, 2, 3, 4, 5, 6 kg",
    ]
    return [*lines, f'tell "{person.one(TELLS)}"', f'tell "{person.one(TELLS)}"']


def _aims(person: Person, doses: dict[str, str], walked: str) -> list[str]:
    chance = person.chance
    lines = [
        f'goal "{person.one(GOALS)}"',
        f"by {person.day(person.weeks)}",
        f'because "{person.one(REASONS)}"',
        f"confidence {chance.randint(4, 10)}/10",
    ]
    for name, dose in list(doses.items())[:1]:
        lines += [f'target "The last step of {name}"', f"by {person.day(person.weeks)}", f"reach {dose} in {name}"]
    if walked:
        lines += ['target "A little further each week"', f"by {person.day(person.weeks)}", walked]
    lines += [
        f'target "{person.one(HABITS)}"',
        "by week 4",
        f'keep "{person.one(HABITS)}" {chance.randint(3, 6)} days/week',
    ]
    return lines


def _resting(person: Person, strong: list[str]) -> list[str]:
    lines = [
        "rest",
        f"room for {person.room} weeks  # {person.one(REMARKS)}",
        "starts when 2 points above usual for 2 days",
    ]
    lines += ["first 2 days as little as needed", "still do heel-slides 1x8 each side twice a day"]
    lines += ["still do walking 5 min 3 times a day", 'back when "easing for 2 days, and I walk as usual indoors"']
    lines += [
        "return 1 step lower for 1 week",
        'tell us if "not easing after 10 days"',
        "expect 1 flare in 8 weeks lasting 1 week",
    ]
    return [*lines, "pain", f"accept up to {max(4, person.usual)}/10 during", "settle within 24 hours"]


def _side(dose: str) -> str:
    return " each side" if "each side" in dose else ""


def _ladder(chance: Random) -> list[str]:
    sets, count, load, made = chance.randint(1, 2), chance.randint(5, 8), 0, []
    side = chance.choice(["", "", " each side"])
    for _ in range(chance.randint(3, 6)):
        made.append(f"{sets}x{count}{side}{f' at {load} kg' if load else ''}")
        turn = chance.choice(["count", "sets", "load"] if sets < 3 else ["count", "load"])
        sets, count, load = sets + (turn == "sets"), count + 2 * (turn == "count"), load + (turn == "load")
    return made


_BLANK = re.compile(
    r"^[ ]*blank +(\S+) +(?:text|([0-9.]+) to ([0-9.]+)(?: ([a-z/%]+))?(?: by ([0-9.]+))?)", re.MULTILINE
)


def from_template(person: Person, name: str, template: str) -> str:
    """A plan from a template: its blanks filled by chance within their ranges, and sometimes a block changed."""
    chance = person.chance
    lines = [
        f'plan "{person.one(GOALS)}"',
        f"for {person.code}, aged {person.age}",
        f'from template "../../library/templates/{name}"',
    ]
    for blank, low, high, unit, grain in _BLANK.findall(template):
        lines.append(
            f"fill {blank} {_value(chance, low, high, unit, grain) if low else chr(34) + person.one(CUES) + chr(34)}"
        )
    lines += [
        f"starts {person.starts}",
        "zone Australia/Hobart",
        f"written {person.starts - timedelta(days=3)}",
        "revision 1",
    ]
    lines += _paperwork(person)[:-2]
    kept = [
        line
        for line in lines
        if not line.startswith(("today", "chair-stands", "daily-steps", "usual-pain", "has ", "weights "))
    ]
    return laid_out(kept)


def _value(chance: Random, low: str, high: str, unit: str, grain: str) -> str:
    by = Fraction(grain or 1)
    value = Fraction(low) + by * chance.randint(0, int((Fraction(high) - Fraction(low)) / by))
    return f"{int(value) if value.denominator == 1 else float(value)}{f' {unit}' if unit else ''}"


_HEADS = ("plan", "screening", "today", "goal", "target", "rest", "pain", "exercise", "activity", "session")
_ALONE = ("agreed", "tell", "prepare", "review", "after", "away", "#")


def laid_out(lines: list[str]) -> str:
    """Lines as the formatter sets them, or nearly so."""
    made = []
    for line in lines:
        first = line.split()[0]
        if first in _HEADS:
            made.append(f"\n{line}" if made else line)
        elif first in _ALONE:
            made.append(line)
        else:
            word, _, rest = line.partition(" ")
            made.append(f"  {word:<10} {rest}")
    return "\n".join(made) + "\n"
