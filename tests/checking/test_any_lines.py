"""Whatever lines a plan is made of, checking ends in findings, each with its words and a place inside the text."""

from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.checking.check import blocks, check
from planlang.checking.rulebook import built_in
from planlang.text.resources import folder
from planlang.text.source import Source

LINES = [
    line
    for path in sorted(folder("examples").rglob("*.plan"))
    for line in path.read_text("utf-8").splitlines()
    if line.strip()
]


@given(st.lists(st.sampled_from(LINES), min_size=1, max_size=40))
@settings(max_examples=150, deadline=None)
def test_any_lines_in_any_order(lines: list[str]) -> None:
    text = "\n".join(['plan "x"', "starts 2027-03-01", "lasts 9 weeks", *lines])
    checked = check(Source("x.plan", text), built_in())
    for finding in checked.findings:
        assert finding.message
        assert finding.span is None or 0 <= finding.span.start <= finding.span.end <= len(text)
        assert isinstance(finding.advice, str)
        assert all(related.message for related in finding.related)
    assert set(blocks(checked)) <= set(checked.findings)


@given(st.sampled_from(sorted(folder("examples").rglob("p*.plan"))), st.data())
@settings(max_examples=60, deadline=None)
def test_a_plan_with_some_of_its_lines_gone(path: object, data: st.DataObject) -> None:
    lines = path.read_text("utf-8").splitlines()  # type: ignore[attr-defined]
    gone = data.draw(st.sets(st.integers(0, len(lines) - 1), max_size=12))
    text = "\n".join(line for i, line in enumerate(lines) if i not in gone)
    checked = check(Source("x.plan", text), built_in())
    assert [f.rule for f in checked.findings if "not written" in f.message] == []
