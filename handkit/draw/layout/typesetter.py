"""Typesetter: texts and tables as blocks of one width.

In: texts; the fonts and the width are the typesetter's own. Out: blocks, a line of text each, so that
a page may end within a paragraph or within a row of a table.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate
from math import inf

import msgspec

from handkit.draw.layout.flow import Block, kept_together
from handkit.draw.layout.table import GUTTER, column_widths
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import (
    BODY,
    HEAD,
    LEADING,
    TITLE,
    capital_height,
    right_aligned,
    wrapped,
)
from handkit.draw.model.marks import Ink, Words, page_group
from handkit.draw.model.path_ops import box_ops, line_ops
from handkit.draw.words.listing import Column
from handkit.ink import HAIR, Stroke

BOX = 5.0
BOX_LINE = Stroke(0.35)


class TextCell(msgspec.Struct, frozen=True):
    """A text in a row: from `left`, over `width`; figures stand to the right."""

    text: str
    left: float
    width: float
    right: bool = False
    bold: bool = False


class Typesetter(msgspec.Struct, frozen=True):
    """Sets texts over a width; a page has room for `height`."""

    fonts: Fonts
    width: float
    height: float = inf

    def narrowed(self, width: float) -> Typesetter:
        """The same over another width."""
        return Typesetter(self.fonts, width, self.height)

    def lowered(self, height: float) -> Typesetter:
        """The same with room for another height."""
        return Typesetter(self.fonts, self.width, height)

    def text(  # noqa: PLR0913 - a paragraph's looks, each with a default
        self,
        text: str,
        *,
        size: float = BODY,
        bold: bool = False,
        indent: float = 0.0,
        space: float = 0.0,
        kept: bool = False,
    ) -> tuple[Block, ...]:
        """A paragraph; `space` is left free below, all its lines are `kept`."""
        lines = wrapped(text, self.width - indent, self.fonts, size=size, bold=bold)
        at, depth = (indent, _base_line(size, 0)), size * LEADING
        blocks = [Block(depth, (page_group(Words(line, at, size, bold)),), kept) for line in lines]
        return (*blocks[:-1], *(msgspec.structs.replace(last, height=depth + space) for last in blocks[-1:]))

    def texts(self, texts: Iterable[str], *, size: float = BODY, space: float = 0.8) -> tuple[Block, ...]:
        """Paragraphs, one under the other."""
        return tuple(block for text in texts for block in self.text(text, size=size, space=space))

    def title(self, text: str, *, space: float = 0.5, kept: bool = True) -> tuple[Block, ...]:
        """What stands over a part of the kit."""
        return self.text(text, size=TITLE, bold=True, space=space, kept=kept)

    def heading(self, text: str, *, space: float = 0.5, kept: bool = True) -> tuple[Block, ...]:
        """What stands over a section."""
        return self.text(text, size=HEAD, bold=True, space=space, kept=kept)

    def keyed(self, key: str, text: str, *, size: float, indent: float) -> tuple[Block, ...]:
        """A paragraph with its key in bold before its first line; "" for none."""
        first, *rest = self.text(text, size=size, indent=indent, space=0.9)
        keys = [
            group
            for line in self.narrowed(indent).text(key, size=size, bold=True)[:1]
            for group in line.groups
        ]
        return (msgspec.structs.replace(first, groups=(*keys, *first.groups)), *rest)

    def row(self, cells: Iterable[TextCell], *, space: float = 0.0) -> Block:
        """Texts side by side, each broken to its width, as one block."""
        broken = self._broken(cells)
        words = [self._words(cell, line, k) for cell, lines in broken for k, line in enumerate(lines)]
        return _row_block(words, max(1, *(len(lines) for _, lines in broken)), space)

    def row_lines(
        self, cells: Iterable[TextCell], *, space: float = 0.0, head: Block | None = None
    ) -> tuple[Block, ...]:
        """The same as blocks of a line each, kept together, so that a row taller than a page still goes
        on overleaf."""
        broken = self._broken(cells)
        most = max(1, *(len(lines) for _, lines in broken))
        rows = [
            [self._words(cell, lines[k], 0) for cell, lines in broken if k < len(lines)] for k in range(most)
        ]
        blocks = [*(_row_block(row, 1, 0.0, head) for row in rows[:-1]), _row_block(rows[-1], 1, space, head)]
        return kept_together(blocks)

    def table(
        self, columns: Sequence[Column], rows: Sequence[Sequence[str]], *, space: float = 0.8
    ) -> tuple[Block, ...]:
        """Head, rule, rows, each with so much space below. Nothing where there are no rows."""
        if not rows:
            return ()
        widths = column_widths(columns, rows, self.fonts, self.width)
        head = self.ruled(self.row(_cells(columns, [column.head for column in columns], widths, bold=True)))
        body = (self.row_lines(_cells(columns, texts, widths), space=space, head=head) for texts in rows)
        return (msgspec.structs.replace(head, kept=True), *(line for lines in body for line in lines))

    def ruled(self, block: Block) -> Block:
        """The block with a thin line under it."""
        below = -block.height - 0.1
        ruled = block.drawn_over(Ink(line_ops((0, below), (self.width, below)), HAIR))
        return msgspec.structs.replace(ruled, height=block.height + 0.9)

    def _broken(self, cells: Iterable[TextCell]) -> list[tuple[TextCell, tuple[str, ...]]]:
        return [
            (cell, wrapped(cell.text, cell.width, self.fonts, size=BODY, bold=cell.bold)) for cell in cells
        ]

    def _words(self, cell: TextCell, text: str, index: int) -> Words:
        at = (cell.left, _base_line(BODY, index))
        if cell.right:
            return right_aligned(text, (cell.left + cell.width, at[1]), self.fonts, size=BODY, bold=cell.bold)
        return Words(text, at, BODY, cell.bold)


def tick_box(middle: float) -> Ink:
    """A box at the left edge, to be ticked by hand, its middle so far above the block's upper edge."""
    return Ink(box_ops(0.2, middle - BOX / 2, 0.2 + BOX, middle + BOX / 2), BOX_LINE)


def _base_line(size: float, index: int) -> float:
    """Of a line of text, counted from 0, below its block's upper edge."""
    return -size * LEADING * index - (size * LEADING + capital_height(size)) / 2


def _row_block(words: Sequence[Words], lines: int, space: float, head: Block | None = None) -> Block:
    groups = (page_group(*words),) if words else ()
    return Block(lines * BODY * LEADING + space, groups, head=head)


def _cells(
    columns: Sequence[Column], texts: Sequence[str], widths: Sequence[float], *, bold: bool = False
) -> list[TextCell]:
    lefts = accumulate(widths, initial=0.0)
    return [
        TextCell(text, left, width - GUTTER, column.right, bold)
        for column, text, left, width in zip(columns, texts, lefts, widths, strict=False)
    ]
