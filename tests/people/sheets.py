"""Sheets made for the tests of this folder, and the readers that look at them."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Iterable, Sequence
from html.parser import HTMLParser
from pathlib import Path

from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.people.sheet.blocks import Sheet
from planlang.people.sheet.html import html
from planlang.people.sheet.making import sheet
from planlang.planning.reckon import reckon
from planlang.planning.telling.telling import Contacts
from planlang.text.languages.words import Words, words
from planlang.text.source import Source

ROOT = Path(__file__).parents[2]
NAMES = ("p014-allotment", "p021-pond", "p033-loom")  # whole in themselves
EXAMPLES = [ROOT / "examples" / "people" / f"{name}.plan" for name in NAMES]
NODE = ROOT / "tests" / "calendar" / "node"
CLINIC = Contacts("112", "03 5550 0101", "03 5550 0100, weekdays 8 to 17")


def beds(*changes: tuple[str, str]) -> str:
    """The plan of the two raised beds, changed."""
    text = (ROOT / "examples" / "people" / "p014-allotment.plan").read_text("utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def plan_of(text: str) -> Plan:
    plan, findings = read_plan(Source("made.plan", text))
    assert plan, findings
    return plan


def sheet_of(
    text: str,
    week: int = 1,
    rest: Iterable[int] = (),
    told: Words | None = None,
    contacts: Contacts = CLINIC,
    large: bool = False,
) -> Sheet:
    """The sheet of a week of a plan's text."""
    plan, placed = plan_of(text), frozenset(rest)
    told = told or words(plan.language, plan.language)
    return sheet(reckon(plan, placed), week, contacts, told, large, lambda more: reckon(plan, placed | {more}))


def lines_of(text: str, week: int = 1, rest: Iterable[int] = (), contacts: Contacts = CLINIC) -> list[str]:
    return [str(line) for line in sheet_of(text, week, rest, contacts=contacts).lines()]


INLINE = ("span", "bdi", "strong")


class Visible(HTMLParser):
    """The words of a page as they are read, without those of pictures and of the head."""

    def __init__(self) -> None:
        super().__init__()
        self.hidden, self.said = 0, list[str]()

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.hidden += tag in ("svg", "head")
        if tag not in INLINE:
            self.said.append(" ")

    def handle_endtag(self, tag: str) -> None:
        self.hidden -= tag in ("svg", "head")

    def handle_data(self, data: str) -> None:
        if not self.hidden:
            self.said.append(data)


def words_of(page: str) -> list[str]:
    reader = Visible()
    reader.feed(page)
    return "".join(reader.said).split()


def axe(sheets: Sequence[Sheet], folder: Path) -> list[dict[str, list[object]]]:
    """What axe-core finds in each sheet's page."""
    return axe_in([html(one) for one in sheets], folder)


def axe_in(pages: Sequence[str], folder: Path) -> list[dict[str, list[object]]]:
    """What axe-core finds in each page: the rules that passed, and those that did not with where."""
    node = shutil.which("node") or shutil.which("node", path=str(Path(sys.executable).parent))
    assert node, "these tests need node 18 or later on the path"
    assert (NODE / "node_modules" / "axe-core").is_dir(), f"these tests need axe-core: run `npm ci` in {NODE}"
    paths = []
    for n, page in enumerate(pages):
        path = folder / f"{n}.html"
        path.write_text(page, "utf-8")
        paths.append(str(path))
    run = subprocess.run([node, str(NODE / "axe.js"), *paths], capture_output=True, text=True, check=False, timeout=120)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)
