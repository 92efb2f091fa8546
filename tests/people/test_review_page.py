"""The page of a review: whole in itself, readable by everybody, each chart with its words."""

from __future__ import annotations

import re
from datetime import date
from itertools import pairwise

import pytest
from lxml import etree
from lxml import html as lxml_html

from tests.people.reviews import BLANKS, page, pages
from tests.people.sheets import axe_in, words_of
from tests.people.test_sheet_html import contrast
from tests.planning.review.reviews import beds, review

SVG = "{http://www.w3.org/2000/svg}"
PAGES = pages()


@pytest.mark.node
def test_axe_finds_nothing_that_keeps_people_from_reading_it(tmp_path):
    for name, found in zip(PAGES, axe_in(list(PAGES.values()), tmp_path), strict=True):
        assert found["violations"] == [], name
        assert {"heading-order", "html-has-lang", "region", "svg-img-alt"} <= set(found["rules"]) or "svg" not in name


@pytest.mark.node
def test_axe_would_have_found_a_fault(tmp_path):
    broken = re.sub(r' role="img" aria-labelledby="[^"]*"', ' role="img"', page()).replace(' lang="en"', "")
    broken = re.sub(r"<title id.*?</title><desc.*?</desc>", "", broken).replace("<main>", "<div>")
    (found,) = axe_in([broken.replace("</main>", "</div>")], tmp_path)
    assert {"html-has-lang", "region", "svg-img-alt"} <= {rule for rule, _ in found["violations"]}


def test_contrast_of_words_and_of_signs():
    """WCAG 2.2 asks 4.5 of words (1.4.3) and 3 of the signs of a chart (1.4.11); black on the darkest paper has 16."""
    made = page()
    style = re.search(r"<style>(.*?)</style>", made, re.S)[1]
    papers = set(re.findall(r"background: (#[0-9a-f]+)", style)) | set(re.findall(r'fill="(#[0-9a-f]+)"', made))
    assert papers - {"#000"} == {"#fff", "#eee", "#e4e4e4"}
    assert set(re.findall(r"(?<![-a-z])color: (#[0-9a-f]+)", style)) == {"#000"}
    assert set(re.findall(r'stroke="(#[0-9a-f]+)"', made)) <= {"#000", "#fff"}
    assert min(contrast("#000", paper) for paper in papers - {"#000"}) > 16


@pytest.mark.parametrize("name", PAGES)
def test_nothing_is_told_by_colour(name):
    """Black, white and two greys, which fill no more than bands that lines and words mark too."""
    assert set(re.findall(r"#[0-9a-fA-F]{3,6}\b", PAGES[name])) <= {"#000", "#fff", "#eee", "#e4e4e4"}


@pytest.mark.parametrize("name", PAGES)
def test_the_page_needs_nothing_but_itself(name):
    made = PAGES[name].lower()
    assert "<script" not in made
    assert "@import" not in made
    assert re.findall(r'(?:src|href|action)\s*=|url\(|\bon[a-z]+="', made) == []
    assert set(re.findall(r"https?://[^\"' ]+", made)) <= {"http://www.w3.org/2000/svg"}


@pytest.mark.parametrize("name", PAGES)
def test_headings_go_down_one_level_at_a_time_from_one_first(name):
    levels = [int(one.tag[1]) for one in lxml_html.fromstring(PAGES[name]).iter("h1", "h2", "h3")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))


@pytest.mark.parametrize("name", PAGES)
def test_every_picture_says_what_it_shows_and_no_name_stands_twice(name):
    drawn = [etree.fromstring(svg) for svg in re.findall(r"<svg.*?</svg>", PAGES[name], re.S)]
    for one in drawn:
        named = {part.get("id"): part.text for part in (one.find(f"{SVG}title"), one.find(f"{SVG}desc"))}
        assert set(one.get("aria-labelledby").split()) == set(named)
        assert all(named.values())
    ids = re.findall(r'\bid="([^"]+)"', PAGES[name])
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("name", PAGES)
def test_no_letter_of_a_picture_is_smaller_than_nine_points_or_leaves_it(name):
    """Nine points are 12 CSS pixels; a letter is taken for 0.6 of its size wide."""
    for svg in re.findall(r"<svg.*?</svg>", PAGES[name], re.S):
        one = etree.fromstring(svg)
        wide, high = float(one.get("width")), float(one.get("height"))
        for text in one.iter(f"{SVG}text"):
            size, x, y = (float(text.get(key)) for key in ("font-size", "x", "y"))
            assert size >= 12
            long = 0.6 * size * len(text.text)
            left = {"end": x - long, "middle": x - long / 2}.get(text.get("text-anchor"), x)
            assert left >= -1, text.text
            assert left + long <= wide + 1, text.text
            assert size - 3 <= y <= high, text.text


def test_charts_of_the_example():
    made = page()
    titles = re.findall(r'<title id="[^"]*">([^<]*)</title>', made)
    assert titles == [
        "Sessions by week",
        "Pain against usual and limit",
        "Steps of sit-to-stand by week",
        "Steps of tandem-stance by week",
        "Steps of walking by week",
        "30-second chair stand by date",
        "steps a day by date",
        "usual pain, last week by date",
    ]


def test_easier_weeks_are_part_of_the_plan_in_picture_words_and_table():
    made = page()
    picture = re.search(r"<svg.*?</svg>", made, re.S)[0]
    assert "Week 3: easier week, part of the plan, 1 extra." in picture
    assert ">easier week, part of the plan</text>" in picture
    assert "<td>easier week, part of the plan, 1 extra</td>" in made


def test_each_outcome_has_a_sign_of_its_own():
    """Five signs that differ in shape: full, half, empty, dashed, and a dotted line."""
    picture = re.search(r"<svg.*?</svg>", page(BLANKS, as_of=date(2027, 3, 22)), re.S)[0]
    for words in ("done", "not done", "no entry", "ahead", "easier week, part of the plan"):
        assert f">{words}</text>" in picture
    assert 'stroke-dasharray="2 2"' in picture


def test_every_chart_has_its_table():
    """The weeks, the mornings, the exercises and the measures stand in tables too, for whoever sees no picture."""
    root = lxml_html.fromstring(page())
    rows = [[cell.text_content() for cell in row] for row in root.iter("tr")]
    firsts = [row[0] for row in rows]
    assert [f"Week {n}" for n in range(1, 11)] == [one for one in firsts if re.fullmatch(r"Week \d+", one)]
    for name in ("sit-to-stand", "tandem-stance", "knee-bends", "walking", "30-second chair stand", "body weight"):
        assert name in firsts
    assert ["8 May", "2/10"] in rows


def test_first_is_what_is_looked_at_first():
    root = lxml_html.fromstring(page())
    (first,) = root.find_class("first")
    assert [th.text for th in first.iter("th")] == [
        "Noted",
        "Goal",
        "Last 4 weeks",
        "Next morning",
        "Flare",
        "Exercises",
        "To ask",
        "To decide",
        "Next date",
    ]
    sections = root.find(".//main").findall("section")
    assert sections[0] is first


def test_open_sign_stands_first_and_is_strong():
    made = PAGES["an open sign"]
    assert made.index("<strong>OPEN, nothing written about what was done: 3 Mar: told") < made.index("Sessions done")


@pytest.mark.parametrize("name", PAGES)
def test_what_is_always_said(name):
    said = " ".join(words_of(PAGES[name]))
    assert "Nobody watches this diary. Notes are shown, not understood." in said
    assert "10 rules ran on 1 file" in said
    assert "It supports your judgement and does not replace it; local rules come first." in said
    assert "diary up to" in said
    if "Chance by its date" in said:
        assert "Assumed:" in said
        assert "not a prognosis" in said


def test_whatever_is_written_is_shown_and_never_run():
    nasty = "<b>x</b><script>alert(1)</script> & ]]>"
    made = page(f'2027-03-01 worry "{nasty}"', beds(("fresh vegetables, and Saturdays with the crew", nasty)))
    assert "<script" not in made
    assert "&lt;script&gt;alert(1)&lt;/script&gt; &amp;" in made


def test_paper_has_a_style_of_its_own():
    made = page()
    assert "@media print" in made
    assert "@page { size: auto;" in made


def test_the_same_review_gives_the_same_bytes():
    assert page() == page()


def test_proposal_stands_whole_on_the_page():
    root = lxml_html.fromstring(page())
    proposal = review(open_diary()).proposal
    assert proposal is not None
    assert root.find(".//pre").text_content() == proposal.rstrip("\n")


def open_diary() -> str:
    from tests.planning.review.reviews import BEDS_DIARY

    return BEDS_DIARY
