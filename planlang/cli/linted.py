"""Files checked, one by one or by several processes at once; what comes back can be sent between them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path

from attrs import evolve, field

from planlang.checking.beside import Folders, InFolder
from planlang.checking.check import check
from planlang.checking.clinic import Clinic, rulebook
from planlang.checking.nearest import find_clinic
from planlang.checking.own import OWN
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook
from planlang.checking.standing import Keeping
from planlang.report.result import Result, RuleInfo
from planlang.text.data import frozen
from planlang.text.finding import Finding
from planlang.text.load import load, load_standard_input
from planlang.text.source import Source

BATCH = 50
"""Files a process is given at once."""


@frozen
class Call:
    """What a run was asked for. `clinic`: the file to use instead of the nearest one; `packs`: further packs."""

    today: date | None = None
    clinic: Path | None = None
    packs: tuple[Path, ...] = ()
    stdin_name: str = "-"


@frozen
class Linted:
    """One file: its findings; the rules that ran (none where it holds no plan), weren't judged, or are off and why."""

    result: Result
    rules: tuple[str, ...] = ()
    not_judged: tuple[str, ...] = ()
    off: dict[str, str] = field(factory=dict)


def book_for(name: str, call: Call) -> tuple[Rulebook, Clinic | None]:
    """The rules for a file: of the clinic's file named in the call, else of the nearest one above. Raises RuleFault."""
    found = call.clinic or find_clinic(Path(name).parent)
    return rulebook(found, call.packs)


def lint_file(name: str, call: Call, folders: Folders | None = None) -> Linted:
    """One file checked; `-` is standard input; `folders` is the run's. Raises RuleFault where its rules are wrong."""
    shown = call.stdin_name if name == "-" else name
    book, clinic = book_for(shown, call)
    source = load_standard_input(shown) if name == "-" else load(name)
    if isinstance(source, Finding):
        return Linted(Result(shown, source.source, (source,)), off=book.off())
    return _lint(source, book, clinic, None if name == "-" else Path(name), call, folders or Folders())


def _lint(
    source: Source, book: Rulebook, clinic: Clinic | None, path: Path | None, call: Call, folders: Folders
) -> Linted:
    keeping = Keeping(path, bool(clinic and clinic.has_key))
    beside = InFolder(path, clinic.root if clinic else path.parent, folders) if path else None
    contacts = dict(clinic.contacts) if clinic else {}
    root = clinic.root if clinic else (path or Path(source.name)).parent
    files = folders.library(root)
    checked = check(source, book, call.today, keeping, beside=beside, contacts=contacts, files=files)
    person = checked.plan is not None and checked.plan.code is not None
    result = Result(source.name, checked.source, checked.findings, person)
    return Linted(result, checked.rules, checked.not_judged, book.off())


def lint_batch(names: tuple[str, ...], call: Call) -> list[Linted]:
    """Several files, with every text made, so that it can go from one process to another."""
    folders = Folders()
    return [_made(lint_file(name, call, folders)) for name in names]


def _made(linted: Linted) -> Linted:
    findings = tuple(evolve(finding, help=finding.advice) for finding in linted.result.findings)
    return evolve(linted, result=evolve(linted.result, findings=findings))


def lint_all(names: list[str], call: Call, jobs: int = 1) -> Iterator[Linted]:
    """Every file, in the order given, by so many processes."""
    if jobs <= 1 or len(names) < 2:
        folders = Folders()
        for name in names:
            yield lint_file(name, call, folders)
        return
    from concurrent.futures import ProcessPoolExecutor

    size = max(1, min(BATCH, -(-len(names) // jobs)))
    batches = [tuple(names[i : i + size]) for i in range(0, len(names), size)]
    with ProcessPoolExecutor(min(jobs, len(batches))) as pool:
        for done in pool.map(lint_batch, batches, [call] * len(batches)):
            yield from done


def infos(rules: Iterable[Rule]) -> dict[str, RuleInfo]:
    """What a report says of each rule, and of the engine's own findings."""
    own = {o.name: RuleInfo(o.title, o.why, o.level) for o in OWN.values()}
    return own | {r.name: RuleInfo(r.title, r.why, r.level, r.source_lines()) for r in rules}
