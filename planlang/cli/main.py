"""The command line: finds the command, and turns whatever goes wrong into one sentence and an exit code."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any

import click

from planlang import __version__

FINDINGS, WRONG_CALL, FAILED, STOPPED, PIPE_CLOSED = 1, 2, 3, 130, 141

# What each command does, said here so that --help needs no import. The module is planlang.cli.NAME.
COMMANDS = {
    "lint": "Check plans, templates, libraries and diaries.",
    "tidy": "Format files in place; the meaning stays.",
    "weeks": "Show a plan week by week.",
    "leeway": "Say what is reached wherever the rest falls.",
    "mend": "Propose what makes a plan hold.",
    "review": "Say what happened, where each target stands, what is next.",
    "compile": "Write the calendar.",
    "publish": "Put the calendar on a CalDAV server, or take it back.",
    "start": "Begin a plan from a template, asking for each of its blanks.",
    "handout": "Write the person's own sheet.",
    "caseload": "List everybody of a folder: who is due, who is worth a call.",
    "fhir": "Write the plan for a clinic's record system.",
    "explain": "Explain one rule.",
    "rules": "List the rules and facts; run the rules' own examples.",
    "editor": "Help an editor while a plan is typed (language server).",
    "demo": "Write a small made-up clinic and run the commands on it.",
}


class Lazy(click.Group):
    """A group whose commands are imported when they are called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names, in the order of the table."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command, imported now."""
        if cmd_name not in COMMANDS:
            return None
        found: click.Command = import_module(f"planlang.cli.{cmd_name}").command
        return found

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The table as it stands, without importing a command."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As usual, but with what was most likely meant."""
        from planlang.text.meant import meant

        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            near = meant(args[0], COMMANDS)
            hint = f' Did you mean "{near}"?' if near else ""
            raise click.UsageError(f'There is no command "{args[0]}".{hint}', ctx)
        return super().resolve_command(ctx, args)


@click.group(
    cls=Lazy,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="No finding does not mean safe: planlang supports a clinician's judgement and does not replace it.",
)
@click.version_option(__version__, prog_name="planlang", message="%(prog)s %(version)s")
@click.option("--debug", is_flag=True, help="When planlang itself fails, show where.")
@click.pass_context
def cli(ctx: click.Context, debug: bool) -> None:
    """Exercise plans that are kept for years: checked, reckoned week by week, put into a calendar."""
    if debug:
        os.environ["PLANLANG_DEBUG"] = "1"
    if os.environ.get("NO_COLOR"):
        ctx.color = False


def main() -> None:
    """The console script."""
    gc.set_threshold(100_000)  # looking for cycles while everything is imported costs a tenth of a short command
    sys.exit(run(sys.argv[1:]))


def run(args: Sequence[str]) -> int:
    """Runs a command line and returns its exit code; nothing that goes wrong leaves as a traceback."""
    _plain_streams()
    try:
        code = _called(list(args))
        sys.stdout.flush()
    except click.exceptions.Exit as e:
        return e.exit_code
    except click.ClickException as e:
        e.show()
        return WRONG_CALL
    except (click.Abort, KeyboardInterrupt):
        click.echo("stopped", err=True)
        return STOPPED
    except BrokenPipeError:
        # Whoever read from us has gone; Python must not try to write once more at its end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return PIPE_CLOSED
    except Exception as e:
        return _failed(e)
    return code


def _called(args: list[str]) -> int:
    instruction = os.environ.get("_PLANLANG_COMPLETE")
    if instruction:
        from click.shell_completion import shell_complete

        return shell_complete(cli, {}, "planlang", "_PLANLANG_COMPLETE", instruction)
    with cli.make_context("planlang", args) as ctx:
        code: Any = cli.invoke(ctx)
    return code if isinstance(code, int) else 0


def _failed(e: Exception) -> int:
    if os.environ.get("PLANLANG_DEBUG"):
        import traceback

        traceback.print_exception(e)
    said = str(e).strip().splitlines()
    what = f"{type(e).__name__}: {said[0]}" if said else type(e).__name__
    click.echo(
        f"planlang itself failed ({what}). This is a fault of the program, not of the plan: "
        "run it again as planlang --debug ... and report what it prints.",
        err=True,
    )
    return FAILED


def _plain_streams() -> None:
    """UTF-8 into files and pipes on every system; what a terminal can't show is escaped, never an error."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is None:
            continue
        if stream.isatty():
            reconfigure(errors="backslashreplace")
        else:
            reconfigure(encoding="utf-8", errors="backslashreplace")


if __name__ == "__main__":
    main()
