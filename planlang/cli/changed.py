"""The files of a run that differ from a commit, or that depend on one that does."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import click
from attrs import evolve

from planlang.checking.clinic_files import files_of, folder_files
from planlang.checking.dependants import Dependants
from planlang.checking.git import GitRefuses, Tree, tree_since
from planlang.cli.files import Group

if TYPE_CHECKING:
    from planlang.cli.linted import Call


def only_changed(groups: Iterable[Group], since: str, call: Call) -> list[Group]:
    """The groups with only those files that have to be checked; none where there is nothing to check."""
    more = [path for pack in call.packs for path in folder_files(pack)]
    more += files_of(call.clinic) if call.clinic is not None else ()
    trees: dict[Path, Tree] = {}
    kept: list[Group] = []
    for group in groups:
        by_tree: dict[Path, list[str]] = {}
        for name in group.names:
            by_tree.setdefault(_root(_folder(name), since, trees), []).append(name)
        wanted: set[str] = set()
        for root, names in by_tree.items():
            wanted.update(Dependants(trees[root], tuple(more)).to_check(names))
        left = tuple(name for name in group.names if name in wanted)
        if left:
            kept.append(evolve(group, names=left))
    return kept


def _folder(name: str) -> Path:
    """The nearest folder above a file that is there."""
    folder = Path(name).absolute().parent
    while not folder.is_dir():
        folder = folder.parent
    return folder


def _root(folder: Path, since: str, trees: dict[Path, Tree]) -> Path:
    """The working tree of a folder, asked of git once a tree."""
    for above in (folder.resolve(), *folder.resolve().parents):
        if above in trees:
            return above
        if (above / ".git").exists():
            break
    try:
        tree = tree_since(folder, since)
    except GitRefuses as e:
        raise click.UsageError(str(e)) from None
    trees[tree.root] = tree
    return tree.root
