"""From a strict YAML document to attrs classes: nothing coerced, nothing ignored, every fault placed."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from types import GenericAlias, NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin

from planlang.text.finding import Finding, unreadable
from planlang.text.meant import did_you_mean, listed
from planlang.text.strict_yaml import Document, Path

T = TypeVar("T")


class Wrong(ValueError):
    """A value that can't stand where it stands; `help` says what can."""

    def __init__(self, message: str, help: str = "") -> None:
        super().__init__(message)
        self.help = help


def structure(cls: type[T], document: Document, value: Any, path: Path = ()) -> tuple[T | None, tuple[Finding, ...]]:
    """`value`, which stands at `path` of the document, as a `cls`; or None and a finding for each fault.

    A class's field `carried_for` is the key `carried for`. Unknown keys, other types and missing keys are faults.
    """
    from cattrs import BaseValidationError

    try:
        return converter().structure(value, cls), ()
    except (BaseValidationError, Wrong) as e:
        return None, tuple(_finding(document, where, fault) for where, fault in _faults(e, path))


def key_of(name: str) -> str:
    """The key that stands for a field's name in a file."""
    return name.replace("_", " ")


def _faults(e: BaseException, path: Path) -> Iterator[tuple[Path, BaseException]]:
    from cattrs import ClassValidationError, IterableValidationError

    if isinstance(e, ClassValidationError):
        noted, bare = e.group_exceptions()
        for fault, attribute in noted:
            yield from _faults(fault, (*path, key_of(attribute.name)))
        yield from ((path, fault) for fault in bare)
    elif isinstance(e, IterableValidationError):
        noted_items, bare = e.group_exceptions()
        for fault, item in noted_items:
            yield from _faults(fault, (*path, item.index))
        yield from ((path, fault) for fault in bare)
    else:
        yield path, e


def _finding(document: Document, path: Path, fault: BaseException) -> Finding:
    from cattrs import ForbiddenExtraKeysError

    here = document.value
    for step in path[:-1]:
        here = here[step]
    if isinstance(fault, ForbiddenExtraKeysError):
        from attrs import fields

        key = sorted(fault.extra_fields)[0]
        known = [key_of(a.name) for a in fields(fault.cl)]
        help = did_you_mean(key, known) or f"It may hold: {', '.join(known)}."
        return unreadable(f'nothing here is called "{key}"', document.place((*path, key)), document.source, help)
    if isinstance(fault, KeyError):
        return unreadable(f'"{path[-1]}" is missing here', document.place(path[:-1]), document.source)
    where = f'"{path[-1]}"' if path and isinstance(path[-1], str) else "this"
    help = getattr(fault, "help", "")
    return unreadable(f"{where} {fault}", document.values.get(path) or document.place(path), document.source, help)


_PLAIN = {str: "text", int: "a whole number", bool: "true or false", Fraction: "a decimal"}


def _origin(t: Any) -> Any:
    return get_origin(t)


def _one_of_several(t: Any) -> bool:
    """`str | int | None`, but not `str | None`, which needs nothing of ours."""
    kinds = [k for k in get_args(t) if k is not NoneType]
    return get_origin(t) in (Union, UnionType) and len(kinds) > 1 and all(k in _PLAIN for k in kinds)


@cache
def converter() -> Any:
    """The strict converter: types as they are, lists only as lists, words from their list only."""
    from attrs import fields, has, resolve_types
    from cattrs import Converter
    from cattrs.gen import make_dict_structure_fn, mapping_structure_factory, override

    strict = Converter(forbid_extra_keys=True, detailed_validation=True)

    def exactly(kinds: tuple[type, ...], words: str) -> Any:
        def hook(value: Any, _: Any) -> Any:
            if type(value) not in kinds:
                raise Wrong(f"should be {words}, and is {shown(value)}")
            return Fraction(value) if Fraction in kinds else value

        return hook

    strict.register_structure_hook(str, exactly((str,), "text"))
    strict.register_structure_hook(int, exactly((int,), "a whole number"))
    strict.register_structure_hook(bool, exactly((bool,), "true or false"))
    strict.register_structure_hook(Fraction, exactly((int, Fraction), "a number"))

    @strict.register_structure_hook_factory(lambda t: _origin(t) is Literal)
    def words(t: Any) -> Any:
        def hook(value: Any, _: Any) -> Any:
            if value not in get_args(t):
                raise Wrong(
                    f"can't be {shown(value)}",
                    did_you_mean(str(value), get_args(t)) or f"One of {listed(get_args(t))}.",
                )
            return value

        return hook

    @strict.register_structure_hook_factory(_one_of_several)
    def any_of(t: Any) -> Any:
        kinds = get_args(t)

        def hook(value: Any, _: Any) -> Any:
            if type(value) not in kinds:
                raise Wrong(f"should be {listed(_PLAIN[k] for k in kinds if k in _PLAIN)}, and is {shown(value)}")
            return value

        return hook

    @strict.register_structure_hook_factory(lambda t: _origin(t) is tuple and get_args(t)[-1] is Ellipsis)
    def several(t: Any) -> Any:
        items = GenericAlias(list, (get_args(t)[0],))
        as_list = strict.get_structure_hook(items)

        def hook(value: Any, _: Any) -> Any:
            if not isinstance(value, list):
                raise Wrong(f"should be a list, and is {shown(value)}", "Write it as [a, b] or one a line with a dash.")
            return tuple(as_list(value, items))

        return hook

    @strict.register_structure_hook_factory(lambda t: _origin(t) is dict)
    def by_word(t: Any) -> Any:
        inner = mapping_structure_factory(t, strict)

        def hook(value: Any, _: Any) -> Any:
            if not isinstance(value, dict):
                raise Wrong(f"should hold keys and values, and is {shown(value)}", "Write it as: a word: what it is.")
            return inner(value, t)

        return hook

    @strict.register_structure_hook_factory(has)
    def parts(cls: Any) -> Any:
        resolve_types(cls)
        renamed = {a.name: override(rename=key_of(a.name)) for a in fields(cls)}
        inner = make_dict_structure_fn(cls, strict, **renamed)  # type: ignore[arg-type]

        def hook(value: Any, _: Any) -> Any:
            if not isinstance(value, dict):
                parts = ", ".join(key_of(a.name) for a in fields(cls))
                raise Wrong(f"should have parts of its own, and is {shown(value)}", f"It may hold: {parts}.")
            return inner(value, cls)

        return hook

    return strict


def shown(value: Any) -> str:
    """A value as a message names it."""
    if value is None:
        return "empty"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value if len(value) <= 40 else value[:37] + "..."}"'
    if isinstance(value, (dict, list)):
        return "a list" if isinstance(value, list) else "a set of keys"
    return str(value)
