"""Plans of any length for the benchmarks: a real one, and real blocks repeated under new names."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "examples" / "people" / "p014-allotment.plan"


def demo() -> str:
    """The plan of the demo: about 2.5 KB, three ladders and a daily activity."""
    return DEMO.read_text(encoding="utf-8")


def longer(times: int) -> str:
    """A plan of eighteen weeks with so many times the demo's exercises and sessions, each under a name of its own."""
    blocks = _blocks(demo())
    repeated = [b for b in blocks if b[0].split()[0] in ("exercise", "session")]
    kept = [b for b in blocks if b not in repeated]
    names = [b[0].split()[1] for b in repeated if b[0].startswith("exercise")]
    made = [*kept]
    for n in range(times):
        for block in repeated:
            made.append([_renamed(line, names, n) for line in block])
    return "\n".join(line for block in made for line in block) + "\n"


def weeks_long(weeks: int) -> str:
    """The demo's plan over so many weeks."""
    return "\n".join(f"  lasts {weeks} weeks" if line.split()[:1] == ["lasts"] else line for line in demo().split("\n"))


def _renamed(line: str, names: list[str], n: int) -> str:
    if n == 0:
        return line
    if line.startswith("session "):
        return f'{line[:-1]} {n}"'
    if line.startswith("exercise ") or line.split()[:1] == ["do"]:
        for name in names:
            line = line.replace(name, f"{name}-{n}")
    return line


def _blocks(text: str) -> list[list[str]]:
    blocks: list[list[str]] = [[]]
    for line in text.splitlines():
        if line[:1].isalpha():
            blocks.append([])
        blocks[-1].append(line)
    return [block for block in blocks if block]
