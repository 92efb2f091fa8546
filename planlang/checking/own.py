"""The engine's own findings, which no rule file holds: what each is called, weighs and means."""

from __future__ import annotations

from planlang.text.data import frozen
from planlang.text.finding import Level


@frozen
class Own:
    """One of them. `waivable`: whether a waiver may take it; `waiver`: it is about a waiver itself."""

    name: str
    level: Level
    title: str
    why: str
    waivable: bool = False


_U, _I, _A = Level.UNSAFE, Level.INCOMPLETE, Level.ADVICE

OWN: dict[str, Own] = {
    own.name: own
    for own in (
        Own(
            "unreadable",
            _U,
            "A line, or the file, can't be read",
            "What can't be read is neither checked nor printed, so nothing may go to the person until it is.",
        ),
        Own(
            "contradiction",
            _U,
            "Two things are said that can't both hold",
            "A person can follow one of the two at most. Unsafe in pain, rest, screening, operation, dose or date.",
        ),
        Own("unreckonable", _I, "Something is said that can't be reckoned", "It is read, and left out.", waivable=True),
        Own(
            "unknown-word",
            _A,
            "A condition, kind, muscle or measure that no data knows",
            "Rules about known ones do not judge it.",
            waivable=True,
        ),
        Own(
            "state-draft",
            _I,
            "The plan is a draft that nobody has signed",
            "What the tool itself wrote is a proposal until a named clinician has read it.",
        ),
        Own("pause-all", _I, "Everything is paused", "While a plan is paused, nothing of it goes to the person."),
        Own("date-still-to-come", _I, "A date of the past lies in the future", "Judged by --today only."),
        Own("dose-still-to-be-set", _I, "A dose should have been set by now", "Judged by --today only."),
        Own(
            "calendar-key-missing",
            _A,
            "The clinic has no calendar key",
            "A calendar's entries are named by a hash of the person's code; without a key, codes can be tried out.",
            waivable=True,
        ),
        Own(
            "person-file-under-version-control",
            _I,
            "A person's file is under version control",
            "A history can't be erased, and others read the logs of its checks. Codes are still health data.",
            waivable=True,
        ),
        Own(
            "range-searched",
            _A,
            "A template's blanks leave more fillings than can be gone through",
            "What is searched is not proved: a filling that nobody tried may have a finding.",
        ),
        Own("waiver-without-reason", _I, "A waiver without a reason, a name or an end", "It holds for nothing."),
        Own("waiver-expired", _I, "A waiver has ended", "Its finding counts again."),
        Own(
            "waiver-unused",
            _I,
            "A waiver that takes no finding",
            "Left standing, it would hide a finding that comes later for another reason.",
        ),
        Own("waiver-of-no-rule", _I, "A waiver of a rule that there is not", "It holds for nothing."),
        Own("waiver-not-allowed", _I, "A waiver that may not be given", "It holds for nothing."),
        Own(
            "waiver-too-long",
            _I,
            "A waiver of something unsafe that would hold too long",
            "What is unsafe is looked at anew after at most 90 days from the day on which the plan was written.",
        ),
        Own("waiver-by-former-name", _A, "A waiver that uses a rule's former name", "It still holds."),
    )
}
