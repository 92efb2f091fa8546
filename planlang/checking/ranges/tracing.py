"""Numbers that remember which blanks they come from, and write down everything that is asked of them.

A `Traced` number is an exact Fraction with its expression over a template's blanks. Arithmetic keeps the
expression; every comparison made anywhere writes down the sign of a polynomial; what a text shows of a number
writes down how many digits it has. What is not modelled (a hash, a float) writes down the number itself.
"""

from __future__ import annotations

import operator
from collections.abc import Callable
from fractions import Fraction
from math import ceil, floor
from typing import Any

from planlang.checking.ranges.ceiled import Ceiled
from planlang.checking.ranges.polynomial import (
    Polynomial,
    add,
    constant,
    is_constant,
    scaled,
    variable,
)
from planlang.checking.ranges.quotient import Quotient, decimals, denominator, expression
from planlang.checking.ranges.trace import Compare, Trace
from planlang.model.quantity import Known

TEN_MILLION = 10**7
MOST_TERMS = 200
"""An expression with more terms is let go: its value is written down instead."""


class Traced(Known):
    """An exact number that remembers its expression, `top / bottom`; `bottom` None for 1, else positive here."""

    __slots__ = ("bottom", "exact", "serial", "top", "trace")

    trace: Trace
    exact: Fraction
    serial: int
    top: Polynomial
    bottom: Polynomial | None

    @staticmethod
    def made(trace: Trace, exact: Fraction, top: Polynomial, bottom: Polynomial | None) -> Traced:
        """A number with its expression."""
        self = object.__new__(Traced)
        self._numerator, self._denominator = exact.as_integer_ratio()  # type: ignore[attr-defined]
        self.trace, self.exact, self.top, self.bottom = trace, exact, top, bottom
        self.serial = trace.numbers = trace.numbers + 1
        return self

    @property
    def numerator(self) -> int:
        """The numerator, as a plain number: what is reckoned with it must not depend on the blanks unseen."""
        return self._pinned("numerator").numerator

    @property
    def denominator(self) -> int:
        """The denominator; written down is in which cycle it is this."""
        if self.trace.open:
            if self.bottom is None:
                self.trace.same_in(self.top, denominator)
            else:
                self._pinned("denominator")
        return self.exact.denominator

    def as_people_write(self, plain: Callable[[Fraction], str]) -> str:
        """The number's text as `plain` makes it; written down is the number, since texts may be compared.

        Where texts are gathered to be read as numbers again, only the digits behind the point are written down: how
        many stand before it makes no difference to how a text is read, up to ten million.
        """
        text = plain(self.exact)
        trace = self.trace
        if trace.texts is None:
            self._pinned("text")
        elif trace.open:
            if not any(self is one for one in trace.texts):
                trace.texts.append(self)
            if self.bottom is not None or Fraction(text) != self.exact:
                self._pinned("text")
            else:
                self._shape()
        return text

    def unsaid(self) -> None:
        """Takes notice that its text is used nowhere."""
        if self.trace.texts is not None:
            self.trace.texts[:] = [one for one in self.trace.texts if one is not self]

    def is_said_by(self, text: str) -> bool:
        """Whether its text is the whole of it; what that rests on was written down when the text was made."""
        return Fraction(text) == self.exact

    def _shape(self) -> None:
        size = self.top if self >= 0 else scaled(self.top, -1)
        self.trace.asked(add(size, constant(TEN_MILLION), -1), operator.lt)
        self.trace.same_in(self.top, decimals)

    def write_down(self, why: str) -> None:
        """Writes down the number itself. `why`: what made that needful."""
        self._pinned(why)

    def _pinned(self, why: str) -> Fraction:
        if self.trace.open:
            self.trace.pin(self.top, self.bottom, self.exact, why)
        return self.exact

    def __hash__(self) -> int:  # type: ignore[override]
        return hash(self._pinned("hash"))

    def __bool__(self) -> bool:
        return self.trace.asked(self.top, operator.ne)

    def __float__(self) -> float:
        return float(self._pinned("float"))

    def __index__(self) -> int:
        return operator.index(self._pinned("index").numerator)

    def __floor__(self) -> int:
        whole = floor(self.exact)
        self._lies(whole, operator.ge)
        self._lies(whole + 1, operator.lt)
        return whole

    def __ceil__(self) -> Any:
        return Ceiled(self, self._ceil) if self.trace.open else ceil(self.exact)

    def _ceil(self) -> int:
        whole = ceil(self.exact)
        self._lies(whole - 1, operator.gt)
        self._lies(whole, operator.le)
        return whole

    def _lies(self, edge: Fraction | int, op: Compare) -> None:
        """Writes down on which side of an edge the value lies."""
        less = self.top if not edge else add(self.top, scaled(self.bottom or constant(1), edge), -1)
        self.trace.asked(less, op)

    def __trunc__(self) -> int:
        return floor(self) if self >= 0 else self._ceil()

    __int__ = __trunc__  # type: ignore[assignment]

    def __round__(self, ndigits: int | None = None) -> Any:
        if ndigits is None:
            whole, half = round(self.exact), Fraction(1, 2)
            even = whole % 2 == 0  # a half goes to the even number
            self._lies(whole - half, operator.ge if even else operator.gt)
            self._lies(whole + half, operator.le if even else operator.lt)
            return whole
        shift = Fraction(10) ** ndigits
        return Fraction(round(self * shift)) / shift

    def __abs__(self) -> Fraction:
        return -self if self < 0 else self

    def __neg__(self) -> Fraction:
        if not self.trace.open:
            return -self.exact
        return Traced.made(self.trace, -self.exact, scaled(self.top, -1), self.bottom)

    def __pos__(self) -> Fraction:
        return self

    def __pow__(self, power: Any) -> Any:
        if type(power) is int and 0 <= power <= 8:
            made: Fraction = Fraction(1)
            for _ in range(power):
                made = made * self
            return made
        return self._pinned("power") ** power

    def __rpow__(self, base: Any, modulo: Any = None) -> Any:
        return base ** self._pinned("power")

    def __repr__(self) -> str:
        return repr(self._pinned("text"))

    def __str__(self) -> str:
        return str(self._pinned("text"))

    def __format__(self, spec: str) -> str:
        return format(self._pinned("text"), spec)

    def __reduce__(self) -> Any:
        return self._pinned("copy").__reduce__()

    def __copy__(self) -> Any:
        return self

    def __deepcopy__(self, memo: Any) -> Any:
        return self

    def __complex__(self) -> complex:
        return complex(float(self))

    def as_integer_ratio(self) -> tuple[int, int]:
        """Numerator and denominator, both plain."""
        return self._pinned("ratio").as_integer_ratio()

    def limit_denominator(self, max_denominator: int = 1_000_000) -> Fraction:
        """The closest fraction with such a denominator."""
        return self._pinned("ratio").limit_denominator(max_denominator)

    def conjugate(self) -> Fraction:
        """Itself."""
        return self

    @property
    def real(self) -> Fraction:
        """Itself."""
        return self

    @property
    def imag(self) -> Any:
        """Nothing."""
        return 0

    def __add__(self, other: Any) -> Any:
        return _reckoned(self, other, operator.add)

    def __radd__(self, other: Any) -> Any:
        return _reckoned(other, self, operator.add)

    def __sub__(self, other: Any) -> Any:
        return _reckoned(self, other, operator.sub)

    def __rsub__(self, other: Any) -> Any:
        return _reckoned(other, self, operator.sub)

    def __mul__(self, other: Any) -> Any:
        return _reckoned(self, other, operator.mul)

    def __rmul__(self, other: Any) -> Any:
        return _reckoned(other, self, operator.mul)

    def __truediv__(self, other: Any) -> Any:
        return _reckoned(self, other, operator.truediv)

    def __rtruediv__(self, other: Any) -> Any:
        return _reckoned(other, self, operator.truediv)

    def __floordiv__(self, other: Any) -> Any:
        made = _reckoned(self, other, operator.truediv)
        return made if made is NotImplemented else floor(made)

    def __rfloordiv__(self, other: Any) -> Any:
        made = _reckoned(other, self, operator.truediv)
        return made if made is NotImplemented else floor(made)

    def __mod__(self, other: Any) -> Any:
        whole = self.__floordiv__(other)
        return whole if whole is NotImplemented else self - other * whole

    def __rmod__(self, other: Any) -> Any:
        whole = self.__rfloordiv__(other)
        return whole if whole is NotImplemented else other - self * whole

    def __divmod__(self, other: Any) -> Any:
        whole = self.__floordiv__(other)
        return whole if whole is NotImplemented else (whole, self - other * whole)

    def __rdivmod__(self, other: Any) -> Any:
        whole = self.__rfloordiv__(other)
        return whole if whole is NotImplemented else (whole, other - self * whole)

    def __eq__(self, other: object) -> bool:
        return _compared(self, other, operator.eq)

    def __ne__(self, other: object) -> bool:
        return _compared(self, other, operator.ne)

    def __lt__(self, other: Any) -> bool:
        return _compared(self, other, operator.lt)

    def __le__(self, other: Any) -> bool:
        return _compared(self, other, operator.le)

    def __gt__(self, other: Any) -> bool:
        return _compared(self, other, operator.gt)

    def __ge__(self, other: Any) -> bool:
        return _compared(self, other, operator.ge)


def _exact(number: Any) -> Any:
    return number.exact if type(number) is Traced else number


def _parts(number: Any, trace: Trace) -> Quotient | None:
    """A number's expression; a number of another run is what it is, and one that isn't exact has none."""
    if type(number) is Traced and number.trace is trace:
        return number.top, number.bottom
    number = _exact(number)
    if isinstance(number, int | Fraction):
        return constant(number), None
    return None


def _trace_of(a: Any, b: Any) -> Trace | None:
    for number in (a, b):
        if type(number) is Traced and number.trace.open:
            return number.trace
    return None


def _token(number: Any, trace: Trace) -> Any:
    """What a number is called among those that were reckoned already."""
    kind = type(number)
    if kind is int:
        return number, 1
    if kind is Fraction:
        return number.numerator, number.denominator
    return number.serial if kind is Traced and number.trace is trace else None


def _reckoned(a: Any, b: Any, op: Callable[[Any, Any], Any]) -> Any:
    """A sum, difference, product or quotient with its expression."""
    trace = _trace_of(a, b)
    if trace is None:
        return op(_exact(a), _exact(b))
    one, other = _token(a, trace), _token(b, trace)
    if one is None or other is None or trace.texts is not None:
        return _anew(a, b, op, trace)  # numbers that are put into words are told apart, each from the next
    key = op, one, other
    if key not in trace.known:
        trace.known[key] = _anew(a, b, op, trace)
    return trace.known[key]


def _anew(a: Any, b: Any, op: Callable[[Any, Any], Any], trace: Trace) -> Any:
    one, other = _parts(a, trace), _parts(b, trace)
    if one is None or other is None:
        if not isinstance(_exact(a if one is None else b), float):
            return NotImplemented
        return op(*(n._pinned("float") if type(n) is Traced else n for n in (a, b)))
    top, bottom = expression(one, other, op, trace)
    exact = op(_exact(a), _exact(b))
    if is_constant(top) and bottom is None:
        return exact
    made = Traced.made(trace, exact, top, bottom)
    if len(top) + len(bottom or ()) > MOST_TERMS:
        return made._pinned("long")
    return made


def _compared(a: Traced, b: object, op: Compare) -> bool:
    """A comparison, with what it rests on written down."""
    trace = _trace_of(a, b)
    if trace is None:
        return op(a.exact, _exact(b))
    key = op, _token(a, trace), _token(b, trace)
    known: bool | None = trace.known.get(key) if None not in key else None
    if known is None:
        known = _compared_anew(a, b, op, trace)
        if None not in key:
            trace.known[key] = known
    return known


def _compared_anew(a: Traced, b: object, op: Compare, trace: Trace) -> bool:
    one, other = _parts(a, trace), _parts(b, trace)
    if one is None or other is None:
        if isinstance(b, float | complex):
            return op(a._pinned("float"), b)
        unknown: bool = NotImplemented
        return unknown
    top, _ = expression(one, other, operator.sub, trace)
    exact, against = a.exact, _exact(b)
    return trace.asked(top, op, (exact > against) - (exact < against))


def blank_value(trace: Trace, index: int) -> Traced:
    """The value of a blank in a run."""
    axis = trace.axes[index]
    return Traced.made(trace, axis.at(trace.at[index]), variable(index, axis.low, axis.grain), None)
