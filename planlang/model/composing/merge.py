"""A file's own lines put in the place of its template's."""

from __future__ import annotations

from planlang.model.build.lines import EITHER, HARMLESS, MANY
from planlang.model.composing.body import Block, Body, Out, plain_key, same_key
from planlang.model.composing.kit_steps import on_other_steps
from planlang.model.composing.ladder_part import LADDER, part_of, wanted
from planlang.model.composing.saying import Findings
from planlang.model.composing.sheet import DIRECTIVES, UNREAD
from planlang.syntax.statements import ANYWHERE, FORMS
from planlang.text.finding import Related
from planlang.text.meant import did_you_mean
from planlang.text.source import Span

PACES = frozenset(("progress", "progress_deed", "stay"))
REVIEWS = frozenset(("review_every", "review_at"))
_GROUPS = (
    *(names for names in EITHER if "rise" not in names),
    ("progress", "progress_deed", "stay"),
    ("return_lower", "return_same"),
    ("instead", "instead_session"),
)
_ALIKE: dict[str, frozenset[str]] = {name: frozenset(names) for names in _GROUPS for name in names}


def fall_away(own: set[str]) -> frozenset[str]:
    """The statements below that those of a block take the place of."""
    gone = {other for name in own - {"", UNREAD} for other in _ALIKE.get(name, (name,))}
    if "begin" in own:
        gone |= LADDER | {"stay", "ladder"}
        if own & {"rise", *PACES}:
            gone |= PACES
    if "rise" in own:
        gone |= {"then", *PACES}
    if "then" in own:
        gone.add("rise")
    return frozenset(gone)


def merged(base: Body, own: Body, findings: Findings) -> Body:
    """A template's body with the lines of what is made from it: changed, added, left out."""
    changes = [block for block in own.blocks if block.change]
    _without(base, own, findings)
    for block in (own.head, *own.blocks):
        block.lines = [line for line in block.lines if line.own or line.name != "leave_block"]
    head_changes = [block for block in changes if block.kind == "plan"]
    changed_here: list[Out] = [line for block in head_changes for line in block.lines]
    _change_head(base, changed_here)
    _repeated(base, own, findings)
    blocks, tail = list(base.blocks), list(own.tail)
    for change in changes:
        below = next((b for b in blocks if b.key == change.key), None)
        if change.kind == "plan":
            tail += [change.header] if change.header else []
        elif below is None and (taken := _of_library(change, base, own)) is not None:
            blocks.append(taken)
            tail += [change.header] if change.header else []
        elif below is None:
            _nothing_there(change, blocks, findings)
        else:
            blocks[blocks.index(below)] = changed(below, change, findings)
            tail += [change.header] if change.header else []
    added = _added(blocks, own, findings)
    head = Block(own.head.key, own.head.header, [*own.head.lines, *base.head.lines, *changed_here])
    libraries = (*base.libraries, *(one for one in own.libraries if one not in base.libraries))
    return Body(own.before, head, [*blocks, *added], libraries, tail)


def _of_library(change: Block, base: Body, own: Body) -> Block | None:
    """The block of an exercise that the template only names, and that a library says."""
    several = (*base.libraries, *own.libraries)
    section = next((one.exercises[change.key[1]] for one in several if change.key[-1] in one.exercises), None)
    if section is None or change.header is None or len(change.key) < 2 or section.kind != change.kind:
        return None
    header = rewritten(change.header, " ".join(change.key))
    return Block(change.key, header, list(change.lines), libraries=several)


def changed(below: Block, change: Block, findings: Findings) -> Block:
    """A block with some of its lines replaced."""
    gone = fall_away(change.names())
    taken: tuple[Out, ...] = ()
    if "begin" in below.names() and (part := part_of(change, below.lines, findings)) is not None:
        gone |= LADDER
        taken = part
    kept = kept_of(change, [line for line in below.lines if line.name not in gone], bool(taken))
    if taken:
        change.lines = [_spent(line) if line.name == "ladder" else line for line in change.lines]
    more = tuple(one for one in change.libraries if one not in below.libraries)
    return Block(below.key, below.header, [*kept, *taken, *change.lines], libraries=(*below.libraries, *more))


def kept_of(block: Block, lines: list[Out], part: bool) -> list[Out]:
    """What is kept of the lines below a block's own. `part`: its `ladder` line takes a part of the ladder below."""
    if part:
        line = next(line for line in block.lines if line.name == "ladder")
        return on_other_steps(lines, wanted(line.statement)) if line.statement else lines
    return on_other_steps(lines, None) if "begin" in block.names() else lines


def _spent(line: Out) -> Out:
    """A `ladder` line whose part has been taken: kept for its place only."""
    return Out("", line.pieces, None, line.own)


def _change_head(base: Body, lines: list[Out]) -> None:
    """Takes out of the template what `change plan` says anew; of what stands anywhere only the reviews."""
    names = {line.name for line in lines}
    gone = fall_away({name for name in names if name in FORMS and ANYWHERE not in FORMS[name].blocks})
    if names & REVIEWS:
        gone |= REVIEWS
    for block in (base.head, *base.blocks):
        here = gone if block is base.head else gone & REVIEWS
        block.lines = [line for line in block.lines if line.name not in here]


def _repeated(base: Body, own: Body, findings: Findings) -> None:
    """Finds lines of the plan that the template has too, and takes the template's out."""
    lines = [line for line in own.head.lines if line.name not in DIRECTIVES]
    everywhere = [line for block in own.blocks if not block.change for line in block.lines]
    lines += [line for line in everywhere if line.name in ("review_every", "agreed", "pause_all")]
    for line in lines:
        form = FORMS.get(line.name)
        if form is None or line.name in MANY or (ANYWHERE in form.blocks and line.name not in ("review_every",)):
            continue
        alike = _ALIKE.get(line.name, frozenset((line.name,)))
        for block in (base.head, *base.blocks):
            if ANYWHERE not in form.blocks and block is not base.head:
                continue
            for other in [there for there in block.lines if there.name in alike]:
                block.lines.remove(other)
                findings.contradicts(
                    f"The template says `{other.said}`, and here is `{line.said}`.",
                    line.words,
                    "Write the line under `change plan`, so that it is seen to be meant, or take it out.",
                    (_the_template(other),),
                    harmful=line.name not in HARMLESS,
                )


def _added(blocks: list[Block], own: Body, findings: Findings) -> list[Block]:
    """The plan's own blocks; what they add to the template's `today` is put there."""
    made: list[Block] = []
    for block in own.blocks:
        if block.change:
            if not any(b.key == block.key for b in blocks) and block.kind != "plan":
                made.append(block)  # kept for its places: read, and reckoned nowhere
            continue
        below = next((b for b in blocks if same_key(b.key, block.key) and b.kind != UNREAD), None)
        if below is not None and block.kind == "today":
            blocks.remove(below)
            made.append(Block(block.key, block.header, [*below.lines, *block.lines]))
            continue
        if below is not None and block.header is not None and below.header is not None:
            blocks.remove(below)
            _twice(block, below, findings)
        made.append(block)
    return made


def _twice(block: Block, below: Block, findings: Findings) -> None:
    assert block.header is not None
    assert below.header is not None
    names = [line for line in block.lines if line.name and line.name != UNREAD]
    differs = next(
        ((line, other) for line in names for other in below.lines if other.name == line.name != "then"), None
    )
    values = f": `{differs[1].said}` there, `{differs[0].said}` here" if differs else ""
    what = " ".join((block.kind, *block.key[1:])) if block.kind in ("exercise", "activity") else _called(block.key)
    help = f"Write `change {what}` over the lines that differ"
    if block.kind == "screening":
        help = "A screening is one person's: take it out of the template."
    elif len(block.key) > 1:
        help += ", or give this one another name"
    findings.contradicts(
        f"The template has `{what}` too{values}.",
        block.header.words,
        f"{help.rstrip('.')}.",
        (_the_template(below.header),),
    )


def _called(key: tuple[str, ...]) -> str:
    return key[0] if len(key) == 1 else f'{key[0]} "{key[1]}"'


def _the_template(line: Out) -> Related:
    piece = line.pieces[0]
    return Related("the template's line is here", piece.span, piece.source)


def _nothing_there(change: Block, blocks: list[Block], findings: Findings) -> None:
    assert change.header is not None
    findings.cannot_read(
        f"`{change.header.said}`: the template has none.", change.header.words, _near(change.key, blocks, findings)
    )


def _near(key: tuple[str, ...], blocks: list[Block], findings: Findings, left_out: bool = False) -> str:
    """What of the template was most likely meant."""
    other = next((b for b in blocks if b.key[0] != key[0] and plain_key(b.key) == plain_key(key)), None)
    if other is not None:
        return f"It is an {other.kind} there: write {other.kind} {key[-1]}"
    there = [b.key[1] for b in blocks if plain_key(b.key)[0] == plain_key(key)[0] and len(b.key) > 1]
    kind = key[0]
    if kind in ("exercise", "activity"):  # a library may say them, and the template only name them
        there += [name for b in blocks for line in b.lines for name in _names(line) if name not in there]
    if len(key) < 2:
        return f"Write the block without `change`: {kind}"
    near = did_you_mean(key[1], there) if findings.meant() else ""
    if near:
        return near
    first = "Take the line out" if left_out else "Write it without `change` to add it"
    return f"{first}, or name one of the template's: {', '.join(there[:8])}." if there else f"{first}."


def _without(base: Body, own: Body, findings: Findings) -> None:
    """Leaves out what the plan leaves out, and takes the names of those exercises out of the template's lines."""
    for line in [line for block in (own.head, *own.blocks) for line in block.lines if line.name == "leave_block"]:
        said = line.statement
        assert said is not None
        kind = said.tokens[2].type.lstrip("_").lower()
        name = str(said.tokens[3]).strip('"')
        strings = said.all("STRING")
        if len(strings) < (2 if kind in ("session", "target") else 1):
            findings.incomplete(
                f"`{line.said}` does not say why.",
                line.words,
                'Whoever reads this plan in a year wants to know: because "the back does not like it"',
            )
        key = (kind, name)
        there = next((b for b in base.blocks if b.key == key), None)
        named = kind in ("exercise", "activity") and any(name in _names(o) for b in base.blocks for o in b.lines)
        if there is None and not named:
            findings.cannot_read(
                f"`{_short(line)}`: the template has none, so nothing is left out.",
                line.words,
                _near(key, base.blocks, findings, left_out=True),
            )
            continue
        change = next((b for b in own.blocks if b.change and b.key == key and b.header is not None), None)
        if change is not None and change.header is not None:
            findings.contradicts(
                f"`{_short(line)}`, and `{change.header.said}`: it can't be both.",
                line.words,
                "Keep one of the two.",
                (Related("the other is here", change.header.words, findings.own),),
            )
            continue
        if there is not None:
            base.blocks.remove(there)
        if kind in ("exercise", "activity"):
            for block in base.blocks:
                block.lines = [made for old in block.lines if (made := _unnamed(old, name)) is not None]


def _names(line: Out) -> tuple[str, ...]:
    """The exercises that a line has done."""
    if line.statement is None or line.name not in ("do_exercises", "still_do", "instead"):
        return ()
    return tuple(str(token) for token in line.statement.all("NAME"))


def _short(line: Out) -> str:
    return line.said.partition(" because ")[0]


def _unnamed(line: Out, name: str) -> Out | None:
    """The line without the name of an exercise that is left out; None where nothing is left of it."""
    said = line.statement
    if said is None:
        return line
    if line.name in ("still_do", "instead") and str(said.all("NAME")[0]) == name:
        return None
    if line.name != "do_exercises":
        return line
    names = [str(token) for token in said.all("NAME")]
    if name not in names:
        return line
    kept = [one for one in names if one != name]
    if not kept:
        return None
    return rewritten(line, f"do {', '.join(kept)}")


def rewritten(line: Out, words: str) -> Out:
    """A line that says something else than the place it comes from."""
    from attrs import evolve

    first, last = line.pieces[0], line.pieces[-1]
    span = Span(first.span.start, max(first.span.end, last.span.end))
    if line.own:
        span = line.words
    piece = evolve(first, text=f"{words}\n", span=span, shown=line.words, same=False)
    statement = line.statement
    if statement is not None and line.name == "do_exercises":
        wanted = set(words.removeprefix("do ").split(", "))
        statement = evolve(statement, parts=tuple(p for p in statement.parts if str(p) in wanted))
    return Out(line.name, (piece,), statement)
