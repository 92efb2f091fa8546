"""What is wrong with a rule or a clinic's file: told with file, line and the nearest right thing; no lint runs."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import evolve

from planlang.text.finding import Finding


class RuleFault(Exception):
    """One or more faults of rule packs or clinic files; each finding has its source and place. Exit code 2."""

    def __init__(self, faults: Iterable[Finding]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(told(fault) for fault in self.faults))

    @staticmethod
    def said(text: str) -> RuleFault:
        """A fault of which only the words came from elsewhere."""
        fault = RuleFault(())
        fault.args = (text,)
        return fault

    def __reduce__(self) -> tuple[type[RuleFault], tuple[tuple[Finding, ...]]]:
        """How it goes from one process to another: with its faults, their help as text."""
        return RuleFault, (tuple(evolve(fault, help=fault.advice) for fault in self.faults),)


def told(fault: Finding) -> str:
    """`file:line:column: message. Help`."""
    where = fault.source.name if fault.source else ""
    if fault.source is not None and fault.span is not None:
        place = fault.source.place(fault.span)
        where = f"{where}:{place.line}:{place.column}"
    message = fault.message.rstrip(".")
    return f"{where}: {message}." + (f" {fault.advice}" if fault.advice else "")
