"""From a reckoned plan to the bytes of its calendar, in one function."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from attrs import evolve

from planlang.calendar.entry import Entry, Moves
from planlang.calendar.events import entries, shown_in_full
from planlang.calendar.following import followed
from planlang.calendar.identity import calendar_uid
from planlang.calendar.previous import A_REVISION, Previous
from planlang.calendar.writing import Stamp, to_bytes
from planlang.model.plan import Plan
from planlang.planning.past import Past
from planlang.planning.telling.standing import supports
from planlang.planning.telling.telling import Contacts
from planlang.planning.week import Weeks
from planlang.planning.zones import zone
from planlang.text.data import frozen
from planlang.text.finding import Finding, Level, contradiction, unreckonable
from planlang.text.languages.words import Words, in_english

HIGHEST = 2**31 - 1  # RFC 5545, 3.3.8: an INTEGER


@frozen
class Made:
    """A finished calendar: its bytes, its entries in their order (cancelled ones last), what they share, its UID.

    `moves`: what in a diary has moved entries.
    """

    data: bytes
    entries: tuple[Entry, ...]
    stamp: Stamp
    uid: str
    zone: ZoneInfo | None
    words: Words
    moves: Moves = Moves()

    @property
    def sequence(self) -> int:
        """The sequence number of its entries before anything moved them."""
        return self.stamp.sequence

    @property
    def cancelled(self) -> int:
        """How many entries are cancelled."""
        return sum(entry.cancelled for entry in self.entries)


def make(
    weeks: Weeks,
    contacts: Contacts,
    key: bytes | None = None,
    previous: Previous | None = None,
    words: Words | None = None,
    past: Past | None = None,
) -> Made | tuple[Finding, ...]:
    """The calendar of a plan, or the findings that stand against it.

    `key` is the clinic's secret for the UIDs, `previous` the calendar that the person has now, `words` those of the
    person's language, `past` what a diary says of the plan's weeks so far: then `weeks` are those looked back on.
    Raises NotOurs where the calendar is another plan's.
    """
    plan = weeks.plan
    refused = refusals(weeks)
    if refused:
        return refused
    told = words or in_english()
    if past is None:
        now, moves = entries(weeks, contacts, key, told), Moves()
    else:
        found = followed(past, contacts, key, told)
        now, moves = found.entries, found.moves
    place = zone(plan.zone) if plan.zone else None
    own = calendar_uid(plan, key)
    written = plan.written or plan.starts or weeks.weeks[0].starts
    about = supports(told) if shown_in_full(plan) else ""
    stamp = Stamp(written, A_REVISION * (plan.revision or 1))
    gone = previous.gone(now, own, place, told, moves, stamp.sequence) if previous else ()
    data = to_bytes((*now, *gone), place, stamp, own, about)
    if previous and previous.clashes(data, stamp.sequence):
        return (same_revision(plan, previous.sequence),)
    return Made(data, (*now, *gone), stamp, own, place, told, moves)


def refusals(weeks: Weeks) -> tuple[Finding, ...]:
    """What a calendar itself needs, beyond what every output for a person needs."""
    plan = weeks.plan
    found = []
    if plan.agreed and plan.agreed.calendar == "none":
        message = "the person has agreed to no calendar"
        help = "Give the sheet instead, or ask again and write a new `agreed` line."
        found.append(Finding("calendar-not-agreed", Level.INCOMPLETE, message, plan.agreed.span, plan.source, help))
    if not weeks.weeks:
        message = "there is nothing to put into a calendar: the plan's weeks can't be reckoned"
        found.append(unreckonable(message, plan.span, plan.source, "Write `starts` and `lasts`."))
    timed = [s for week in weeks.weeks for s in week.sittings if s.starts]
    if any(isinstance(s.starts, datetime) and s.starts.tzinfo is None for s in timed):
        message = "the sessions have times, and the plan has no zone to read them in"
        help = "Write one such as `zone Australia/Hobart` in the plan, or in the clinic's file."
        found.append(unreckonable(message, plan.places.get("zone", plan.span), plan.source, help))
    if A_REVISION * (plan.revision or 1) > HIGHEST:
        message = f"`revision {plan.revision}` is higher than a calendar can count"
        found.append(unreckonable(message, plan.places.get("revision", plan.span), plan.source, "Count from 1 up."))
    return tuple(evolve(finding, blocks=True) for finding in found)


def not_agreed(plan: Plan) -> Finding | None:
    """What stands against putting a plan's calendar on a server: that nobody wrote that the person agreed to one."""
    if plan.agreed and plan.agreed.calendar in ("full", "discreet"):
        return None
    message = "no line says that the person agreed to a calendar, and on a server others may see it"
    help = "Ask who else sees the calendar (work? family?), and write `agreed DATE calendar full` or `discreet`."
    place = plan.agreed.span if plan.agreed else plan.span
    return Finding("calendar-not-agreed", Level.INCOMPLETE, message, place, plan.source, help, blocks=True)


def same_revision(plan: Plan, sequence: int) -> Finding:
    """What stands against changing what the person has, of this sequence number: the plan's revision is no higher."""
    before, now = sequence // A_REVISION, plan.revision or 1
    if now < before:
        message = f"the person's calendar is of revision {before}, and this plan says revision {now}"
    else:
        message = f"the calendar would change, and the plan still says revision {now}"
    help = f"Write `revision {max(before, now) + 1}`: phones take a change only with a higher number."
    place = plan.places.get("revision", plan.span)
    return contradiction(message, place, plan.source, help, harmful=True)
