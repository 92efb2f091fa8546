"""How far long work is, for whoever waits at a terminal; nothing in a pipe."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click


@contextmanager
def watched(label: str, length: int, long: bool) -> Iterator[Callable[..., object]]:
    """A function to call after each of `length` parts of the work, or after some with their number.

    It moves a bar where the work is `long`.
    """
    if not long or not length or not sys.stderr.isatty():
        yield lambda done=1: None
        return
    with click.progressbar(length=length, label=label, file=sys.stderr) as bar:
        yield lambda done=1: bar.update(done)
