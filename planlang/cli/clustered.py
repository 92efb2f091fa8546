"""A run over a cluster: what is checked, where findings are written, and what is said where it can't be done."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path
from tempfile import TemporaryDirectory

import click
from attrs import evolve

from planlang.checking.batch import Batch, Summary
from planlang.checking.rulebook import Rulebook
from planlang.cli.files import Group, grouped
from planlang.cli.lint import LONG
from planlang.cli.linted import Call, Shards, batches, books
from planlang.cli.watched import watched
from planlang.text.data import frozen

BATCH = 500
"""Files a worker is given at once, at most; of files that lie elsewhere, whole folders."""
HERE = ("127.0.0.1", "localhost", "[::1]")


@frozen
class ClusterRun:
    """One run: its batches, the rules in force, the scheduler's address."""

    made: tuple[Batch, ...]
    rulebooks: list[Rulebook]
    address: str

    def summaries(self) -> Iterator[Summary]:
        """What each batch comes to, in order, as the workers are done with it."""
        from planlang.cluster.mapping import ClusterFails, mapped

        count = sum(len(batch.names) for batch in self.made)
        try:
            with watched("checking", count, count >= LONG) as seen:
                for batch, summary in zip(self.made, mapped(self.made, self.address), strict=True):
                    seen(len(batch.names))
                    yield summary
        except ClusterFails as e:
            raise click.UsageError(f"{str(e)[:1].upper()}{str(e)[1:]}.") from None

    def results(self, shards: list[str], files: int) -> Shards:
        """The findings, from wherever they were written."""
        from planlang.cluster.anywhere import read_anywhere

        return Shards(shards, files, read_anywhere)


@contextmanager
def at_cluster(paths: Sequence[str], call: Call, address: str, where: str | None) -> Iterator[ClusterRun]:
    """A run that is ready to begin; findings in a folder of this machine are taken away at its end."""
    for needed in ("distributed", "fsspec"):
        if find_spec(needed) is None:
            raise click.UsageError("lint --cluster needs more packages: pip install 'planlang[cluster]'")
    if where is None and not any(f"//{host}:" in address or address.startswith(host) for host in HERE):
        raise click.UsageError(
            "Say with --shards where the workers are to write what they find: a folder or URL that they and this "
            "machine reach."
        )
    groups = [group for path in paths for group in _at(path)]
    with TemporaryDirectory(prefix="planlang-") as folder:
        shards = where or folder
        if "://" not in shards:
            Path(shards).mkdir(parents=True, exist_ok=True)
            shards = str(Path(shards).absolute())
        rulebooks = books([_settings_here(group, Path(folder, str(n))) for n, group in enumerate(groups)], call)
        yield ClusterRun(tuple(_batches(groups, call, shards)), rulebooks, address)


def _at(path: str) -> list[Group]:
    if "://" not in path:
        return grouped([path], settings=True)
    from planlang.cluster.listing import listed

    try:
        found = listed(path)
    except (OSError, ValueError, ImportError) as e:
        raise click.UsageError(f"{path} can't be read: {e}") from None
    if not found.names:
        raise click.UsageError(f"There is no file that ends in .plan or .diary in {path}.")
    return [Group(found.root, found.names)]


def _settings_here(group: Group, folder: Path) -> Group:
    """The group as if its files were here: of those elsewhere only the clinic's settings are brought."""
    if "://" not in (group.given or ""):
        return group
    from planlang.cluster.mirror import Mirror

    mirror = Mirror.of(group.given or "", folder)
    names = tuple(dict.fromkeys(str(mirror.local(name).parent / "any.plan") for name in group.names))
    for name in names:
        mirror.settings(Path(name).parent)
    return Group(str(folder), names)


def _batches(groups: list[Group], call: Call, shards: str) -> Iterator[Batch]:
    """Batches whose names mean the same on every machine, each with a shard of its own."""
    here = [group for group in groups if "://" not in (group.given or "")]
    made = [_everywhere(batch) for batch in batches(here, call, Path(), 4, BATCH)] if here else []
    for group in groups:
        if "://" in (group.given or ""):
            made += [call.batch(names, Path(), group.given) for names in _folders(group.names)]
    for number, batch in enumerate(made):
        yield evolve(batch, shard=f"{shards.rstrip('/')}/{number:08}.jsonl")


def _everywhere(batch: Batch) -> Batch:
    """With paths from the root, whatever folder a worker runs in; names are still seen from here."""
    return evolve(
        batch,
        within=str(Path.cwd()),
        given=str(Path(batch.given).absolute()) if batch.given else None,
        clinic=str(Path(batch.clinic).absolute()) if batch.clinic else None,
        packs=tuple(str(Path(pack).absolute()) for pack in batch.packs),
        codes={str(Path(folder).absolute()): shared for folder, shared in batch.codes.items()},
    )


def _folders(names: Sequence[str]) -> Iterator[list[str]]:
    """Whole folders, small ones together."""
    some: list[str] = []
    by_folder: dict[str, list[str]] = {}
    for name in names:
        by_folder.setdefault(os.path.dirname(name), []).append(name)  # noqa: PTH120
    for inside in by_folder.values():
        if some and len(some) + len(inside) > BATCH:
            yield some
            some = []
        some = [*some, *inside]
    if some:
        yield some
