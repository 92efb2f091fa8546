"""What a library elsewhere holds: its root, and its files in a steady order."""

from __future__ import annotations

from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory
from typing import Any

from planlang.checking.nearest import NAME
from planlang.checking.walk import SUFFIXES, ignored
from planlang.cluster.mirror import Mirror
from planlang.text.data import frozen


@frozen
class Elsewhere:
    """A library elsewhere: the URL of its root, and of the files that were named."""

    root: str
    names: tuple[str, ...]


def listed(url: str) -> Elsewhere:
    """The files at a URL: itself, or those of the folder, hidden and ignored ones left out.

    Raises OSError where there is nothing, and RuleFault where the clinic's file is wrong.
    """
    from fsspec.core import url_to_fs

    files, path = url_to_fs(url)
    path = path.rstrip("/")
    prefix = url.rstrip("/").removesuffix(path)
    if files.isfile(path):
        return Elsewhere(prefix + _root(files, files._parent(path)), (url,))
    if not files.isdir(path):
        raise FileNotFoundError(f"there is nothing at {url}")
    root = _root(files, path)
    found = [one for one in files.find(path) if one.endswith(SUFFIXES) and not _hidden(one.removeprefix(path))]
    out = _ignored(files, prefix, root)
    kept = [one for one in found if not out(one.removeprefix(root).lstrip("/"))]
    return Elsewhere(prefix + root, tuple(prefix + one for one in sorted(kept, key=_order)))


def _order(name: str) -> tuple[tuple[bool, str], ...]:
    """A folder's own files come before its folders."""
    *folders, last = PurePosixPath(name).parts
    return (*((True, folder) for folder in folders), (False, last))


def _hidden(name: str) -> bool:
    return any(part.startswith(".") for part in PurePosixPath(name.lstrip("/")).parts)


def _root(files: Any, folder: str) -> str:
    """The folder of the nearest clinic.yaml above, else the folder itself."""
    here = folder.rstrip("/")
    while here:
        if files.exists(f"{here}/{NAME}"):
            return here
        above = str(files._parent(here)).rstrip("/")
        if above == here:
            break
        here = above
    return folder.rstrip("/")


def _ignored(files: Any, prefix: str, root: str) -> Any:
    """Whether the clinic's file leaves out a file of its library."""
    if not files.exists(f"{root}/{NAME}"):
        return lambda _: False
    from pathspec import GitIgnoreSpec

    with TemporaryDirectory(prefix="planlang-") as folder:
        mirror = Mirror.of(prefix + root, Path(folder))
        mirror.bring(mirror.folder)
        return GitIgnoreSpec.from_lines(ignored(mirror.folder / NAME)).match_file
