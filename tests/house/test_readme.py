"""The tour in the README is what one sees."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")


def planlang(*args, cwd):
    env = {**os.environ, "COLUMNS": "80", "PYTHONPATH": str(ROOT)}
    env.pop("PLANLANG_DEBUG", None)
    done = subprocess.run(
        [sys.executable, "-m", "planlang", *args],
        cwd=cwd,
        env=env,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode < 2, done.stdout
    return done.stdout


def shown() -> list[tuple[str, str]]:
    """Each command of the tour, with what the README says it prints."""
    found = []
    for block in re.findall(r"^```console\n(.*?)^```$", README, re.DOTALL | re.MULTILINE):
        for part in re.split(r"^\$ planlang ", block, flags=re.MULTILINE)[1:]:
            command, _, output = part.partition("\n")
            found.append((command, output))
    return found


@pytest.fixture(scope="module")
def clinic(tmp_path_factory):
    folder = tmp_path_factory.mktemp("tour")
    planlang("demo", "my-clinic", cwd=folder)
    return folder


def test_tour_is_a_tour():
    assert {command.split()[0] for command, _ in shown()} >= {"lint", "weeks", "compile", "explain"}


@pytest.mark.parametrize(("command", "output"), shown(), ids=[command for command, _ in shown()])
def test_tour_shows_what_one_sees(clinic, command, output):
    """A line `...` stands for lines that are left out."""
    seen = planlang(*shlex.split(command), cwd=clinic)
    pattern = re.escape(output.strip("\n")).replace(re.escape("\n...\n"), "\n(?:.*\n)*?")
    if output.strip("\n").endswith("\n..."):
        pattern = pattern.removesuffix(re.escape("\n...")) + r"\n[\s\S]*"
    assert re.fullmatch(pattern, seen.strip("\n")), seen


def test_first_two_commands_stand_alone():
    blocks = re.findall(r"^```sh\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)
    assert [len(block.splitlines()) for block in blocks[:2]] == [1, 1]
    assert "planlang demo my-clinic" in blocks[0]
    assert "pytest" in blocks[1]


@pytest.mark.parametrize(
    "words",
    [
        "No finding does not mean safe",
        "a safety change needs a call",
        "may be a regulated device",
        "No clinician or clinical body has reviewed them",
        "licensed clinician",
    ],
)
def test_cautions_stand_on_the_first_screens(words):
    assert words.lower() in " ".join(README.split("## A tour")[0].split()).lower()
