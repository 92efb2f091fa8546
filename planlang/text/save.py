"""Writing files whole: beside first, then put in place, so that nothing is ever half written."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path


def save(path: str | os.PathLike[str], data: bytes) -> str | None:
    """Puts the bytes in place of what the file held, or says in words why it can't; then nothing has changed.

    A link is followed, and the file keeps its permissions.
    """
    target = Path(path)
    try:
        target = target.resolve()
        if target.is_dir():
            return f"{path} is a folder, not a file"
        mode = target.stat().st_mode & 0o7777 if target.exists() else None
        if mode is not None and not os.access(target, os.W_OK):
            return f"there is no permission to write {path}"
        number, beside = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    except (OSError, ValueError, RuntimeError) as e:
        return f"{path} can't be written: {getattr(e, 'strerror', None) or e}"
    try:
        with os.fdopen(number, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(beside).chmod(_new_mode() if mode is None else mode)
        Path(beside).replace(target)
    except OSError as e:
        with suppress(OSError):
            Path(beside).unlink()
        return f"{path} can't be written: {e.strerror or e}"
    return None


def save_new(path: str | os.PathLike[str], data: bytes, mode: int | None = None) -> str | None:
    """Makes a new file with these bytes, whole; says in words why it can't, also where something is there already.

    `mode`: its permissions, from its first moment on; None: what a new file would get.
    """
    target = Path(path)
    try:
        number, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")  # for nobody else's eyes
    except (OSError, ValueError) as e:
        return f"{path} can't be written: {getattr(e, 'strerror', None) or e}"
    beside = Path(name)
    try:
        with os.fdopen(number, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.chmod(_new_mode() if mode is None else mode)
        _linked(beside, target)
    except FileExistsError:
        return f"{path} is there already"
    except (OSError, ValueError) as e:
        return f"{path} can't be written: {getattr(e, 'strerror', None) or e}"
    finally:
        with suppress(OSError):
            beside.unlink()
    return None


def _linked(beside: Path, target: Path) -> None:
    """Gives a file its name, which must not be taken. Raises FileExistsError where it is, OSError otherwise."""
    try:
        target.hardlink_to(beside)
    except FileExistsError:
        raise
    except OSError:  # a file system without links: between asking and renaming somebody could come in
        if os.path.lexists(target):
            raise FileExistsError(str(target)) from None
        beside.rename(target)


def _new_mode() -> int:
    """What a new file would get: readable and writable, less what the user's mask takes away."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
