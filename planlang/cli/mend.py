"""`planlang mend`: what makes a plan hold, proposed one by one, and written as a draft when chosen."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planlang.cli.console import echo_json, findings_data, json_option, many, show_findings, width
from planlang.cli.lint import called, packs_option, refused, today_option
from planlang.cli.main import FINDINGS
from planlang.cli.watched import watched
from planlang.text.data import frozen

if TYPE_CHECKING:
    from planlang.checking.check import Checked
    from planlang.model.plan import Plan
    from planlang.planning.mend.proposal import Proposal
    from planlang.text.finding import Finding
    from planlang.text.source import Source

BOM = b"\xef\xbb\xbf"


@click.command("mend")
@click.argument("path", metavar="PLAN")
@click.option("--harder", is_flag=True, help="Also show what asks more of the person.")
@click.option(
    "--apply", "number", type=click.IntRange(1), metavar="N", help="Write proposal N into the plan, as a draft."
)
@click.option("--because", metavar="TEXT", help="Why more may be asked; kept beside the change.")
@packs_option
@today_option
@json_option
def command(
    path: str,
    harder: bool,
    number: int | None,
    because: str | None,
    packs: str | None,
    today: date | None,
    as_json: bool,
) -> int:
    """Propose the smallest single changes that make a plan hold.

    Each is proved by the whole check of the changed plan. Nothing is written without --apply; what is
    written is a draft until a clinician signs it.
    """
    from planlang.checking.fault import RuleFault
    from planlang.model.composing.composed import Composed
    from planlang.model.reading import read_plan
    from planlang.planning.leeway.frame import can_be_reckoned
    from planlang.planning.mend.own_file import in_own_file
    from planlang.planning.mend.proving import MOST
    from planlang.planning.mend.search import proposals

    if because is not None and not because.strip():
        raise click.BadParameter("say in a few words why more may be asked", param_hint="--because")
    try:
        lint = _linter(path, packs, today)
        checked = lint.checked()
    except RuleFault as e:
        return refused(e)
    whole = checked.source if isinstance(checked.source, Composed) else None
    if whole is not None:
        checked = lint.check(whole.flat)
    plan = checked.plan
    if plan is None or not can_be_reckoned(plan):
        return _not_reckoned(path, checked, as_json)
    wanted = harder or because is not None
    with watched("checking", MOST, True) as one_done:

        def prove(text: str) -> tuple[Finding, ...]:
            one_done()
            return lint.findings(text)

        found = proposals(plan, checked.findings, prove, wanted)
    elsewhere = 0
    if whole is not None:
        found, elsewhere = in_own_file(found, whole, lint.reads)
        plan = read_plan(whole.own, plan.catalogue)[0] or plan
    if number is not None:
        return _apply(path, plan, _chosen(found, number, wanted, because), because, as_json)
    if as_json:
        echo_json(_data(plan, found) | ({"elsewhere": elsewhere} if whole is not None else {}))
    else:
        click.echo("\n".join(_text(path, checked.plan or plan, found, wanted, elsewhere)))
    return 0


@frozen
class _Linter:
    """The whole lint of one file, and of changed texts in its place."""

    path: str
    source: Source | Finding
    check: Any
    reads: Any

    def checked(self) -> Checked:
        """The file as it is."""
        from planlang.checking.check import Checked
        from planlang.model.reading import kind_of, read_plan
        from planlang.text.finding import Finding
        from planlang.text.source import Source

        if isinstance(self.source, Finding):
            return Checked(self.source.source or Source(self.path, ""), None, None, (self.source,))
        if kind_of(self.source) not in ("plan", None):
            return Checked(self.source, None, None, read_plan(self.source)[1])
        checked: Checked = self.check(self.source)
        return checked

    def findings(self, text: str) -> tuple[Finding, ...]:
        """The findings of a changed text."""
        from planlang.text.source import Source

        found: tuple[Finding, ...] = self.check(Source(self.path, text)).findings
        return found


def _linter(path: str, packs: str | None, today: date | None) -> _Linter:
    from planlang.checking.beside import InFolder
    from planlang.checking.check import check
    from planlang.checking.standing import Keeping
    from planlang.cli.linted import book_for
    from planlang.model.composing.compose import compose
    from planlang.model.reading import read_plan
    from planlang.text.load import load

    call = called(packs, today)
    book, clinic = book_for(path, call)
    here = Path(path)
    keeping = Keeping(here, bool(clinic and clinic.has_key))
    beside = InFolder(here, clinic.root if clinic else here.parent)

    def whole(source: Source) -> Checked:
        return check(source, book, call.today, keeping, beside=beside, files=beside.files)

    def reads(source: Source) -> Plan | None:
        return read_plan(compose(source, beside.files)[0], book.catalogue)[0]

    return _Linter(path, load(path), whole, reads)


def _not_reckoned(path: str, checked: Checked, as_json: bool) -> int:
    from planlang.report.result import Result

    result = Result(path, checked.source, checked.findings, bool(checked.plan and checked.plan.code))
    if as_json:
        title = checked.plan.title if checked.plan else None
        echo_json({"plan": title, "proposals": [], "findings": findings_data(result)})
    else:
        show_findings(result, err=True)
        click.echo("This plan can't be reckoned until that is put right.", err=True)
    return FINDINGS


def _chosen(found: tuple[Proposal, ...], number: int, harder: bool, because: str | None) -> Proposal:
    """The proposal of that number; one that asks more of the person needs a reason."""
    if number > len(found):
        hint = "" if harder else " With --harder there may be more."
        raise click.BadParameter(f"there are {many(len(found), 'proposal')}.{hint}", param_hint="--apply")
    chosen = found[number - 1]
    if chosen.harder and because is None:
        raise click.UsageError(
            f'Proposal {number} asks more of the person ({chosen.kind}): say why with --because "...".'
        )
    return chosen


def _apply(path: str, plan: Plan, chosen: Proposal, because: str | None, as_json: bool) -> int:
    """Writes the changed text in place of the old, whole."""
    from planlang.planning.mend.edits import Edits, applied, line_above
    from planlang.text.save import save

    edits: Edits = chosen.all_edits(plan)
    if because is not None and chosen.harder:
        said = " ".join(because.split())
        first = min(edit.span.start for edit in chosen.edits)
        edits = (line_above(plan.source, first, f'# asks more than before, because "{said}"'), *edits)
    mark = BOM if Path(path).read_bytes().startswith(BOM) else b""
    failed = save(path, mark + applied(plan.source.text, edits).encode())
    if failed:
        raise click.UsageError(failed)
    if as_json:
        echo_json({**_data(plan, (chosen,)), "applied": path})
    else:
        for line in (f"{path}: {chosen.kind}", *_changed(chosen)):
            click.echo(line)
        click.echo("It is a draft now: read it through, sign it, and take `state draft` out.")
    return 0


def _data(plan: Plan, found: tuple[Proposal, ...]) -> dict[str, Any]:
    return {"plan": plan.title, "proposals": [_one(plan, n, each) for n, each in enumerate(found, 1)]}


def _one(plan: Plan, number: int, one: Proposal) -> dict[str, Any]:
    edits = []
    for edit in one.all_edits(plan):
        place = plan.source.place(edit.span)
        edits.append(
            {
                "line": place.line,
                "column": place.column,
                "end_line": place.end_line,
                "end_column": place.end_column,
                "text": edit.text,
            }
        )
    return {
        "number": number,
        "kind": one.kind,
        "harder": one.harder,
        "target": one.target,
        "rule": one.rule,
        "before": one.before,
        "after": one.after,
        "edits": edits,
    }


def _text(path: str, plan: Plan, found: tuple[Proposal, ...], harder: bool, elsewhere: int) -> Iterator[str]:
    from textwrap import wrap

    from planlang.report.quoting import visible
    from planlang.report.result import NOT_UNDERSTOOD

    columns = width()
    yield from wrap(visible(plan.title), columns)
    if not found:
        yield from wrap(_elsewhere(elsewhere, "proposal") if elsewhere else _nothing(plan, harder), columns)
        return
    for number, one in enumerate(found, 1):
        what = f'for the target "{one.target}"' if one.target else f"for {one.rule}"
        asks = ", asks more of the person" if one.harder else ""
        yield ""
        yield from wrap(visible(f"{number}  {one.kind}, {what}{asks}"), columns, subsequent_indent="   ")
        yield from _changed(one)
    if elsewhere:
        yield ""
        yield from wrap(_elsewhere(elsewhere, "more proposal"), columns)
    yield ""
    closing = (
        f"Each is one change, proved by the whole check; none of them says that the plan is safe. {NOT_UNDERSTOOD} "
        f"`planlang mend {path} --apply N` writes one, as a draft that you then sign."
    )
    yield from wrap(visible(closing), columns, break_on_hyphens=False)


def _elsewhere(count: int, what: str) -> str:
    """What is not offered, since it would change what other plans are made from."""
    is_it = "is not offered: it" if count == 1 else "are not offered: they"
    return (
        f"{many(count, what)} {is_it} would change a "
        "line that comes from the template or a library, and so other people's plans."
    )


def _nothing(plan: Plan, harder: bool) -> str:
    from planlang.planning.leeway.data import Verdict
    from planlang.planning.leeway.verdicts import verdict

    unmet = [t for t in plan.targets if verdict(plan, t).verdict in (Verdict.DEPENDS, Verdict.NEVER)]
    if not unmet:
        return "Nothing to propose: no target needs it, and no finding is about a number that one change would mend."
    also = "" if harder else " With --harder there may be one that asks more of the person."
    return f"No single change makes every target hold without bringing a new finding.{also}"


def _changed(one: Proposal) -> Iterator[str]:
    """The lines that change, as they are and as they would be."""
    from textwrap import wrap

    from planlang.report.quoting import visible

    for sign, lines in (("-", one.before), ("+", one.after)):
        for line in lines.split("; ") if lines else ():
            yield from wrap(f"   {sign} {visible(line)}", width(), subsequent_indent="       ", break_on_hyphens=False)
