"""Whatever a plan, its template and its library say, they are put together; every finding has a place in the plan."""

from __future__ import annotations

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from planlang.checking.check import check
from planlang.checking.rulebook import built_in
from planlang.model.composing.compose import compose
from planlang.model.composing.composed import Composed
from planlang.model.composing.files import TextFiles
from planlang.model.composing.instance import instance, lowest
from planlang.model.composing.placed import placed
from planlang.model.reading import read_plan
from planlang.text.source import Source, Span
from tests.model.composing_help import KNEE, LIBRARY, PLAN
from tests.properties.texts import any_text, spoiled_lines, word_salads
from tests.properties.whole import looked_at

some = settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
few = settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])

WHOLE = (
    PLAN
    + """\
  use library "lib.plan"
  leave out exercise hip-hinge because "sore back"

change exercise sit-to-stand
  ladder     steps 1 to 3
  progress   every 3 weeks

change plan
  lasts      14 weeks

exercise squat
  ladder     steps 2 to 3

session "Evening"
  days       Tue
  do         squat, calf-raise
"""
)
OUTER = 'template "Outer"\n  from template "knee.plan"\n  blank n 4 to 12\n  fill reps-now <n>\n'


@st.composite
def spoiled(draw: st.DrawFn, text: str) -> str:
    """A text with a few lines deleted, doubled, swapped, spoiled or put in."""
    lines = text.split("\n")
    for _ in range(draw(st.integers(0, 4))):
        at, to = draw(st.integers(0, len(lines) - 1)), draw(st.integers(0, len(lines) - 1))
        change = draw(st.sampled_from(["delete", "double", "swap", "spoil", "spoil", "spot"]))
        if change == "delete" and len(lines) > 1:
            del lines[at]
        elif change == "double":
            lines.insert(to, lines[at])
        elif change == "swap":
            lines[at], lines[to] = lines[to], lines[at]
        elif change == "spoil":
            lines[at] = draw(spoiled_lines(lines[at]))
        else:
            lines[at] = (
                f"{lines[at]} <{draw(st.sampled_from(['reps-now', 'x', '', '2 x load', 'helper', '< >', '7']))}>"
            )
    return draw(st.sampled_from(["\n", "\n", "\r\n", "\r"])).join(lines)


def put_together(text: str, knee: str, lib: str) -> Source:
    """The text composed and read; every finding looked at."""
    own = Source("p.plan", text)
    source, found = compose(own, TextFiles({"knee.plan": knee, "lib.plan": lib, "outer.plan": OUTER}))
    _, read = read_plan(source)
    findings = placed((*found, *read), source)
    looked_at(findings, own)
    for one in findings:
        assert one.span is not None, one
    if isinstance(source, Composed):
        own_text_is_there_once(source)
    return source


def own_text_is_there_once(source: Composed) -> None:
    """All of the plan's own text stands in it, and its places go there and back."""
    own = [p for p in source.pieces if p.same and p.source is source.own]
    assert "".join(p.text for p in sorted(own, key=lambda p: p.span)) == source.own.text
    for piece in source.pieces:
        assert 0 <= piece.shown.start <= piece.shown.end <= len(source.own.text)
    for at in range(0, len(source.text), 7):
        place = source.place(Span(at, min(at + 5, len(source.text))))
        assert 1 <= place.line <= place.end_line <= len(source.line_starts)
        file, span = source.origin(Span(at, at + 1))
        assert 0 <= span.start <= span.end <= len(file.text)


@some
@given(spoiled(WHOLE), spoiled(KNEE), spoiled(LIBRARY))
@example(WHOLE, KNEE, LIBRARY)
def test_spoiled_files_are_put_together(text, knee, lib):
    put_together(text, knee, lib)


@some
@given(any_text | word_salads(), any_text | word_salads(), any_text)
def test_any_text_stands_in_for_each_file(one, other, third):
    put_together(WHOLE, one, other)
    put_together(f"{WHOLE}{one}", KNEE, other)
    put_together(f'plan "P"\n  from template "knee.plan"\n{one}', f'template "T"\n{other}', f'library "L"\n{third}')


@some
@given(spoiled(KNEE) | word_salads() | any_text)
def test_any_template_has_an_instance(text):
    source = Source("t.plan", text)
    files = TextFiles({"lib.plan": LIBRARY})
    made = instance(source, files, {})
    looked_at((*made.findings, *read_plan(made)[1]), source)
    low = lowest(source, files)
    looked_at(placed((*low.findings, *read_plan(low)[1]), low), source)


@few
@given(spoiled(WHOLE), spoiled(KNEE))
def test_whatever_is_put_together_is_checked(text, knee):
    own = Source("p.plan", text)
    checked = check(own, built_in(), files=TextFiles({"knee.plan": knee, "lib.plan": LIBRARY}))
    looked_at(checked.findings, own)


@few
@given(spoiled(LIBRARY) | any_text.map('library "L"\n{}'.format))
def test_any_library_is_checked(text):
    own = Source("lib.plan", text)
    looked_at(check(own, built_in()).findings, own)
