"""Statements put together into blocks: a header and the lines up to the next one."""

from __future__ import annotations

from attrs import field

from planlang.syntax.nodes import Script, Statement, Unread
from planlang.syntax.statements import ANYWHERE, FILES, FORMS, HEADERS
from planlang.text.data import define
from planlang.text.finding import Finding
from planlang.text.source import Span


@define
class Block:
    """A block: its kind, its header (None where the header could not be read), its lines.

    `unread`: lines of it that can't be read. A block whose header can't be read is of unknown kind:
    its lines are read and tidied, reckoned nowhere, and bring no finding of their own.
    """

    kind: str
    header: Statement | None
    span: Span
    lines: list[Statement] = field(factory=list)
    unread: list[Unread] = field(factory=list)

    @property
    def known(self) -> bool:
        """True where the header was read."""
        return self.header is not None


@define
class Blocks:
    """A script in blocks, with the lines that stand anywhere and those that stand where they can't."""

    blocks: list[Block] = field(factory=list)
    loose: list[Statement] = field(factory=list)
    misplaced: list[tuple[Statement, Block | None]] = field(factory=list)
    unread: list[Unread] = field(factory=list)

    def of(self, *kinds: str) -> list[Block]:
        """The known blocks of these kinds, in order; not what changes a template's."""
        return [b for b in self.blocks if b.header and b.kind in kinds and b.header.name != "change"]


def opens(header: Statement) -> str:
    """The kind of block that a header opens: `change exercise NAME` opens one of exercise."""
    return header.tokens[1].type.lstrip("_").lower() if header.name == "change" else header.name


def blocks(script: Script) -> Blocks:
    """Every statement in its block. A line that belongs to another block is put under `misplaced`."""
    made = Blocks()
    block: Block | None = None
    bare = False  # a library or a diary holds nothing of a plan's paperwork
    for line in script.lines:
        if isinstance(line, Unread):
            made.unread.append(line)
            if line.opens:
                block = Block(line.opens, None, line.span)
                made.blocks.append(block)
            elif block:
                block.unread.append(line)
            continue
        if line.name in HEADERS:
            block = Block(opens(line), line, line.span)
            made.blocks.append(block)
            bare = line.name in ("library", "diary") if line.name in FILES else bare
            continue
        where = FORMS[line.name].blocks
        if ANYWHERE in where and not bare:
            made.loose.append(line)
        elif (block and not block.known) or (block and block.kind in where):
            block.lines.append(line)
        else:
            made.misplaced.append((line, block))
    return made


def misplaced_finding(line: Statement, block: Block | None, script: Script) -> Finding:
    """A line of another block, named with the block that it belongs to."""
    from planlang.syntax.unreadable import out_of_place

    return out_of_place(line, block.kind if block else None, script.text, script.source)
