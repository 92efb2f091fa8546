"""Lines that were read before are made again: the same trees and words at their own places, whatever stands around."""

from pathlib import Path
from random import Random

import pytest

from planlang.syntax import recover
from planlang.syntax.driver import driver
from planlang.syntax.normalise import normalise
from planlang.syntax.recover import Line, parse
from planlang.syntax.words import Token, Tree

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").rglob("*.plan"))


def told(tree: object) -> object:
    """A tree with the places of its words."""
    if isinstance(tree, Tree):
        return tree.data, [told(part) for part in tree.children]
    assert isinstance(tree, Token)
    return tree.type, str(tree), tree.start_pos, tree.end_pos


def everything(text: str) -> object:
    trees, lines = parse(normalise(text))
    said = [[told(w) for w in line.tokens] if isinstance(line, Line) else line for line in lines]
    return [told(tree) for tree in trees], said


@pytest.fixture(autouse=True)
def nothing_known() -> None:
    driver().lines.clear()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_text_read_again_says_the_same_at_the_same_places(path):
    text = path.read_text("utf-8")
    first = everything(text)
    assert driver().lines
    assert everything(text) == first


def test_lines_stand_elsewhere_in_another_text():
    chance = Random(5)
    pool = [line for path in EXAMPLES for line in path.read_text("utf-8").splitlines()]
    pool += ["  nonsense here", '  tell "no end', "exersise heel-raise", "", "  # remark", "then 3x10 at", "2027-03-01"]
    for _ in range(40):
        lines = [" " * chance.randint(0, 4) + chance.choice(pool).strip() for _ in range(30)]
        text = "\n".join(lines) + chance.choice(["", "\n", "\n\n  "])
        driver().lines.clear()
        fresh = everything(text)
        for other in range(3):
            everything("\n".join(chance.sample(lines, len(lines))) + f"\n# {other}\n")
        assert everything(text) == fresh


def test_only_so_many_lines_are_kept(monkeypatch):
    monkeypatch.setattr(recover, "MOST_KEPT", 10)
    for number in range(40):
        assert everything(f'plan "Number {number}"\n  lasts {number + 1} weeks\n') is not None
    assert len(driver().lines) <= 10
