"""`python -m tests.benchmarks`: the table of ratios."""

from __future__ import annotations

import platform
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from yamllint import linter
from yamllint.config import YamlLintConfig

from planlang.checking.check import check
from planlang.checking.rulebook import Rulebook, built_in
from planlang.model.reading import read_plan
from planlang.planning.reckon import reckon
from planlang.syntax.normalise import normalise
from planlang.syntax.parser import parser
from planlang.syntax.tables import write_table
from planlang.text.source import Source
from tests.benchmarks.as_yaml import as_yaml
from tests.benchmarks.plans import DEMO, ROOT, demo, longer, weeks_long
from tests.benchmarks.timing import HEADING, Pair, compare, typical


def reading() -> Pair:
    """Text to model, against the same grammar's bare parse of the same text."""
    text = demo()
    bare, ready = parser(), normalise(text)
    return compare(
        "read a plan / lark's bare parse", lambda: read_plan(Source("a.plan", text)), lambda: bare.parse(ready), 2.5, 40
    )


def linting(text: str, book: Rulebook, name: str, limit: float) -> Pair:
    """Everything that lint does with one plan, against yamllint on the same content, both warm."""
    rules, written = YamlLintConfig("extends: default"), as_yaml(text)
    return compare(
        name,
        lambda: check(Source("a.plan", text), book),
        lambda: list(linter.run(written, rules)),
        limit,
    )


_FIRST = """
daily-steps-jump steps-jump-without-a-strength-base walking-raised-before-strength goal-is-only-a-weight
goal-from-an-old-level no-room-for-rest rest-week-left-empty targets-two-or-three target-after-the-goal
target-not-trained target-out-of-reach strength-under-two-days hard-strength-days-in-a-row pain-rule-missing
session-without-when-or-where screening-not-clear
"""
FIRST = _FIRST.split()
"""The rules about rest, targets, weight and walking, with which the limit of 0.4 was set."""


def lints() -> Iterator[Pair]:
    """Each person's plan of the examples under every rule, and the demo's under a few."""
    few = Rulebook(tuple(rule for rule in built_in().rules if rule.name in FIRST), built_in().registry)
    assert len(few.rules) == len(FIRST)
    yield linting(demo(), few, f"lint, warm, {len(FIRST)} rules / yamllint", 0.4)
    for path in sorted(DEMO.parent.glob("*.plan")):
        name = f"lint {path.stem}, warm, {len(built_in().in_force())} rules / yamllint"
        yield linting(path.read_text(encoding="utf-8"), built_in(), name, 0.5)


def process() -> Pair:
    """The whole command as installed, tables ready, against a process that imports what every such tool imports."""
    with tempfile.TemporaryDirectory(prefix="installed-") as folder:
        home = installed(Path(folder))
        (home / "one.plan").write_text(demo(), encoding="utf-8")
        command = [sys.executable, str(home / "planlang-script"), "lint", "one.plan"]
        return compare(
            "planlang lint / python -c 'import lark, attrs, yaml'",
            lambda: _run(command, home),
            lambda: _run([sys.executable, "-c", "import lark, attrs, yaml"], home),
            3.0,
            11,
        )


SCRIPT = "import sys\nfrom planlang.cli.main import main\nsys.exit(main())\n"
"""What an installed console script runs."""


def installed(folder: Path) -> Path:
    """The package with its data as a wheel lays it out, ready tables and console script included."""
    shutil.copytree(ROOT / "planlang", folder / "planlang", ignore=shutil.ignore_patterns("__pycache__"))
    data = folder / "planlang" / "data"
    for name in ("grammar", "rules"):
        shutil.copytree(ROOT / name, data / name, ignore=shutil.ignore_patterns("*.table", "__pycache__"))
    write_table(data / "grammar" / "plan.table")
    _run([sys.executable, "-c", TABLES], folder)
    (folder / "planlang-script").write_text(SCRIPT, encoding="utf-8")
    return folder


TABLES = (
    "from planlang.checking.table import write\nfrom planlang.text.resources import folder\nwrite(folder('rules'))\n"
)


def _run(command: list[str], home: Path) -> None:
    done = subprocess.run(command, cwd=home, env={"PYTHONPATH": str(home)}, capture_output=True, check=False)
    if done.returncode not in (0, 1):
        raise SystemExit(f"{command} ended with {done.returncode}: {done.stderr.decode()}")


def growth(what: str, sizes: list[int], work: Callable[[int], Callable[[], object]], unit: str) -> Iterator[str]:
    """Times at growing sizes; linear growth keeps the last column near 1."""
    first = None
    yield f"{what:<44} {unit:>9} {'ms':>9} {'ms each':>9} {'to first':>9}"
    for size in sizes:
        seconds = typical(work(size), 5)
        each = seconds / size
        first = first or each
        yield f"{'':<44} {size:>9} {seconds * 1000:>9.2f} {each * 1000:>9.3f} {each / first:>9.2f}"


def reading_longer(times: int) -> Callable[[], object]:
    """A plan of so many times the blocks, read."""
    text = longer(times)
    return lambda: read_plan(Source("a.plan", text))


def linting_longer(times: int) -> Callable[[], object]:
    """The same, linted."""
    text = longer(times)
    return lambda: check(Source("a.plan", text), built_in())


def reckoning_weeks(weeks: int) -> Callable[[], object]:
    """A plan over so many weeks, reckoned."""
    plan, _ = read_plan(Source("a.plan", weeks_long(weeks)))
    assert plan is not None
    return lambda: reckon(plan)


def linting_files(count: int) -> Callable[[], object]:
    """A folder of so many people's plans, linted by one process."""
    folder = Path(tempfile.mkdtemp(prefix="plans-"))
    for n in range(count):
        (folder / f"{n}.plan").write_text(demo().replace("P-014", f"P-{n + 100}"), encoding="utf-8")

    def work() -> object:
        from planlang.cli.linted import Call, lint_all

        return list(lint_all([str(p) for p in sorted(folder.iterdir())], Call()))

    return work


def rows() -> Iterator[Pair]:
    """The rows of the table, each measured when it is asked for."""
    yield reading()
    yield from lints()
    yield process()


def _shown(pair: Pair) -> bool:
    """Prints a row; whether it is within its limit."""
    print(pair.row, flush=True)
    return pair.ratio <= pair.limit


def main() -> None:
    """Prints the tables. Nothing is asserted: a ratio over its limit says OVER."""
    print(f"Python {platform.python_version()}, {platform.machine()}; the demo's plan: {len(demo())} characters\n")
    print(HEADING)
    over = [pair.name for pair in rows() if not _shown(pair)]
    print(f"OVER the limit: {'; '.join(over)}" if over else "All within their limits.")
    tables = [
        ("read: blocks in the plan", [4, 8, 16, 32], reading_longer, "times"),
        ("lint: blocks in the plan", [1, 2, 4, 8], linting_longer, "times"),
        ("reckon: weeks of the plan", [26, 52, 104, 208], reckoning_weeks, "weeks"),
        ("lint: files", [10, 40, 160, 640], linting_files, "files"),
    ]
    for what, sizes, work, unit in tables:
        print()
        for line in growth(what, sizes, work, unit):
            print(line)


if __name__ == "__main__":
    main()
