"""A text that is open in an editor: read when first asked, checked when first asked, never twice."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path

from attrs import field

from planlang.checking.check import Checked, check
from planlang.checking.fault import RuleFault
from planlang.checking.file import Run, check_text
from planlang.checking.rulebook import Rulebook, built_in
from planlang.model.composing.compose import compose
from planlang.model.composing.composed import Composed
from planlang.model.known import Catalogue
from planlang.model.plan import Plan
from planlang.model.reading import kind_of, read_plan
from planlang.planning.reckon import reckon
from planlang.planning.week import Weeks
from planlang.syntax.blocks import opens
from planlang.syntax.nodes import Script, Statement, Unread
from planlang.syntax.read import read
from planlang.syntax.statements import HEADERS
from planlang.text.data import define, frozen
from planlang.text.finding import Finding, unreadable
from planlang.text.source import Source, Span


@frozen
class Section:
    """A block of the file: its header, its kind, and the last offset that belongs to it."""

    header: Statement
    kind: str
    end: int


@define(frozen=True, slots=False, eq=False)
class Document:
    """One version of a text. `path`: where its file lies, or None for one that isn't saved yet."""

    source: Source
    path: Path | None = None
    run: Run = field(factory=Run)

    @cached_property
    def script(self) -> Script:
        """Its lines."""
        return read(self.source)

    @cached_property
    def kind(self) -> str | None:
        """What kind of file it is."""
        return kind_of(self.source)

    @cached_property
    def sections(self) -> tuple[Section, ...]:
        """Its blocks, in order."""
        headers = [line for line in self.script.lines if isinstance(line, Statement) and line.name in HEADERS]
        ends = [*(h.span.start for h in headers[1:]), len(self.source.text)][: len(headers)]
        return tuple(Section(h, opens(h), end) for h, end in zip(headers, ends, strict=True))

    @cached_property
    def rules(self) -> Rulebook:
        """The rules in force; the built-in ones where the clinic's are wrong."""
        try:
            return self.run.book(self._where)[0]
        except RuleFault:
            return built_in()

    @property
    def catalogue(self) -> Catalogue:
        """The conditions and measures that are known here."""
        return self.rules.catalogue

    @cached_property
    def checked(self) -> Checked:
        """The whole lint. Where the clinic's rules are wrong that is one finding, and the built-in rules run."""
        try:
            return check_text(self.source, self.run, self.path)
        except RuleFault as fault:
            told = unreadable(
                "the clinic's rules can't be used, so the built-in ones ran", Span(0, 0), self.source, str(fault)
            )
            checked = check(self.source, built_in(), self.run.today)
            return Checked(checked.source, checked.plan, checked.weeks, (told, *checked.findings), checked.rules)

    @cached_property
    def _read(self) -> tuple[Source, Plan | None]:
        """What the file comes to with what it names, read and not checked: quick, whatever the file is."""
        if self.kind != "plan":
            return self.source, None
        files = self.run.folders.library(self.run.root(self.path)) if self.path is not None else None
        whole = compose(self.source, files)[0]
        return whole, read_plan(whole, self.catalogue)[0]

    @property
    def plan(self) -> Plan | None:
        """The plan, put together with what it names."""
        return self._read[1]

    @cached_property
    def weeks(self) -> Weeks | None:
        """The plan's weeks, where no rest falls."""
        return reckon(self.plan) if self.plan is not None else None

    @property
    def found(self) -> tuple[Finding, ...]:
        """What the check has found, if it has been made: nobody waits for it here."""
        made = self.__dict__.get("checked")
        return made.findings if made is not None else ()

    @property
    def _where(self) -> Path:
        return self.path if self.path is not None else Path(self.source.name)

    def block_at(self, offset: int) -> Section | None:
        """The block that an offset stands in."""
        return next((s for s in reversed(self.sections) if s.header.span.start <= offset), None)

    def line_at(self, offset: int) -> Statement | Unread | None:
        """The line that an offset stands in or right behind."""
        number = self.source.line_of(offset)
        return next((one for one in self.script.lines if self.source.line_of(one.span.start) == number), None)

    def inside(self, own: Span) -> Span:
        """The span, in the text that the plan was read from, of one of this file."""
        whole = self._read[0]
        return whole.at(own) if isinstance(whole, Composed) else own

    def origin(self, span: Span) -> tuple[Source, Span]:
        """The file and place that a span of the plan comes from."""
        whole = self._read[0]
        return whole.origin(span) if isinstance(whole, Composed) else (self.source, span)

    def opened(self, name: str) -> Source | None:
        """A file that this one names."""
        if self.path is None:
            return None
        found = self.run.folders.library(self.run.root(self.path)).open(name, self.source)
        return found if isinstance(found, Source) else None

    @cached_property
    def named(self) -> tuple[Source, ...]:
        """The template and libraries that this file names itself, those that can be opened."""
        names = [
            line.text()
            for line in self.script.lines
            if isinstance(line, Statement) and line.name in ("use_library", "from_template")
        ]
        found = [self.opened(name) for name in names]
        more = [Document(s, Path(s.name), self.run) for s in found if s is not None]
        inner = [s for one in more if one.kind == "template" for s in one.named]
        return tuple(dict.fromkeys([s for s in found if s is not None] + inner))
