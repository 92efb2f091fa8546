"""Our `frozen` and `define` do what those of attrs do, comparison, hash and text included."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from typing import Any

import attrs
import pytest
from attrs import evolve, field

from planlang.text import data


class Bare:
    name: str
    size: int = 2
    parts: tuple[int, ...] = field(default=(), repr=False)
    place: int = field(default=0, eq=False)
    word: str = field(default="a", eq=str.lower, repr=str.upper)


def like(make: Callable[..., Any], **options: Any) -> Any:
    body = {"__module__": __name__, "__qualname__": "Bare", "__annotations__": Bare.__annotations__}
    fields = {"size": 2, "parts": field(default=(), repr=False), "place": field(default=0, eq=False)}
    return make(type("Bare", (), body | fields | {"word": field(default="a", eq=str.lower, repr=str.upper)}), **options)


OURS, THEIRS = like(data.frozen), like(attrs.frozen)
SAID: list[dict[str, Any]] = [
    {"name": "x"},
    {"name": "x", "place": 9},
    {"name": "x", "word": "A"},
    {"name": "x", "size": 3},
    {"name": "y", "parts": (1, 2)},
]


@pytest.mark.parametrize("one", SAID)
@pytest.mark.parametrize("other", SAID)
def test_equal_where_attrs_says_so(one: dict[str, Any], other: dict[str, Any]) -> None:
    assert (OURS(**one) == OURS(**other)) is (THEIRS(**one) == THEIRS(**other))
    assert (OURS(**one) != OURS(**other)) is (THEIRS(**one) != THEIRS(**other))


@pytest.mark.parametrize("said", SAID)
def test_equal_ones_hash_alike_and_read_as_attrs_has_them(said: dict[str, Any]) -> None:
    assert hash(OURS(**said)) == hash(evolve(OURS(**said), place=4, word=said.get("word", "a").upper()))
    assert repr(OURS(**said)) == repr(THEIRS(**said))


def test_another_class_with_the_same_values_is_not_equal() -> None:
    assert OURS("x") != like(data.frozen)("x")
    assert OURS("x") != "x"


def test_frozen_ones_cant_be_changed_and_others_cant_be_hashed() -> None:
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        OURS("x").name = "y"
    with pytest.raises(TypeError, match="unhashable"):
        hash(like(data.define)("x"))


def test_without_comparison_each_is_itself() -> None:
    made = like(data.define, eq=False)
    assert made("x") != made("x")
    assert len({made("x"), made("x")}) == 2


@data.frozen
class Leaf:
    said: str

    def __repr__(self) -> str:
        return "a leaf"


@data.frozen
class Ring:
    inside: list[Any]


def test_what_a_class_says_of_itself_is_kept() -> None:
    assert repr(Ring([Leaf("x")])) == "Ring(inside=[a leaf])"


def test_a_ring_is_shown_once() -> None:
    ring = Ring([])
    ring.inside.append(ring)
    assert repr(ring) == "Ring(inside=[...])"


def test_data_goes_from_one_process_to_another() -> None:
    assert pickle.loads(pickle.dumps(Leaf("x"))) == Leaf("x")
