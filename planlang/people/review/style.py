"""How the review looks on screen and on paper: black on white, frames and words instead of colours."""

from __future__ import annotations

STYLE = """\
:root { color-scheme: light; }
body { margin: 0; background: #fff; color: #000; line-height: 1.35;
  font-family: Arial, Helvetica, "Noto Sans", "Segoe UI", "DejaVu Sans", sans-serif; }
main { max-width: 46rem; margin: 0 auto; padding: 1rem; overflow-wrap: break-word; }
h1, h2, h3 { line-height: 1.2; break-after: avoid; }
h1 { font-size: 1.5rem; margin: 0; }
h2 { font-size: 1.2rem; margin: 1.4rem 0 .4rem; }
h3 { font-size: 1rem; margin: 1rem 0 .3rem; }
p { margin: .3rem 0; orphans: 3; widows: 3; }
.first { border: .13rem solid #000; border-radius: .3rem; padding: .2rem .8rem .4rem; margin: .8rem 0; }
.first table, .first th, .first td { border: 0; }
.first th, .first td { padding: .15rem .6rem .15rem 0; }
.first th { font-weight: bold; white-space: nowrap; }
.first ul, .first ol { margin: 0; padding-inline-start: 0; list-style: none; }
table { border-collapse: collapse; width: 100%; margin: .5rem 0; }
caption { text-align: start; padding: .2rem 0; }
th, td { border: 1px solid #000; padding: .2rem .45rem; text-align: start; vertical-align: top; font-weight: normal; }
thead th { font-weight: bold; background: #eee; }
tr, figure { break-inside: avoid; }
figure { margin: .6rem 0; }
svg { display: block; max-width: 100%; height: auto; }
pre { border: 1px solid #000; padding: .5rem; white-space: pre-wrap; font-size: .85rem; }
.open { font-weight: bold; }
.foot { border-top: 1px solid #000; margin-top: 1.2rem; padding-top: .4rem; }
@page { size: auto; margin: 13mm; }
@media print {
  html { font-size: 10.5pt; }
  main { max-width: none; padding: 0 1px; }
  thead th { background: #fff; }
}
"""
