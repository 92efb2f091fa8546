"""How the sheet looks on screen and on paper: black on white, large letters, frames and words instead of colours."""

from __future__ import annotations

STYLE = """\
:root { color-scheme: light; }
html { font-size: %(size)s; }
body { margin: 0; background: #fff; color: #000;
  font-family: Arial, Helvetica, "Noto Sans", "Segoe UI", "DejaVu Sans", sans-serif; line-height: 1.3; }
main { max-width: 42rem; margin: 0 auto; padding: 1rem; overflow-wrap: break-word; }
h1, h2, h3, h4 { line-height: 1.2; break-after: avoid; }
h1 { font-size: 1.6rem; margin: 0; }
h2 { font-size: 1.35rem; margin: 1.1rem 0 .4rem; }
h3 { font-size: 1.1rem; margin: .9rem 0 .3rem; }
p { margin: .35rem 0; }
p, li { orphans: 3; widows: 3; }
ul { margin: .35rem 0; padding-inline-start: 1.3rem; }
li { margin: .2rem 0; }
.goal p strong { font-size: 1.2rem; }
.flare, .call { border: .15rem solid #000; border-radius: .3rem; padding: 0 .8rem .5rem; margin: 1rem 0; }
.flare h2, .call h2 { margin-top: .6rem; }
.flare, .call, .foot, .signs section, figure, tr, h3 + ul { break-inside: avoid; }
.signs section { border-inline-start: .35rem solid #000; padding-inline-start: .7rem; margin: .7rem 0; }
table { border-collapse: collapse; width: 100%%; margin: .5rem 0; }
th, td { border: 1px solid #000; padding: .3rem .45rem; text-align: start; vertical-align: top; font-weight: normal; }
thead th { font-weight: bold; background: #eee; }
.boxes { table-layout: fixed; }
.boxes th:first-child { width: 26%%; }
.boxes td { border: 0; height: 2.2rem; }
.boxes td.box { border: .13rem solid #000; }
.boxes thead th { text-align: center; }
figure { margin: .5rem 0; }
svg { max-width: 100%%; height: auto; font-family: inherit; }
.how section { display: flex; flex-wrap: wrap; gap: 0 1rem; break-inside: avoid; }
.how h3 { flex: 0 0 100%%; }
.how ul { flex: 1 1 12rem; }
.foot { border-top: 1px solid #000; margin-top: 1rem; padding-top: .4rem; }
.side + .side { border-top: .3rem double #000; margin-top: 1.5rem; }
@page { size: auto; margin: 13mm; }
@media print {
  main { max-width: none; padding: 0 1px; }
  .side + .side { border: 0; margin: 0; break-before: page; }
  thead th { background: #fff; }
}
"""
SIZES = {False: "14pt", True: "18pt"}


def style(large: bool) -> str:
    """The style sheet, in 14 points or in 18."""
    return STYLE % {"size": SIZES[large]}
