"""`frozen` and `define` of attrs, made in half the time: a start makes some two hundred classes.

attrs writes and compiles a method for each of a class's comparison, hash and text. Most are never called, so
here one of each serves all classes, from the fields that attrs keeps. Types are checked as attrs' own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from attrs import define as define
    from attrs import frozen as frozen
else:
    from collections.abc import Callable
    from functools import cache, partial
    from operator import attrgetter
    from reprlib import recursive_repr
    from typing import Any

    import attrs

    @cache
    def _compared(cls: type) -> Callable[[Any], tuple[Any, ...]]:
        """What gives the values of an object by which it is compared and hashed."""
        fields = [a for a in attrs.fields(cls) if a.eq]
        if any(a.eq_key for a in fields):
            return lambda it: tuple(a.eq_key(getattr(it, a.name)) if a.eq_key else getattr(it, a.name) for a in fields)
        if len(fields) < 2:
            return lambda it: tuple([getattr(it, a.name) for a in fields])
        return attrgetter(*(a.name for a in fields))

    def _equal(self: Any, other: object) -> bool:
        cls = self.__class__
        if other.__class__ is not cls:
            return NotImplemented
        values = _compared(cls)
        return values(self) == values(other)

    def _hash(self: Any) -> int:
        cls = self.__class__
        return hash((cls, _compared(cls)(self)))

    @recursive_repr("...")
    def _text(self: Any) -> str:
        cls = self.__class__
        shown = [
            f"{a.name}={(a.repr if callable(a.repr) else repr)(getattr(self, a.name))}"
            for a in attrs.fields(cls)
            if a.repr
        ]
        return f"{cls.__qualname__.rpartition('>.')[2]}({', '.join(shown)})"

    def _made(cls: type, frozen: bool, eq: bool = True, **options: Any) -> type:
        made = attrs.define(cls, frozen=frozen, eq=False, repr=False, **options)
        own = cls.__dict__
        if "__repr__" not in own:
            made.__repr__ = _text
        if eq and "__eq__" not in own:
            made.__eq__ = _equal
            made.__hash__ = _hash if frozen else None
        return made

    def define(cls: type | None = None, *, frozen: bool = False, **options: Any) -> Any:
        """`attrs.define`, with our comparison, hash and text."""
        return partial(_made, frozen=frozen, **options) if cls is None else _made(cls, frozen, **options)

    frozen = partial(define, frozen=True)
