"""`planlang start`: a draft from a template, asked for or filled by the call."""

from __future__ import annotations

import io
import json
import stat
from pathlib import Path
from shutil import copytree

import pytest

from planlang.cli.main import run
from planlang.model.composing.instance import blanks_of
from planlang.model.quantity import number_text
from planlang.syntax.tidy import tidy
from planlang.text.load import load
from planlang.text.source import Source
from tests.model.composing_help import KNEE

FILLS = ["steps-now=3200", "reps-now=6", "load=2", "helper=a neighbour"]
CALL = ["--title", "Hill", "--code", "P-014", "--aged", "67", "--starts", "2027-03-01", "--today", "2027-02-22"]
ANSWERS = ["Hill", "P-014", "67", "2027-02-22", "2027-03-01", "3200", "6", "2", "a neighbour", "discreet"]
WRITTEN = """\
plan "Hill"
  for        P-014, aged 67
  from template "../library/knee.plan"
  fill       steps-now 3200 steps/day
  fill       reps-now 6
  fill       load 2 kg
  fill       helper "a neighbour"
  starts     2027-03-01
  written    2027-02-22
  revision   1
  state      draft
"""
AGREED = "\nagreed 2027-02-22 calendar discreet\n"


@pytest.fixture
def clinic(tmp_path):
    (tmp_path / "library").mkdir()
    (tmp_path / "people").mkdir()
    (tmp_path / "library" / "knee.plan").write_text(KNEE)
    (tmp_path / "clinic.yaml").write_text("clinic: Made up\ncalendar-key-file: .calendar-key\n")
    return tmp_path


@pytest.fixture
def start(clinic, capsys, monkeypatch):
    def call(*args, answers=None, template=None, output=None):
        if answers is not None:
            monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in answers)))
        code = run(
            [
                "start",
                str(template or clinic / "library" / "knee.plan"),
                "-o",
                str(output or clinic / "people" / "p.plan"),
                *map(str, args),
            ]
        )
        return code, *capsys.readouterr()

    return call


def filled(*fills):
    return [part for fill in fills for part in ("--fill", fill)]


def text(clinic):
    return (clinic / "people" / "p.plan").read_text()


def test_call_says_everything_and_nothing_is_asked(start, clinic):
    code, out, _ = start(*CALL, *filled(*FILLS), "--calendar", "full", answers=[])
    assert code == 0
    assert text(clinic) == WRITTEN + AGREED.replace("discreet", "full")
    assert "is written, as a draft" in out


def test_everything_is_asked(start, clinic):
    code, out, _ = start(answers=ANSWERS)
    assert code == 0
    assert text(clinic) == WRITTEN + AGREED
    assert "steps-now: steps on an ordinary day (1000 to 6000 steps/day, by 100)" in out
    assert "load: how much (0.5 to 5 kg, by 0.1)" in out
    assert "helper: who is there (text)" in out
    assert "Who else sees this calendar? Work? Family?" in out


def test_answer_out_of_range_is_asked_again_with_why(start, clinic):
    answers = [*ANSWERS[:5], "6500", "3250", "32 min", "many", "", "3200 steps/day", *ANSWERS[6:]]
    code, out, _ = start(answers=[a or " " for a in answers])
    assert code == 0
    assert text(clinic) == WRITTEN + AGREED
    for why in (
        "made for 1000 to 6000 steps/day",
        "Write 3200 steps/day or 3300 steps/day",
        "and this is in min",
        "That is no amount",
    ):
        assert why in " ".join(out.split())


def test_slips_in_the_other_answers_are_asked_again(start, clinic):
    answers = [
        'the "hill"',
        "Hill",
        "Anna",
        "p-14",
        "P-014",
        "old",
        "67",
        "today",
        "2027-02-22",
        "1/3/27",
        *ANSWERS[4:],
    ]
    code, out, _ = start(answers=answers)
    assert code == 0
    assert text(clinic) == WRITTEN + AGREED
    assert "No names." in out


def test_what_the_call_fills_is_not_asked(start, clinic):
    code, out, _ = start(*CALL, *filled(*FILLS[1:]), answers=["3200", "none"])
    assert code == 0
    assert "reps-now:" not in out
    assert "calendar none" in text(clinic)


@pytest.mark.parametrize(
    ("fill", "why"),
    [
        ("steps-now=9000", "made for 1000 to 6000"),
        ("steps-now=3250", "counts by 100"),
        ("steps-now=32 kg", "is in steps/day"),
        ("steps-now=lots", "no amount"),
        ("steps-now=", "needs an answer"),
        ("step-now=3200", 'Did you mean "steps-now"?'),
        ("steps-now", "name=value"),
        ('helper=a "friend" b', "double quotes"),
    ],
)
def test_fill_that_cannot_be_taken_writes_nothing(start, clinic, fill, why):
    rest = [f for f in FILLS if f.partition("=")[0] != fill.partition("=")[0]]
    code, _, err = start(*CALL, *filled(*rest, fill), "--calendar", "none", answers=[])
    assert code == 2
    assert why in " ".join(err.split())
    assert list((clinic / "people").iterdir()) == []


def test_fill_twice(start):
    code, _, err = start(*CALL, *filled(*FILLS, "reps-now=7"), answers=[])
    assert code == 2
    assert "filled twice" in err


def test_other_unit_is_kept_as_it_is_said(start, clinic):
    (clinic / "library" / "knee.plan").write_text(KNEE.replace("0.5 to 5 kg", "0 to 5 kg by 0.45359237"))
    code, _, _ = start(*CALL, *filled(*FILLS[:2], "load=2 lb", FILLS[3]), "--calendar", "none", answers=[])
    assert code == 0
    assert "load 2 lb" in text(clinic)


def test_end_of_the_answers_writes_nothing(start, clinic):
    code, _, _ = start(answers=ANSWERS[:6])
    assert code == 130
    assert list((clinic / "people").iterdir()) == []
    assert not (clinic / ".calendar-key").exists()


def test_json_asks_nothing_and_says_what_is_missing(start, clinic):
    code, out, err = start("--json", *CALL, *filled(*FILLS[:3]), answers=["x"])
    assert code == 2
    assert out == ""
    assert "--fill helper=" in err
    assert list((clinic / "people").iterdir()) == []


def test_json_answer(start, clinic):
    code, out, _ = start("--json", *CALL, *filled(*FILLS))
    data = json.loads(out)
    assert code == 0
    assert data["file"].endswith("p.plan")
    assert data["template"] == "../library/knee.plan"
    assert data["room"] is None
    assert data["key_file"].endswith(".calendar-key")
    assert {f["rule"] for f in data["findings"]} >= {"state-draft"}
    assert text(clinic) == WRITTEN


def test_what_is_written_lints_as_a_draft_and_is_tidy(start, clinic, capsys):
    start(*CALL, *filled(*FILLS), "--calendar", "discreet", answers=[])
    code = run(["lint", str(clinic / "people" / "p.plan"), "--json"])
    found = json.loads(capsys.readouterr().out)["findings"]
    assert code == 0
    assert "state-draft" in {f["rule"] for f in found}
    assert not {f["rule"] for f in found} & {"unreadable", "contradiction", "unreckonable"}
    assert not tidy(Source("p.plan", text(clinic))).changed


def test_file_that_is_there_is_not_written_over(start, clinic):
    (clinic / "people" / "p.plan").write_text("mine\n")
    code, _, err = start(*CALL, *filled(*FILLS), answers=[])
    assert code == 2
    assert "is there already" in err
    assert text(clinic) == "mine\n"


def test_file_that_comes_meanwhile_is_not_written_over(start, clinic, monkeypatch):
    from planlang.cli import starting

    real = starting.written_text

    def slow(*args):
        (clinic / "people" / "p.plan").write_text("somebody else's\n")
        return real(*args)

    monkeypatch.setattr(starting, "written_text", slow)
    code, _, err = start(*CALL, *filled(*FILLS), "--calendar", "none", answers=[])
    assert code == 2
    assert "is there already; nothing was written" in err
    assert text(clinic) == "somebody else's\n"
    assert [p.name for p in (clinic / "people").iterdir()] == ["p.plan"]


def test_link_to_nowhere_is_there_already(start, clinic):
    (clinic / "people" / "p.plan").symlink_to(clinic / "nowhere")
    code, _, err = start(*CALL, *filled(*FILLS), answers=[])
    assert code == 2
    assert "is there already" in err
    assert not (clinic / "nowhere").exists()


@pytest.mark.parametrize(
    ("name", "why"),
    [("people/p.txt", "ends in .plan"), ("nobody/p.plan", "there is no folder")],
)
def test_place_where_no_plan_can_be(start, clinic, name, why):
    code, _, err = start(*CALL, *filled(*FILLS), output=clinic / name, answers=[])
    assert code == 2
    assert why in " ".join(err.split())


def test_template_outside_the_library(start, clinic):
    (clinic / "people" / "clinic.yaml").write_text("clinic: Another\n")
    code, _, err = start(*CALL, *filled(*FILLS), answers=[])
    assert code == 2
    assert "outside the library" in " ".join(err.split())


@pytest.mark.parametrize(
    ("content", "why"),
    [(None, "no such file"), ('plan "P"\n', "is no template"), ("", "empty"), ("\xff\xfe", "not UTF-8")],
)
def test_what_is_no_template(start, clinic, content, why):
    path = clinic / "library" / "other.plan"
    if content is not None:
        path.write_bytes(content.encode("latin-1"))
    code, _, err = start(*CALL, template=path, answers=[])
    assert code == 2
    assert why in " ".join(err.split())


def test_template_that_cannot_be_read_is_refused(start, clinic):
    (clinic / "library" / "knee.plan").write_text(KNEE.replace("cue   ", "cu    "))
    code, _, err = start(*CALL, *filled(*FILLS), answers=[])
    assert code == 1
    assert 'cu         "after breakfast"' in err
    assert "No plan was written" in err
    assert list((clinic / "people").iterdir()) == []


def test_key_is_made_once_and_for_nobody_else(start, clinic):
    start(*CALL, *filled(*FILLS), "--calendar", "none", answers=[])
    key = clinic / ".calendar-key"
    first = key.read_bytes()
    assert len(first.strip()) == 64
    assert stat.S_IMODE(key.stat().st_mode) == 0o600
    code, out, _ = start(*CALL, *filled(*FILLS), "--calendar", "none", output=clinic / "people" / "q.plan", answers=[])
    assert code == 0
    assert key.read_bytes() == first
    assert "calendar-key" not in out


def test_without_a_key_named_none_is_made(start, clinic):
    (clinic / "clinic.yaml").write_text("clinic: Made up\n")
    start(*CALL, *filled(*FILLS), "--calendar", "none", answers=[])
    assert sorted(p.name for p in clinic.iterdir()) == ["clinic.yaml", "library", "people"]


NO_ROOM = KNEE.replace("  room for   2 weeks\n", "")
NO_REST = KNEE[: KNEE.index("rest\n")] + KNEE[KNEE.index("pain\n") :]


@pytest.mark.parametrize(("weeks", "room"), [(4, 0), (8, 1), (12, 2), (18, 2), (20, 3), (26, 3), (39, 5), (52, 6)])
def test_room_is_proposed_where_the_template_says_none(start, clinic, weeks, room):
    (clinic / "library" / "knee.plan").write_text(NO_ROOM.replace("lasts      12", f"lasts      {weeks}"))
    code, out, _ = start("--json", *CALL, *filled(*FILLS))
    assert code == 0
    assert json.loads(out)["room"] == room
    written = " ".join(text(clinic).split())
    assert ("change rest room for" in written) == (room > 0)
    assert not tidy(Source("p.plan", text(clinic))).changed


def test_room_with_no_rest_block_at_all(start, clinic):
    (clinic / "library" / "knee.plan").write_text(NO_REST)
    start(*CALL, *filled(*FILLS), "--calendar", "none", answers=["3"])
    assert "\nrest\n  room for   3 weeks\n  return     1 step lower for 1 week\n" in text(clinic)


def test_room_asked_for_is_written_whatever_the_template_says(start, clinic):
    start(*CALL, *filled(*FILLS), "--calendar", "none", "--room", "4", answers=[])
    assert "change rest\n  room for   4 weeks\n" in text(clinic)


EXAMPLES = Path(__file__).parents[2] / "examples"
TEMPLATES = sorted((EXAMPLES / "library" / "templates").glob("*.plan"))


@pytest.fixture(scope="module")
def library(tmp_path_factory):
    copy = tmp_path_factory.mktemp("clinic")
    copytree(EXAMPLES / "library", copy / "library")
    (copy / "clinic.yaml").write_text((EXAMPLES / "clinic.yaml").read_text())
    (copy / "people").mkdir()
    return copy


@pytest.mark.parametrize(("name", "end"), [(path.name, ("low", "high")[n % 2]) for n, path in enumerate(TEMPLATES)])
def test_every_example_gives_a_draft_that_lints_at_an_end_of_its_range(library, capsys, name, end):
    path = library / "library" / "templates" / name
    fills = [
        f"{blank.name}={'words of their own' if blank.text else number_text(getattr(blank, end))}"
        for blank in blanks_of(load(path))
    ]
    output = library / "people" / f"{end}-{name}"
    code = run(["start", str(path), "-o", str(output), "--json", *CALL, *filled(*fills)])
    findings = json.loads(capsys.readouterr().out)["findings"]
    assert code == 0
    assert [f["message"] for f in findings if f["level"] in ("unsafe", "unrealistic")] == []
    assert not tidy(Source("p.plan", output.read_text())).changed
