"""Signs in a diary that nobody has written an answer to."""

from __future__ import annotations

from datetime import date

from planlang.model.diary import Diary, Entry, What
from planlang.text.finding import Finding, Level

FLAGS = (What.TOLD, What.SIGN)


def open_flags(diary: Diary, as_of: date) -> tuple[Entry, ...]:
    """What was told or met by a day, with no `acted` written on its day or later, up to that day."""
    acted = [entry.day for entry in diary.of(What.ACTED) if entry.day <= as_of]
    found = (entry for entry in diary.of(*FLAGS) if entry.day <= as_of)
    return tuple(entry for entry in found if not any(day >= entry.day for day in acted))


def stands_open(entry: Entry, diary: Diary) -> Finding:
    """The finding for which nothing goes to the person. Never waived."""
    said = f'"{entry.text}"' if entry.text else f"`{entry.name}`" if entry.name else "a sign"
    message = f"{said} was told on {entry.day}, and nothing says what was done about it"
    help = 'See to it first, and write what was done: `2027-05-02 acted "sent to same-day clinic" by T-03`.'
    return Finding("open-red-flag", Level.UNSAFE, message, entry.span, diary.source, help, blocks=True)
