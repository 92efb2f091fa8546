"""JSON with long lists in it, written item by item as `json.dumps(..., indent=2)` would write the whole."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

Long = tuple[str, int, Iterable[Any]]
"""What stands in the skeleton in a list's place, how deep its items stand, and the items."""


def dumped(skeleton: Any, *lists: Long) -> Iterator[str]:
    """The pieces of a document. Each list's mark is a text that stands nowhere else, in the order of the marks."""
    rest = json.dumps(skeleton, ensure_ascii=False, indent=2) + "\n"
    for mark, depth, items in lists:
        before, _, rest = rest.partition(json.dumps(mark))
        yield before
        yield from _items(depth, items)
    yield rest


def _items(depth: int, items: Iterable[Any]) -> Iterator[str]:
    margin = "\n" + "  " * depth
    begun = False
    for item in items:
        text = json.dumps(item, ensure_ascii=False, indent=2).replace("\n", margin)
        yield f"{',' if begun else '['}{margin}{text}"
        begun = True
    yield f"\n{'  ' * (depth - 1)}]" if begun else "[]"
