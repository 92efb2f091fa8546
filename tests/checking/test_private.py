"""Personal details: found in every kind of file, with no false alarm on examples and on a thousand generated plans."""

import subprocess
from pathlib import Path

import pytest

from planlang.checking.check import Checked
from planlang.checking.file import Run, check_file, check_text
from planlang.checking.private import RULES, private, private_settings
from planlang.checking.rulebook import Rulebook
from planlang.checking.walk import files_in
from planlang.text.source import Source
from tests.benchmarks.seeded_library import texts

EXAMPLES = Path(__file__).parents[2] / "examples"
CONTACTS = {"clinic": "03 5550 0100, weekdays 8 to 17", "same-day": "03 5550 0101"}
DETAILS = {
    "telephone": "ring 0491 570 156",
    "e-mail": "write to k.berg@post.example",
    "birth": "born 12.3.1959",
    "record": "MRN 0012345",
    "address": "14 Harbour Road, Little Cove, ZZ9 9ZZ",
}
PLAN = 'plan "Round the lake"\n  starts 2027-03-01\n  lasts 8 weeks\n  # {}\ntell "{}"\n'
TEMPLATE = 'template "Base"\n  lasts 8 weeks\n  blank steps 1000 to 2000 steps/day "{}"\n  # {}\n'
LIBRARY = 'library "Exercises"\n# {}\nexercise step-up\n  kind strength\n  how "{}"\n  begin 2x6\n'
DIARY = 'diary for P-014\n2027-03-01 note "{}"\n2027-03-02 pain 3/10  # {}\n'
MADE_FROM = 'plan "Round the lake"\n  from template "base.plan"\n  starts 2027-03-01\n  # {}\ntell "{}"\n'
KINDS = {"plan": PLAN, "template": TEMPLATE, "library": LIBRARY, "diary": DIARY, "made from": MADE_FROM}


def details(checked: Checked) -> list[int]:
    """The lines on which a rule about personal details found something."""
    return sorted(f.source.place(f.span).line for f in checked.findings if f.rule in RULES and f.source and f.span)


def checked(kind: str, first: str, second: str, folder: Path) -> Checked:
    (folder / "base.plan").write_text('template "Base"\n  lasts 8 weeks\n', "utf-8")
    path = folder / f"a.{'diary' if kind == 'diary' else 'plan'}"
    path.write_text(KINDS[kind].format(first, second), "utf-8")
    return check_file(path, Run())


@pytest.mark.parametrize("detail", DETAILS)
@pytest.mark.parametrize("kind", KINDS)
def test_a_detail_in_a_text_or_a_remark_is_found_once_in_every_kind_of_file(kind, detail, tmp_path):
    words = DETAILS[detail]
    text = KINDS[kind].format("up and down", "up and down")
    where = [n for n, line in enumerate(text.splitlines(), 1) if "up and down" in line]
    for wanted, pair in ((where, (words, words)), (where[:1], (words, "up and down"))):
        assert details(checked(kind, *pair, tmp_path)) == wanted


@pytest.mark.parametrize("kind", KINDS)
def test_a_name_is_asked_about_in_every_kind_of_file(kind, tmp_path):
    found = checked(kind, "seen with her daughter Ingrid", "with a friend", tmp_path)
    assert [f.level.value for f in found.findings if f.rule == "name-suspected"] == ["advice"]


@pytest.mark.parametrize("kind", ["library", "diary", "made from"])
def test_a_detail_is_never_repeated_in_the_finding(kind, tmp_path):
    found = checked(kind, DETAILS["telephone"], DETAILS["e-mail"], tmp_path)
    said = [f.message + f.advice for f in found.findings if f.rule == "personal-details"]
    assert said
    assert not any("0491" in one or "k.berg" in one for one in said)


def test_a_detail_can_t_be_waived_where_a_plan_is_made_from_a_template(tmp_path):
    text = MADE_FROM.format(DETAILS["telephone"], "up and down").replace(
        "tell", 'waive personal-details by T-03 because "it is old" until 2027-06-01\ntell'
    )
    (tmp_path / "base.plan").write_text('template "Base"\n  lasts 8 weeks\n', "utf-8")
    (tmp_path / "a.plan").write_text(text, "utf-8")
    found = check_file(tmp_path / "a.plan", Run())
    assert [f.waived for f in found.findings if f.rule == "personal-details"] == [None]


def test_the_clinic_s_own_numbers_are_no_detail(book: Rulebook):
    source = Source("a.plan", LIBRARY.format("call 03 5550 0100 first", "or (03) 5550-0101"))
    assert private(source, book, CONTACTS) == ()
    assert len(private(source, book, {})) == 2


SETTINGS = """\
clinic: Riverside physiotherapy
contacts:
  emergency: "112"
  clinic: "03 5550 0100, weekdays 8 to 17"  # Dr Okafor's desk
zone: Australia/Hobart
# set up with Mrs Berg, ring 0491 570 156
rules:
  no-cue: {off: "ask k.berg@post.example"}
"""


def test_settings_are_looked_at_line_by_line_but_for_their_contacts(book: Rulebook):
    source = Source("clinic.yaml", SETTINGS)
    found = private_settings(source, book, CONTACTS)
    assert sorted((f.rule, source.place(f.span).line) for f in found if f.span) == [
        ("name-suspected", 6),
        ("personal-details", 6),
        ("personal-details", 8),
    ]


def test_contacts_in_one_line_are_exempt_too(book: Rulebook):
    source = Source("clinic.yaml", 'contacts: {clinic: "0491 570 156"}\nclinic: "0491 570 157"\n')
    assert [source.place(f.span).line for f in private_settings(source, book, {}) if f.span] == [2]


def test_settings_that_are_no_yaml_are_looked_at_whole(book: Rulebook):
    source = Source("clinic.yaml", 'contacts: {clinic: "0491 570 156"\n')
    assert len(private_settings(source, book, {})) == 1


def test_a_clinic_s_file_and_its_packs_are_looked_at_in_a_folder(tmp_path, monkeypatch, capsys):
    from planlang.cli.main import run
    from tests.cli.small_library import write_library

    write_library(tmp_path)
    for name in ("clinic.yaml", "own/measures.yaml", "own/rules/house/kettle.yaml"):
        path = tmp_path / name
        path.write_text(path.read_text("utf-8") + "# ring 0491 570 156\n", "utf-8")
    monkeypatch.chdir(tmp_path)
    assert run(["lint", ".", "--format", "github"]) == 1
    said = [line for line in capsys.readouterr().out.splitlines() if "telephone number" in line]
    assert [line.split("file=")[1].split(",")[0] for line in said] == [
        "clinic.yaml",
        "own/measures.yaml",
        "own/rules/house/kettle.yaml",
    ]


def test_a_diary_under_version_control_is_a_finding(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    (tmp_path / "p.diary").write_text(DIARY.format("up and down", "all well"), "utf-8")
    before = check_file(tmp_path / "p.diary", Run())
    assert not any(f.rule == "person-file-under-version-control" for f in before.findings)
    for words in (["init", "-q"], ["add", "p.diary"]):
        subprocess.run(["git", "-C", str(tmp_path), *words], check=True, capture_output=True)
    found = [
        f for f in check_file(tmp_path / "p.diary", Run()).findings if f.rule == "person-file-under-version-control"
    ]
    assert [(f.message.split(" and ")[0], f.span and f.source and f.source.place(f.span).line) for f in found] == [
        ("This file is about P-014", 1)
    ]


def test_no_example_is_taken_for_a_personal_detail():
    run = Run()
    names = list(files_in(EXAMPLES, settings=True))
    assert len(names) > 40
    for name in names:
        path = Path(name)
        source = Source(name, path.read_text("utf-8"))
        book, clinic = run.book(path)
        contacts = dict(clinic.contacts) if clinic else {}
        look = private_settings if path.suffix == ".yaml" else private
        assert [(name, f.rule, source.place(f.span).line) for f in look(source, book, contacts) if f.span] == []


def test_no_generated_plan_is_taken_for_one(book: Rulebook):
    templates = [(p.name, p.read_text("utf-8")) for p in sorted((EXAMPLES / "library" / "templates").iterdir())]
    seen = 0
    for text in texts(1000, templates, seed=7):
        found = private(Source("drawn.plan", text), book, {})
        assert [(f.rule, f.message, text) for f in found] == []
        seen += 1
    assert seen == 1000


def test_a_text_of_an_editor_is_looked_at_without_a_file():
    found = check_text(Source("untitled.plan", LIBRARY.format(DETAILS["telephone"], "up and down")), Run())
    assert details(found) == [2]


def test_texts_are_those_that_reading_finds(book: Rulebook):
    from planlang.checking.private import _writings
    from planlang.model.build.writings import writings
    from planlang.syntax.read import read

    for path in sorted(EXAMPLES.rglob("*.plan")):
        source = Source(path.name, path.read_text("utf-8"))
        read_ones = [(w.words, w.statement == "with_whom", w.span) for w in writings(read(source))]
        assert [(w.words, w.statement == "with_whom", w.span) for w in _writings(source)] == read_ones
