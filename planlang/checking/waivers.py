"""Waivers: which findings they take, and what is wrong with the waivers themselves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from attrs import evolve, field

from planlang.checking.own import OWN
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook
from planlang.model.plan import Plan, Waiver
from planlang.text.data import define
from planlang.text.finding import Finding, Level, Waived
from planlang.text.meant import did_you_mean, listed

UNSAFE_DAYS = 90


@define
class _Waivers:
    plan: Plan
    book: Rulebook
    today: date | None
    ran: frozenset[str]
    never: frozenset[int]
    faults: list[Finding] = field(factory=list)

    def fault(self, name: str, waiver: Waiver, message: str, help: str) -> None:
        self.faults.append(Finding(name, OWN[name].level, message, waiver.span, self.plan.source, help))

    def holds(self, waiver: Waiver) -> str | None:
        """The rule that the waiver is for, or None with a finding where it does not hold."""
        rule = self.book.rule(waiver.rule)
        own = OWN.get(waiver.rule)
        if rule is None and own is None:
            names = sorted({*self.book.by_name, *OWN})
            self.fault(
                "waiver-of-no-rule",
                waiver,
                f'There is no rule "{waiver.rule}"; this waiver holds for nothing.',
                did_you_mean(waiver.rule, names) or "Take the name from the finding that it is for.",
            )
            return None
        name = rule.name if rule else waiver.rule
        if (own is not None and not own.waivable) or (rule is not None and rule.never_waived):
            self.fault(
                "waiver-not-allowed",
                waiver,
                f'"{name}" can\'t be waived.',
                "Put right what it says, or speak with the person's doctor, and take this line out.",
            )
            return None
        parts = (("a reason (because)", (waiver.because or "").strip()), ("a name (by)", waiver.by))
        missing = [part for part, there in (*parts, ("an end (until)", waiver.until)) if not there]
        if missing:
            self.fault(
                "waiver-without-reason",
                waiver,
                f"This waiver of {name} lacks {listed(missing, 'and')}; until then it holds for nothing.",
                "Write: waive " + waiver.rule + ' by T-03 because "why it is right for this person" until 2027-06-01',
            )
            return None
        if waiver.rule != name:
            self.fault(
                "waiver-by-former-name",
                waiver,
                f'"{waiver.rule}" is now called "{name}"; the waiver still holds.',
                f"Write: waive {name}",
            )
        return name if self._in_bounds(waiver, name, rule) else None

    def _in_bounds(self, waiver: Waiver, name: str, rule: Rule | None) -> bool:
        assert waiver.until is not None
        level = self.book.level(rule) if rule else OWN[name].level
        if self.today is not None and waiver.until < self.today:
            self.fault(
                "waiver-expired",
                waiver,
                f"This waiver of {name} ended on {waiver.until}; the finding counts again.",
                "Look at it anew: put it right, or sign a new waiver with a new end.",
            )
            return False
        allowed = self.book.may_waive.get(level)
        if allowed is not None and waiver.by not in allowed:
            self.fault(
                "waiver-not-allowed",
                waiver,
                f"{waiver.by} is not among those who may waive what is {level}.",
                f"Ask one of: {', '.join(sorted(allowed))}.",
            )
            return False
        if level is Level.UNSAFE:
            return self._short_enough(waiver, name)
        return True

    def _short_enough(self, waiver: Waiver, name: str) -> bool:
        assert waiver.until is not None
        if self.plan.written is None:
            self.fault(
                "waiver-too-long",
                waiver,
                f"A waiver of {name} may hold {UNSAFE_DAYS} days from the plan's written date; it has none.",
                "Add a line: written 2027-02-22",
            )
            return False
        last = self.plan.written + timedelta(days=UNSAFE_DAYS)
        if waiver.until > last:
            self.fault(
                "waiver-too-long",
                waiver,
                f"What is unsafe can be waived for at most {UNSAFE_DAYS} days: until {last} in this plan.",
                f"End it by {last}; look at it anew then, with a new revision.",
            )
            return False
        return True

    def take(self, findings: Sequence[Finding]) -> list[Finding]:
        """The findings, those waived marked so."""
        result = list(findings)
        for waiver in self.plan.waivers:
            name = self.holds(waiver)
            if name is None:
                continue
            waived = _signed(waiver)
            mine = [i for i, f in enumerate(result) if f.rule == name and f.waived is None]
            kept = [i for i in mine if id(findings[i]) in self.never]
            for i in mine:
                if i not in kept:
                    result[i] = evolve(result[i], waived=waived)
            if kept:
                self.fault("waiver-not-allowed", waiver, f'What "{name}" found here can\'t be waived.', "Put it right.")
            elif not mine and any(f.rule == name for f in result):
                self.fault(
                    "waiver-unused",
                    waiver,
                    f'What "{name}" finds here is waived by another line already.',
                    "Keep one of the two lines.",
                )
            elif not mine and (name in self.ran or name in OWN):
                self.fault(
                    "waiver-unused",
                    waiver,
                    f'"{name}" finds nothing here now; this waiver does nothing.',
                    "Take the line out, so that a new finding is not hidden by it.",
                )
        return result


def _signed(waiver: Waiver) -> Waived:
    """What reports say of a waiver that holds, and so has all three."""
    assert waiver.until is not None
    return Waived(waiver.because or "", waiver.by or "", waiver.until)


def waive(
    plan: Plan,
    findings: Iterable[Finding],
    book: Rulebook,
    today: date | None,
    ran: frozenset[str],
    never: frozenset[int] = frozenset(),
) -> tuple[Finding, ...]:
    """The findings with the plan's waivers applied, and what is wrong with those waivers.

    `ran`: the rules that were judged; only those can leave a waiver unused. `never`: ids of findings never waived.
    """
    listed = list(findings)
    waivers = _Waivers(plan, book, today, ran, never)
    return (*waivers.take(listed), *waivers.faults)
