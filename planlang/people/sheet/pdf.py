"""The sheet as a PDF by typst: tagged, in the language of its words, with our own font, the same bytes every time."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from planlang.people.sheet.blocks import Block, Boxes, Figure, Items, Para, Section, Sheet, Table
from planlang.people.sheet.pieces import pieces, plain
from planlang.text.finding import Finding, Level
from planlang.text.languages.line import Line

HERE = Path(__file__).parent
FONTS = HERE.parent / "fonts"
PAPERS = {"a4": "a4", "letter": "us-letter"}
LONG = 1400  # letters of a section from which it may be broken over two pages


class NoTypst(Exception):
    """A PDF is asked for, and the package that makes it isn't installed."""


def pdf(sheet: Sheet, paper: str = "a4") -> tuple[bytes, tuple[Finding, ...]]:
    """The PDF, to PDF/UA-1 wherever there is a letter for everything, and what is to be said of it.

    `paper`: one of PAPERS. Letters that our font lacks are taken from the machine's own fonts; if there are none
    either, the file is made without the standard. Raises NoTypst.
    """
    try:
        import typst
    except ImportError:
        raise NoTypst("a PDF needs typst: pip install 'planlang[pdf]'") from None
    data = json.dumps(_sheet(sheet, paper), ensure_ascii=False, sort_keys=True)
    compiled: Any = typst.compile
    tries: tuple[tuple[bool, list[str]], ...] = ((True, ["ua-1"]), (False, ["ua-1"]), (False, []))
    missing = ""
    for ours_only, standards in tries:
        try:
            made = compiled(
                (HERE / "sheet.typ").read_bytes(),
                format="pdf",
                pdf_standards=standards,
                font_paths=[str(FONTS)],
                ignore_system_fonts=ours_only,
                sys_inputs={"data": data},
            )
        except typst.TypstError as fault:
            missing = missing or str(fault.message if hasattr(fault, "message") else fault)
            continue
        return bytes(made), () if ours_only else (_letters(missing, bool(standards)),)
    raise ValueError(f"typst could not make the sheet: {missing}")  # the template is ours: a fault of the program


def _letters(fault: str, tagged: bool) -> Finding:
    if tagged:
        message = "some letters are not in the sheet's own font and were taken from this machine's"
        help = "Look at the PDF before it is given: another machine may make it look otherwise."
    else:
        message = "no font on this machine has every letter of the sheet: some are shown as empty boxes"
        help = "Give the page of HTML, or install a font for this script and make the PDF again."
    return Finding("pdf-letters-missing", Level.ADVICE, f"{message} ({fault.splitlines()[0]})", help=help)


def _sheet(sheet: Sheet, paper: str) -> dict[str, Any]:
    lang, region = _language(sheet.code)
    return {
        "title": plain(sheet.title),
        "heading": _line(sheet.title, sheet),
        "weeks": _line(sheet.weeks, sheet),
        "lang": lang,
        "region": region,
        "direction": sheet.direction,
        "points": 18 if sheet.large else 14,
        "paper": PAPERS[paper],
        "pages": [
            {
                "sections": [_block(section, sheet) for section in page.sections],
                "foot": [_line(line, sheet) for line in page.foot],
            }
            for page in sheet.pages
        ],
    }


def _block(block: Block, sheet: Sheet) -> dict[str, Any]:
    match block:
        case Para(line, strong):
            return {"is": "para", "line": _line(line, sheet), "strong": strong}
        case Items(lines):
            return {"is": "items", "lines": [_line(line, sheet) for line in lines]}
        case Table(head, rows):
            return {
                "is": "table",
                "head": [_line(cell, sheet) for cell in head],
                "rows": [[_line(cell, sheet) for cell in row] for row in rows],
            }
        case Boxes(head, titles, places):
            return {
                "is": "boxes",
                "head": [_line(cell, sheet) for cell in head],
                "rows": [_line(title, sheet) for title in titles],
                "open": places,
            }
        case Figure(svg, alt, width):
            return {"is": "figure", "svg": svg, "alt": plain(alt), "width": width}
        case Section(title, blocks, kind):
            inner = [_block(one, sheet) for one in blocks]
            long = sum(map(len, block.lines())) > LONG
            return {"is": "section", "title": _line(title, sheet), "blocks": inner, "kind": kind, "long": long}


def _line(line: Line, sheet: Sheet) -> list[dict[str, str | None]]:
    found: list[dict[str, str | None]] = []
    for text, language, direction in pieces(line, sheet.code, sheet.direction):
        lang, region = _language(language) if language else (None, None)
        found.append({"text": text, "lang": lang, "region": region, "dir": direction})
    return found


def _language(code: str) -> tuple[str, str | None]:
    """Language and region as typst has them: two or three letters, and two."""
    base, *rest = code.split("-")
    region = next((part.upper() for part in rest if len(part) == 2), None)
    return base.lower()[:3], region
