"""A small SVG page: shapes and words in the order in which they were drawn, the same bytes every time."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from xml.sax.saxutils import escape

from attrs import field

from planlang.text.data import define

Point = tuple[float, float]
INK = "#000"
PATTERNS = (
    '<pattern id="between" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<rect width="6" height="6" fill="#eef3f8"/><line x1="0" y1="0" x2="0" y2="6" stroke="#5a6b7b" stroke-width="1.4"/>'
    "</pattern>"
    '<pattern id="away" width="5" height="5" patternUnits="userSpaceOnUse">'
    '<rect width="5" height="5" fill="#fff"/><circle cx="2.5" cy="2.5" r="0.9" fill="#444"/></pattern>'
)


@define
class Drawing:
    """Shapes so far. title, description: what a screen reader says of the picture.

    `name` tells the picture apart from others on the page; `rtl`: drawn from right to left; `inline`: stands in a
    page, on its paper and without hatchings.
    """

    width: float
    title: str
    description: str
    name: str = ""
    rtl: bool = False
    inline: bool = False
    parts: list[str] = field(factory=list)

    def finished(self, height: float) -> str:
        """The whole file."""
        w, h = number(self.width), number(height)
        title, described = (f"{self.name}-{part}" if self.name else part for part in ("title", "description"))
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}" height="{h}" viewBox="0 0 {w} {h}" role="img" '
            f'aria-labelledby="{title} {described}" font-family="Helvetica, Arial, Liberation Sans, sans-serif">'
        )
        said = (
            f'<title id="{title}">{escape(_plain(self.title))}</title>'
            f'<desc id="{described}">{escape(_plain(self.description))}</desc>'
        )
        page = f'<rect width="{w}" height="{h}" fill="#fff"/>'
        under = [] if self.inline else [f"<defs>{PATTERNS}</defs>", page]
        return "\n".join([head, said, *under, *self.parts, "</svg>"]) + "\n"

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float = 12,
        bold: bool = False,
        middle: bool = False,
        end: bool = False,
        halo: bool = False,
        ltr: bool = False,
    ) -> None:
        """Words with their baseline at y; `halo`: kept readable above lines; `ltr`: read so in any picture."""
        said = [f'x="{number(self._across(x))}" y="{number(y)}" font-size="{number(size)}"']
        if self.rtl:
            said.append(f'direction="{"ltr" if ltr else "rtl"}"')
        if bold:
            said.append('font-weight="bold"')
        if self.rtl and ltr:
            end = not end
        if middle or end:
            said.append(f'text-anchor="{"middle" if middle else "end"}"')
        if halo:
            said.append('stroke="#fff" stroke-width="3" paint-order="stroke"')
        self.parts.append(f'<text {" ".join(said)} xml:space="preserve">{escape(_plain(words))}</text>')

    def line(self, x: float, y: float, to_x: float, to_y: float, thick: float = 1, dashes: str = "") -> None:
        """A straight line."""
        places = f'x1="{number(x)}" y1="{number(y)}" x2="{number(to_x)}" y2="{number(to_y)}"'
        self.parts.append(f"<line {places} {_stroke(thick, dashes)}/>")

    def box(self, x: float, y: float, width: float, height: float, fill: str = "none", edge: str = INK) -> None:
        """A rectangle."""
        left = self.width - x - width if self.rtl else x
        places = f'x="{number(left)}" y="{number(y)}" width="{number(width)}" height="{number(height)}"'
        self.parts.append(f'<rect {places} fill="{fill}" stroke="{edge}"/>')

    def _across(self, x: float) -> float:
        return self.width - x if self.rtl else x

    def path(self, shape: str, fill: str = "none", thick: float = 0, dashes: str = "") -> None:
        """A shape from `joined` or `closed`."""
        edge = _stroke(thick, dashes) if thick else 'stroke="none"'
        self.parts.append(f'<path d="{shape}" fill="{fill}" {edge}/>')

    def diamond(self, x: float, y: float, size: float, hollow: bool = False) -> None:
        """A square on its corner, filled or hollow."""
        corners = ((x, y - size), (x + size, y), (x, y + size), (x - size, y))
        fill = "#fff" if hollow else INK
        self.parts.append(f'<path d="{joined(corners)} Z" fill="{fill}" {_stroke(1.6, "")}/>')


def _stroke(thick: float, dashes: str) -> str:
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'stroke="{INK}" stroke-width="{number(thick)}"{dashed}'


def staircase(at: Callable[[float], float], levels: Sequence[float], base: float) -> list[Point]:
    """The corners of one level a week, from the base up."""
    points: list[Point] = [(at(0), base)]
    for week, level in enumerate(levels):
        points += [(at(week), level), (at(week + 1), level)]
    return points


def joined(points: Sequence[Point]) -> str:
    """A line through the points."""
    return " ".join(f"{'L' if i else 'M'} {number(x)} {number(y)}" for i, (x, y) in enumerate(points))


def closed(there: Sequence[Point], back: Sequence[Point]) -> str:
    """The area between two lines that go the same way."""
    return f"{joined([*there, *reversed(back)])} Z"


def number(value: float) -> str:
    """At most two decimals, none that say nothing."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _plain(words: str) -> str:
    """Words without what XML can't hold."""
    return "".join(c if c >= " " and c not in "\ufffe\uffff" and not "\ud800" <= c <= "\udfff" else " " for c in words)
