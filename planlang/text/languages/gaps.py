"""What stands in English on a page of another language, as findings."""

from __future__ import annotations

from planlang.text.finding import Finding, Level
from planlang.text.languages.words import Words
from planlang.text.source import Source, Span


def untranslated(told: Words, span: Span | None, source: Source) -> tuple[Finding, ...]:
    """What stands in English on a page of another language: the safety lines in one finding, all else in another."""
    if told.in_english:
        return ()
    found = []
    name = told.texts.name if told.texts else f'"{told.code}"'
    safety = sorted(key for key, one in told.missing.items() if one)
    other = sorted(key for key, one in told.missing.items() if not one)
    if other:
        every = told.texts is None
        said = f"there are no texts in {name}" if every else f"{_many(len(other))} no translation into {name} yet"
        shown = "all stands" if every else f"English stands there ({_some(other)})"
        help = "Say the missing words aloud, or give the clinic's own file of texts (`languages` in clinic.yaml)."
        message = f"{said}: {shown}{' in English' if every else ''}"
        found.append(Finding("texts-not-translated", Level.ADVICE, message, span, source, help))
    if safety:
        message = (
            f"{len(safety)} safety lines stand in English: no named person has translated them into {name}"
            f" ({_some(safety)})"
        )
        help = (
            "Go through them together, with an interpreter where one is needed. A translation counts when it says who"
            " made it and when; none is made by machine."
        )
        found.append(Finding("safety-not-translated", Level.ADVICE, message, span, source, help))
    return tuple(found)


def _many(count: int) -> str:
    return "1 text has" if count == 1 else f"{count} texts have"


def _some(keys: list[str]) -> str:
    return ", ".join(keys[:4]) + (" ..." if len(keys) > 4 else "")
