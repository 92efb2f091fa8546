"""The sheet as one page of HTML that needs nothing beside itself: no script, nothing fetched, made to be printed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from planlang.people.sheet.blocks import Block, Boxes, Figure, Items, Page, Para, Section, Sheet, Table
from planlang.people.sheet.pieces import pieces, plain
from planlang.people.sheet.style import style
from planlang.text.data import frozen
from planlang.text.languages.line import Line


def html(sheet: Sheet) -> str:
    """The page. The same sheet always gives the same bytes."""
    return "\n".join(_Writer(sheet).page()) + "\n"


@frozen
class _Writer:
    sheet: Sheet

    def page(self) -> Iterator[str]:
        sheet = self.sheet
        yield "<!DOCTYPE html>"
        yield f'<html lang="{escape(sheet.code)}" dir="{sheet.direction}">'
        yield '<head>\n<meta charset="utf-8">'
        yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
        yield '<meta name="referrer" content="no-referrer">'
        yield f"<title>{_plain(sheet.title)}</title>"
        yield f"<style>\n{style(sheet.large)}</style>\n</head>\n<body>\n<main>"
        yield f"<h1>{self.line(sheet.title)}</h1>"
        yield f'<p class="when">{self.line(sheet.weeks)}</p>'
        for one in sheet.pages:
            yield from self.side(one)
        yield "</main>\n</body>\n</html>"

    def side(self, page: Page) -> Iterator[str]:
        yield '<div class="side">'
        for section in page.sections:
            yield from self.section(section, 2)
        for line in page.foot:
            yield f'<p class="foot">{self.line(line)}</p>'
        yield "</div>"

    def section(self, section: Section, level: int) -> Iterator[str]:
        kind = f' class="{escape(section.kind)}"' if section.kind else ""
        yield f"<section{kind}>"
        yield f"<h{level}>{self.line(section.title)}</h{level}>"
        for block in section.blocks:
            yield from self.block(block, level + 1)
        yield "</section>"

    def block(self, block: Block, level: int) -> Iterator[str]:
        match block:
            case Para(line, strong):
                yield f"<p><strong>{self.line(line)}</strong></p>" if strong else f"<p>{self.line(line)}</p>"
            case Items(lines):
                yield "<ul>"
                yield from (f"<li>{self.line(line)}</li>" for line in lines)
                yield "</ul>"
            case Table(head, rows):
                yield "<table>"
                yield self.head(head)
                for first, *others in rows:
                    cells = "".join(f"<td>{self.line(cell)}</td>" for cell in others)
                    yield f'<tr><th scope="row">{self.line(first)}</th>{cells}</tr>'
                yield "</tbody>\n</table>"
            case Boxes(head, titles, places):
                yield '<table class="boxes">'
                yield self.head(head)
                for title, row in zip(titles, places, strict=True):
                    boxes = "".join('<td class="box"></td>' if box else "<td></td>" for box in row)
                    yield f'<tr><th scope="row">{self.line(title)}</th>{boxes}</tr>'
                yield "</tbody>\n</table>"
            case Figure(svg):
                yield f"<figure>\n{svg.rstrip()}\n</figure>"
            case Section():
                yield from self.section(block, level)

    def head(self, cells: Iterable[Line]) -> str:
        return (
            "<thead>\n<tr>"
            + "".join(f'<th scope="col">{self.line(cell)}</th>' for cell in cells)
            + "</tr>\n</thead>\n<tbody>"
        )

    def line(self, line: Line) -> str:
        """A line with the pieces that are in another language, or must not be turned round, marked."""
        said = []
        for text, language, direction in pieces(line, self.sheet.code, self.sheet.direction):
            if language:
                said.append(f'<span lang="{escape(language)}" dir="{direction}">{_plain(text)}</span>')
            else:
                said.append(f'<bdi dir="{direction}">{_plain(text)}</bdi>' if direction else _plain(text))
        return "".join(said)


def _plain(text: str) -> str:
    return escape(plain(text), quote=False)
