"""YAML read strictly: places kept, no key twice, no aliases, and no surprises of YAML 1.1.

Only `true`, `false`, `null`, whole numbers and plain decimals change type; `on`, `yes`, `07:30`,
`010`, `1e3` and dates stay text. Decimals are exact Fractions.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from attrs import field

from planlang.text.data import frozen
from planlang.text.finding import Finding, unreadable
from planlang.text.source import Source, Span

Path = tuple[str | int, ...]

DEEPEST = 60
_WORDS = {"true": True, "false": False, "null": None, "~": None, "": None}
_SCALARS = {"str", "int", "float", "bool", "null", "timestamp", "merge", "value"}
_WHOLE = re.compile(r"-?(0|[1-9][0-9]{0,17})\Z")
_DECIMAL = re.compile(r"-?(0|[1-9][0-9]{0,11})\.[0-9]{1,12}\Z")


@frozen
class Document:
    """What a file says (dict, list, str, int, Fraction, bool, None), and where each part says it.

    `keys` has the place of a mapping's key by its path, `values` that of a value.
    """

    value: Any
    source: Source
    keys: dict[Path, Span] = field(factory=dict, repr=False)
    values: dict[Path, Span] = field(factory=dict, repr=False)

    def place(self, path: Path) -> Span | None:
        """The nearest known place of a path: its key, its value, or its parent's."""
        while True:
            span = self.keys.get(path) or self.values.get(path)
            if span is not None or not path:
                return span
            path = path[:-1]


class _Fault(Exception):
    def __init__(self, message: str, node: Any, help: str = "") -> None:
        super().__init__(message)
        self.message, self.node, self.help = message, node, help


def read_yaml(source: Source) -> Document | Finding:
    """The document in a source, or one finding that says where it can't be read and why."""
    import yaml

    loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        node = yaml.compose(source.text, Loader=loader)
    except yaml.MarkedYAMLError as e:
        mark = e.problem_mark or e.context_mark
        at = min(mark.index, len(source.text)) if mark else 0
        said = ", ".join(part for part in (e.context, e.problem) if part)
        return unreadable(f"this is not YAML: {said}", Span(at, at), source)
    except (yaml.YAMLError, RecursionError, ValueError) as e:
        at = min(getattr(e, "position", 0), len(source.text))
        return unreadable(f"this is not YAML: {str(e).splitlines()[0]}", Span(at, at), source)
    document = Document(None, source)
    try:
        value = _Reader(document).value(node, (), 0) if node is not None else None
    except _Fault as fault:
        mark = fault.node.start_mark
        return unreadable(fault.message, Span(mark.index, fault.node.end_mark.index), source, fault.help)
    return Document(value, source, document.keys, document.values)


class _Reader:
    def __init__(self, document: Document) -> None:
        self.document = document
        self.seen: set[int] = set()

    def value(self, node: Any, path: Path, depth: int) -> Any:
        if id(node) in self.seen:
            raise _Fault("a part of this file is used twice by an alias (* and &)", node, "Write it out in full.")
        if depth > DEEPEST:
            raise _Fault("this is nested too deeply to be meant", node)
        self.seen.add(id(node))
        self.document.values[path] = Span(node.start_mark.index, node.end_mark.index)
        if node.id == "scalar":
            return _scalar(node)
        if node.tag not in ("tag:yaml.org,2002:map", "tag:yaml.org,2002:seq"):
            raise _Fault(f"the tag {node.tag} means nothing here", node, "Leave it out.")
        if node.id == "sequence":
            return [self.value(item, (*path, i), depth + 1) for i, item in enumerate(node.value)]
        return self.mapping(node, path, depth)

    def mapping(self, node: Any, path: Path, depth: int) -> dict[str, Any]:
        result: dict[str, Any] = {}
        for key_node, value_node in node.value:
            if key_node.id != "scalar":
                raise _Fault("a key must be a word", key_node)
            key = str(key_node.value)
            here = (*path, key)
            if key in result:
                raise _Fault(f'the key "{key}" stands twice here', key_node, "Keep one of the two.")
            self.document.keys[here] = Span(key_node.start_mark.index, key_node.end_mark.index)
            result[key] = self.value(value_node, here, depth + 1)
        return result


def _scalar(node: Any) -> Any:
    text: str = node.value
    if node.tag.removeprefix("tag:yaml.org,2002:") not in _SCALARS:
        raise _Fault(f"the tag {node.tag} means nothing here", node, "Leave it out.")
    if node.style:  # quoted, or a block of text
        return text
    if text in _WORDS:
        return _WORDS[text]
    if _WHOLE.match(text):
        return int(text)
    if _DECIMAL.match(text):
        return Fraction(text)
    return text
