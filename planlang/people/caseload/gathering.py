"""Plans and diaries of a folder gathered by the person they are for."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path

from attrs import evolve, field

from planlang.checking.diary_check import plan_for
from planlang.checking.diary_file import read_beside
from planlang.checking.file import Run
from planlang.checking.rulebook import Rulebook
from planlang.model.build.diary import in_order
from planlang.model.composing.compose import compose
from planlang.model.diary import Diary
from planlang.model.plan import Plan
from planlang.model.reading import kind_of, read_diary, read_plan
from planlang.people.caseload.data import Caseload, Person
from planlang.people.caseload.making import Kept, person
from planlang.text.data import define
from planlang.text.finding import Finding
from planlang.text.load import load

_CODE = re.compile(r"^[ \t\ufeff]*(?:diary[ \t]+)?for[ \t]+([A-Z]{1,4}-[0-9]{1,6})(?![\w-])", re.MULTILINE)


@define
class _Found:
    """The files of one person, by name."""

    code: str
    plans: list[str] = field(factory=list)
    diaries: list[str] = field(factory=list)


def gathered(
    names: Iterable[str], run: Run, as_of: date | None, one_done: Callable[..., object] = lambda: None
) -> Caseload:
    """Everybody whose plan or diary is among these files, looked back from `as_of`, else the last day of any diary.

    Templates, libraries and plans for nobody are left out. Raises RuleFault where a clinic's rules are wrong.
    """
    found: dict[str, _Found] = {}
    last: date | None = None
    for name in names:
        source = load(name)
        if isinstance(source, Finding):
            continue  # lint says what is wrong with it; whose it is can't be told
        code = _CODE.search(source.text.replace("\r", "\n"))
        kind = kind_of(source)
        if code is None or kind not in ("plan", "diary"):
            continue
        one = found.setdefault(code[1], _Found(code[1]))
        (one.plans if kind == "plan" else one.diaries).append(name)
        if kind == "diary" and as_of is None:
            days = re.findall(r"^[ \t]*(\d{4}-\d{2}-\d{2})[ \t]", source.text, re.MULTILINE)
            last = max(filter(None, [last, *map(_day, days)]), default=None)
        one_done()
    day = as_of or last
    books: dict[str, Rulebook] = {}
    people: list[Person] = []
    for one in found.values():
        kept, book = _kept(one, run, day)
        books[str(id(book))] = book
        people.append(person(kept, book, day))
        one_done()
    off = {name for book in books.values() for name in book.off()}
    ran = {rule.name for book in books.values() for rule in book.in_force() if "diary" in rule.applies.files}
    return Caseload(day, tuple(sorted(people, key=lambda p: p.order)), len(ran), tuple(sorted(off)))


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _kept(one: _Found, run: Run, day: date | None) -> tuple[Kept, Rulebook]:
    """What the files of one person say, read under the rules that hold where they lie."""
    first = Path((one.plans or one.diaries)[0])
    book, _ = run.book(first)
    files = run.folders.library(run.root(first))
    unread: list[str] = []
    plans: list[Plan] = []
    for name in one.plans:
        source = load(name)
        if isinstance(source, Finding):
            unread.append(name)
            continue
        plan, findings = read_plan(compose(source, files)[0], book.catalogue)
        if plan is None or plan.unread or any(f.rule == "unreadable" for f in findings):
            unread.append(name)
        if plan is not None and plan.code == one.code:
            plans.append(plan)
    diaries = [d for name in one.diaries if (d := _diary(name, plans, run, book, unread)) is not None]
    return Kept(one.code, tuple(plans), _together(diaries), tuple(unread), (*one.plans, *one.diaries)), book


def _diary(name: str, plans: list[Plan], run: Run, book: Rulebook, unread: list[str]) -> Diary | None:
    source = load(name)
    if isinstance(source, Finding):
        unread.append(name)
        return None
    diary, findings = read_diary(source, book.catalogue)
    plan = plan_for(diary, tuple(plans)) if diary is not None else None
    if diary is not None and diary.steps and plan is not None:
        diary, findings = read_beside(source, plan, run.folders.library(run.root(Path(name))))
    if any(f.rule == "unreadable" for f in findings):
        unread.append(name)
    return diary


def _together(diaries: list[Diary]) -> Diary | None:
    """Several diaries of one person as one: the places of its lines are those of the first file."""
    if len(diaries) < 2:
        return diaries[0] if diaries else None
    entries = sorted((entry for diary in diaries for entry in diary.entries), key=in_order)
    steps = tuple(table for diary in diaries for table in diary.steps)
    return evolve(diaries[0], entries=tuple(entries), steps=steps, unread=any(d.unread for d in diaries))
