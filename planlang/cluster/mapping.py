"""Batches mapped over a dask.distributed cluster by its executor; how it schedules and tries again is its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from planlang import __version__
from planlang.checking.batch import Batch, Summary
from planlang.cluster.anywhere import check_anywhere

WAIT = 30
"""Seconds that are waited for a scheduler and a first worker."""


class ClusterFails(Exception):
    """The cluster can't be used, or gave up; the text says so in a sentence."""


def mapped(
    batches: Sequence[Batch], address: str, work: Callable[[Batch], Summary] = check_anywhere, wait: float = WAIT
) -> Iterator[Summary]:
    """The summary of each batch, in order, worked out by whichever workers the cluster has.

    A worker that dies is the engine's affair: its batches go to others, and a shard that was half written is written
    anew. Raises ClusterFails.
    """
    import distributed

    new_client: Any = distributed.Client

    try:
        client: Any = new_client(address, timeout=wait, set_as_default=False)
    except (OSError, ValueError, TimeoutError) as e:
        raise ClusterFails(f"there is no cluster at {address}: {_said(e)}") from None
    with client:
        try:
            client.wait_for_workers(1, timeout=wait)
        except TimeoutError:
            raise ClusterFails(f"the cluster at {address} has no worker after {wait:g} seconds") from None
        _same_version(client)
        executor = client.get_executor(pure=False)
        try:
            yield from executor.map(work, batches)
        except distributed.KilledWorker as e:
            raise ClusterFails(f"workers died again and again on one batch, so it was given up: {_said(e)}") from None
        finally:
            executor.shutdown(wait=False)


def _same_version(client: Any) -> None:
    """Other versions find other things: no run is put together from two."""
    others = sorted({found for found in client.run(version).values() if found != __version__})
    if others:
        raise ClusterFails(f"workers have planlang {', '.join(others)}, and this is {__version__}: make them the same")


def version() -> str:
    """The version of whoever is asked."""
    return __version__


def _said(e: BaseException) -> str:
    return " ".join(str(e).split())[:300] or type(e).__name__
