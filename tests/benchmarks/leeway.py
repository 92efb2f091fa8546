"""`python -m tests.benchmarks.leeway`: what a leeway costs, as ratios to one bare parse of the same plan."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.planning.leeway.assumed import assumption
from planlang.planning.leeway.chances import chance, flares_of, rest_needed
from planlang.planning.leeway.verdicts import Verdicts
from planlang.syntax.normalise import normalise
from planlang.syntax.parser import parser
from planlang.text.source import Source
from tests.benchmarks.timing import HEADING, compare, typical

LADDER = ("2x6", "2x8", "2x10", "3x10", "3x12", "3x12 at 1 kg", "3x12 at 2 kg", "3x12 at 3 kg")
EXERCISES = 11


def plan_text(weeks: int = 52, room: int = 8, due: int = 48, expect: str = "") -> str:
    """Twelve ladders, the last a late start, six targets, an away week, and sessions in two phases."""
    names = [f"exercise-{n}" for n in range(EXERCISES)]
    lines = [
        'plan "A year of small steps"',
        "  about knee osteoarthritis, right",
        "  starts 2027-03-01",
        f"  lasts {weeks} weeks",
        "  zone Australia/Hobart",
        '  away 2027-04-19 to 2027-04-25 "school holidays"',
    ]
    for n in range(5):
        lines += [f'target "Target {n}"', f"  by week {due - 4 * n}", f"  reach 3x12 at {1 + n % 3} kg in {names[n]}"]
    lines += ['target "Walk"', f"  by week {due - 10}", "  reach 4700 steps/day in walking"]
    lines += [
        "rest",
        f"  room for {room} weeks",
        "  return 1 step lower for 1 week",
        *([f"  {expect}"] if expect else []),
    ]
    for n, name in enumerate(names):
        lines += [f"exercise {name}", "  kind strength", "  works quadriceps", f"  begin {LADDER[0]}"]
        lines += [f"  then {dose}" for dose in LADDER[1:]]
        lines.append(f"  progress every {2 + n % 3} weeks")
    lines += ["activity walking", "  kind aerobic", "  begin 3200 steps/day"]
    lines += ["  rise 300 steps/day every week to 5000 steps/day", "  start after 4 weeks of strength"]
    lines += ['session "All of it"', "  days Mon, Wed training weeks 1 to 4", "  days Mon, Wed, Fri training week 5 on"]
    lines += ["  at 07:30 for 45 min", f"  do {', '.join(names)}"]
    return "\n".join(lines) + "\n"


def plan_of(text: str) -> Plan:
    """The plan, which must read without a finding."""
    plan, findings = read_plan(Source("year.plan", text))
    if plan is None or findings:
        raise SystemExit(f"the benchmark's plan can't be read: {[f.message for f in findings]}")
    return plan


def verdicts_of(plan: Plan) -> Callable[[], object]:
    """All verdicts of a plan, from nothing."""

    def work() -> object:
        known = Verdicts(plan)
        return [(one.verdict, one.worst_rest, one.margin) for one in map(known.of, plan.targets)]

    return work


def chances_of(plan: Plan) -> Callable[[], object]:
    """All chances of a plan, from nothing, without the verdicts."""

    def work() -> object:
        known = Verdicts(plan)
        assumed = assumption(plan)
        if known.frame is None or isinstance(assumed, str):
            raise SystemExit("the benchmark's plan has no chances")
        flares = flares_of(known.frame, assumed)
        if isinstance(flares, str):
            raise SystemExit(flares)
        found = []
        for target in plan.targets:
            machine, by = known.machine_of(target), known.of(target).by
            found.append(chance(machine, flares, by) if machine and by else None)
        return found, rest_needed(known.frame, flares)

    return work


def ratios() -> None:
    """Verdicts and chances against one parse of the same text."""
    print(HEADING)
    for name, expect in (("flares of a week, people differ", ""), ("flares of 8 days, people differ", LONG)):
        text = plan_text(expect=expect)
        plan, bare, ready = plan_of(text), parser(), normalise(text)

        def parse(bare: object = bare, ready: str = ready) -> object:
            return bare.parse(ready)  # type: ignore[attr-defined]

        if not expect:
            print(compare("verdicts / bare parse", verdicts_of(plan), parse, 30).row, flush=True)
        print(compare(f"chances / parse: {name}", chances_of(plan), parse, 150, 7).row, flush=True)


LONG = "expect 1 flare in 13 weeks lasting 8 days varies much"


def growth(what: str, sizes: Sequence[int], plan_with: Callable[[int], Plan], power: int) -> None:
    """Times at growing sizes. The last column stays near or under 1 where they grow no faster than the power."""
    print(f"\n{what:<44} {'size':>9} {'ms':>9} {'to first':>9} {f'/ size^{power}':>9}")
    first = 0.0
    for size in sizes:
        seconds = typical(verdicts_of(plan_with(size)), 9)
        first = first or seconds
        grown = seconds / first
        print(f"{'':<44} {size:>9} {seconds * 1000:>9.2f} {grown:>9.2f} {grown / (size / sizes[0]) ** power:>9.2f}")


def main() -> None:
    """Prints the tables. Nothing is asserted: a ratio over its limit says OVER."""
    text = plan_text()
    plan = plan_of(text)
    size = f"{len(text)} characters, {len(plan.exercises)} ladders, {len(plan.targets)} targets, room for {plan.room}"
    print(f"{plan.weeks} weeks, {size}\n")
    ratios()
    growth("verdicts: weeks, targets due at the end", [26, 52, 104, 260], lambda n: plan_of(plan_text(n, 8, n)), 1)
    growth("verdicts: room for rest, of 52 weeks", [2, 4, 8, 16], lambda n: plan_of(plan_text(52, n, 52)), 2)


if __name__ == "__main__":
    main()
