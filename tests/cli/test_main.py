"""The command line itself: help, exit codes, and what happens when something goes wrong."""

import subprocess
import sys
from importlib import import_module

import click
import pytest

from planlang.cli import main as module
from planlang.cli.main import COMMANDS, Lazy, cli, run


def planlang(*args, **kwargs):
    return subprocess.run(
        [sys.executable, "-m", "planlang", *args],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
        **kwargs,
    )


@pytest.fixture
def command(monkeypatch):
    """Puts a command of the test's own in place of `weeks`."""

    def put(function):
        made = click.command("weeks")(function)
        monkeypatch.setattr(Lazy, "get_command", lambda *_: made)

    return put


@pytest.mark.parametrize("flag", ["-h", "--help"])
def test_help_lists_every_command(flag):
    done = planlang(flag)
    assert done.returncode == 0
    for name, does in COMMANDS.items():
        assert name in done.stdout
        assert does in done.stdout


def test_help_imports_no_heavy_package():
    code = (
        "import sys\nfrom planlang.cli.main import run\nrun(['--help'])\n"
        "print([m for m in ('lark', 'yaml', 'icalendar', 'cattrs', 'attrs', 'numpy', 'rich') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_is_there_and_explains_itself(name, capsys):
    assert isinstance(import_module(f"planlang.cli.{name}").command, click.Command)
    assert run([name, "-h"]) == 0
    assert "Usage: planlang" in capsys.readouterr().out


def test_version():
    assert planlang("--version").stdout == "planlang 1.0\n"


def test_misspelled_command_is_a_wrong_call():
    done = planlang("weks", "a.plan")
    assert done.returncode == 2
    assert 'There is no command "weks". Did you mean "weeks"?' in done.stderr
    assert done.stdout == ""


def test_unknown_option_is_a_wrong_call():
    assert planlang("--jsn").returncode == 2


def test_no_command_shows_the_help():
    done = planlang()
    assert done.returncode == 2
    assert "Commands:" in done.stderr + done.stdout


def test_failure_of_the_program_is_one_sentence_and_exit_3(command, capsys, monkeypatch):
    monkeypatch.delenv("PLANLANG_DEBUG", raising=False)

    def broken():
        raise ZeroDivisionError("division by zero\nand more")

    command(broken)
    assert run(["weeks"]) == 3
    err = capsys.readouterr().err
    assert err.startswith("planlang itself failed (ZeroDivisionError: division by zero).")
    assert err.count("\n") == 1


def test_debug_shows_where_the_program_failed(command, capsys, monkeypatch):
    monkeypatch.setenv("PLANLANG_DEBUG", "1")

    def broken():
        raise ZeroDivisionError

    command(broken)
    assert run(["weeks"]) == 3
    assert "in broken" in capsys.readouterr().err


@pytest.mark.parametrize("code", [0, 1, 2])
def test_exit_code_of_a_command_is_passed_on(command, code):
    command(lambda: code)
    assert run(["weeks"]) == code


def test_interrupt_is_no_failure(command, capsys):
    def stopped():
        raise KeyboardInterrupt

    command(stopped)
    assert run(["weeks"]) == 130
    assert capsys.readouterr().err == "stopped\n"


def test_closed_pipe_is_quiet():
    code = (
        "import click\nfrom planlang.cli import main\n"
        "made = click.command('weeks')(lambda: [click.echo('x' * 1000) for _ in range(5000)] and None)\n"
        "main.Lazy.get_command = lambda *_: made\nimport sys\nsys.exit(main.run(['weeks']))"
    )
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.read(10)
        process.stdout.close()
        err = process.stderr.read()
    assert err == b""
    assert process.returncode == 141


def test_output_into_a_pipe_is_utf8_whatever_the_locale(tmp_path):
    import os

    code = (
        "import click, sys\nfrom planlang.cli import main\n"
        "made = click.command('weeks')(lambda: click.echo('2 × 10 膝'))\n"
        "main.Lazy.get_command = lambda *_: made\nsys.exit(main.run(['weeks']))"
    )
    env = {**os.environ, "PYTHONIOENCODING": "latin-1", "LC_ALL": "C"}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, env=env, check=True)
    assert done.stdout.decode("utf-8") == "2 × 10 膝\n"


def test_no_color_is_obeyed(command, monkeypatch, capsys):
    seen = []
    monkeypatch.setenv("NO_COLOR", "1")
    command(lambda: seen.append(click.get_current_context().color))
    run(["weeks"])
    assert seen == [False]


def test_the_group_is_what_the_console_script_runs():
    assert module.cli is cli
