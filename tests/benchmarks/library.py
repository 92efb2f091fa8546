"""`python -m tests.benchmarks.library [COUNT...]`: the lint of whole libraries, as ratios in one run.

Libraries of 200, 2,000 and 20,000 plans from one seed. A plan against yamllint on the same content (of a plan from a
template: the plan put together), two processes against one, memory and time of the larger against the smaller.
"""

from __future__ import annotations

import gc
import itertools
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from attrs import frozen
from yamllint import linter
from yamllint.config import YamlLintConfig

from planlang.checking.file import Run, check_file
from planlang.model.composing.compose import compose
from planlang.model.composing.composed import Composed
from planlang.model.composing.files import InLibrary
from planlang.text.source import Source
from tests.benchmarks.as_yaml import as_yaml
from tests.benchmarks.seeded_library import write
from tests.benchmarks.timing import once

COUNTS = (200, 2_000, 20_000)
TEN, MOST_TENS, ROUNDS = 10, 6, 5
TURNS = 3
"""How often one process and two take turns."""


@frozen
class Cost:
    """What a run cost: seconds by the clock, processor seconds, those of the first process, the most MiB of any."""

    clock: float
    spent: float
    own: float
    memory: float


def main(counts: list[int]) -> None:
    """Prints the tables. Nothing is asserted: what is over its limit says OVER."""
    print(f"{os.cpu_count()} processors, others busy: {os.getloadavg()[0]:.1f} at the start\n", flush=True)
    with tempfile.TemporaryDirectory(prefix="libraries-") as folder:
        libraries = {}
        for count in counts:
            libraries[count] = Path(folder, str(count))
            write(libraries[count], count)
        for line in per_plan(libraries[counts[0]]):
            print(line, flush=True)
        print()
        for line in growth(libraries):
            print(line, flush=True)
        print()
        for line in processes(libraries[max(c for c in counts if c <= 2_000)]):
            print(line, flush=True)
    print(f"\nothers busy: {os.getloadavg()[0]:.1f} at the end")


def per_plan(root: Path) -> Iterator[str]:
    """Plans linted one after the other as in a run over the library, against yamllint on the same content.

    Ten by ten, each ten of one kind, in turn with yamllint; of a few rounds the quickest of each ten counts.
    """
    rules, run = YamlLintConfig("extends: default"), Run()
    kinds: dict[str, list[tuple[Path, str]]] = {}
    for path in sorted((root / "people").rglob("*.plan")):
        kind, written = _content(path, root)
        kinds.setdefault(kind, []).append((path, written))
    yield f"{'lint of one plan / yamllint on its content':<44} {'plans':>6} {'ms':>8} {'against':>8} {'ratio':>6} limit"
    spent: dict[str, tuple[float, float]] = {}
    for kind, plans in sorted(kinds.items()):
        tens = [plans[start : start + TEN] for start in range(0, len(plans) - TEN + 1, TEN)][:MOST_TENS]
        times = [_ten(ten, run, rules) for ten in tens]
        ours, theirs = (sum(column) / len(tens) / TEN * 1000 for column in zip(*times, strict=True))
        spent[kind] = ours * len(plans), theirs * len(plans)
        yield f"{kind:<44} {len(tens) * TEN:>6} {ours:>8.2f} {theirs:>8.2f} {_judged(ours / theirs, 0.5)}"
    ours, theirs = (sum(column) for column in zip(*spent.values(), strict=True))
    yield f"{'all, as many of each as there are':<69} {_judged(ours / theirs, 0.5)}"


def _ten(ten: list[tuple[Path, str]], run: Run, rules: YamlLintConfig) -> tuple[float, float]:
    """Seconds for the plans, and for yamllint on their content."""
    gc.collect()
    gc.freeze()
    times = []
    for _ in range(ROUNDS):
        ours = once(lambda: [check_file(path, run) for path, _ in ten])
        times.append((ours, once(lambda: [list(linter.run(written, rules)) for _, written in ten])))
    gc.unfreeze()
    return min(ours for ours, _ in times), min(theirs for _, theirs in times)


def _content(path: Path, root: Path) -> tuple[str, str]:
    """What kind of plan a file holds, and all that it comes to as YAML."""
    source = Source(str(path), path.read_text("utf-8"))
    whole, _ = compose(source, InLibrary(root))
    if not isinstance(whole, Composed):
        return "by itself", as_yaml(source.text)
    return ("from a template" if "template" in source.text else "with a library"), as_yaml(whole.flat.text)


def growth(libraries: dict[int, Path]) -> Iterator[str]:
    """Time and memory of one process over libraries of growing size."""
    yield f"{'lint people/, one process':<44} {'plans':>6} {'s':>8} {'ms each':>8} {'MiB':>8}"
    first: Cost | None = None
    costs: dict[int, Cost] = {}
    for count, root in libraries.items():
        cost = costs[count] = _linted(root, 1)
        first = first or cost
        yield f"{'':<44} {count:>6} {cost.spent:>8.1f} {cost.spent / count * 1000:>8.2f} {cost.memory:>8.1f}"
    sizes = sorted(costs)
    for small, large in itertools.pairwise(sizes[-2:]):
        memory = costs[large].memory / costs[small].memory
        each = costs[large].spent / large / (costs[small].spent / small)
        yield f"{f'memory, {large} plans to {small}':<69} {_judged(memory, 1.2)}"
        yield f"{f'time a plan, {large} plans to {small}':<69} {_judged(each, 1.1)}"


def processes(root: Path) -> Iterator[str]:
    """One process and two in turn: how many times as quick two are, by the clock and by the work of each process.

    By the work is what the clock would say with two processors for nothing else: what the first process does by itself,
    and half of what its two do. By the clock needs a quiet machine.
    """
    turns = [(_linted(root, 1), _linted(root, 2)) for _ in range(TURNS)]
    clock = median(one.clock / two.clock for one, two in turns)
    work = median(one.spent / (two.own + (two.spent - two.own) / 2) for one, two in turns)
    yield f"two processes to one, by the work of each: {work:.2f} times as quick, by the clock: {clock:.2f} (1.8)"
    for one, two in turns:
        said = f"  one: {one.clock:.1f} s by the clock, {one.spent:.1f} worked;"
        yield f"{said} two: {two.clock:.1f} s, {two.spent:.1f} worked, {two.own:.1f} of it by the first"


def _linted(root: Path, jobs: int) -> Cost:
    """The whole command over the people of a library, as installed: its findings thrown away."""
    command = [sys.executable, "-c", MEASURED, "lint", str(root / "people"), "--json", "--jobs", str(jobs)]
    begun = time.perf_counter()
    done = subprocess.run(command, capture_output=True, check=False, text=True)
    clock = time.perf_counter() - begun
    if done.returncode not in (0, 1):
        raise SystemExit(f"{command} ended with {done.returncode}: {done.stderr}")
    spent, first, memory = map(float, done.stderr.split()[-3:])
    return Cost(clock, spent, first, memory / 1024)


MEASURED = """
import os, sys
sys.stdout = open(os.devnull, "w")
from resource import RUSAGE_CHILDREN, RUSAGE_SELF, getrusage
from planlang.cli.main import run
import gc
gc.set_threshold(100_000)
code = run(sys.argv[1:])
own, others = getrusage(RUSAGE_SELF), getrusage(RUSAGE_CHILDREN)
first = own.ru_utime + own.ru_stime
print(first + others.ru_utime + others.ru_stime, first, max(own.ru_maxrss, others.ru_maxrss), file=sys.stderr)
sys.exit(code)
"""


def _judged(ratio: float, limit: float) -> str:
    return f"{ratio:>6.2f} {limit:<4} {'within' if ratio <= limit else 'OVER'}"


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or list(COUNTS))
