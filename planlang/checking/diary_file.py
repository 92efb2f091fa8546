"""A diary read beside its plan: its own lines, the tables of steps that it names, and whether both go together."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from attrs import evolve

from planlang.model.composing.files import Files, NotOpened
from planlang.model.diary import Diary, Steps
from planlang.model.plan import Plan
from planlang.model.reading import read_diary
from planlang.model.steps_table import read_steps
from planlang.planning.diary_faults import diary_faults
from planlang.text.finding import Finding, unreadable, unreckonable
from planlang.text.source import Source

TABLE = ".csv"


def read_beside(
    source: Source, plan: Plan, files: Files | None, today: date | None = None
) -> tuple[Diary | None, tuple[Finding, ...]]:
    """The diary of a source with the steps of the tables that it names; `files` opens them, inside the library only."""
    diary, findings = read_diary(source, plan.catalogue)
    if diary is None:
        return None, findings
    found = [*findings]
    tables: list[Steps] = []
    for steps in diary.steps:
        days, said = _table(steps, diary, plan, files)
        tables.append(evolve(steps, days=days))
        found += said
    alike, said = _alike(tables, diary)
    diary = evolve(diary, steps=alike)
    return diary, (*found, *said, *diary_faults(plan, diary, today))


def _alike(tables: list[Steps], diary: Diary) -> tuple[tuple[Steps, ...], tuple[Finding, ...]]:
    """The tables without the days that two of them tell differently, and a finding for each of those days."""
    known: dict[date, int] = {}
    found: dict[date, Finding] = {}
    for table in tables:
        for day, steps in table.days:
            if known.setdefault(day, steps) != steps and day not in found:
                message = f"{day} stands in two tables, with {known[day]} and {steps} steps; neither counts."
                help = f"Take the wrong line out, or write the day's total here: {day} walked {steps} steps"
                found[day] = unreckonable(message, table.span, diary.source, help)
    if not found:
        return tuple(tables), ()
    kept = (evolve(t, days=tuple((d, n) for d, n in t.days if d not in found)) for t in tables)
    return tuple(kept), tuple(found.values())


def _table(
    steps: Steps, diary: Diary, plan: Plan, files: Files | None
) -> tuple[tuple[tuple[date, int], ...], tuple[Finding, ...]]:
    fault = next(_refused(steps, diary, plan, files), None)
    if fault is not None or files is None:
        return (), (fault,) if fault else ()
    opened = files.open(steps.file, diary.source)
    if isinstance(opened, NotOpened):
        message = f"The table of steps can't be had: {opened.why}."
        return (), (unreadable(message, steps.span, diary.source, opened.help),)
    return read_steps(opened)


def _refused(steps: Steps, diary: Diary, plan: Plan, files: Files | None) -> Iterator[Finding]:
    """Why a table is not opened: the person has not agreed to a diary, or it is no table."""
    if not steps.file.lower().endswith(TABLE):
        yield unreckonable(f'"{steps.file}" is no table of steps.', steps.span, diary.source, "Name a file .csv.")
    if plan.agreed is None or plan.agreed.diary != "yes":
        help = "Ask, and write it in the plan: agreed 2027-02-22 calendar discreet, diary yes"
        message = "The steps of a device are read only where the person has agreed to a diary."
        yield unreckonable(message, steps.span, diary.source, help)
    if files is None:
        yield unreckonable("The table of steps was not looked for.", steps.span, diary.source)
