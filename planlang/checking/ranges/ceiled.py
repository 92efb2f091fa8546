"""Numbers rounded up to whole ones, not looked at more closely than somebody asks."""

from __future__ import annotations

import operator
from collections.abc import Callable
from fractions import Fraction
from math import ceil, floor
from typing import Any


class Ceiled:
    """A traced number rounded up. A comparison with a plain number is one of the number itself; all else settles it.

    `ceil(x) > n` is `x > floor(n)`, and `ceil(x) >= n` is `x > ceil(n) - 1`.
    """

    __slots__ = ("of", "settle")

    def __init__(self, of: Fraction, settle: Callable[[], int]) -> None:
        self.of, self.settle = of, settle

    def __gt__(self, other: Any) -> bool:
        return bool(self.of > floor(other)) if _plain(other) else self.settle() > other

    def __ge__(self, other: Any) -> bool:
        return bool(self.of > ceil(other) - 1) if _plain(other) else self.settle() >= other

    def __lt__(self, other: Any) -> bool:
        return not self >= other

    def __le__(self, other: Any) -> bool:
        return not self > other

    def __eq__(self, other: object) -> bool:
        if _plain(other):
            return self >= other and self <= other
        return self.settle() == other

    def __hash__(self) -> int:
        return hash(self.settle())

    def __bool__(self) -> bool:
        return self != 0

    def __index__(self) -> int:
        return self.settle()

    __int__ = __trunc__ = __ceil__ = __floor__ = __round__ = __index__

    def __float__(self) -> float:
        return float(self.settle())

    def __repr__(self) -> str:
        return repr(self.settle())

    def __format__(self, spec: str) -> str:
        return format(self.settle(), spec)

    def __mul__(self, other: Any) -> Any:
        return self if type(other) is int and other == 1 else self.settle() * other

    def __neg__(self) -> int:
        return -self.settle()

    def __abs__(self) -> int:
        return abs(self.settle())


def _plain(number: object) -> bool:
    return type(number) is int or type(number) is Fraction


def _settled(op: Callable[[Any, Any], Any], turned: bool = False) -> Callable[[Ceiled, Any], Any]:
    def reckoned(self: Ceiled, other: Any) -> Any:
        return op(other, self.settle()) if turned else op(self.settle(), other)

    return reckoned


for _name in ("add", "sub", "truediv", "floordiv", "mod", "pow"):
    setattr(Ceiled, f"__{_name}__", _settled(getattr(operator, _name)))
    setattr(Ceiled, f"__r{_name}__", _settled(getattr(operator, _name), turned=True))
setattr(Ceiled, "__rmul__", _settled(operator.mul, turned=True))  # noqa: B010
setattr(Ceiled, "__divmod__", _settled(divmod))  # noqa: B010
