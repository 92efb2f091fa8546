"""Which files a clinic's file rests on: what changes in one of them may change the findings of every plan below."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import blake2b
from pathlib import Path
from typing import Any

from planlang.text.finding import Finding
from planlang.text.load import load_data
from planlang.text.strict_yaml import read_yaml

ENDINGS = (".yaml", ".yml")


def files_of(clinic: Path) -> tuple[Path, ...]:
    """The file itself, every file that it names inside its library, and the YAML files of folders that it names.

    Whatever key names them: a key that comes later is not forgotten here.
    """
    root = clinic.absolute().parent
    return tuple(dict.fromkeys((clinic, *(p for name in texts_of(clinic) for p in _named(root, name)))))


def texts_of(clinic: Path) -> tuple[str, ...]:
    """Every text that a clinic's file says, any of which may name a file; none where it can't be read."""
    source = load_data(clinic)
    document = source if isinstance(source, Finding) else read_yaml(source)
    return () if isinstance(document, Finding) else tuple(_texts(document.value))


def state_of(files: tuple[Path, ...]) -> bytes:
    """A mark of what the files hold and of which there are."""
    mark = blake2b(digest_size=16)
    for path in files:
        try:
            data = path.read_bytes()
        except OSError:
            data = b"\0"
        mark.update(f"{path}\0{len(data)}\0".encode())
        mark.update(data)
    return mark.digest()


def folder_files(folder: Path) -> tuple[Path, ...]:
    """The YAML files in a folder and below it, in a steady order."""
    try:
        return tuple(sorted(p for p in folder.rglob("*") if p.suffix in ENDINGS and p.is_file()))
    except OSError:
        return ()


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _texts(inner)


def _named(root: Path, name: str) -> Iterator[Path]:
    if not name.strip() or len(name) > 1000 or "\0" in name:
        return
    try:
        path = (root / name).resolve()
        if path == root.resolve() or not path.is_relative_to(root.resolve()):
            return
        if path.is_file():
            yield path
        elif path.is_dir():
            yield from folder_files(path)
    except (OSError, RuntimeError, ValueError):
        return
