"""What stands beside a plan: the block before it, and other plans of the same person."""

from pathlib import Path

import pytest

from planlang.checking.beside import InFolder, InTexts
from planlang.checking.check import check
from planlang.checking.rulebook import Rulebook
from planlang.cli.main import run
from planlang.model.plan import Plan
from planlang.model.reading import read_plan
from planlang.text.source import Source

NOW = 'plan "Now"\n  for P-014\n  starts 2027-03-01\n  lasts 8 weeks\n  revision 2\n'
AUTUMN = 'plan "Autumn"\n  for P-014\n  starts 2027-01-04\n  lasts 8 weeks\n'


def plan_of(text: str) -> Plan:
    plan, _ = read_plan(Source("now.plan", text))
    assert plan is not None
    return plan


@pytest.fixture
def library(tmp_path: Path) -> Path:
    """A library with two people's folders, and a plan outside it."""
    root = tmp_path / "clinic"
    (root / "people").mkdir(parents=True)
    (root / "old").mkdir()
    (root / "people" / "now.plan").write_text(NOW, "utf-8")
    (root / "people" / "autumn.plan").write_text(AUTUMN, "utf-8")
    (root / "old" / "autumn.plan").write_text(AUTUMN.replace("Autumn", "Old autumn"), "utf-8")
    (root / "people" / "torn.plan").write_text(AUTUMN + "exercise x\n  begin 2 by 8\n", "utf-8")
    (tmp_path / "elsewhere.plan").write_text(AUTUMN, "utf-8")
    return root


@pytest.mark.parametrize(
    ("named", "title"),
    [
        ("autumn.plan", "Autumn"),
        ("../old/autumn.plan", "Old autumn"),
        ("../people/../old/autumn.plan", "Old autumn"),
        ("../../elsewhere.plan", None),
        ("no-such.plan", None),
        ("torn.plan", None),
        ("now.plan", None),
        ("..", None),
        ("\0", None),
    ],
)
def test_the_block_before_is_looked_for_inside_the_library_only(library: Path, named: str, title: str | None) -> None:
    beside = InFolder(library / "people" / "now.plan", library)
    found = beside.previous(plan_of(NOW + f'  continues "{named}"\n'))
    assert (found and found.title) == title


def test_an_absolute_path_is_not_followed(library: Path) -> None:
    named = (library / "people" / "autumn.plan").resolve()
    beside = InFolder(library / "people" / "now.plan", library)
    assert beside.previous(plan_of(NOW + f'  continues "{named}"\n')) is None


def test_a_link_out_of_the_library_is_not_followed(library: Path) -> None:
    (library / "people" / "link.plan").symlink_to(library.parent / "elsewhere.plan")
    beside = InFolder(library / "people" / "now.plan", library)
    assert beside.previous(plan_of(NOW + '  continues "link.plan"\n')) is None


def test_other_plans_are_those_of_the_same_code_in_the_same_folder(library: Path) -> None:
    people = library / "people"
    (people / "somebody-else.plan").write_text(AUTUMN.replace("P-014", "P-015"), "utf-8")
    (people / "proposed.plan").write_text(AUTUMN + "  state draft\n", "utf-8")
    (people / "paused.plan").write_text(AUTUMN + 'pause all from 2027-01-20 because "operation"\n', "utf-8")
    (people / "first-version.plan").write_text(NOW.replace("revision 2", "revision 1"), "utf-8")
    beside = InFolder(people / "now.plan", library)
    assert [other.title for other in beside.others(plan_of(NOW))] == ["Autumn"]


def test_a_plan_for_nobody_has_no_others(library: Path) -> None:
    beside = InFolder(library / "people" / "now.plan", library)
    assert beside.others(plan_of(NOW.replace("  for P-014\n", ""))) == ()


def test_where_the_block_before_is_not_found_the_step_to_this_one_is_not_judged(book: Rulebook) -> None:
    text = NOW + '  continues "autumn.plan"\n'
    lost = check(Source("now.plan", text), book)
    found = check(Source("now.plan", text), book, beside=InTexts({"autumn.plan": AUTUMN}))
    assert lost.not_judged == ("jump-between-blocks",)
    assert found.not_judged == ()
    assert check(Source("now.plan", NOW), book).not_judged == ()


def test_lint_reads_the_block_before_from_the_library(
    library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    walking = 'activity walking\n  kind aerobic\n  begin {} steps/day\n  stay on this step because "enough"\n'
    (library / "people" / "autumn.plan").write_text(AUTUMN + walking.format(2000), "utf-8")
    text = NOW + '  continues "autumn.plan"\n' + walking.format(4000)
    (library / "people" / "now.plan").write_text(text, "utf-8")
    monkeypatch.chdir(library)
    assert run(["lint", "people/now.plan"]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "jump-between-blocks" in said
    assert '"Autumn" ended with 2000 steps/day' in said


def test_lint_finds_a_second_plan_of_the_same_person(
    library: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (library / "people" / "autumn.plan").write_text(AUTUMN.replace("8 weeks", "12 weeks"), "utf-8")
    monkeypatch.chdir(library)
    run(["lint", "people/now.plan"])
    assert 'P-014 has another plan in these weeks: "Autumn" (autumn.plan)' in " ".join(capsys.readouterr().out.split())
