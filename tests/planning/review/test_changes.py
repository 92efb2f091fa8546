"""Measures against their baselines, with the errors that were published."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
import yaml

from planlang.planning.review.changes import changes
from planlang.planning.review.wording import change_text
from planlang.text.resources import folder
from tests.planning.review.reviews import beds, past

MEASURES = {one["name"]: one for one in yaml.safe_load((folder("rules") / "measures.yaml").read_text("utf-8"))}


def change(lines: str, name: str, plan: str | None = None):
    return next(one for one in changes(past(lines, plan or beds())) if one.name == name)


@pytest.mark.parametrize(("to", "beyond"), [(9, False), (11, False), (12, True), (6, True), (7, False)])
def test_chair_stands_beyond_their_error_or_within_it(to: int, beyond: bool) -> None:
    """2.5 stands, one person, early knee osteoarthritis: Gill et al 2022, Musculoskeletal Care."""
    found = change(f"2027-04-25 measured chair-stands {to} reps", "chair-stands")
    assert (found.start, found.to, found.error, found.beyond) == (9, to, Fraction(5, 2), beyond)
    assert found.source is not None
    assert found.source.startswith("Gill et al 2022")


def test_a_change_is_said_with_its_error() -> None:
    found = change("2027-04-25 measured chair-stands 11 reps", "chair-stands")
    assert change_text(found) == "11 from 9 reps on 25 Apr: within the measure's own error of 2.5"
    up = change("2027-04-25 measured chair-stands 12 reps", "chair-stands")
    assert change_text(up).endswith("beyond the measure's own error of 2.5, the way that is hoped for")
    down = change("2027-04-25 measured chair-stands 6 reps", "chair-stands")
    assert change_text(down).endswith("beyond the measure's own error of 2.5, the other way")


WITH_ERROR = sorted(name for name, one in MEASURES.items() if one.get("error"))
UNITS = {"walking-speed": "m/s"}


@pytest.mark.parametrize("name", WITH_ERROR)
def test_every_published_error_is_the_one_that_is_used_and_named(name: str) -> None:
    """The figure and its source are those of rules/measures.yaml; of a range the larger end."""
    known = MEASURES[name]
    unit = known["unit"]
    value = f"5{unit}" if unit.startswith("/") else f"5 {unit}".strip()
    plan = beds(("  usual-pain     3/10\n", "")) if name == "usual-pain" else beds()
    if name in ("chair-stands", "daily-steps", "usual-pain", "body-weight"):
        plan = "\n".join(line for line in plan.splitlines() if not line.strip().startswith(name))
    plan = plan.replace("today                ", f"today\n  {name} {value}\n                ", 1)
    found = change(f"2027-04-25 measured {name} {value}", name, plan)
    published = Fraction(str(known["error"].get("high", known["error"]["low"])))
    assert found.error == published
    assert found.source is not None
    assert known["error"]["ground"]["source"] in found.source
    assert ("memory" in found.source) == (known["error"]["ground"]["known"] == "memory")


def test_no_error_known_is_said_and_nothing_concluded() -> None:
    found = change("2027-04-25 measured daily-steps 3900 steps/day", "daily-steps")
    if "error" in MEASURES["daily-steps"]:
        assert found.beyond is not None
    else:
        assert found.beyond is None
        assert change_text(found).endswith("no error of this measure is known")


def test_not_measured_again_and_never_at_the_start() -> None:
    assert (
        change_text(change("2027-04-25 walked 3000 steps", "chair-stands")) == "not measured again; at the start 9 reps"
    )
    new = change("2027-04-25 measured single-leg-stance 4 s", "single-leg-stance")
    assert (new.start, new.to, new.beyond) == (None, 4, None)
    assert change_text(new) == "4 s on 25 Apr, no value at the start"


def test_the_newest_counts_and_all_are_kept_in_order() -> None:
    lines = "2027-04-25 measured chair-stands 11 reps\n2027-03-28 measured chair-stands 10 reps"
    found = change(lines, "chair-stands")
    assert found.course == (
        (date(2027, 2, 22), Fraction(9)),
        (date(2027, 3, 28), Fraction(10)),
        (date(2027, 4, 25), Fraction(11)),
    )


def test_another_unit_of_the_same_kind_is_reckoned_over() -> None:
    """A pound is 0.45359237 kg (international pound, 1959): 185 lb are less than 84 kg by 0.085 kg."""
    found = change("2027-04-25 measured body-weight 185 lb", "body-weight")
    assert found.to == 185 * Fraction("0.45359237")
    assert found.unit == "kg"
