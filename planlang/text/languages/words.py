"""The texts of one page or calendar in its language, with English wherever a text isn't translated."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

from attrs import field

from planlang.text.data import define
from planlang.text.languages.catalogue import Text, Texts, built_in, english
from planlang.text.languages.line import Line, Part

_RIGHT = "ar arc ckb dv fa glk he iw ks lrc mzn nqo pnb ps sd syr ug ur yi"
RIGHT_TO_LEFT = frozenset(_RIGHT.split())  # CLDR 46, layout: characters right-to-left
RIGHT_TO_LEFT_SCRIPTS = frozenset(("Arab", "Hebr", "Syrc", "Thaa", "Nkoo", "Adlm", "Rohg"))
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
Value = str | int | Fraction


class NoLocales(Exception):
    """Dates and numbers of another language are asked for, and the package that knows them isn't installed."""


@define(eq=False)
class Words:
    """Texts of a language. `own`: the language in which the plan's own texts are written.

    `missing` gathers the keys that were shown in English for want of a translation, True for safety lines.
    """

    code: str = "en"
    own: str = "en"
    texts: Texts | None = None
    missing: dict[str, bool] = field(factory=dict)
    locale: Any = None

    @property
    def direction(self) -> str:
        """`rtl` or `ltr`."""
        return direction(self.code)

    def say(self, key: str, n: int | Fraction | None = None, **slots: Value) -> Line:
        """The text of a key with its slots filled in; `n` chooses the plural form and fills `{n}`."""
        text, language = self._text(key)
        if n is not None:
            slots["n"] = n
        form = text.forms.get(self._form(n, language)) or text.forms["other"] if n is not None else text.forms["other"]
        parts: list[Part] = []
        for literal, slot in form:
            parts.append((literal, language))
            if slot:
                parts += self._parts(slots[slot])
        return Line(parts)

    def data(self, key: str, text: str) -> Line:
        """A safety line that a data file says in English: its signed translation, else as it stands."""
        found = self.texts.texts.get(key) if self.texts else None
        if found is None:
            if not self.in_english:
                self.missing[key] = True
            return Line(((text, "en"),))
        return Line((literal, self.code) for literal, _ in found.forms["other"])

    def plan(self, text: str) -> Line:
        """A text of the plan's own."""
        return Line(((text, self.own),))

    @property
    def in_english(self) -> bool:
        """True for a page in English."""
        return self.code.split("-")[0].lower() == "en"

    def number(self, value: int | Fraction) -> str:
        """A number as the language writes it."""
        exact = Fraction(value)
        if self.locale is None:
            text = str(exact.numerator) if exact.denominator == 1 else f"{float(exact):.6f}".rstrip("0").rstrip(".")
            return text
        from babel.numbers import format_decimal

        rounded = Decimal(exact.numerator) / Decimal(exact.denominator)
        grouped = abs(exact) >= 10000  # four digits are read as one number, as in 3200 steps
        return format_decimal(round(rounded, 6), "#,##0.######", self.locale, group_separator=grouped)

    def day(self, day: date) -> Line:
        """`22 Feb 2027`."""
        if self.locale is None:
            return _plain(f"{day.day} {MONTHS[day.month - 1]} {day.year}")
        return self._dated(day, "yMMMd")

    def near(self, day: date) -> Line:
        """A day of the weeks to come: `Mon 1 Mar`."""
        if self.locale is None:
            return _plain(f"{WEEKDAYS[day.weekday()][:3]} {day.day} {MONTHS[day.month - 1]}")
        return _plain(f"{self._dated(day, 'E')} {self._dated(day, 'MMMd')}")

    def day_of_week(self, day: date) -> Line:
        """A column's head: `Mon 1`."""
        if self.locale is None:
            return _plain(f"{WEEKDAYS[day.weekday()][:3]} {day.day}")
        return self._dated(day, "Ed")

    def clock(self, at: time) -> str:
        """`07:30`."""
        return f"{at:%H:%M}"

    def _dated(self, day: date, skeleton: str) -> Line:
        from babel.dates import format_skeleton

        return _plain(format_skeleton(skeleton, day, locale=self.locale))

    def _text(self, key: str) -> tuple[Text, str]:
        found = self.texts.texts.get(key) if self.texts else None
        if found is not None:
            return found, self.code
        text = english().texts[key]
        if not self.in_english:
            self.missing[key] = text.safety
        return text, "en"

    def _form(self, n: int | Fraction, language: str) -> str:
        if language == "en" or self.locale is None:
            return "one" if n == 1 else "other"
        return str(self.locale.plural_form(Decimal(Fraction(n).numerator) / Decimal(Fraction(n).denominator)))

    def _parts(self, value: Value) -> Iterable[Part]:
        if isinstance(value, Line):
            return value.parts
        if isinstance(value, str):
            return ((value, self.own),)
        return ((self.number(value), None),)


def _plain(text: str) -> Line:
    return Line(((text, None),))


@cache
def in_english() -> Words:
    """English, for a plan whose own texts are in English."""
    return Words(texts=english())


def words(code: str, own: str = "en", more: Iterable[Texts] = ()) -> Words:
    """The words of a language, from the clinic's own catalogues before the built-in one.

    A language without any is told in English. Raises NoLocales where one has a catalogue and babel isn't installed.
    """
    base = code.split("-")[0].lower()
    if base == "en":
        return Words(code, own, english())
    theirs = [one for one in more if one.code.lower() in (code.lower(), base)]
    ours = built_in(code)
    if not theirs and ours is None:
        return Words(code, own)
    found = [*([ours] if ours else []), *theirs]
    texts = {key: text for one in found for key, text in one.texts.items()}
    return Words(code, own, Texts(code, found[-1].name, texts), locale=_locale(code))


def _locale(code: str) -> Any:
    try:
        from babel import Locale, UnknownLocaleError
    except ImportError:
        raise NoLocales("dates and numbers of another language need babel: pip install 'planlang[i18n]'") from None
    for name in (code, code.split("-")[0]):
        try:
            return Locale.parse(name, sep="-")
        except (UnknownLocaleError, ValueError):
            continue
    return None


def direction(code: str) -> str:
    """`rtl` for a language that is written from right to left, else `ltr`."""
    base, *rest = code.split("-")
    script = next((part.title() for part in rest if len(part) == 4 and part.isalpha()), None)
    right = script in RIGHT_TO_LEFT_SCRIPTS if script else base.lower() in RIGHT_TO_LEFT
    return "rtl" if right else "ltr"
