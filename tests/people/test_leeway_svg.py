"""The picture of a leeway: well-formed, readable without colours and without seeing it, the same every time."""

from __future__ import annotations

from datetime import date

import pytest
from attrs import evolve
from hypothesis import HealthCheck, given, settings
from lxml import etree

from planlang.cli.leeway_text import text
from planlang.people.leeway_svg import svg
from planlang.planning.leeway.reckon import leeway
from tests.made import away, ladder, make_activity, make_exercise, make_plan, reach, sets, steps_a_day
from tests.planning.leeway_plans import unusual_plans

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def plan():
    made = make_plan(
        make_exercise(steps=5, every=2),
        make_activity(steps=6),
        weeks=18,
        room=3,
        away=(away(date(2027, 3, 1), 50, 56),),
        title='Beds <two> & "more"',
    )
    targets = (
        reach(sets(2, 9), "sit-to-stand", week=18, title="Rise"),
        reach(steps_a_day(4500), "walking", week=9, title="Walk to the plot"),
        reach(sets(9, 9), "sit-to-stand", week=9, title="Too much"),
    )
    return evolve(made, targets=targets)


def drawn(plan):
    return etree.fromstring(svg(leeway(plan)).encode())


def texts(root):
    return ["".join(one.itertext()) for one in root.iter(f"{SVG}text")]


def test_a_screen_reader_is_told_title_and_description(plan):
    root = drawn(plan)
    assert root.get("role") == "img"
    named = {one.get("id"): one.text for one in (root.find(f"{SVG}title"), root.find(f"{SVG}desc"))}
    assert set(named) == set(root.get("aria-labelledby").split())
    assert named["title"] == 'Leeway of Beds <two> & "more"'
    for said in (
        "wherever 3 easier weeks fall",
        "sit-to-stand: 5 steps; the last one from week 10 at best",
        "Walk to the plot: Not yet by its date if easier weeks fall in weeks",
        "Too much: Not by its date",
    ):
        assert said in named["description"]


def test_every_ladder_has_its_steps_its_weeks_and_its_targets(plan):
    said = texts(drawn(plan))
    for words in ("sit-to-stand", "walking", "5  2x9", "6  4500 steps/day", "18", "2 depends"):
        assert words in said
    assert any(words.startswith("1 ") and words.endswith(("holds", "depends")) for words in said)
    assert any("Too much" in words for words in said)


def test_what_is_hardest_stands_in_its_weeks(plan):
    said = texts(drawn(plan))
    worst = [one.worst_rest for one in leeway(plan).standings if one.worst_rest]
    assert said.count("R") == sum(map(len, worst)) > 0


def test_nothing_hangs_on_colour(plan):
    """The best and the worst placement differ by dashes, away weeks and the band by their patterns."""
    root = drawn(plan)
    thick = [p for p in root.iter(f"{SVG}path") if p.get("stroke-width") == "2.4"]
    assert {p.get("stroke-dasharray") for p in thick} == {None, "5 3"}
    assert {one.get("id") for one in root.iter(f"{SVG}pattern")} == {"between", "away"}
    strokes = {one.get("stroke") for one in root.iter() if one.get("stroke")} - {"none", "#fff"}
    assert strokes <= {"#000", "#5a6b7b"}


def test_the_band_is_between_the_two_lines(plan):
    """At each corner the worst line is no higher on the page than the best."""
    root = drawn(plan)
    lines = [p.get("d") for p in root.iter(f"{SVG}path") if p.get("stroke-width") == "2.4"]
    for worst, best in zip(lines[::2], lines[1::2], strict=True):
        heights = [[float(n) for n in d.replace("M", "").replace("L", "").split()[1::2]] for d in (worst, best)]
        assert all(low >= high for low, high in zip(*heights, strict=True))


@pytest.mark.parametrize("weeks", [1, 4, 52, 260])
def test_every_mark_stands_on_the_page(weeks):
    made = make_plan(make_exercise(steps=ladder(4), every=1), weeks=weeks, room=weeks // 5)
    root = drawn(evolve(made, targets=(reach(sets(2, 7), "sit-to-stand", week=weeks),)))
    width, height = float(root.get("width")), float(root.get("height"))
    for one in root.iter(f"{SVG}rect", f"{SVG}text"):
        if one.getparent().tag == f"{SVG}pattern":
            continue
        assert 0 <= float(one.get("x", 0)) <= width
        assert 0 <= float(one.get("y", 0)) <= height
    assert width <= 1000


def test_no_chance_is_drawn(plan):
    assert "%" not in svg(leeway(plan))


def test_the_same_plan_gives_the_same_bytes(plan):
    assert svg(leeway(plan)) == svg(leeway(evolve(plan)))


def test_a_plan_without_ladders_is_still_a_picture():
    root = drawn(make_plan(make_exercise(steps=1)))
    assert "No verdict says that a plan is safe. For the clinician." in texts(root)


@settings(max_examples=60, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(unusual_plans(weeks=(3, 12), room=4))
def test_any_plan_is_a_picture_and_a_text(drawn_plan):
    plan, _ = drawn_plan
    found = leeway(plan)
    root = etree.fromstring(svg(found).encode())
    assert len([one for one in texts(root) if one == "week"]) == sum(len(e.steps) > 1 for e in plan.exercises)
    assert plan.targets[0].title in text(found, 60)
