"""The sheet's page: whole in itself, readable by everybody, at the contrast and size that it promises."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from lxml import etree
from lxml import html as lxml_html

from planlang.people.sheet.blocks import Page, Para, Section, Sheet
from planlang.people.sheet.html import html
from planlang.text.languages.catalogue import english, read_catalogue
from planlang.text.languages.line import Line
from planlang.text.languages.words import words
from tests.calendar.made import stairs
from tests.people.sheets import EXAMPLES, axe, beds, sheet_of, words_of

SVG = "{http://www.w3.org/2000/svg}"
PX_A_POINT = 96 / 72  # CSS Values and Units 4, 5.2


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definitions)."""
    digits = colour.lstrip("#")
    digits = "".join(c * 2 for c in digits) if len(digits) == 3 else digits
    channels = (int(digits[n : n + 2], 16) / 255 for n in (0, 2, 4))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio (WCAG 2.2, 1.4.3)."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def sheets() -> list[Sheet]:
    made = [sheet_of(path.read_text("utf-8"), week) for path in EXAMPLES for week in (1, 6)]
    made += [sheet_of(beds(), 4, rest=(4,)), sheet_of(beds(), 10, rest=(9,), large=True), sheet_of(stairs(), 3)]
    made += [sheet_of(beds(), 5, told=words(code)) for code in ("es", "ar", "he", "zh-Hant")]
    return made


@pytest.mark.node
def test_axe_finds_nothing_that_keeps_people_from_reading_it(tmp_path):
    for one, found in zip(sheets(), axe(sheets(), tmp_path), strict=True):
        assert found["violations"] == [], one.code
        assert {"heading-order", "html-has-lang", "region", "svg-img-alt", "list"} <= set(found["rules"])


@pytest.mark.node
def test_axe_would_have_found_a_fault(tmp_path, monkeypatch):
    """A page without its language, its main part and its pictures' words is found out."""
    broken = html(sheet_of(beds())).replace(' lang="en"', "").replace("<main>", "<div>").replace("</main>", "</div>")
    broken = re.sub(r' role="img" aria-labelledby="[^"]*"', ' role="img"', broken)
    broken = re.sub(r"<title id.*?</title><desc.*?</desc>", "", broken)
    monkeypatch.setattr("tests.people.sheets.html", lambda one: broken)
    (found,) = axe([sheet_of(beds())], tmp_path)
    assert {"html-has-lang", "region", "svg-img-alt"} <= {rule for rule, _ in found["violations"]}


def test_contrast_is_far_above_what_is_asked():
    """WCAG 2.2 asks 4.5 (AA) or 7 (AAA, 1.4.6); every pair of the page's own colours that meet is at 15 or more."""
    page = html(sheet_of(beds(), 5))
    style = re.search(r"<style>(.*?)</style>", page, re.S)[1]
    inks = set(re.findall(r"(?<![-a-z])color: (#[0-9a-f]+)", style)) | set(
        re.findall(r'<text [^>]*fill="(#[0-9a-f]+)"', page)
    )
    papers = set(re.findall(r"background: (#[0-9a-f]+)", style))
    assert inks == {"#000"}
    assert papers == {"#fff", "#eee"}
    assert min(contrast(ink, paper) for ink in inks for paper in papers) > 15
    assert contrast("#777", "#fff") == pytest.approx(4.48, abs=0.01)  # the formula, at a value that is well known


def test_nothing_is_told_by_colour():
    page = html(sheet_of(beds(), 5))
    colours = set(re.findall(r"#[0-9a-fA-F]{3,6}\b", page))
    assert colours == {"#000", "#fff", "#eee"}


@pytest.mark.parametrize(("large", "points"), [(False, 14), (True, 18)])
def test_no_letter_is_smaller_than_it_says(large, points):
    page = html(sheet_of(beds(), 5, large=large))
    style = re.search(r"<style>(.*?)</style>", page, re.S)[1]
    assert re.findall(r"font-size: ([\d.]+)pt", style) == [str(points)]
    assert min(map(float, re.findall(r"font-size: ([\d.]+)rem", style))) >= 1
    drawn = [float(size) for size in re.findall(r'<text [^>]*font-size="([\d.]+)"', page)]
    assert drawn
    assert min(drawn) / PX_A_POINT >= points - 0.01


def test_the_page_needs_nothing_but_itself():
    page = html(sheet_of(beds(), 5)).lower()
    assert "<script" not in page
    assert "@import" not in page
    assert re.findall(r'(?:src|href|action)\s*=|url\(|\bon[a-z]+="', page) == []
    assert set(re.findall(r"https?://[^\"' ]+", page)) == {"http://www.w3.org/2000/svg"}


def test_headings_go_down_one_level_at_a_time_from_one_first():
    root = lxml_html.fromstring(html(sheet_of(beds(), 5)))
    levels = [int(one.tag[1]) for one in root.iter("h1", "h2", "h3", "h4")]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))
    assert len(root.findall(".//main")) == 1


def test_every_picture_says_what_it_shows_and_no_name_stands_twice():
    page = html(sheet_of(beds(), 5))
    drawn = [etree.fromstring(svg) for svg in re.findall(r"<svg.*?</svg>", page, re.S)]
    assert len(drawn) == 3
    for one in drawn:
        named = {part.get("id"): part.text for part in (one.find(f"{SVG}title"), one.find(f"{SVG}desc"))}
        assert set(one.get("aria-labelledby").split()) == set(named)
        assert all(named.values())
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids)) > 0


def test_the_words_of_the_page_are_those_of_the_sheet_in_order():
    made = sheet_of(beds(), 5)
    assert words_of(html(made)) == " ".join(made.lines()).split()


def test_whatever_is_written_is_shown_and_never_run():
    nasty = "<b>x</b><script>alert(1)</script> & \u202e \x07 ]]>"
    made = sheet_of(beds(("fresh vegetables, and Saturdays with the crew", nasty.replace("\x07", ""))))
    page = html(made)
    assert "<script" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt; &amp;" in page
    odd = Line((("a\x07b\ud800c\nd", "en"),))
    one = Sheet(odd, odd, "en", "ltr", False, (Page((Section(odd, (Para(odd),)),)),))
    assert "a b c d" in html(one).encode().decode()


def test_from_right_to_left_a_telephone_number_keeps_its_order(tmp_path):
    """Between words from right to left, groups of digits would change places (UAX 9, N1 and L2)."""
    text = '  call.list-today: {text: "اليوم: {number}", by: "A. Made-Up", on: 2027-01-10}'
    path = tmp_path / "ar.yaml"
    path.write_text(f"language: ar\nname: Arabic\ntexts: {{}}\nsafety:\n{text}\n", "utf-8")
    found, faults = read_catalogue(path, english())
    assert faults == ()
    page = html(sheet_of(beds(), 5, told=words("ar", "en", [found]))).replace("\u00a0", " ")
    assert '<li>اليوم: <bdi dir="ltr">03 5550 0101</bdi></li>' in page
    assert '<li><span lang="en" dir="ltr">An emergency: 112</span></li>' in page
    assert '<html lang="ar" dir="rtl">' in page


def test_a_dose_or_a_telephone_number_is_not_broken_over_two_lines():
    page = html(sheet_of(beds(), 5)).replace("\u00a0", "~")
    for said in ("2~x~20~s each side", "03~5550~0101", "about 35~min", "5~min, 3 times a day"):
        assert said in page


def test_paper_has_a_style_of_its_own():
    page = html(sheet_of(beds()))
    assert "@media print" in page
    assert "@page { size: auto;" in page  # A4 or Letter, as the printer has it
    assert "break-before: page" in page


@pytest.mark.parametrize("kind", [".flare", ".call", ".foot"])
def test_on_paper_what_belongs_together_is_not_parted(kind):
    rules = re.findall(r"^([^{}\n]+)\{ break-inside: avoid; \}", html(sheet_of(beds())), re.MULTILINE)
    assert kind in [one.strip() for rule in rules for one in rule.split(",")]


def test_the_same_sheet_gives_the_same_bytes():
    assert html(sheet_of(beds(), 5)) == html(sheet_of(beds(), 5))
