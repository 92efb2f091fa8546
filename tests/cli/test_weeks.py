"""`planlang weeks`: the table fits the terminal, the JSON has the promised fields, wrong calls are named."""

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from planlang.cli.main import run
from planlang.cli.weeks_data import as_data
from planlang.cli.weeks_table import table
from planlang.planning.reckon import reckon
from planlang.report.quoting import columns
from tests.strategies import plans_with_rest

EXAMPLES = sorted((Path(__file__).parents[2] / "examples" / "people").glob("*.plan"))
ALLOTMENT = next(path for path in EXAMPLES if "allotment" in path.name)
LONG = """\
plan "A name that goes on for longer than any terminal would like it to, since nobody told its writer to stop there"
  starts 2027-03-01
  lasts 6 weeks
exercise slow-controlled-lowering-from-the-kitchen-step
  kind strength
  begin 2x8-12 each side at 4 kg holding 5 s with "the long green band" resting 60 s
  then 3x8-12 each side at 4 kg holding 5 s with "the short red band" resting 60 s
  progress every 2 weeks
session "S"
  days Mon
  at 07:30 for 20 min
  do slow-controlled-lowering-from-the-kitchen-step
"""


@pytest.fixture
def weeks(capsys, monkeypatch):
    def call(*args, width=80):
        monkeypatch.setenv("COLUMNS", str(width))
        code = run(["weeks", *map(str, args)])
        out, err = capsys.readouterr()
        return code, out, err

    return call


@pytest.fixture
def as_text(snapshot):
    class AsText(SingleFileSnapshotExtension):
        _write_mode = WriteMode.TEXT
        file_extension = "txt"

        @classmethod
        def get_snapshot_name(cls, *, test_location, index):
            return str(index)

    return lambda name: snapshot(extension_class=AsText, name=name)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("width", [46, 60, 80, 100, 120])
@pytest.mark.parametrize("rest", ["", "3", "2,3,7"])
def test_no_line_is_wider_than_the_terminal(weeks, path, width, rest, monkeypatch):
    monkeypatch.chdir(path.parent)
    _, out, _ = weeks(path.name, "--rest", rest, width=width)
    assert max(columns(line) for line in out.splitlines()) <= width


@pytest.mark.parametrize("width", [60, 80, 120])
def test_long_names_and_doses_are_broken_to_fit(weeks, tmp_path, width):
    (tmp_path / "a.plan").write_text(LONG)
    _, out, _ = weeks(tmp_path / "a.plan", width=width)
    assert max(columns(line) for line in out.splitlines()) <= width
    for word in ("4 kg", "holding", "green", "red"):
        assert word in out


WIDE_ENOUGH = ("p014-allotment", "p021-pond", "p033-loom")
"""Plans whose exercises all find room beside each other."""


@pytest.mark.parametrize("path", [p for p in EXAMPLES if p.stem in WIDE_ENOUGH], ids=lambda path: path.stem)
def test_at_120_columns_all_exercises_stand_in_one_table(weeks, path):
    _, out, _ = weeks(path, width=120)
    assert sum(line.startswith("week  ") for line in out.splitlines()) == 1


@pytest.mark.parametrize("width", [80, 120])
def test_table_as_it_is_seen(weeks, as_text, width):
    code, out, _ = weeks(ALLOTMENT, "--rest", "3,9", width=width)
    assert code == 0
    assert out == as_text(f"allotment-{width}")


def test_totals_name_both_numbers(weeks):
    _, out, _ = weeks(ALLOTMENT)
    assert "45 sessions in 15 training weeks, 9 more if no easier week is needed." in out


def test_json_of_a_week_has_the_promised_fields(weeks):
    code, out, err = weeks(ALLOTMENT, "--json")
    answer = json.loads(out)
    week = answer["weeks"][4]
    session = week["sessions"][0]
    assert (code, err) == (0, "")
    assert (answer["plan"], answer["starts"], answer["dropped"], answer["findings"]) == (
        "Two raised beds by spring",
        "2027-03-01",
        0,
        [],
    )
    assert week["exercises"]["sit-to-stand"] == {
        "step": 3,
        "dose": "2x10",
        "variant": "dining chair, hands on thighs",
        "easing": False,
        "lighter": False,
        "gentle": False,
    }
    assert (
        week["activities"]["walking"].items()
        >= {
            "step": 1,
            "value": 3200,
            "unit": "steps/day",
            "easing": False,
            "at_most": 4000,
        }.items()
    )
    assert (
        session.items()
        >= {
            "name": "Chair and bench",
            "starts": "2027-03-29T07:30:00+11:00",
            "ends": "2027-03-29T08:05:00+11:00",
            "minutes": 35,
            "exercises": ["sit-to-stand", "tandem-stance", "knee-bends"],
        }.items()
    )
    rest = {name: week[name] for name in week if name not in ("exercises", "activities", "sessions")}
    assert rest == {
        "week": 5,
        "starts": "2027-03-29",
        "kind": "training",
        "training_week": 5,
        "minutes": 105,
        "sets": {"quadriceps": 6, "gluteals": 6},
        "load": None,
    }


def test_easier_step_is_0_and_what_still_goes_on_is_gentle(weeks):
    _, out, _ = weeks(ALLOTMENT, "--rest", "3", "--json")
    rest, back = json.loads(out)["weeks"][2:4]
    assert (rest["kind"], rest["training_week"], rest["sessions"], rest["activities"]) == ("rest", None, [], {})
    assert rest["exercises"]["walking"]["gentle"]
    assert rest["exercises"]["walking"]["step"] is None
    assert back["exercises"]["sit-to-stand"]["step"] == 0
    assert back["exercises"]["sit-to-stand"]["easing"]


def test_dose_to_be_set_is_null_with_its_week(weeks, tmp_path):
    (tmp_path / "a.plan").write_text(LONG.replace("begin 2x8-12 each side at 4 kg", "begin to be set at week 2 #"))
    _, out, _ = weeks(tmp_path / "a.plan", "--json")
    done = json.loads(out)["weeks"][0]["exercises"]["slow-controlled-lowering-from-the-kitchen-step"]
    assert (done["dose"], done["set_at"]) == (None, 2)


@pytest.mark.parametrize(
    ("rest", "said"),
    [("0", "not one of weeks 1 to 18"), ("19", "not one of weeks 1 to 18"), ("3;7", "commas"), ("soon", "commas")],
)
def test_rest_that_cannot_be_placed_is_a_wrong_call(weeks, rest, said):
    code, out, err = weeks(ALLOTMENT, "--rest", rest)
    assert (code, out) == (2, "")
    assert said in err


def test_rest_is_never_placed_on_an_away_week(weeks, tmp_path):
    text = LONG + 'away 2027-03-15 to 2027-03-21 "lambing"\n'
    (tmp_path / "a.plan").write_text(text)
    code, _, err = weeks(tmp_path / "a.plan", "--rest", "3")
    assert code == 2
    assert "week 3 is away already" in err


@pytest.mark.parametrize("as_json", [True, False])
def test_plan_that_cannot_be_reckoned_is_exit_1(weeks, tmp_path, as_json):
    (tmp_path / "a.plan").write_text('plan "No start"\n  lasts 8 weeks\n')
    code, out, err = weeks(tmp_path / "a.plan", *["--json"] * as_json)
    assert code == 1
    if as_json:
        answer = json.loads(out)
        assert answer["weeks"] == []
        assert answer["findings"]
    else:
        assert "can't be reckoned" in err


def test_missing_file_is_a_finding(weeks, tmp_path):
    code, out, _ = weeks(tmp_path / "none.plan", "--json")
    assert code == 1
    assert json.loads(out)["findings"][0]["message"] == "there is no such file"


def test_findings_follow_the_table(weeks, tmp_path):
    (tmp_path / "a.plan").write_text(LONG.replace("days Mon", 'days Mon\n  cuee "after lunch"'))
    code, out, _ = weeks(tmp_path / "a.plan")
    assert code == 0
    assert out.index("week  ") < out.index("unreadable")


@settings(max_examples=60, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(plans_with_rest(), st.integers(46, 130))
def test_any_plan_fits_any_terminal_and_is_json(case, width):
    weeks = reckon(*case)
    assert max(columns(line) for line in table(weeks, width).splitlines()) <= width
    assert json.loads(json.dumps(as_data(weeks)))["weeks"][0]["week"] == 1


@pytest.mark.parametrize(
    "command", [["weeks"], ["leeway"], ["compile", "-o", "out.ics"], ["handout", "-o", "out.html"]]
)
def test_a_link_out_of_the_library_is_not_followed(capsys, tmp_path, monkeypatch, command):
    outside = tmp_path / "elsewhere.plan"
    outside.write_text('plan "Not yours to read"\n  starts 2027-03-01\n  lasts 6 weeks\n')
    library = tmp_path / "library"
    library.mkdir()
    (library / "clinic.yaml").write_text("clinic: made up\n")
    (library / "link.plan").symlink_to(outside)
    monkeypatch.chdir(library)
    assert run([command[0], "link.plan", *command[1:]]) == 1
    out, err = capsys.readouterr()
    assert "leads out of the library" in out + err
    assert "Not yours" not in out + err
