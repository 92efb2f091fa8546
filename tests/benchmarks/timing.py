"""Two things timed side by side, so that a busy machine slows both; processor time, which waiting doesn't touch."""

from __future__ import annotations

import gc
from collections.abc import Callable
from resource import RUSAGE_CHILDREN, getrusage
from statistics import median
from time import process_time

from attrs import frozen

Work = Callable[[], object]


@frozen
class Pair:
    """Median seconds of the work and of what it is measured against, and the median of their ratios."""

    name: str
    seconds: float
    against: float
    ratio: float
    limit: float

    @property
    def row(self) -> str:
        """One line of the table."""
        verdict = "within" if self.ratio <= self.limit else "OVER"
        return (
            f"{self.name:<52} {self.seconds * 1000:9.2f} {self.against * 1000:9.2f} "
            f"{self.ratio:7.2f} {self.limit:7.1f}  {verdict}"
        )


HEADING = f"{'':<52} {'ms':>9} {'against':>9} {'ratio':>7} {'limit':>7}"


def spent() -> float:
    """Processor seconds of this process, and of those that it has waited for."""
    children = getrusage(RUSAGE_CHILDREN)
    return process_time() + children.ru_utime + children.ru_stime


def once(work: Work) -> float:
    """Processor seconds of one run, without the garbage collector."""
    gc.collect()
    gc.disable()
    try:
        start = spent()
        work()
        return spent() - start
    finally:
        gc.enable()


def compare(name: str, work: Work, against: Work, limit: float, rounds: int = 15) -> Pair:
    """The two run in turn, `rounds` times, after two rounds that don't count."""
    for _ in range(2):
        work()
        against()
    gc.collect()
    gc.freeze()  # what is here to stay is not gone over between rounds: that would empty the processor's caches
    try:
        times = [(once(work), once(against)) for _ in range(rounds)]
    finally:
        gc.unfreeze()
    return Pair(name, median(a for a, _ in times), median(b for _, b in times), median(a / b for a, b in times), limit)


def typical(work: Work, rounds: int = 7) -> float:
    """Median seconds of a work that has been warmed up."""
    work()
    return median(once(work) for _ in range(rounds))
