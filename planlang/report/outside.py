"""What formats that leave the house may say of a finding: of a person's file the rule and the line, unless asked."""

from __future__ import annotations

from hashlib import sha256
from itertools import count
from urllib.parse import quote

from planlang.report.quoting import visible
from planlang.report.result import Options, Shown, relative

PLACES = {"unsafe": "error", "unrealistic": "error", "incomplete": "warning", "advice": "notice"}


def may_quote(one: Shown, options: Options) -> bool:
    """Whether the plan's own words and numbers may be shown."""
    return options.quote or not one.result.person


def message(one: Shown, options: Options) -> str:
    """What is wrong and what to do; of a person's file only the rule's own title."""
    if may_quote(one, options):
        said = " ".join(part for part in (one.finding.message, one.finding.advice) if part)
        return "\n".join(visible(line) for line in said.splitlines())
    return f"{options.title(one.finding.rule)} (the plan's words are left out here)"


def waiver(one: Shown, options: Options) -> str:
    """Who waived it, until when, and why; of a person's file without the reason."""
    waived = one.finding.waived
    if waived is None:
        return ""
    signed = f"by {waived.by} until {waived.until.isoformat()}"
    return f"{waived.reason} ({signed})" if may_quote(one, options) else signed


def uri(name: str, options: Options) -> str:
    """A file's name as a relative URI reference."""
    path = relative(name, options.root)
    if ":" in path.split("/")[0]:
        path = "./" + path
    return quote(path, safe="/!$&'()*+,;=@.~-_")


class Fingerprints:
    """Marks by which a finding is known again after lines have moved.

    Made of rule, file, the words of the line, and which of equals it is. Of a person's file the words are
    left out, since short texts can be guessed from a hash.
    """

    def __init__(self, options: Options) -> None:
        self.options = options
        self.seen: dict[str, count[int]] = {}

    def of(self, one: Shown) -> str:
        """The mark of the next finding in order."""
        words = ""
        if one.place and one.source and may_quote(one, self.options):
            words = " ".join(one.source.line(one.place.line).split())
        key = "\n".join((one.finding.rule, relative(one.file, self.options.root), words))
        number = next(self.seen.setdefault(key, count()))
        return sha256(f"{key}\n{number}".encode()).hexdigest()[:32]
