"""One language's texts, read from its file.

A plain table in YAML, and not gettext: a safety line needs the name of who translated it and the day beside it, a key
tells two texts apart that are one word in English, and a clinic edits the file with what it edits its other files with.

The file has two parts, `texts` and `safety`. A text is one string, or one for each plural form of the language (CLDR's
`zero one two few many other`, of which `other` is always there). What stands in `{}` is filled in. A safety line of any
language but English is `{text, by, on}`: who translated it, a named human, and when; without both it isn't used.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from attrs import field

from planlang.text.data import frozen
from planlang.text.finding import Finding, unreadable
from planlang.text.load import load_data
from planlang.text.meant import did_you_mean
from planlang.text.strict_yaml import Document, read_yaml
from planlang.text.strict_yaml import Path as At

FOLDER = Path(__file__).parent
OF_DATA = ("sign.", "flare.")
"""Beginnings of keys that translate what the data files say in English: whose, only the caller knows."""
FORMS = ("zero", "one", "two", "few", "many", "other")
_SLOT = re.compile(r"\{(\w+)\}")
_CODE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*\Z")

Template = tuple[tuple[str, str | None], ...]
"""Literal text and the slot after it, in turn."""


@frozen
class Text:
    """One text: its plural forms, as templates. `safety`: must come from a named human; `by`, `on`: who and when."""

    forms: Mapping[str, Template]
    safety: bool = False
    by: str | None = None
    on: date | None = None

    @property
    def slots(self) -> frozenset[str]:
        """What is filled in, in any of the forms."""
        return frozenset(slot for form in self.forms.values() for _, slot in form if slot)

    @property
    def usable(self) -> bool:
        """False for a safety line that nobody put a name and a day to."""
        return not self.safety or (self.by is not None and self.on is not None)


@frozen
class Texts:
    """A language's texts by key. `code`: BCP 47, as `es` or `pt-BR`."""

    code: str
    name: str
    texts: Mapping[str, Text] = field(repr=False)


def template(text: str) -> Template:
    """A text taken apart at its slots."""
    found: list[tuple[str, str | None]] = []
    end = 0
    for slot in _SLOT.finditer(text):
        found.append((text[end : slot.start()], slot.group(1)))
        end = slot.end()
    return (*found, (text[end:], None))


def is_code(code: str) -> bool:
    """Whether a text has the form of a language code (BCP 47): `es`, `pt-BR`, `az-Arab`."""
    return bool(_CODE.match(code))


@cache
def english() -> Texts:
    """The complete catalogue, which all others are held against."""
    found, faults = read_catalogue(FOLDER / "en.yaml")
    assert found, faults
    return found


@cache
def built_in(code: str) -> Texts | None:
    """The catalogue that comes with the program for a language, `es` for `es-MX` too; None where there is none."""
    if code.split("-")[0].lower() == "en":
        return english()
    if not is_code(code):
        return None
    for name in (code, code.split("-")[0].lower()):
        path = FOLDER / f"{name}.yaml"
        if path.is_file():
            found, faults = read_catalogue(path, english())
            assert found, faults
            return found
    return None


def read_catalogue(path: Path, against: Texts | None = None) -> tuple[Texts | None, tuple[Finding, ...]]:
    """A catalogue from its file, held `against` the complete one: unknown keys and slots are faults."""
    source = load_data(path)
    if isinstance(source, Finding):
        return None, (source,)
    document = read_yaml(source)
    if isinstance(document, Finding):
        return None, (document,)
    return _Reader(document, against).read()


class _Reader:
    def __init__(self, document: Document, against: Texts | None) -> None:
        self.document, self.against = document, against
        self.faults: list[Finding] = []

    def fault(self, at: At, message: str, help: str = "") -> None:
        self.faults.append(unreadable(message, self.document.place(at), self.document.source, help))

    def read(self) -> tuple[Texts | None, tuple[Finding, ...]]:
        whole = self.document.value
        if not isinstance(whole, dict) or set(whole) != {"language", "name", "texts", "safety"}:
            self.fault((), "a file of texts holds `language`, `name`, `texts` and `safety`, and nothing else")
            return None, tuple(self.faults)
        code = str(whole["language"])
        if not is_code(code):
            self.fault(("language",), f'"{code}" is no language code', "As in es, de or pt-BR.")
        texts: dict[str, Text] = {}
        for part in ("texts", "safety"):
            texts |= {key: text for key, text in self._part(part, whole[part] or {}) if text.usable}
        return (None if self.faults else Texts(code, str(whole["name"]), texts)), tuple(self.faults)

    def _part(self, part: str, entries: Any) -> Iterator[tuple[str, Text]]:
        if not isinstance(entries, dict):
            return self.fault((part,), f"`{part}` holds keys and texts")
        for key, value in entries.items():
            text = self._text((part, key), value, part == "safety")
            if text is not None and self._known((part, key), key, text):
                yield key, text
        return None

    def _text(self, at: At, value: Any, safety: bool) -> Text | None:
        by, on = None, None
        if safety and self.against is None:
            by, on = "as written", date.min  # the text that the others translate
        elif safety and isinstance(value, dict) and "text" in value:
            by, on = value.get("by"), self._day(at, value.get("on"))
            value = value["text"]
        forms = value if isinstance(value, dict) else {"other": value}
        if "other" not in forms or not all(k in FORMS and isinstance(v, str) for k, v in forms.items()):
            self.fault(at, "a text is one string, or one for each plural form, `other` among them")
            return None
        return Text({name: template(text) for name, text in forms.items()}, safety, str(by) if by else None, on)

    def _day(self, at: At, said: Any) -> date | None:
        if said is None:
            return None
        try:
            return date.fromisoformat(str(said))
        except ValueError:
            self.fault((*at, "on"), f'"{said}" is no date', "As in 2027-03-01.")
            return None

    def _known(self, at: At, key: str, text: Text) -> bool:
        if self.against is None:
            return True
        whole = self.against.texts.get(key)
        if whole is None:
            if at[0] == "safety" and key.startswith(OF_DATA) and not text.slots:
                return True
            self.fault(at, f'no text is called "{key}"', did_you_mean(key, self.against.texts))
        elif whole.safety is not text.safety:
            self.fault(at, f"this belongs under `{'safety' if whole.safety else 'texts'}`")
        elif not text.slots <= whole.slots:
            self.fault(at, f"nothing is filled in for {', '.join(sorted(text.slots - whole.slots))}")
        elif whole.slots - text.slots - {"n"}:
            self.fault(at, f"{', '.join(sorted(whole.slots - text.slots - {'n'}))} is left out: people would miss it")
        else:
            return True
        return False
