"""Flow: blocks, one under the other or side by side, over as many pages as they take.

In: blocks of known height. Out: for each page, groups in the page's frame.

Words: a *block* is what is not parted by a page's end; its frame has its origin at its upper left
corner, y up, so that what it draws has negative y. A block that is *kept* stays on one page with
the block after it. A *head* is drawn again where its block opens a page. A *fresh* block opens one.
Blocks of text are set by `typesetter`.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import msgspec

from handkit.draw.model.marks import Group, Ink, Words, page_group, settled, shifted

# A share of a page that is not worth a page, and the shares of free room that are tried to save it.
LITTLE = 0.22
TIGHTER = (0.75, 0.5, 0.25)


class Block(msgspec.Struct, frozen=True):
    """`height` in mm; `groups` in the block's frame."""

    height: float
    groups: tuple[Group, ...] = ()
    kept: bool = False
    head: Block | None = None
    fresh: bool = False

    def drawn_over(self, *parts: Ink | Words) -> Block:
        """The same block with more drawn in it."""
        return msgspec.structs.replace(self, groups=(*self.groups, page_group(*parts)))

    def shifted(self, x: float, y: float) -> Block:
        """The same block, what is drawn in it moved by (x, y)."""
        return msgspec.structs.replace(self, groups=tuple(shifted(group, x, y) for group in self.groups))


def picture(height: float, *parts: Ink | Words) -> Block:
    """A block of lines and words."""
    return Block(height, (page_group(*parts),))


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


def side_by_side(blocks: Sequence[Block], *, apart: float) -> Block:
    """Blocks side by side, upper edges level; each starts `apart` from the one before."""
    block = blocks[0]
    for index, other in enumerate(blocks[1:], start=1):
        block = beside(block, other, offset=index * apart)
    return block


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
    """Blocks set from (left, top) downwards; a new page where `height` is full.

    Free room at the foot of a page is left out, and opens none. Where what a fresh page opens with ends on a
    page that holds `LITTLE`, free room gives way if that saves the page.
    """
    starts = [0, *(k for k, block in enumerate(blocks) if block.fresh and k > 0), len(blocks)]
    parts = [blocks[a:b] for a, b in pairwise(starts)]
    return tuple(page for part in parts for page in _fewest_pages(part, left, top, height))


def _fewest_pages(
    blocks: Sequence[Block], left: float, top: float, height: float
) -> tuple[tuple[Group, ...], ...]:
    pages, depth = _poured(blocks, left, top, height)
    if len(pages) > 1 and depth <= LITTLE * height:
        for share in TIGHTER:
            closer, _ = _poured([_closer(block, share) for block in blocks], left, top, height)
            if len(closer) < len(pages):
                return closer
    return pages


def _closer(block: Block, share: float) -> Block:
    """Free room made less; what is drawn stays."""
    return block if block.groups else msgspec.structs.replace(block, height=block.height * share)


def _poured(
    blocks: Sequence[Block], left: float, top: float, height: float
) -> tuple[tuple[tuple[Group, ...], ...], float]:
    """The pages as the blocks come, and how far down the last one is filled."""
    pages: list[list[Group]] = [[]]
    depth = 0.0
    for index, block in enumerate(blocks):
        if not block.groups and not block.fresh and depth + block.height > height:
            depth = height
            continue
        if depth > 0 and (block.fresh or depth + _needed(blocks, index, height) > height + 1e-9):
            pages.append([])
            depth = 0.0
            if block.head is not None:
                pages[-1].extend(settled(shifted(group, left, top)) for group in block.head.groups)
                depth = block.head.height
        pages[-1].extend(settled(shifted(group, left, top - depth)) for group in block.groups)
        depth += block.height
    return tuple(tuple(page) for page in pages), depth


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
