"""Grammar, rules and examples are found from a wheel, an editable install and a checkout."""

import os
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

from planlang.text.resources import folder

ROOT = Path(__file__).parents[2]
PLAN = 'plan "Steps to the jetty"\n  starts 2027-03-01\n  lasts 8 weeks\n'
ASK = """
import sys
from pathlib import Path
import planlang
from planlang.model.catalogue import measures
from planlang.syntax.parser import parser
from planlang.text.resources import folder
print(Path(planlang.__file__).parent)
for name in ("grammar", "rules", "examples"):
    print(folder(name))
print(len(measures()), len(list(folder("examples").rglob("*.plan"))))
parser().parse('plan "x"\\n')
"""

pytestmark = pytest.mark.install


def run(*command, cwd=None):
    env = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "PYTHONHOME")}
    done = subprocess.run([*map(str, command)], capture_output=True, text=True, cwd=cwd, env=env, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    out = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", out, cwd=ROOT)
    return next(out.glob("*.whl"))


@pytest.fixture
def elsewhere(tmp_path):
    """A fresh environment that sees the packages of this one, but after its own."""
    venv.create(tmp_path / "venv", with_pip=False)
    bin_ = tmp_path / "venv" / ("Scripts" if os.name == "nt" else "bin")
    python = next(bin_.glob("python*"))
    site = Path(run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=tmp_path).strip())
    (site / "zz_outer.pth").write_text(sysconfig.get_path("purelib") + "\n")

    def install(*what):
        run(
            sys.executable, "-m", "pip", "--python", python, "install", "-q", "--no-deps", "--no-build-isolation", *what
        )
        return python, bin_

    return install


def answers(python, cwd):
    package, grammar, rules, examples, counts = run(python, "-c", ASK, cwd=cwd).splitlines()
    assert [int(n) > 2 for n in counts.split()] == [True, True]
    return Path(package), Path(grammar), Path(rules), Path(examples)


def test_checkout_uses_its_own_folders():
    assert [folder(name) for name in ("grammar", "rules", "examples")] == [
        ROOT / "grammar",
        ROOT / "rules",
        ROOT / "examples",
    ]


def test_unknown_folder_is_a_plain_error():
    with pytest.raises(FileNotFoundError, match="install it again"):
        folder("nowhere")


def test_wheel_holds_the_data_and_the_ready_table(wheel):
    names = zipfile.ZipFile(wheel).namelist()
    for wanted in ("grammar/plan.lark", "grammar/plan.table", "rules/signs.yaml", "examples/clinic.yaml"):
        assert f"planlang/data/{wanted}" in names
    assert not [name for name in names if "tests/" in name or name.endswith(".pyc")]


def test_wheel_finds_its_data_and_runs(wheel, elsewhere, tmp_path):
    python, bin_ = elsewhere(wheel)
    package, *folders = answers(python, tmp_path)
    assert package.is_relative_to(tmp_path)
    assert folders == [package / "data" / name for name in ("grammar", "rules", "examples")]
    (tmp_path / "a.plan").write_text(PLAN)
    assert "Steps to the jetty" in run(bin_ / "planlang", "weeks", "a.plan", cwd=tmp_path)


def test_ready_table_of_the_wheel_is_the_one_used(wheel, elsewhere, tmp_path):
    python, _ = elsewhere(wheel)
    code = (
        "from planlang.syntax import parser, tables\n"
        "def refuse(*a, **k): raise SystemExit('built anew')\n"
        "parser.build = refuse\ntables.tables()\nprint('ready')"
    )
    assert run(python, "-c", code, cwd=tmp_path) == "ready\n"


def test_editable_install_finds_the_checkout(elsewhere, tmp_path):
    python, _ = elsewhere("-e", ROOT)
    package, *folders = answers(python, tmp_path)
    assert package == ROOT / "planlang"
    assert folders == [ROOT / name for name in ("grammar", "rules", "examples")]
