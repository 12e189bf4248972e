"""Flow: blocks of lists and text, one under the other, over as many pages as they take.

In: blocks of known height. Out: for each page, groups in the page's frame.

Words: a *block* is what is not parted by a page's end; its frame has its origin at its upper left
corner, y up, so that what it draws has negative y. A block that is *kept* stays on one page with
the block after it. A *head* is drawn again where its block opens a page. A *fresh* block opens one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import BODY, LEADING, capital_height, right_aligned, wrapped
from handkit.draw.model.marks import Group, Ink, Mark, Words, settled, shifted
from handkit.draw.model.path_ops import line_ops
from handkit.ink import HAIR, Tag


class Block(msgspec.Struct, frozen=True):
    """`height` in mm; `groups` in the block's frame."""

    height: float
    groups: tuple[Group, ...] = ()
    kept: bool = False
    head: Block | None = None
    fresh: bool = False


class TextCell(msgspec.Struct, frozen=True):
    """A text in a row: from `left`, over `width`; figures stand to the right."""

    text: str
    left: float
    width: float
    right: bool = False
    bold: bool = False


def row(  # noqa: PLR0913 - a row's looks, each with a default
    cells: Iterable[TextCell],
    fonts: Fonts,
    *,
    size: float = BODY,
    space: float = 0.0,
    kept: bool = False,
    head: Block | None = None,
) -> Block:
    """Texts side by side, each broken to its width; `space` is left free below."""
    words: list[Words] = []
    most = 1
    for cell in cells:
        lines = wrapped(cell.text, cell.width, fonts, size=size, bold=cell.bold)
        most = max(most, len(lines))
        words.extend(_line(cell, text, index, size, fonts) for index, text in enumerate(lines))
    groups = (Group((Mark(Tag.PAGE, (), tuple(words)),)),) if words else ()
    return Block(most * size * LEADING + space, groups, kept, head)


def row_lines(
    cells: Sequence[TextCell], fonts: Fonts, *, space: float = 0.0, head: Block | None = None
) -> tuple[Block, ...]:
    """A row as blocks of a line each, kept together, so that one taller than a page still goes on
    overleaf."""
    broken = [wrapped(cell.text, cell.width, fonts, size=BODY, bold=cell.bold) for cell in cells]
    most = max(1, *(len(lines) for lines in broken))
    return tuple(
        row(
            [
                msgspec.structs.replace(c, text=lines[k])
                for c, lines in zip(cells, broken, strict=True)
                if k < len(lines)
            ],
            fonts,
            space=space if k == most - 1 else 0.0,
            kept=k < most - 1,
            head=head,
        )
        for k in range(most)
    )


def paragraph(  # noqa: PLR0913 - a paragraph's looks, each with a default
    text: str,
    width: float,
    fonts: Fonts,
    *,
    size: float = BODY,
    bold: bool = False,
    indent: float = 0.0,
    space: float = 0.0,
    kept: bool = False,
) -> tuple[Block, ...]:
    """Text over the column, a block a line, so that a page may end within it."""
    lines = wrapped(text, width - indent, fonts, size=size, bold=bold)
    return tuple(
        row(
            [TextCell(line, indent, width, bold=bold)],
            fonts,
            size=size,
            space=space if index == len(lines) - 1 else 0.0,
            kept=kept,
        )
        for index, line in enumerate(lines)
    )


def ruled(block: Block, width: float) -> Block:
    """The block with a thin line under it."""
    below = -block.height - 0.1
    rule = Mark(Tag.PAGE, (), (Ink(line_ops((0, below), (width, below)), HAIR),))
    return Block(block.height + 0.9, (*block.groups, Group((rule,))), block.kept, block.head)


def kept_together(blocks: Sequence[Block]) -> tuple[Block, ...]:
    """The same blocks, on one page where they have room there."""
    return (*(msgspec.structs.replace(block, kept=True) for block in blocks[:-1]), *blocks[-1:])


def on_fresh_page(blocks: Sequence[Block]) -> tuple[Block, ...]:
    """The same blocks, the first at the top of a page."""
    return (*(msgspec.structs.replace(block, fresh=True) for block in blocks[:1]), *blocks[1:])


def gap(height: float) -> Block:
    """Free room."""
    return Block(height)


def beside(left: Block, right: Block, *, offset: float) -> Block:
    """Two blocks side by side, upper edges level; the right one starts at `offset`."""
    moved = tuple(shifted(group, offset, 0) for group in right.groups)
    return Block(max(left.height, right.height), (*left.groups, *moved), left.kept, left.head)


def stacked(blocks: Sequence[Block]) -> Block:
    """Blocks as one that no page's end parts."""
    groups: list[Group] = []
    depth = 0.0
    for block in blocks:
        groups.extend(shifted(group, 0, -depth) for group in block.groups)
        depth += block.height
    return Block(depth, tuple(groups))


def poured(
    blocks: Sequence[Block], *, left: float, top: float, height: float
) -> tuple[tuple[Group, ...], ...]:
    """Blocks set from (left, top) downwards; a new page where `height` is full."""
    pages: list[list[Group]] = [[]]
    depth = 0.0
    for index, block in enumerate(blocks):
        if depth > 0 and (block.fresh or depth + _needed(blocks, index, height) > height + 1e-9):
            pages.append([])
            depth = 0.0
            if block.head is not None:
                pages[-1].extend(settled(shifted(group, left, top)) for group in block.head.groups)
                depth = block.head.height
        pages[-1].extend(settled(shifted(group, left, top - depth)) for group in block.groups)
        depth += block.height
    return tuple(tuple(page) for page in pages)


def _needed(blocks: Sequence[Block], index: int, height: float) -> float:
    """Height of a block and of those it is kept with. Where no page can hold them all they go on
    overleaf wherever the page ends; only the first stays with the second."""
    first = index
    while first > 0 and blocks[first - 1].kept:
        first -= 1
    last = index
    while blocks[last].kept and last + 1 < len(blocks):
        last += 1
    if sum(block.height for block in blocks[first : last + 1]) <= height:
        return sum(block.height for block in blocks[index : last + 1])
    pair = blocks[index].height + (blocks[index + 1].height if first == index < last else 0.0)
    return pair if pair <= height else blocks[index].height


def _line(cell: TextCell, text: str, index: int, size: float, fonts: Fonts) -> Words:
    base = -size * LEADING * index - (size * LEADING + capital_height(size)) / 2
    if cell.right:
        return right_aligned(text, (cell.left + cell.width, base), fonts, size=size, bold=cell.bold)
    return Words(text, (cell.left, base), size, cell.bold)
