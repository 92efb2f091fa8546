"""`planlang start`: a new plan from a template."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING

import click

from planlang.cli.console import echo_json, findings_data, json_option, show_findings
from planlang.cli.lint import today_option
from planlang.cli.main import FINDINGS
from planlang.text.data import frozen

if TYPE_CHECKING:
    from planlang.cli.starting import Beginning
    from planlang.cli.starting_room import Room
    from planlang.model.composing.blanks import BlankLine
    from planlang.report.result import Result

CODE = re.compile(r"[A-Z]{1,4}-[0-9]{1,6}")
CALENDARS = ("full", "discreet", "none")
WHO_SEES = "Who else sees this calendar? Work? Family?"
SAID = {
    "full": "what is done, where and with what",
    "discreet": "entries say no more than Exercise",
    "none": "no calendar is made",
}


@frozen
class _Options:
    """What the call says, so that it isn't asked."""

    fills: dict[str, str]
    title: str | None
    code: str | None
    aged: int | None
    starts: date | None
    written: date | None
    calendar: str | None
    room: int | None
    asking: bool


def _fills(_: click.Context, __: click.Parameter, values: tuple[str, ...]) -> dict[str, str]:
    made: dict[str, str] = {}
    for value in values:
        name, sign, said = value.partition("=")
        if not sign or not name.strip():
            raise click.BadParameter(f'"{value}" should be name=value, as in daily-steps-now=3200')
        if name.strip() in made:
            raise click.BadParameter(f"{name.strip()} is filled twice")
        made[name.strip()] = said
    return made


def _day(_: click.Context, __: click.Parameter, value: str | None) -> date | None:
    try:
        return date.fromisoformat(value) if value else None
    except ValueError:
        raise click.BadParameter(f'"{value}" is no date; write it as 2027-03-01') from None


@click.command("start")
@click.argument("template", metavar="TEMPLATE")
@click.option("-o", "--output", required=True, metavar="PLAN", help="The plan to write; it must not be there yet.")
@click.option(
    "--fill", "fills", multiple=True, metavar="NAME=VALUE", callback=_fills, help="Fills a blank; may be repeated."
)
@click.option("--title", metavar="TEXT", help="What the plan is for, in neutral words: it may show in a calendar.")
@click.option("--code", metavar="CODE", help="The person's code, as in P-014.")
@click.option("--aged", metavar="YEARS", type=click.IntRange(1, 120), help="The person's age.")
@click.option("--starts", metavar="DATE", callback=_day, help="The plan's first day.")
@click.option("--calendar", type=click.Choice(CALENDARS), help="What the person agreed to in the calendar.")
@click.option(
    "--room",
    metavar="WEEKS",
    type=click.IntRange(0, 260),
    help="Easier weeks to have room for, if the template says none.",
)
@today_option
@json_option
def command(
    template: str,
    output: str,
    fills: dict[str, str],
    title: str | None,
    code: str | None,
    aged: int | None,
    starts: date | None,
    calendar: str | None,
    room: int | None,
    today: date | None,
    as_json: bool,
) -> int:
    """Begin a plan from a template: a draft that a clinician reads through and signs.

    Whatever the call does not say is asked for, each blank with its range and unit; with --json nothing is asked.
    `--today` is the day on which the plan is written.
    """
    from planlang.cli.starting import beginning, key_made, written_text
    from planlang.text.save import save_new

    said = _Options(fills, title, code, aged, starts, today, calendar, room, not as_json)
    begun = beginning(template, output)
    if begun.result is not None:
        return _refused(begun.result, as_json)
    _known(fills, begun)
    lines, proposed = _asked(begun, said)
    fault = save_new(output, written_text(lines, proposed).encode())
    if fault:
        raise click.UsageError(f"{fault}; nothing was written.")
    key = key_made(begun.clinic)
    return _told(begun, output, proposed, key, as_json)


def _known(fills: dict[str, str], begun: Beginning) -> None:
    from planlang.text.meant import did_you_mean

    names = [blank.name for blank in begun.blanks]
    for name in fills:
        if name not in names:
            help = did_you_mean(name, names) or (f"Its blanks are {', '.join(names)}." if names else "It has none.")
            raise click.BadParameter(f"the template has no blank {name}. {help}", param_hint="--fill")


def _asked(begun: Beginning, said: _Options) -> tuple[list[str], Room | None]:
    """The plan's lines, from the call or from answers; and what is proposed for easier weeks."""
    from planlang.cli.starting_room import room_for

    title = _text("title", said.title, "What is the plan for (neutral words, no names)", said)
    code = _matched("code", said.code, CODE, "The person's code, as in P-014", "letters, a hyphen, digits: P-014", said)
    aged = said.aged if said.aged is not None or not said.asking else _age()
    written = said.written or _date("today", "Written on", said)
    starts = said.starts or _date("starts", "First day of the plan", said)
    lines = [
        f'plan "{title}"',
        f"for {code}" + (f", aged {aged}" if aged else ""),
        f'from template "{begun.named}"',
        *(_blank(begun, blank, said) for blank in begun.blanks),
        f"starts {starts.isoformat()}",
        f"written {written.isoformat()}",
        "revision 1",
        "state draft",
    ]
    calendar = said.calendar or (_calendar() if said.asking else None)
    if calendar:
        lines += ["", f"agreed {written.isoformat()} calendar {calendar}"]
    room = room_for(begun, lines, said.room)
    if room is not None and room.proposed and said.asking:
        click.echo(
            f"The template leaves open how many easier weeks. Of {room.weeks} weeks, room for {room.room} is a start."
        )
        most = click.IntRange(0, max(room.weeks - 1, 0))
        room = room.of(click.prompt("Room for how many", type=most, default=room.room))
    return lines, room


def _text(option: str, value: str | None, prompt: str, said: _Options) -> str:
    while True:
        text = " ".join((value if value is not None else _prompt(option, prompt, said)).split())
        if text and '"' not in text:
            return text
        fault = "a text without double quotes is wanted here"
        if value is not None:
            raise click.BadParameter(fault, param_hint=f"--{option}")
        click.echo(f"  {fault[0].upper()}{fault[1:]}.")


def _matched(option: str, value: str | None, shape: re.Pattern[str], prompt: str, help: str, said: _Options) -> str:
    while True:
        text = (value if value is not None else _prompt(option, prompt, said)).strip()
        if shape.fullmatch(text):
            return text
        if value is not None:
            raise click.BadParameter(f'"{text}" is no code; it is {help}', param_hint=f"--{option}")
        click.echo(f"  A code is {help}. No names.")


def _age() -> int | None:
    while True:
        text = str(click.prompt("Age in years (nothing: not said)", default="", show_default=False)).strip()
        if not text:
            return None
        if text.isascii() and text.isdigit() and 1 <= int(text) <= 120:
            return int(text)
        click.echo("  A whole number of years, or nothing.")


def _date(option: str, prompt: str, said: _Options) -> date:
    while True:
        text = _prompt(option, f"{prompt} (as in 2027-03-01)", said).strip()
        try:
            return date.fromisoformat(text)
        except ValueError:
            click.echo(f'  "{text}" is no date; write it as 2027-03-01.')


def _prompt(option: str, prompt: str, said: _Options) -> str:
    if not said.asking:
        raise click.UsageError(f"With --json nothing is asked: say --{option} too.")
    return str(click.prompt(prompt))


def _blank(begun: Beginning, blank: BlankLine, said: _Options) -> str:
    """The `fill` line of a blank."""
    from planlang.model.composing.answers import answer

    if blank.name in said.fills:
        made = answer(blank, begun.sheet, said.fills[blank.name])
        if made.fault:
            raise click.BadParameter(made.fault, param_hint=f"--fill {blank.name}")
        return made.line
    if not said.asking:
        raise click.UsageError(f"{blank.name} is not filled: --fill {blank.name}=... ({blank.range})")
    by = f", by {blank.step}" if blank.step else ""
    prompt = f"{blank.name}: {blank.ask or 'how much'} ({blank.range}{by})"
    while True:
        made = answer(blank, begun.sheet, str(click.prompt(prompt)))
        if not made.fault:
            return made.line
        click.echo(f"  {made.fault}")


def _calendar() -> str:
    click.echo(WHO_SEES)
    for word in CALENDARS:
        click.echo(f"  {word}: {SAID[word]}")
    return str(
        click.prompt("The calendar, as agreed with the person", type=click.Choice(CALENDARS), default="discreet")
    )


def _refused(result: Result, as_json: bool) -> int:
    if as_json:
        echo_json({"file": None, "findings": findings_data(result)})
    else:
        show_findings(result, err=True)
        click.echo("No plan was written: the template is to be put right first.", err=True)
    return FINDINGS


def _told(begun: Beginning, output: str, room: Room | None, key: str | None, as_json: bool) -> int:
    from planlang.cli.lint import called
    from planlang.cli.linted import lint_file

    linted = lint_file(output, called(None))
    if as_json:
        echo_json(
            {
                "file": output,
                "template": begun.named,
                "room": room.room if room else None,
                "key_file": key,
                "findings": findings_data(linted.result),
            }
        )
        return 0
    click.echo(f"{output} is written, as a draft.")
    if room is not None and room.room:
        click.echo(f"  Room for easier weeks: {room.room} of {room.weeks}. Change it where you know better.")
    if key is not None:
        click.echo(f"  {key} is made: the clinic's calendar key. Keep it, and keep it out of any shared repository.")
    click.echo(
        "  Still to write: the screening, and what is different for this person. Sign it by taking out `state draft`."
    )
    click.echo("  What the rules find now, which is not a statement that the plan is safe:")
    click.echo()
    show_findings(linted.result)
    return 0
