"""What git knows of a working tree: which files differ from a commit, and which it has at all."""

from __future__ import annotations

import subprocess
from pathlib import Path

from planlang.text.data import frozen

SECONDS = 120
"""How long git is waited for."""


class GitRefuses(Exception):
    """Git can't be asked, or doesn't know what was asked for; the text says so in a sentence."""


@frozen
class Tree:
    """A working tree. Files by their real paths: `tracked` in the index, `differing` from the commit, gone ones too."""

    root: Path
    commit: str
    tracked: frozenset[str]
    differing: frozenset[str]

    def changed(self, path: str) -> bool:
        """Whether a file (its real path) differs, or git can't say so: what it doesn't track is taken as changed."""
        return path in self.differing or path not in self.tracked

    def before(self, path: str) -> bytes:
        """What the commit has of a file; nothing where it has none."""
        name = Path(path).relative_to(self.root).as_posix()
        done = _git(self.root, "cat-file", "blob", f"{self.commit}:{name}")
        return done.stdout if done.returncode == 0 else b""


def tree_since(folder: Path, since: str) -> Tree:
    """The working tree that a folder lies in, against a commit. Raises GitRefuses."""
    if not since.strip() or since.startswith("-") or "\0" in since:
        raise GitRefuses(f'"{since}" is no commit: name one as git does, such as main, HEAD~1 or v1.2.')
    top = _git(folder, "rev-parse", "--show-toplevel")
    if top.returncode:
        said = top.stderr.decode("utf-8", "replace")
        if "not a git repository" in said:
            raise GitRefuses(f"{folder} is not in a git repository, so git can't say what has changed.")
        raise GitRefuses(f"git can't say what has changed in {folder}: {_first(said)}")
    root = Path(top.stdout.decode("utf-8", "surrogateescape").rstrip("\n")).resolve()
    found = _git(root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{since}^{{commit}}")
    if found.returncode:
        help = "A shallow clone may lack it: fetch it first." if (root / ".git" / "shallow").exists() else "Check it."
        raise GitRefuses(f'git knows no commit "{since}" in {root}. {help}')
    commit = found.stdout.decode("ascii").strip()
    differing = _listed(root, "diff", "--name-only", "--no-renames", "--no-ext-diff", "-z", commit, "--")
    return Tree(root, commit, _listed(root, "ls-files", "-z"), differing)


def _listed(root: Path, *words: str) -> frozenset[str]:
    done = _git(root, *words)
    if done.returncode:
        raise GitRefuses(f"git {words[0]} failed in {root}: {_first(done.stderr.decode('utf-8', 'replace'))}")
    names = done.stdout.decode("utf-8", "surrogateescape").split("\0")
    return frozenset(str(root / name) for name in names if name)


def _git(folder: Path, *words: str) -> subprocess.CompletedProcess[bytes]:
    """Runs git in a folder: a list of words, never a shell, and nothing that asks or waits for somebody."""
    command = ["git", "-C", str(folder), "-c", "core.fsmonitor=false", *words]
    try:
        return subprocess.run(command, capture_output=True, check=False, stdin=subprocess.DEVNULL, timeout=SECONDS)
    except FileNotFoundError:
        raise GitRefuses("git is not installed here, and --changed-since asks it.") from None
    except (OSError, subprocess.TimeoutExpired) as e:
        raise GitRefuses(f"git can't be asked: {e}") from None


def _first(said: str) -> str:
    lines = said.strip().splitlines()
    return lines[0].removeprefix("fatal: ") if lines else "it doesn't say why"
