"""`planlang explain`: one rule, so that a clinician understands it without its file."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import indent, wrap
from typing import TYPE_CHECKING, Any

import click

from planlang.cli.console import echo_json, json_option, width
from planlang.cli.lint import called, packs_option, refused

if TYPE_CHECKING:
    from planlang.checking.own import Own
    from planlang.checking.rule import Rule
    from planlang.checking.rulebook import Rulebook


@click.command("explain")
@click.argument("name", metavar="RULE")
@packs_option
@json_option
def command(name: str, packs: str | None, as_json: bool) -> int:
    """Explain one rule: what it looks for, why, on what ground, with examples."""
    from planlang.checking.fault import RuleFault
    from planlang.checking.own import OWN
    from planlang.cli.linted import book_for
    from planlang.text.meant import did_you_mean

    try:
        book, _ = book_for("-", called(packs))
    except RuleFault as e:
        return refused(e)
    rule = book.rule(name)
    if rule is not None:
        if as_json:
            echo_json(data(rule, book))
        else:
            click.echo("\n".join(text(rule, book, min(width(), 100))))
        return 0
    own = OWN.get(name)
    if own is None:
        near = did_you_mean(name, [*book.by_name, *OWN])
        raise click.UsageError(f'There is no rule "{name}". {near}'.strip())
    if as_json:
        echo_json(
            {"name": own.name, "level": own.level.value, "title": own.title, "why": own.why, "waivable": own.waivable}
        )
    else:
        click.echo("\n".join(_own(own, min(width(), 100))))
    return 0


def _own(own: Own, columns: int) -> Iterator[str]:
    yield f"{own.name} ({own.level.value})"
    yield from wrap(own.title, columns)
    yield ""
    yield from wrap(own.why, columns)
    yield "This finding is planlang's own and is in no rule file. " + (
        "It can be waived." if own.waivable else "It can't be waived."
    )


def text(rule: Rule, book: Rulebook, columns: int) -> Iterator[str]:
    """The rule as people read it."""
    yield f"{rule.name} ({book.level(rule).value}, {rule.strength}{', contested' if rule.contested else ''})"
    yield from wrap(rule.title, columns)
    off = book.off().get(rule.name)
    if off:
        yield from wrap(f'Switched off by the clinic: "{off}"', columns)
    for head, said in _parts(rule, book):
        yield ""
        yield from wrap(f"{head}: {said}", columns, subsequent_indent="  ", break_on_hyphens=False)
    for head, plans in (("Flagged", rule.flagged), ("Not flagged", rule.clean)):
        yield ""
        yield f"{head}:"
        yield indent(plans[0].rstrip(), "    ")
    yield ""
    yield f"Pack {rule.pack}, since {rule.since}, sources last read {rule.reviewed}."


def _parts(rule: Rule, book: Rulebook) -> Iterator[tuple[str, str]]:
    for number, spoken in enumerate(rule.spoken, 1):
        which = f" {number}" if len(rule.spoken) > 1 else ""
        yield f"Looks at{which}", spoken.looks_at
        for name, reckoned in spoken.reckons:
            yield f"Where {name.replace(' ', '-')} is", reckoned
        yield f"Flags when{which}", spoken.flags_when
    if _applies(rule):
        yield "Only for", _applies(rule)
    for setting in settings(rule, book):
        yield (
            f"Setting {setting['name']}",
            (f"{setting['value']} ({setting['at_least']} to {setting['at_most']}): {setting['means']}"),
        )
    for name, by_language in rule.words:
        yield f"Words {name}", "; ".join(f"{language}: {', '.join(words)}" for language, words in by_language)
    yield "Why", rule.why
    yield "May miss or wrongly flag", rule.limits
    yield "Rests on", "; ".join(rule.source_lines())
    if rule.gives_way_to:
        yield "Says nothing where another does", ", ".join(rule.gives_way_to)
    if rule.aliases:
        yield "Formerly", ", ".join(rule.aliases)
    if rule.never_waived:
        yield "Waivers", "none holds for this rule"


def _applies(rule: Rule) -> str:
    to = rule.applies
    said = [*to.conditions, *(f"after {name}" for name in to.operations)]
    if to.from_age is not None:
        said.append(f"people of {to.from_age} or older")
    if to.below_age is not None:
        said.append(f"people under {to.below_age}")
    return ", ".join(said)


def settings(rule: Rule, book: Rulebook) -> list[dict[str, str]]:
    """The rule's settings as in force, with their bounds."""
    from planlang.checking.expression.units import quantity_text

    return [
        {
            "name": s.name.replace("-", " "),
            "value": quantity_text(book.value(rule, s), s.unit),
            "at_least": quantity_text(s.least, s.unit),
            "at_most": quantity_text(s.most, s.unit),
            "means": s.means,
        }
        for s in rule.settings
    ]


def data(rule: Rule, book: Rulebook) -> dict[str, Any]:
    """The rule's parts."""
    to = rule.applies
    return {
        "name": rule.name,
        "pack": rule.pack,
        "title": rule.title,
        "level": book.level(rule).value,
        "strength": rule.strength,
        "contested": rule.contested,
        "off": book.off().get(rule.name),
        "applies": {
            "conditions": list(to.conditions),
            "operations": list(to.operations),
            "from_age": to.from_age,
            "below_age": to.below_age,
            "files": list(to.files),
        },
        "cases": [
            {
                "looks_at": spoken.looks_at,
                "reckons": dict(spoken.reckons),
                "flags_when": spoken.flags_when,
                "message": spoken.message,
                "help": spoken.help,
            }
            for spoken in rule.spoken
        ],
        "settings": settings(rule, book),
        "words": {name: {language: list(words) for language, words in by} for name, by in rule.words},
        "why": rule.why,
        "limits": rule.limits,
        "sources": list(rule.source_lines()),
        "gives_way_to": list(rule.gives_way_to),
        "aliases": list(rule.aliases),
        "never_waived": rule.never_waived,
        "since": rule.since,
        "reviewed": rule.reviewed,
        "flagged": list(rule.flagged),
        "clean": list(rule.clean),
    }
