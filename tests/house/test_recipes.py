"""The recipes for a library, in the README and in the hook definitions, do what they say when run as written."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
BLOCKS = [yaml.safe_load(block) for block in re.findall(r"^```yaml\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)]
CLINIC = next(block for block in BLOCKS if "clinic" in block)
LOCAL = next(block for block in BLOCKS if "repos" in block)["repos"][0]["hooks"]
STEPS = next(block for block in BLOCKS if "jobs" in block)["jobs"]["plans"]["steps"]
DEFINED = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))
JUMP = """\
plan "Round the lake"
  starts 2027-03-01
  lasts 8 weeks
activity walking
  kind aerobic
  begin 2000 steps/day
  then 6000 steps/day
  progress every week
"""


def ran(entry: str, *more: str, cwd: Path) -> tuple[int, str]:
    """What a recipe's command says, with `planlang` being this checkout's."""
    program, *words = shlex.split(entry)
    assert program == "planlang"
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    call = [sys.executable, "-m", "planlang", *words, *more]
    done = subprocess.run(
        call,
        cwd=cwd,
        env=env,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        check=False,
    )
    return done.returncode, done.stdout


@pytest.fixture(scope="module")
def shared(tmp_path_factory):
    folder = tmp_path_factory.mktemp("recipes") / "my-clinic"
    assert ran("planlang demo my-clinic", cwd=folder.parent)[0] == 0
    return folder


@pytest.fixture
def library(shared, tmp_path):
    """A library as a clinic would share it: without people."""
    subprocess.run(["cp", "-r", shared / "library", shared / "clinic.yaml", tmp_path], check=True)
    for template in (tmp_path / "library" / "templates").glob("*.plan"):
        if template.stem != "knee-low":  # one is enough here: each is gone through for everybody
            template.unlink()
    return tmp_path


def files(hook: dict, library: Path) -> list[str]:
    """The files that pre-commit gives to a hook."""
    if hook.get("pass_filenames") is False:
        return []
    wanted = re.compile(hook["files"])
    names = [path.relative_to(library).as_posix() for path in sorted(library.rglob("*")) if path.is_file()]
    found = [name for name in names if wanted.search(name)]
    assert found
    return found


@pytest.mark.parametrize("hook", [*LOCAL, *DEFINED], ids=lambda hook: hook["entry"])
def test_a_hook_passes_on_the_library_that_comes_with_it(hook, library):
    code, said = ran(hook["entry"], *files(hook, library), cwd=library)
    assert code == 0, said


@pytest.mark.parametrize("hook", [*LOCAL, *DEFINED], ids=lambda hook: hook["entry"])
def test_a_hook_fails_or_mends_where_something_is_wrong(hook, library):
    (library / "library" / "jump.plan").write_text(JUMP.replace("  kind", "     kind"), "utf-8")
    (library / "library" / "measures.yaml").write_text("- name: x\n", "utf-8")
    code, said = ran(hook["entry"], *files(hook, library), cwd=library)
    mended = hook["entry"] == "planlang tidy" and "     kind" not in (library / "library" / "jump.plan").read_text(
        "utf-8"
    )
    assert code in (1, 2) or mended, said


def test_both_say_the_same_of_each_hook():
    assert {hook["id"] for hook in LOCAL} == {hook["id"] for hook in DEFINED}
    for local in LOCAL:
        defined = next(hook for hook in DEFINED if hook["id"] == local["id"])
        for key in ("name", "files", "pass_filenames", "require_serial"):
            assert local.get(key) == defined.get(key)


@pytest.mark.parametrize("step", [s["run"] for s in STEPS if s.get("run", "").startswith("planlang")])
def test_a_step_of_the_ci_recipe_passes_and_fails_as_it_should(step, library):
    code, said = ran(step, cwd=library)
    assert code == 0, said
    (library / "library" / "jump.plan").write_text(JUMP.replace("  kind", "     kind"), "utf-8")
    rule = library / "library" / "rules" / "riverside" / "grip-not-measured.yaml"
    rule.write_text(rule.read_text("utf-8").replace("      grip-strength 14 kg\n", "      usual-pain 3/10\n"), "utf-8")
    code, said = ran(step, cwd=library)
    assert code == 1, said


def test_annotations_of_the_recipe_name_file_and_line(library):
    (library / "library" / "jump.plan").write_text(JUMP, "utf-8")
    said = ran("planlang lint --format github library/", cwd=library)[1]
    assert "::error file=library/jump.plan,line=7,endLine=7," in said


def test_the_clinic_file_of_the_readme_is_one(library):
    text = next(b for b in re.findall(r"^```yaml\n(.*?)^```$", README, re.DOTALL | re.MULTILINE) if "clinic:" in b)
    (library / "clinic.yaml").write_text(text, "utf-8")
    code, said = ran("planlang rules list", cwd=library)
    assert code == 0, said
    assert "1 switched off." in said
    known = "clinic contacts calendar-key-file zone packs measures conditions ignore rules waivers"
    assert set(CLINIC) == set(known.split())
