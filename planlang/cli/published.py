"""What publishing says of itself: which entries were written, which are left and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from planlang.calendar.writing import NAME
from planlang.cli.console import options

if TYPE_CHECKING:
    from planlang.calendar.entry import Entry
    from planlang.calendar.server.difference import Difference
    from planlang.calendar.server.publishing import Course
    from planlang.cli.refusing import Case
    from planlang.report.result import Result

DID = {"write": "written", "change": "changed", "cancel": "cancelled", "remove": "removed"}
SHOWN = 12
CHANGED = "changed by the person"


def data_of(origin: str, course: Course, dry_run: bool, todo: Difference) -> dict[str, object]:
    """The answer as JSON data. Counts are of what was done, in a dry run of what would be."""
    steps = course.steps if dry_run else course.done
    return {
        "to": origin,
        "calendar": NAME,
        "dry_run": dry_run,
        **{word: _count(steps, doing) for doing, word in DID.items()},
        "same": todo.same,
        "past": todo.past,
        "others": todo.others,
        "steps": [{"do": step.doing.value, **_entry(step.entry)} for step in course.steps],
        "left": [
            *({**_entry(one.kept.entry), "why": CHANGED, "news": one.news} for one in todo.touched),
            *({**_entry(step.entry), "why": why, "news": True} for step, why in course.met),
        ],
        "calendar_removed": course.emptied,
        "unfinished": course.stopped,
    }


def say(origin: str, course: Course, dry_run: bool, todo: Difference, withdrawing: bool = False) -> None:
    """The answer as text."""
    steps = course.steps if dry_run else course.done
    counts = [f"{_count(steps, doing)} {word}" for doing, word in DID.items() if _count(steps, doing)]
    said = ", ".join(counts) or ("nothing of this plan is there" if withdrawing else "nothing to write")
    click.echo(f'{origin}: the calendar "{NAME}"')
    click.echo(f"  entries{', were it no dry run' if dry_run else ''}: {said}" if counts else f"  {said}")
    if todo.same:
        click.echo(f"  {_entries(todo.same)} already there as they should be")
    if todo.past:
        click.echo(f"  {_entries(todo.past)} of days that are over, left as they are")
    if todo.others:
        click.echo(
            f"  {_entries(todo.others)} of another plan of this person stand in the same weeks: if it is this plan"
        )
        click.echo("  under a former title, withdraw it under that one")
    if dry_run:
        for step in course.steps[:SHOWN]:
            click.echo(f"    {step.doing.value:<7} {_line(step.entry)}")
        if len(course.steps) > SHOWN:
            click.echo(f"    and {len(course.steps) - SHOWN} more; --json lists them all")
    if course.emptied:
        click.echo("  the calendar was empty then, and is removed")
    _say_left(course, todo, withdrawing)


def say_stopped(course: Course) -> None:
    """Why not all of it was done, and what to do."""
    if course.stopped:
        done = f"{len(course.done)} of {_entries(len(course.steps))} done"
        click.echo(f"{course.stopped}. {done}; run the same again, and it does the rest.", err=True)


def say_usual(case: Case, told: Result | None) -> None:
    """What stands under every calendar that is given out: how it is shown, the call, what the rules found."""
    from planlang.report.text import render

    agreed = case.plan().agreed
    if agreed and agreed.calendar == "full":
        click.echo(f"  in full, as agreed on {agreed.day}; who else sees this calendar?")
    else:
        click.echo('  discreet: every entry says only "Exercise" and the like')
    click.echo("  What is in a phone can't be recalled: a safety change needs a call.")
    click.echo()
    shown = options(rules=len(case.checked.rules), not_judged=case.checked.not_judged, off=case.book.off())
    click.echo(render([case.result(case.checked.findings), *([told] if told else [])], shown), nl=False)


def _say_left(course: Course, todo: Difference, withdrawing: bool) -> None:
    lines = []
    for one in todo.touched:
        then = "; the plan now says something else" if one.news and not withdrawing else ""
        lines.append(f"    {_line(one.kept.entry)}: {CHANGED}{then}")
    lines += [f"    {_line(step.entry)}: {why}" for step, why in course.met]
    if not lines:
        return
    click.echo(f"  {_entries(len(lines))} left as the person has them:")
    for line in lines:
        click.echo(line)
    if withdrawing:
        click.echo("  With --changed-too these go as well.")
    elif course.met or any(one.news for one in todo.touched):
        click.echo("  Tell the person what is new. An entry that they remove is written anew next time.")


def _entries(count: int) -> str:
    return "1 entry" if count == 1 else f"{count} entries"


def _count(steps: object, doing: str) -> int:
    return sum(step.doing == doing for step in steps)  # type: ignore[attr-defined]


def _entry(entry: Entry | None) -> dict[str, object]:
    if entry is None:
        return {"starts": None, "summary": None}
    return {"starts": entry.starts.isoformat(), "summary": entry.summary}


def _line(entry: Entry | None) -> str:
    if entry is None:
        return "an entry"
    when = entry.first_day.isoformat() if entry.all_day else entry.starts.isoformat(" ", "minutes")[:16]  # type: ignore[call-arg]
    return f"{when}  {entry.summary}"
