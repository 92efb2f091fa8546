"""A rule as `planlang explain` prints it."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import indent, wrap

from planlang.checking.explained import in_words
from planlang.checking.expression.units import quantity_text
from planlang.checking.own import Own
from planlang.checking.rule import Applies, Rule
from planlang.checking.rulebook import Rulebook
from planlang.checking.waivers import UNSAFE_DAYS
from planlang.cli.rules import level_text
from planlang.model.records import Ground
from planlang.text.finding import Level
from planlang.text.meant import listed

GROUNDS = {
    "guideline": "a guideline",
    "trial": "trials",
    "cohort": "cohort studies",
    "consensus": "consensus",
    "common practice": "common practice",
    "arithmetic": "the plan's own numbers",
}
KNOWN = {
    "seen": "read in a published text or table",
    "part": "partly from memory",
    "memory": "from memory",
    "practice": "common practice, no source",
}
COPIED = "    "
"""Begins a line that is there to be copied, and so is never broken."""
CAUTION = "It supports a clinician's judgement and does not replace it; local rules come first."


def own_text(own: Own, columns: int) -> Iterator[str]:
    """One of the engine's own findings, which no rule file holds."""
    yield f"{own.name} ({own.level.value})"
    yield from wrap(own.title, columns)
    yield ""
    yield from wrap(own.why, columns)
    yield "This finding is planlang's own and is in no rule file. " + (
        "It can be waived." if own.waivable else "It can't be waived."
    )


def text(rule: Rule, book: Rulebook, columns: int) -> Iterator[str]:
    """The rule as people read it."""
    contested = "; contested, so advice at most" if rule.contested else ""
    yield from wrap(f"{rule.name} ({level_text(rule, book)}; rests on {GROUNDS[rule.strength]}{contested})", columns)
    yield from wrap(rule.title, columns)
    off = book.off().get(rule.name)
    if off:
        yield from wrap(f'Switched off by the clinic: "{off}"', columns)
    if _applies(rule):
        yield from wrap(f"Only for {_applies(rule)}.", columns)
    yield from _cases(rule, book, columns)
    for head, lines in _parts(rule, book):
        yield from ("", head)
        for line in lines:
            yield from _item(line, columns)
    for head, plans in (("Flagged, on the line marked", rule.flagged), ("Not flagged", rule.clean)):
        yield from ("", head)
        yield indent(plans[0].rstrip(), "    ")
    yield ""
    more = len(rule.flagged) + len(rule.clean) - 2
    also = f" {more} more {'example stands' if more == 1 else 'examples stand'} in its file." if more else ""
    yield from wrap(f"Pack {rule.pack}, since {rule.since}, sources last read {rule.reviewed}.{also}", columns)
    yield from wrap(CAUTION, columns)


def _item(line: str, columns: int) -> list[str]:
    """A line of a list, its later lines set in; or a paragraph."""
    if line.startswith(COPIED):
        return [line]
    later = "    " if line.startswith("- ") or ": " in line[:40] else "  "
    return wrap(line, columns, initial_indent="  ", subsequent_indent=later, break_on_hyphens=False)


def _set_in(part: str, columns: int) -> list[str]:
    """A part of a condition, set in as it is."""
    words = part.lstrip()
    indent = " " * (2 + len(part) - len(words))
    return wrap(f"- {words}", columns, initial_indent=indent, subsequent_indent=f"{indent}  ", break_on_hyphens=False)


def _cases(rule: Rule, book: Rulebook, columns: int) -> Iterator[str]:
    """What it says, then exactly when, case by case; then once what the words mean."""
    cases = in_words(rule, book)
    for number, case in enumerate(cases, 1):
        which = f" ({number} of {len(cases)})" if len(cases) > 1 else ""
        if case.says is not None:
            yield from ("", f"What it says, in one of its examples{which}")
            yield from wrap(case.says, columns, initial_indent="  ", subsequent_indent="  ")
            yield from wrap(case.does or "", columns, initial_indent="  ", subsequent_indent="  ")
        yield from ("", f"When it says so{which}")
        how = f", if {case.joined} of these hold{'s' if case.joined == 'any' else ''}" if case.joined else ", if"
        yield from wrap(f"For {case.looks_at}{how}:", columns, initial_indent="  ", subsequent_indent="  ")
        for part in case.parts:
            yield from _set_in(part, columns)
        for name, (first, *more) in case.where:
            yield from wrap(f'where "{name}" means: {first}', columns, initial_indent="  ", subsequent_indent="    ")
            for part in more:
                yield from _set_in(part, columns)
    meanings = {name: meaning for case in cases for name, meaning in case.facts}
    if meanings:
        yield from ("", "What the words mean")
        for name, meaning in meanings.items():
            yield from _item(f"{name}: {meaning}", columns)


def _parts(rule: Rule, book: Rulebook) -> Iterator[tuple[str, list[str]]]:
    if rule.settings:
        yield "Settings, within these bounds", [_setting(one) for one in settings(rule, book)]
    for name, by_language in rule.words:
        said = [f"{language}: {', '.join(words)}" for language, words in by_language]
        yield f'The words "{name.replace("-", " ")}"', said
    yield "Why", [rule.why]
    yield "May miss, or flag wrongly", [rule.limits]
    yield "Rests on", [f"- {_ground(ground)}" for ground in rule.sources]
    if rule.gives_way_to:
        yield "Says nothing where one of these does", [", ".join(rule.gives_way_to)]
    if rule.aliases:
        yield "Formerly", [", ".join(rule.aliases)]
    yield "Where it is right all the same", list(_otherwise(rule, book))


def _setting(one: dict[str, str]) -> str:
    written = "" if one["value"] == one["as_written"] else f" here, {one['as_written']} as written"
    return f"{one['name']}: {one['value']}{written} (from {one['at_least']} to {one['at_most']}): {one['means']}"


def _ground(ground: Ground) -> str:
    """A source and how it is known; `common practice, no source` says it itself."""
    said = ground.known == "practice" and "no source" in ground.source
    return ground.source if said else f"{ground.source} ({KNOWN[ground.known]})"


def _otherwise(rule: Rule, book: Rulebook) -> Iterator[str]:
    """How to waive it for one person, and to switch it off for a clinic."""
    if rule.never_waived:
        yield "No waiver holds for this rule, and no clinic switches it off."
        return
    level = book.level(rule)
    yield "For one plan, a line in it:"
    yield f'{COPIED}waive {rule.name} by T-03 because "the reason" until 2027-05-01'
    if any(case.never_waived for case in rule.cases):
        yield "Not everything that it flags can be waived."
    signed = book.may_waive.get(level)
    if signed is not None:
        yield f"Who may waive what is {level.value} here: {', '.join(sorted(signed)) or 'nobody'}."
    if level is Level.UNSAFE:
        yield f"What is unsafe is waived for at most {UNSAFE_DAYS} days from the date on which the plan was written."
    yield "For a clinic, in clinic.yaml:"
    yield f'{COPIED}rules: {{{rule.name}: {{off: "the reason"}}}}'


def _applies(rule: Rule) -> str:
    to = rule.applies
    said = [*to.conditions, *(f"after {name}" for name in to.operations)]
    if to.files != Applies().files:
        said.append(f"files of the kind {listed(to.files)}")
    if to.from_age is not None:
        said.append(f"people of {to.from_age} or older")
    if to.below_age is not None:
        said.append(f"people under {to.below_age}")
    return listed(said, "and")


def settings(rule: Rule, book: Rulebook) -> list[dict[str, str]]:
    """The rule's settings as in force, with their bounds."""
    return [
        {
            "name": s.name.replace("-", " "),
            "value": quantity_text(book.value(rule, s), s.unit),
            "as_written": quantity_text(s.value, s.unit),
            "at_least": quantity_text(s.least, s.unit),
            "at_most": quantity_text(s.most, s.unit),
            "means": s.means,
        }
        for s in rule.settings
    ]
