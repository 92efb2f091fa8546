"""`planlang explain`: one rule, so that a clinician understands it without its file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from planlang.cli.console import echo_json, json_option, width
from planlang.cli.lint import called, packs_option, refused

if TYPE_CHECKING:
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
    from planlang.cli.explain_text import own_text, text
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
        click.echo("\n".join(own_text(own, min(width(), 100))))
    return 0


def data(rule: Rule, book: Rulebook) -> dict[str, Any]:
    """The rule's parts."""
    from planlang.checking.explained import in_words
    from planlang.cli.explain_text import settings

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
                "in_words": {
                    "looks_at": words.looks_at,
                    "joined": words.joined or None,
                    "parts": list(words.parts),
                    "where": {name: list(what) for name, what in words.where},
                    "facts": dict(words.facts),
                    "says": words.says,
                    "does": words.does,
                },
            }
            for spoken, words in zip(rule.spoken, in_words(rule, book), strict=True)
        ],
        "settings": settings(rule, book),
        "words": {name: {language: list(words) for language, words in by} for name, by in rule.words},
        "why": rule.why,
        "limits": rule.limits,
        "sources": list(rule.source_lines()),
        "known": [ground.known for ground in rule.sources],
        "gives_way_to": list(rule.gives_way_to),
        "aliases": list(rule.aliases),
        "never_waived": rule.never_waived,
        "since": rule.since,
        "reviewed": rule.reviewed,
        "flagged": list(rule.flagged),
        "clean": list(rule.clean),
    }
