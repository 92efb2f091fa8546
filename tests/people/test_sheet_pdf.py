"""The sheet as a PDF: tagged, to PDF/UA-1, in its own font, with the words of the page in the same order."""

from __future__ import annotations

import io
import re
from itertools import pairwise

import pikepdf
import pypdfium2
import pypdfium2.raw as raw
import pytest

from planlang.people.sheet.html import html
from planlang.people.sheet.pdf import pdf
from planlang.text.languages.words import words
from tests.calendar.made import stairs
from tests.people.sheets import beds, sheet_of, words_of


@pytest.fixture(scope="module")
def made():
    data, findings = pdf(sheet_of(beds(), 5))
    assert findings == ()
    return data


def parts(data: bytes) -> list[tuple[str, pikepdf.Dictionary]]:
    """The structure elements in their order, each with its type."""
    found = []

    def walk(node):
        if isinstance(node, pikepdf.Array):
            for one in node:
                walk(one)
        elif isinstance(node, pikepdf.Dictionary):
            if "/S" in node and node.get("/Type") != pikepdf.Name.OBJR:
                found.append((str(node.S), node))
            if "/K" in node:
                walk(node.K)

    walk(opened(data).Root.StructTreeRoot.K)
    return found


OPEN = []


def opened(data: bytes) -> pikepdf.Pdf:
    OPEN.append(pikepdf.open(io.BytesIO(data)))  # kept open: its objects are looked at later
    return OPEN[-1]


def text_of(data: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(data)
    return " ".join(page.get_textpage().get_text_range() for page in document).split()


def smallest(data: bytes) -> float:
    """The smallest letter in points, as it is set on the page."""
    sizes = []
    for page in pypdfium2.PdfDocument(data):
        text = page.get_textpage()
        matrix = raw.FS_MATRIX()
        for n in range(text.count_chars()):
            if chr(raw.FPDFText_GetUnicode(text, n)).strip() and raw.FPDFText_GetMatrix(text, n, matrix):
                sizes.append(raw.FPDFText_GetFontSize(text, n) * (matrix.b**2 + matrix.d**2) ** 0.5)
    return min(sizes)


def test_it_says_its_language_its_title_and_that_it_is_tagged(made):
    root = opened(made).Root
    assert str(root.Lang) == "en"
    assert bool(root.MarkInfo.Marked)
    assert bool(root.ViewerPreferences.DisplayDocTitle)
    with opened(made).open_metadata() as data:
        assert data["dc:title"] == "My exercise sheet"
        assert data["pdfuaid:part"] == "1"  # ISO 14289-1


def test_its_tags_are_headings_lists_tables_and_figures_in_order(made):
    kinds = [kind for kind, _ in parts(made)]
    headings = [int(kind[2]) for kind in kinds if re.fullmatch(r"/H[1-6]", kind)]
    assert headings[0] == 1
    assert headings.count(1) == 1
    assert all(b - a <= 1 for a, b in pairwise(headings))
    assert {"/P", "/L", "/LI", "/Table", "/TR", "/TH", "/TD", "/Figure"} <= set(kinds)


def test_every_figure_says_what_it_shows(made):
    figures = [part for kind, part in parts(made) if kind == "/Figure"]
    assert len(figures) == 3
    for figure, name in zip(figures, ("sit to stand", "tandem stance", "walking"), strict=True):
        assert str(figure.Alt).startswith(f"My steps: {name}. Steps from the first to the last: ")


def test_other_languages_are_marked_where_they_stand():
    data, findings = pdf(sheet_of(beds(), 5, told=words("es")))
    assert findings == ()
    assert str(opened(data).Root.Lang) == "es"
    assert {str(part.Lang) for _, part in parts(data) if "/Lang" in part} == {"en", "es"}


@pytest.mark.parametrize(("text", "week"), [(beds(), 5), (stairs(), 3)])
def test_its_words_are_those_of_the_page_in_the_same_order(text, week):
    """Every word of the page, in order; the pictures' words stand between them."""
    page, data = html(sheet_of(text, week)), pdf(sheet_of(text, week))[0]
    said = iter(word for word in text_of(data) if word != "•")
    lost = [word for word in words_of(page) if word not in said]  # `in` goes on where the last one was found
    assert lost == []


@pytest.mark.parametrize(("large", "points"), [(False, 14), (True, 18)])
def test_no_letter_is_smaller_than_it_says(large, points):
    data, _ = pdf(sheet_of(beds(), 5, large=large))
    assert smallest(data) >= points - 0.01


@pytest.mark.parametrize("large", [False, True])
def test_what_a_plan_is_and_until_when_it_holds_stands_on_one_page(large):
    data, _ = pdf(sheet_of(beds(), 1, large=large))
    document = pypdfium2.PdfDocument(data)
    pages = [" ".join(document[n].get_textpage().get_text_bounded().split()) for n in range(len(document))]
    whole = [page for page in pages if "Plan of 22 Feb 2027" in page and "local rules come first." in page]
    assert len(whole) == 2


@pytest.mark.parametrize("large", [False, True])
def test_no_sheet_of_paper_is_nearly_empty(large):
    data, _ = pdf(sheet_of(beds(), 1, large=large))
    document = pypdfium2.PdfDocument(data)
    pages = [document[n].get_textpage().get_text_bounded() for n in range(len(document))]
    assert min(len(words_on.split()) for words_on in pages[:-1]) > 60


def test_its_font_is_ours_and_stands_in_the_file(made):
    fonts = {str(font.BaseFont) for page in opened(made).pages for font in page.Resources.Font.values()}
    assert fonts
    assert all("DejaVuSansCondensed" in name for name in fonts)


@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_it_fits_the_paper(paper, size):
    """ISO 216, A4: 210 x 297 mm; North American Letter: 8.5 x 11 inches; in points of 1/72 inch."""
    for page in pypdfium2.PdfDocument(pdf(sheet_of(beds(), 5), paper)[0]):
        assert tuple(map(round, page.get_size())) == size


def test_the_same_sheet_gives_the_same_bytes(made):
    assert pdf(sheet_of(beds(), 5))[0] == made


@pytest.mark.parametrize("code", ["ar", "he"])
def test_a_page_from_right_to_left_is_tagged_so(code):
    data, findings = pdf(sheet_of(beds(), 5, told=words(code)))
    assert findings == ()
    root = opened(data).Root
    assert str(root.Lang) == code
    assert str(root.ViewerPreferences.get("/Direction", "")) == "/R2L"


@pytest.mark.parametrize("why", ["חסה טרייה ועגבניות", "خضار طازجة", "Ωραία λαχανικά", "свежие овощи", "žąsis & “ï”"])
def test_the_font_has_the_letters_of_many_scripts(why):
    _, findings = pdf(sheet_of(beds(("fresh vegetables, and Saturdays with the crew", why))))
    assert findings == ()


def test_a_letter_that_our_font_lacks_is_said_and_the_sheet_is_still_made():
    data, findings = pdf(sheet_of(beds(("fresh vegetables", "新鮮な野菜 \U0001f96c"))))
    assert [finding.rule for finding in findings] == ["pdf-letters-missing"]
    assert data.startswith(b"%PDF")
    assert "My goal" in " ".join(text_of(data))


def test_what_looks_like_markup_is_shown_as_it_stands():
    odd = "#let x = 1 *bold* $y$ <label> @ref // not a comment \\ end"
    data, _ = pdf(sheet_of(beds(("fresh vegetables, and Saturdays with the crew", odd))))
    assert f"Why: {odd}" in " ".join(text_of(data))


def test_a_long_section_breaks_over_pages_and_loses_nothing():
    more = "\n".join(f'stop if "sign number {n} which is described at some length here" then today' for n in range(60))
    made = sheet_of(beds(("pain\n", f"{more}\npain\n")))
    said = " ".join(text_of(pdf(made)[0]))
    assert all(f"number {n} which" in said for n in range(60))
