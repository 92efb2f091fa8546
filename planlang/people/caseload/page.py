"""The list as one page of HTML that needs nothing beside itself: tables, in words, no colour that means anything."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from planlang.people.caseload.data import Caseload, Person

STYLE = """\
:root { color-scheme: light; }
body { margin: 0; background: #fff; color: #000; line-height: 1.35;
  font-family: Arial, Helvetica, "Noto Sans", "Segoe UI", "DejaVu Sans", sans-serif; }
main { max-width: 60rem; margin: 0 auto; padding: 1rem; overflow-wrap: break-word; }
h1 { font-size: 1.5rem; margin: 0 0 .3rem; }
h2 { font-size: 1.2rem; margin: 1.4rem 0 .4rem; }
table { border-collapse: collapse; width: 100%; }
th, td { border: 1px solid #000; padding: .3rem .5rem; text-align: start; vertical-align: top; font-weight: normal; }
thead th { font-weight: bold; background: #eee; }
td ul { margin: 0; padding-inline-start: 1.1rem; }
.small { border-top: 1px solid #000; margin-top: 1.2rem; padding-top: .5rem; }
tr { break-inside: avoid; }
@page { margin: 13mm; }
@media print { main { max-width: none; padding: 0; } thead th { background: #fff; } }
"""
NOTES = (
    "Nobody watches these diaries: a sign belongs on the telephone.",
    "Notes are shown in each review, not understood. A person without a reason here is not said to be well.",
    "No news is no fault, and says nothing of what is done.",
    "Supports your judgement and does not replace it; local rules come first.",
)


def page(caseload: Caseload) -> str:
    """The page. The same list always gives the same bytes."""
    return "\n".join(_page(caseload)) + "\n"


def _page(caseload: Caseload) -> Iterator[str]:
    yield '<!DOCTYPE html>\n<html lang="en" dir="ltr">\n<head>\n<meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield '<meta name="referrer" content="no-referrer">'
    yield f"<title>Who is worth a call</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<main>"
    yield "<h1>Who is worth a call</h1>"
    listed, others = caseload.listed, [p for p in caseload.people if not p.reasons]
    count = len(caseload.people)
    told = f"Told up to {caseload.as_of}. " if caseload.as_of else ""
    yield f"<p>{told}{len(listed)} of {count} {'person' if count == 1 else 'people'} on the list.</p>"
    if listed:
        yield "<h2>On the list</h2>"
        yield from _table(listed, True)
    if others:
        yield "<h2>No reason to call seen</h2>"
        yield from _table(others, False)
    yield '<div class="small">'
    yield f"<p>{escape(ran(caseload))}</p>"
    yield from (f"<p>{escape(note)}</p>" for note in NOTES)
    yield "</div>\n</main>\n</body>\n</html>"


def ran(caseload: Caseload) -> str:
    """Which rules ran, by number."""
    off = f"{len(caseload.off)} switched off ({', '.join(caseload.off)})" if caseload.off else "none switched off"
    return f"{caseload.rules} rules about diaries ran, {off}."


def _table(people: tuple[Person, ...] | list[Person], why: bool) -> Iterator[str]:
    head = ["Code", *(["Why on the list"] if why else []), "Last entry", "Next date"]
    yield "<table>\n<thead><tr>" + "".join(f'<th scope="col">{h}</th>' for h in head) + "</tr></thead>\n<tbody>"
    for one in people:
        cells = [_reasons(one)] if why else []
        cells += [str(one.last_entry or "none"), str(one.next_review or "none")]
        yield f'<tr><th scope="row">{escape(one.code)}</th>' + "".join(f"<td>{cell}</td>" for cell in cells) + "</tr>"
    yield "</tbody>\n</table>"


def _reasons(one: Person) -> str:
    return "<ul>" + "".join(f"<li>{escape(reason.text)}</li>" for reason in one.reasons) + "</ul>"
