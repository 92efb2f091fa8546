"""The content of a plan as YAML: a block a mapping, a statement a key, its words the value; comments kept."""

from __future__ import annotations

import yaml

from planlang.syntax.nodes import Statement
from planlang.syntax.read import read
from planlang.syntax.statements import HEADERS
from planlang.text.source import Source


def as_yaml(text: str) -> str:
    """A YAML document with everything that a plan says, in its order; a key said more than once holds a list."""
    script = read(Source("plan", text))
    by_line = {script.source.line_of(line.span.start): line for line in script.lines}
    made = ["---"]
    keys: dict[str, list[int]] = {}
    for number, written in enumerate(text.splitlines(), 1):
        line = by_line.get(number)
        if line is None:
            made += [f"# {written.lstrip('# ')}" if written.strip() else ""]
            continue
        assert isinstance(line, Statement)
        first = line.tokens[0]
        key, value = str(first), text[first.end_pos : line.tokens[-1].end_pos].strip()
        if line.name in HEADERS:
            keys = {}
            made.append(f"- {key}: {scalar(value)}")
            continue
        comment = text[line.tokens[-1].end_pos : script.source.line_starts[number - 1] + len(written)].strip()
        behind = f"  {comment}" if comment else ""
        if key in keys:
            _one_more(made, keys, key, f"      - {scalar(value)}{behind}")
        else:
            made.append(f"  {key}: {scalar(value)}{behind}")
            keys[key] = [len(made) - 1]
    return "\n".join(made).rstrip("\n") + "\n"


def _one_more(made: list[str], keys: dict[str, list[int]], key: str, item: str) -> None:
    """Turns the value of a key into a list, or adds to it."""
    places = keys[key]
    if len(places) == 1:
        head, _, value = made[places[0]].partition(": ")
        made[places[0]] = f"{head}:"
        made.insert(places[0] + 1, f"      - {value}")
        places.append(places[0] + 1)
        for other, found in keys.items():
            keys[other] = found if other == key else [p + (p > places[0]) for p in found]
    made.insert(places[-1] + 1, item)
    for other, found in keys.items():
        keys[other] = found if other == key else [p + (p > places[-1]) for p in found]
    places.append(places[-1] + 1)


def scalar(words: str) -> str:
    """Words as a YAML value, quoted where they would otherwise be read as something else."""
    if not words:
        return "null"
    words = " ".join(words.split())
    if words.count('"') == 2 and words[0] == words[-1] == '"':
        words = words[1:-1]
    return str(yaml.safe_dump(words, allow_unicode=True, width=10**6)).removesuffix("...\n").strip()
