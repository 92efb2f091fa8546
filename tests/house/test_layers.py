"""The house: what may import what, what each folder holds, and what no file may name."""

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "planlang"

# Each layer's own permissions; what those may import comes with them. `cli` may import all.
MAY_IMPORT = {
    "text": set(),
    "syntax": {"text"},
    "model": {"syntax"},
    "planning": {"model"},
    "checking": {"planning"},
    "calendar": {"planning"},
    "people": {"planning", "checking"},
    "fhir": {"planning"},
    "cluster": {"checking"},
    "report": {"text"},
    "editor": {"text", "syntax", "model", "planning", "checking", "calendar", "people", "fhir", "report"},
    "cli": {"cluster", "editor"},
}
FOLDERS = {"planlang", "rules", "tests", "examples", "grammar"}
FILES = {"README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE"}


def allowed(layer: str) -> set[str]:
    """A layer, what it may import, and what those may."""
    found, todo = set(), [layer]
    while todo:
        name = todo.pop()
        if name not in found:
            found.add(name)
            todo += MAY_IMPORT[name]
    return found


def imported(path: Path) -> set[str]:
    """The layers that a module imports, wherever in it the import stands."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"), str(path))):
        names = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full"
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        found |= {name.split(".")[1] for name in names if name.startswith("planlang.")}
    return {name for name in found if (PACKAGE / name).is_dir()}


def modules() -> list[Path]:
    return sorted(path for path in PACKAGE.rglob("*.py") if path.parent != PACKAGE)


def tracked() -> list[Path]:
    """The files of the project: what git knows, and what it would take in."""
    done = subprocess.run(
        ["git", "ls-files", "-co", "--exclude-standard", "-z"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if done.returncode:  # an unpacked archive
        found = [p for p in ROOT.rglob("*") if p.is_file()]
        made = {"node_modules", "__pycache__", "build", "dist"}
        return [p for p in found if not any(n.startswith(".") or n in made for n in p.relative_to(ROOT).parts)]
    return [ROOT / name for name in done.stdout.split("\0") if name and (ROOT / name).is_file()]


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_module_imports_only_what_its_layer_may(path):
    layer = path.relative_to(PACKAGE).parts[0]
    assert imported(path) <= allowed(layer)


def test_every_layer_of_the_package_stands_in_the_table():
    layers = {path.relative_to(PACKAGE).parts[0] for path in modules()}
    assert layers <= set(MAY_IMPORT)


def test_no_layer_imports_a_later_one_in_a_circle():
    for layer in MAY_IMPORT:
        assert not any(layer in allowed(other) for other in MAY_IMPORT[layer]), layer


@pytest.mark.parametrize(
    "folder", sorted({path.parent for path in modules()}), ids=lambda p: str(p.relative_to(PACKAGE))
)
def test_package_folder_says_in_one_line_what_lives_there(folder):
    docstring = ast.get_docstring(ast.parse((folder / "__init__.py").read_text("utf-8")))
    assert docstring
    assert "\n" not in docstring


@pytest.mark.parametrize("folder", sorted(FOLDERS))
def test_folder_opens_with_a_readme(folder):
    text = (ROOT / folder / "README.md").read_text("utf-8")
    assert text.startswith("# ")
    assert len(text.splitlines()) >= 3


def test_top_level_holds_nothing_else():
    names = {path.relative_to(ROOT).parts[0] for path in tracked()}
    assert {name for name in names if not name.startswith(".")} <= FOLDERS | FILES
    assert names >= FOLDERS | FILES


def test_no_file_names_what_no_file_may_name():
    # Written in pieces, so that this file doesn't name them either.
    words = [
        "seed" + " doc",
        "trans" + "cript",
        "vi" + "deo",
        "/wo" + "rk/",
        "/ro" + "ot/",
        "/tmp/" + "bash_jobs",
        "--index" + "-url",
    ]
    words += ["--extra-" + "index", "--regis" + "try", "shared/" + "design", "shared/" + "evidence", "issue" + " 2"]
    pattern = re.compile("|".join(map(re.escape, words)), re.IGNORECASE)
    found = []
    for path in tracked():
        if path.suffix in (".xsd",) or "schemas" in path.parts:
            continue  # published texts, unchanged
        text = path.read_text("utf-8", errors="replace")
        found += [f"{path.relative_to(ROOT)}: {m.group()}" for m in pattern.finditer(f"{path.name}\n{text}")]
    assert found == []


def test_nothing_is_left_unfinished():
    pattern = re.compile(
        "|".join(["TO" + "DO", "FIX" + "ME", "NotImplemented" + "Error", r"pytest\.(mark\.)?(skip|xfail)"])
    )
    found = []
    for path in tracked():
        if path.suffix == ".py" and path != Path(__file__):
            found += [f"{path.relative_to(ROOT)}: {m.group()}" for m in pattern.finditer(path.read_text("utf-8"))]
    assert found == []


def test_calendars_keep_their_line_endings_in_git():
    assert "*.ics -text" in (ROOT / ".gitattributes").read_text("utf-8")
