"""Writes the README's tour anew from what the commands print: `python -m tests.house.tour`. Read the difference."""

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
ALLOTMENT = "my-clinic/people/p014-allotment.plan"
FERRY = "my-clinic/drafts/p052-ferry.plan"


def planlang(command: str, folder: str) -> list[str]:
    """The lines that a command prints in an 80-column terminal."""
    env = {**os.environ, "COLUMNS": "80", "PYTHONPATH": str(ROOT)}
    call = [sys.executable, "-m", "planlang", *command.split()]
    done = subprocess.run(
        call, cwd=folder, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False
    )
    assert done.returncode < 2, done.stdout
    return done.stdout.strip("\n").split("\n")


def line(lines: list[str], words: str, after: int = 0) -> int:
    """The first line, from `after` on, that holds the words."""
    return next(i for i, text in enumerate(lines) if i >= after and words in text)


def block(command: str, lines: list[str]) -> str:
    return "\n".join(["```console", f"$ planlang {command}", *lines, "```"]) + "\n"


def weeks(folder: str) -> str:
    command = f"weeks {ALLOTMENT} --rest 3,9"
    lines = planlang(command, folder)
    return block(command, [*lines[: line(lines, "  10  ")], "...", *lines[line(lines, "In easier weeks") :]])


def lint(folder: str) -> str:
    command = f"lint {FERRY}"
    lines = planlang(command, folder)
    first, jump = line(lines, "no-room-for-rest, line"), line(lines, "steps-jump-without-a-strength-base, line")
    unreadable = line(lines, "unreadable, line")
    kept, at = lines[:2], 2
    for start in sorted((first, unreadable, jump)):
        said = _until_empty(lines, start)
        kept += [*(["..."] if start > at else []), *said]
        at = start + len(said)
    return block(command, [*kept, "...", *lines[line(lines, " rules ran on") :]])


def _until_empty(lines: list[str], start: int) -> list[str]:
    end = next(i for i in range(start, len(lines)) if not lines[i])
    return lines[start : end + 1]


def explain(folder: str) -> str:
    command = "explain no-room-for-rest"
    lines = planlang(command, folder)
    return block(command, [*lines[: line(lines, "Settings, within") - 1], "..."])


def compiled(folder: str) -> str:
    command = f"compile {ALLOTMENT} -o p014.ics"
    return block(command, planlang(command, folder))


def review(folder: str) -> str:
    command = f"review {ALLOTMENT} {ALLOTMENT.replace('.plan', '.diary')}"
    lines = planlang(command, folder)
    return block(command, [*lines[: line(lines, "Sessions done (reported")], "..."])


def tour() -> str:
    with tempfile.TemporaryDirectory() as folder:
        planlang("demo my-clinic", folder)
        return f"""\
The demo's first plan, week by week, as it comes out when weeks 3 and 9 turn out easier weeks. Each easier week pushes
the training on by one, and the first week back starts lower on purpose.

{weeks(folder)}
A first draft, typed at the end of a long day:

{lint(folder)}
What stands behind a rule:

{explain(folder)}
And the calendar, for any calendar program: each session dated, the day's doses in it, what to do on a sore day, what an
easier week looks like, when to stop and get help.

{compiled(folder)}
Ten weeks later, with the diary, the first minute of a visit:

{review(folder)}
"""


if __name__ == "__main__":
    readme = ROOT / "README.md"
    text = readme.read_text("utf-8")
    start, end = text.index("## A tour\n") + len("## A tour\n\n"), text.index("## The language")
    readme.write_text(re.sub(r"\n\n\n+", "\n\n", text[:start] + tour() + text[end:]), "utf-8")
