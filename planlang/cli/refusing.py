"""What the commands share that write something for a person: a plan under its clinic's rules, and refusing alike."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click
from attrs import evolve

from planlang.cli.console import echo_json, findings_data, show_findings
from planlang.cli.main import FINDINGS
from planlang.cli.rest_option import placed_rest
from planlang.text.data import frozen

if TYPE_CHECKING:
    from planlang.checking.check import Checked
    from planlang.checking.clinic import Clinic
    from planlang.checking.rulebook import Rulebook
    from planlang.model.plan import Plan
    from planlang.planning.past import Past
    from planlang.planning.telling.telling import Contacts
    from planlang.report.result import Result
    from planlang.text.finding import Finding
    from planlang.text.languages.catalogue import Texts
    from planlang.text.languages.words import Words
    from planlang.text.source import Source


@frozen
class Case:
    """A plan that something is made of for its person, under its clinic's rules."""

    path: str
    checked: Checked
    book: Rulebook
    clinic: Clinic | None

    def result(self, findings: tuple[Finding, ...]) -> Result:
        """The findings as a report shows them."""
        from planlang.report.result import Result

        plan = self.checked.plan
        return Result(self.path, self.checked.source, findings, person=plan is not None and plan.code is not None)

    @property
    def contacts(self) -> Contacts:
        """Whom the person may call."""
        from planlang.planning.telling.telling import Contacts

        numbers = self.clinic.contacts if self.clinic else {}
        return Contacts(numbers.get("emergency"), numbers.get("same-day"), numbers.get("clinic"))

    def plan(self) -> Plan:
        """The plan, in the clinic's zone where it names none. Only where nothing stands against it."""
        plan = self.checked.plan
        assert plan is not None
        if plan.zone is None and self.clinic and self.clinic.zone:
            plan = evolve(plan, zone=self.clinic.zone)
        return plan

    def placed(self, rest: str) -> frozenset[int]:
        """The calendar weeks of a `--rest` option."""
        return placed_rest(rest, self.plan())

    def words(self, language: str | None) -> Words:
        """The words of a language, unsaid the plan's own."""
        from planlang.text.languages.catalogue import is_code
        from planlang.text.languages.words import NoLocales, words

        if language is not None and not is_code(language):
            raise click.BadParameter(f'"{language}" is no language code; write one such as es', param_hint="--language")
        own = self.plan().language
        own = own if is_code(own) else "en"  # a word such as `english`: see `about_language`
        try:
            return words(language or own, own, self._texts())
        except NoLocales as fault:
            raise click.UsageError(str(fault)) from None

    def about_language(self, words: Words) -> tuple[Finding, ...]:
        """What is to be said of the language that the person's texts are in."""
        from planlang.text.finding import Finding, Level
        from planlang.text.languages.catalogue import is_code
        from planlang.text.languages.gaps import untranslated

        plan = self.plan()
        place = plan.places.get("language", plan.span)
        found = untranslated(words, place, plan.source)
        if is_code(plan.language):
            return found
        message = f"`language {plan.language}` is no language code; the person's texts are taken for English"
        help = "Write one such as `language en` or `language es`."
        return (Finding("language-not-known", Level.ADVICE, message, place, plan.source, help), *found)

    def _texts(self) -> list[Texts]:
        """The clinic's own texts. A file of them that can't be read is the clinic's fault, as all its settings are."""
        from planlang.checking.fault import RuleFault
        from planlang.planning.telling.own_texts import not_of_data
        from planlang.text.languages.catalogue import english, read_catalogue

        found = []
        for path in self.clinic.languages if self.clinic else ():
            texts, faults = read_catalogue(path, english())
            faults = faults or not_of_data(texts, self.plan().catalogue, path)
            if texts is None or faults:
                raise click.UsageError(f"the clinic's texts can't be used.\n{RuleFault(faults)}")
            found.append(texts)
        return found


def case_of(path: str, today: date | None) -> tuple[Case | None, Result]:
    """The plan in a file, checked; and what stands against giving anything made of it to the person.

    The case is None where something does; the result then holds that, else everything that was found.
    """
    from planlang.checking.beside import InFolder
    from planlang.checking.check import blocks, check
    from planlang.checking.inside import read_inside
    from planlang.checking.standing import Keeping
    from planlang.model.reading import kind_of
    from planlang.report.result import Result
    from planlang.text.finding import Finding

    book, clinic = clinic_of(path)
    source = read_inside(path)
    if isinstance(source, Finding):
        return None, Result(path, source.source, (source,))
    kind = kind_of(source)
    if kind in FOR_NOBODY:
        return None, Result(path, source, (_for_nobody(source, kind),))
    keeping = Keeping(Path(path), bool(clinic and clinic.has_key))
    beside = InFolder(Path(path), clinic.root if clinic else Path(path).parent)
    numbers = dict(clinic.contacts) if clinic else {}
    checked = check(source, book, today, keeping, beside=beside, contacts=numbers, files=beside.files)
    case = Case(path, checked, book, clinic)
    against = blocks(checked, today)
    if against or checked.plan is None:
        return None, case.result(against or checked.findings)
    return case, case.result(checked.findings)


FOR_NOBODY = {
    "template": "Make a plan from it with `planlang start`, for one person, and give out what is made of that.",
    "library": "Name it in a plan (`use library`), and give out what is made of that.",
    "diary": "Give it beside the plan, with --diary.",
}


def _for_nobody(source: Source, kind: str) -> Finding:
    from planlang.text.finding import Finding, Level
    from planlang.text.source import Span

    at = source.text.find(kind)
    message = f"this is a {kind}, which is no one person's plan: nothing of it goes to anybody"
    place = Span(at, at + len(kind))
    return Finding("not-a-plan", Level.UNSAFE, message, place, source, FOR_NOBODY[kind], blocks=True)


def calendar_key(clinic: Clinic | None) -> bytes | None:
    """The clinic's secret for identities; None where it has none."""
    if clinic is None or clinic.key_file is None or not clinic.has_key:
        return None
    try:
        key = clinic.key_file.read_bytes().strip()
    except OSError as e:
        raise click.UsageError(f"the calendar key {clinic.key_file.name} can't be read: {e.strerror or e}") from None
    if not key:
        raise click.UsageError(f"the calendar key {clinic.key_file.name} is empty; make one, at random, and keep it")
    return key


def clinic_of(path: str) -> tuple[Rulebook, Clinic | None]:
    """The rules in force where a plan lies, and its clinic."""
    from planlang.checking.clinic import rulebook
    from planlang.checking.fault import RuleFault
    from planlang.checking.nearest import find_clinic

    try:
        return rulebook(find_clinic(Path(path).parent))
    except RuleFault as fault:
        raise click.UsageError(f"the clinic's rules can't be used.\n{fault}") from None


def looked_back(case: Case, diary: str, today: date | None) -> tuple[Past | None, Result]:
    """The plan with its diary, up to `today`, unsaid the diary's last day; None where something stands against it.

    What stands against giving anything to the person: a line that can't be read, and a sign that nobody has answered.
    """
    from planlang.cli.diary_option import past_at
    from planlang.planning.open_flags import open_flags, stands_open

    past, result = past_at(diary, case.plan(), today)
    if past is None or any(f.blocks or f.rule == "unreadable" for f in result.findings):
        return None, result if result.findings else case.result(case.checked.findings)
    against = tuple(stands_open(entry, past.diary) for entry in open_flags(past.diary, past.as_of))
    if against:
        return None, evolve(result, findings=(*against, *result.findings))
    return past, result


def refuse(result: Result, as_json: bool, what: str) -> int:
    """Says why nothing is written, and the exit code. `what`: `calendar`, `sheet`."""
    if as_json:
        echo_json({"file": None, "findings": findings_data(result)})
    else:
        show_findings(result, err=True)
        click.echo(f"No {what} was written: nothing goes to the person until that is put right.", err=True)
    return FINDINGS


def save_as(output: str, data: bytes) -> None:
    """Puts the bytes in place whole, or says why not."""
    from planlang.text.save import save

    said = save(output, data)
    if said:
        raise click.BadParameter(said, param_hint="-o")


def writable(path: str, output: str, endings: tuple[str, ...], what: str) -> None:
    """Refuses a name that is the plan's own or ends in nothing that can be written."""
    if not output.endswith(endings):
        raise click.BadParameter(f"{what}'s name ends in {' or '.join(endings)}", param_hint="-o")
    if Path(output).resolve() == Path(path).resolve():
        raise click.BadParameter("that is the plan itself", param_hint="-o")
