"""The language server, driven by a real client over standard input and output."""

import asyncio
import threading
from pathlib import Path

import pytest
from lsprotocol import types as lsp

from planlang.editor.server import Server, opened
from tests.editor.lsp_client import LIMIT, Editor, with_editor

ROOT = Path(__file__).parents[2]
ALLOTMENT = (ROOT / "examples" / "people" / "p014-allotment.plan").read_text("utf-8")
LIBRARY = """library "Clinic exercises"
exercise heel-raise
  kind strength
  begin 2x8
  then 3x8
  progress every 2 weeks
"""
TEMPLATE = """template "Knee base"
blank reps-now 4 to 12 reps "how many today"
lasts 8 weeks
exercise sit-to-stand
  kind strength
  begin 2x<reps-now>
  then 3x<reps-now>
  progress every 2 weeks
session "A"
  days Mon
  do sit-to-stand
"""
MADE = """plan "Stairs"
  from template "base.plan"
  fill reps-now 8 reps
  starts 2027-03-01
change session "A"
  days Mon, Thu
"""


def column(text: str, line: int, words: str) -> int:
    return text.splitlines()[line].index(words)


def line_of(text: str, words: str) -> int:
    return next(i for i, line in enumerate(text.splitlines()) if words in line)


def test_findings_come_as_they_are_typed(tmp_path):
    async def test(editor: Editor) -> None:
        uri = editor.open(tmp_path / "one.plan", ALLOTMENT)
        before = {d.code for d in await editor.findings(uri)}
        assert "unreadable" not in before
        editor.change(uri, ALLOTMENT.replace("within 24 hours", "by next mornig"), 2)
        found = [d for d in await editor.findings(uri, 2) if d.code == "unreadable"]
        assert len(found) == 1
        assert found[0].severity is lsp.DiagnosticSeverity.Error
        assert found[0].source == "planlang, unsafe"
        assert 'Did you mean "next morning"?' in found[0].message

    with_editor(test)


def test_only_the_last_of_many_keystrokes_is_answered(tmp_path):
    async def test(editor: Editor) -> None:
        uri = editor.open(tmp_path / "one.plan", ALLOTMENT)
        await editor.findings(uri)
        for version in range(2, 40):
            editor.change(uri, ALLOTMENT + "#" * version, version)
        await editor.findings(uri, 39)
        assert editor.told[uri].version == 39

    with_editor(test)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-8", "utf-32"])
def test_columns_are_right_behind_accents_and_emoji(tmp_path, encoding):
    """LSP 3.17: columns in UTF-16 units unless another encoding is agreed."""
    text = 'plan "É😀"\n starts 2027-03-01\n lasts 8 weeks\n tell "é😀" oops\n'
    before = ' tell "é😀" '
    columns = {"utf-16": len(before.encode("utf-16-le")) // 2, "utf-8": len(before.encode()), "utf-32": len(before)}

    async def test(editor: Editor) -> None:
        assert editor.initialized.capabilities.position_encoding == encoding
        uri = editor.open(tmp_path / "one.plan", text)
        found = next(d for d in await editor.findings(uri) if d.code == "unreadable")
        assert (found.range.start.line, found.range.start.character) == (3, columns[encoding])

    with_editor(test, None if encoding == "utf-16" else [encoding])


def test_a_word_that_was_most_likely_meant_is_a_quick_fix(tmp_path):
    async def test(editor: Editor) -> None:
        text = ALLOTMENT.replace("within 24 hours", "by next mornig")
        uri = editor.open(tmp_path / "one.plan", text)
        found = next(d for d in await editor.findings(uri) if d.code == "unreadable")
        (action,) = await editor.fixes(uri, found)
        assert action.title == 'Write "next morning"'
        (edit,) = action.edit.changes[uri]
        line = text.splitlines()[edit.range.start.line]
        fixed = line[: edit.range.start.character] + edit.new_text + line[edit.range.end.character :]
        assert fixed.split() == ["settle", "by", "next", "morning"]

    with_editor(test)


def test_what_mend_proposes_is_a_quick_fix_and_a_draft(tmp_path):
    async def test(editor: Editor) -> None:
        text = ALLOTMENT.replace("by         2027-07-04", "by         week 8", 1)
        uri = editor.open(tmp_path / "one.plan", text)
        found = next(d for d in await editor.findings(uri) if str(d.code).startswith("target-"))
        actions = await editor.fixes(uri, found)
        assert actions
        for action in actions:
            assert "draft" in action.title
            assert any("state" in edit.new_text and "draft" in edit.new_text for edit in action.edit.changes[uri])

    with_editor(test)


def test_hover_says_what_a_step_works_out_to(tmp_path):
    async def test(editor: Editor) -> None:
        uri = editor.open(tmp_path / "one.plan", ALLOTMENT)
        said = await editor.hover(uri, line_of(ALLOTMENT, "3x10 at 2 kg") + 0, 4)
        assert "reach" in said
        line = line_of(ALLOTMENT, "then       3x10 at 2 kg")
        said = await editor.hover(uri, line, 4)
        assert "Step 5 of 5: **3x10 at 2 kg, dining chair, hands on thighs**" in said
        assert "training week 9, calendar week 9, from 2027-04-26" in said

    with_editor(test)


def test_hover_says_what_a_waived_rule_rests_on(tmp_path):
    async def test(editor: Editor) -> None:
        text = ALLOTMENT + 'waive no-room-for-rest by T-03 because "x" until 2027-06-01\n'
        uri = editor.open(tmp_path / "one.plan", text)
        said = await editor.hover(uri, line_of(text, "waive"), 10)
        assert "**no-room-for-rest** (unrealistic" in said
        assert "Thomas et al 2021" in said

    with_editor(test)


def test_whoever_types_does_not_wait_for_a_check(tmp_path):
    async def test() -> None:
        server, checking = Server(), threading.Event()
        uri = (tmp_path / "one.plan").as_uri()
        server.documents[uri] = opened(uri, ALLOTMENT)
        check = asyncio.create_task(server.asked(uri, lambda _: checking.wait(LIMIT), False, slow=True))
        try:
            assert await server.asked(uri, lambda document: document.kind, None) == "plan"
            assert not check.done()
        finally:
            checking.set()
        assert await check

    asyncio.run(asyncio.wait_for(test(), LIMIT))


OFFERED = [
    ("waive no-", "no-room-for-rest"),
    ("exercise stair\n  kind ", "strength"),
    ("exercise stair\n  works ", "quadriceps"),
    ("exercise stair\n  progress every 2 ", "weeks"),
    ('session "X"\n  do ', "knee-bends"),
    ('session "X"\n  in turn with "', "Chair and bench"),
    ("exercise stair\n  ", "begin"),
    ("today\n  ", "chair-stands"),
    ('goal "x"\n  measured by ', "daily-steps"),
    ("exer", "exercise"),
]


def test_completion_offers_what_may_follow_and_says_what_it_is(tmp_path):
    async def test(editor: Editor) -> None:
        for number, (typed, expected) in enumerate(OFFERED):
            text = ALLOTMENT + typed
            uri = editor.open(tmp_path / f"{number}.plan", text)
            lines = text.split("\n")
            offered = await editor.complete(uri, len(lines) - 1, len(lines[-1]))
            found = [item for item in offered if item.label == expected]
            assert [bool(item.documentation) for item in found] == [True], typed

    with_editor(test)


def test_nothing_is_offered_in_free_text_and_remarks(tmp_path):
    async def test(editor: Editor) -> None:
        text = 'plan "P"\n  tell "half a li\n  # a remark '
        uri = editor.open(tmp_path / "one.plan", text)
        assert await editor.complete(uri, 1, 17) == []
        assert await editor.complete(uri, 2, 13) == []

    with_editor(test)


def test_names_lead_to_where_they_are_described(tmp_path):
    (tmp_path / "clinic.yaml").write_text("clinic: Riverside\n", "utf-8")
    (tmp_path / "clinic.plan").write_text(LIBRARY, "utf-8")
    (tmp_path / "base.plan").write_text(TEMPLATE, "utf-8")

    async def test(editor: Editor) -> None:
        text = ALLOTMENT.replace("do         sit-to-stand,", "do         heel-raise, sit-to-stand,").replace(
            "  revision   1", '  revision   1\n  use library "clinic.plan"'
        )
        uri = editor.open(tmp_path / "one.plan", text)
        line = line_of(text, "do         heel-raise")
        here = await editor.definition(uri, line, column(text, line, "sit-to-stand") + 2)
        assert (here.uri, here.range.start.line) == (uri, line_of(text, "exercise sit-to-stand"))
        there = await editor.definition(uri, line, column(text, line, "heel-raise") + 2)
        assert (there.uri, there.range.start.line) == ((tmp_path / "clinic.plan").as_uri(), 1)
        labels = [item.label for item in await editor.complete(uri, line, column(text, line, "heel-raise"))]
        assert "heel-raise" in labels

        made = editor.open(tmp_path / "two.plan", MADE)
        template = (tmp_path / "base.plan").as_uri()
        blank = await editor.definition(made, 2, 8)
        assert (blank.uri, blank.range.start.line) == (template, 1)
        whole = await editor.definition(made, 1, 20)
        assert whole.uri == template

    with_editor(test)


def test_findings_of_a_template_stand_on_the_plans_own_line(tmp_path):
    (tmp_path / "clinic.yaml").write_text("clinic: Riverside\n", "utf-8")
    (tmp_path / "base.plan").write_text(TEMPLATE, "utf-8")

    async def test(editor: Editor) -> None:
        uri = editor.open(tmp_path / "two.plan", MADE)
        last = len(MADE.splitlines())
        found = await editor.findings(uri)
        assert found
        assert all(d.range.end.line < last for d in found)
        related = [r.location.uri for d in found for r in d.related_information or ()]
        assert (tmp_path / "base.plan").as_uri() in related

    with_editor(test)


def test_a_wrong_clinic_file_is_told_and_the_built_in_rules_run(tmp_path):
    (tmp_path / "clinic.yaml").write_text("clinc: Riverside\n", "utf-8")

    async def test(editor: Editor) -> None:
        uri = editor.open(tmp_path / "one.plan", ALLOTMENT.replace("room for   3 weeks", "# none"))
        found = await editor.findings(uri)
        assert "the clinic's rules can't be used" in found[0].message
        assert any(d.code == "no-room-for-rest" for d in found)

    with_editor(test)


def test_formatting_folding_and_symbols(tmp_path):
    async def test(editor: Editor) -> None:
        uri = editor.open(tmp_path / "one.plan", ALLOTMENT.replace("  begin      2x6", "begin 2×6"))
        document = lsp.TextDocumentIdentifier(uri)
        options = lsp.FormattingOptions(tab_size=2, insert_spaces=True)
        (edit,) = await editor.client.text_document_formatting_async(lsp.DocumentFormattingParams(document, options))
        assert edit.new_text == ALLOTMENT
        folds = await editor.client.text_document_folding_range_async(lsp.FoldingRangeParams(document))
        assert (0, 7) in {(f.start_line, f.end_line) for f in folds}
        listed = await editor.client.text_document_document_symbol_async(lsp.DocumentSymbolParams(document))
        names = [one.name for one in listed]
        assert names[0] == "plan Two raised beds by spring"
        assert "exercise sit-to-stand" in names
        assert "session Chair and bench" in names

    with_editor(test)


def test_a_text_that_lies_nowhere_yet_is_checked(tmp_path):
    async def test(editor: Editor) -> None:
        uri = editor.open(tmp_path / "no" / "folder" / "one.plan", 'plan "P"\n lasts 8 weks\n')
        assert "unreadable" in {d.code for d in await editor.findings(uri)}
        new = lsp.TextDocumentItem("untitled:Untitled-1", "plan", 1, 'plan "P"\n lasts 8 weks\n')
        editor.client.text_document_did_open(lsp.DidOpenTextDocumentParams(new))
        assert "unreadable" in {d.code for d in await editor.findings(new.uri)}

    with_editor(test)


def test_a_closed_text_has_no_findings_left(tmp_path):
    async def test(editor: Editor) -> None:
        uri = editor.open(tmp_path / "one.plan", "plan\n")
        assert await editor.findings(uri)
        editor.client.text_document_did_close(lsp.DidCloseTextDocumentParams(lsp.TextDocumentIdentifier(uri)))
        assert await editor.findings(uri, None) == []

    with_editor(test)


TEXTS = ["", "\x00", '"', "<", "\ufffd", "plan", "\r\r\n", "exercise " * 400, "today\n" * 400, "# " + "x" * 5000]


def test_no_text_ends_the_server(tmp_path):
    async def test(editor: Editor) -> None:
        for number, text in enumerate(TEXTS):
            uri = editor.open(tmp_path / f"{number}.plan", text)
            document = lsp.TextDocumentIdentifier(uri)
            await editor.findings(uri)
            await editor.complete(uri, 0, len(text))
            await editor.hover(uri, 0, 0)
            await editor.definition(uri, 9, 9)
            await editor.client.text_document_folding_range_async(lsp.FoldingRangeParams(document))
            await editor.client.text_document_document_symbol_async(lsp.DocumentSymbolParams(document))

    with_editor(test)
