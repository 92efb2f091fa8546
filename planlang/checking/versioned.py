"""Whether a file is under version control: read from git's own index, without running git."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

HEAD = 12  # "DIRC", version, number of entries
ENTRY = 62  # fixed part of an entry: stat data, object name, flags
EXTENDED = 0x4000


def is_tracked(path: Path) -> bool:
    """True where the nearest repository above a file has it in its index."""
    path = path.absolute()
    return path.name.encode() in tracked_in(path.parent)


def tracked_in(folder: Path) -> frozenset[bytes]:
    """The names of a folder's own files that the nearest repository above has in its index."""
    folder = folder.absolute()
    for above in (folder, *folder.parents):
        index = _index_of(above / ".git")
        if index is not None:
            try:
                stat = index.stat()
            except OSError:
                return frozenset()
            inside = folder.relative_to(above).as_posix().encode()
            return _by_folder(index, stat.st_mtime_ns, stat.st_size).get(b"" if inside == b"." else inside, frozenset())
    return frozenset()


def _index_of(git: Path) -> Path | None:
    """The index of a `.git` folder, or of the folder that a `.git` file names (a work tree, a submodule)."""
    if git.is_dir():
        return git / "index"
    if not git.is_file():
        return None
    try:
        text = git.read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return None
    head, _, where = text.strip().partition("gitdir:")
    return None if head or not where else (git.parent / where.strip()) / "index"


@lru_cache(maxsize=8)
def _by_folder(index: Path, changed: int, size: int) -> dict[bytes, frozenset[bytes]]:
    """The names in an index of version 2, 3 or 4 (gitformat-index) by folder; empty where it can't be read."""
    try:
        paths = _read(index.read_bytes())
    except (OSError, IndexError, ValueError):
        return {}
    found: dict[bytes, set[bytes]] = {}
    for path in paths:
        folder, _, name = path.rpartition(b"/")
        found.setdefault(folder, set()).add(name)
    return {folder: frozenset(names) for folder, names in found.items()}


def _read(data: bytes) -> list[bytes]:
    version, count = int.from_bytes(data[4:8], "big"), int.from_bytes(data[8:12], "big")
    if data[:4] != b"DIRC" or version not in (2, 3, 4):
        return []
    names: list[bytes] = []
    at, last = HEAD, b""
    for _ in range(count):
        flags = int.from_bytes(data[at + 60 : at + 62], "big")
        start = at + ENTRY + (2 if version > 2 and flags & EXTENDED else 0)
        if version == 4:
            cut, start = _varint(data, start)
            end = data.index(0, start)
            last = last[: len(last) - cut] + data[start:end]
            at = end + 1
        else:
            end = data.index(0, start)
            last = data[start:end]
            at += (end - at) // 8 * 8 + 8  # padded with 1 to 8 zeros to a multiple of eight
        names.append(last)
    return names


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """git's offset encoding: seven bits a byte, the highest first, one added for each byte that goes on."""
    byte = data[at]
    at += 1
    value = byte & 0x7F
    while byte & 0x80:
        byte = data[at]
        at += 1
        value = ((value + 1) << 7) | (byte & 0x7F)
    return value, at
