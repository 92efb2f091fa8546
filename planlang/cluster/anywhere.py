"""A batch checked by whoever has it, its files and its shard wherever fsspec reaches."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import uuid4

from attrs import evolve

from planlang.checking.batch import Batch, Summary, check_batch, check_names, run_of
from planlang.checking.beside import Folders
from planlang.checking.shard import Judged, read_lines, read_shard
from planlang.cluster.mirror import Mirror, is_url


def check_anywhere(batch: Batch) -> Summary:
    """The same as `check_batch`, for paths and for URLs: pure, picklable, and to be done again without harm."""
    if not is_url(batch.shard) and not is_url(batch.given or ""):
        return check_batch(batch)
    with TemporaryDirectory(prefix="planlang-") as folder:
        shard = Path(folder, "shard.jsonl")
        if is_url(batch.given or ""):
            summary = _brought(batch, Path(folder, "library"), str(shard))
        else:
            summary = check_batch(evolve(batch, shard=str(shard)))
        if summary.fault:
            return summary
        if is_url(batch.shard):
            put(shard, batch.shard)
        else:
            beside = Path(f"{batch.shard}.{uuid4().hex}")
            beside.write_bytes(shard.read_bytes())
            beside.replace(batch.shard)
        return evolve(summary, shard=batch.shard)


def _brought(batch: Batch, folder: Path, shard: str) -> Summary:
    """A batch of files that lie elsewhere: their folders are brought here, and what they name when it is asked for."""
    mirror = Mirror.of(batch.given or "", folder)
    names = [str(mirror.local(name)) for name in batch.names]
    for parent in dict.fromkeys(os.path.dirname(name) for name in names):  # noqa: PTH120
        mirror.bring(Path(parent))
    run = evolve(run_of(batch), given=folder, folders=Folders(opening=mirror.opening))
    return check_names(names, shard, run, called=mirror.called)


def put(path: Path, url: str) -> None:
    """Puts a file where a URL says: beside, then renamed, so that nobody reads half of it."""
    from fsspec.core import url_to_fs

    files, target = url_to_fs(url)
    files.makedirs(files._parent(target), exist_ok=True)
    beside = f"{target}.{uuid4().hex}"
    files.put_file(str(path), beside)
    files.mv(beside, target)


def read_anywhere(shard: str) -> Iterator[Judged]:
    """The files of a shard, wherever it lies."""
    if not is_url(shard):
        yield from read_shard(Path(shard))
        return
    import fsspec

    with fsspec.open(shard, "rt", encoding="utf-8", newline="\n") as lines:
        yield from read_lines(lines)
