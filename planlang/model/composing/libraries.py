"""What a plan takes from its libraries: exercises that it names, and what its own blocks leave unsaid."""

from __future__ import annotations

from collections.abc import Iterator

from planlang.model.composing.body import Block, Body, Out
from planlang.model.composing.expand import Expansion, View
from planlang.model.composing.ladder_part import LADDER, part_of
from planlang.model.composing.library import Library
from planlang.model.composing.merge import fall_away, kept_of
from planlang.model.composing.saying import called
from planlang.text.finding import Related
from planlang.text.meant import did_you_mean

TAKES = ("exercise", "activity")


def with_libraries(body: Body, making: Expansion) -> None:
    """Puts into a body's blocks what its libraries say of them, and adds the exercises that are only named."""
    for block in body.blocks:
        if block.kind in TAKES and len(block.key) > 1 and not block.change and block.header is not None:
            _fill_in(block, body.libraries, making)
    there = {block.key[1] for block in body.blocks if block.kind in TAKES and len(block.key) > 1 and not block.change}
    for block in list(body.blocks):
        for line in block.lines if not block.change else ():
            for name in named(line):
                found = None if name in there else find(name, block.libraries, body.libraries)
                if found is not None:
                    there.add(name)
                    body.blocks.append(_taken(*found, line, making))


def named(line: Out) -> Iterator[str]:
    """The exercises that a line names, of those that a library may bring in."""
    said = line.statement
    if said is None:
        return
    names = [str(token) for token in said.all("NAME")]
    if line.name == "do_exercises":
        yield from names
    elif line.name in ("still_do", "instead"):
        yield names[0]
    elif line.name == "reach":
        yield names[-1]


def find(name: str, *several: tuple[Library, ...]) -> tuple[str, Library] | None:
    """The first library that has an exercise."""
    return next(((name, one) for libraries in several for one in libraries if name in one.exercises), None)


def _taken(name: str, library: Library, line: Out, making: Expansion) -> Block:
    section = library.exercises[name]
    view = View(line.words)
    assert section.header is not None
    header = making.line(section.header, library.sheet, view, {})
    lines = [making.line(one, library.sheet, view, {}) for one in section.lines if one.name]
    return Block(section.key, header, [one for one in lines if one is not None])


def _fill_in(block: Block, libraries: tuple[Library, ...], making: Expansion) -> None:
    """What the library says of an exercise, below what its block says."""
    assert block.header is not None
    name = block.key[1]
    found = find(name, block.libraries, libraries)
    own = block.names()
    if found is None and "?" in making.missing:
        return  # it may well stand in what could not be had
    if found is None:
        everything = {one.name: one for one in (*block.libraries, *libraries)}.values()
        if everything and not own & {*LADDER, "?"}:
            known = [exercise for one in everything for exercise in one.exercises]
            where = " or ".join(called(one.sheet.source) for one in everything)
            help = did_you_mean(name, known) if making.findings.meant() else ""
            making.findings.incomplete(
                f"`{name}` has no ladder here, and no exercise of that name stands in {where}.",
                block.header.words,
                help or "Write its ladder, or the name of one in the library.",
            )
        part_of(block, [], making.findings)
        return
    below = _taken(*found, block.header, making)
    if below.kind != block.kind and below.header is not None:
        piece = below.header.pieces[0]
        making.findings.contradicts(
            f"`{name}` is an {below.kind} in {called(found[1].sheet.source)}, and an {block.kind} here.",
            block.header.words,
            f"Write {below.kind} {name}, or give this one another name.",
            (Related("the library's line is here", piece.span, piece.source),),
            harmful=False,
        )
    part_taken = part_of(block, below.lines, making.findings)
    gone = fall_away(own - {"ladder"}) | (LADDER if part_taken is not None else frozenset())
    kept = kept_of(block, [line for line in below.lines if line.name not in gone], part_taken is not None)
    block.lines = [*block.lines, *(part_taken or ()), *kept]
