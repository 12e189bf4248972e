"""Figure tables: rows of measures in letters that are read at arm's length.

In: heads and rows of texts, the size of the letters. Out: blocks. A short table stands beside others where
there is room; a long one in several columns, read down one and then the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from handkit.draw.layout.flow import Block, beside, gap, kept_together, side_by_side, stacked
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import BODY, LEADING, capital_height
from handkit.draw.model.marks import Words, page_group

# Between two columns of figures, as a share of the letters' size; between two tables side by side, mm.
GUTTER_SHARE = 0.7
BESIDE = 9.0
BELOW = 2.0

# A table of more rows is parted, and stands by itself.
MOST_SHORT = 6


class FigureTable(msgspec.Struct, frozen=True):
    """A table, told by the head of its first column, whose texts stand left; the others stand right."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def is_short(self) -> bool:
        """Whether it may stand beside others."""
        return len(self.rows) <= MOST_SHORT


class SetTable(msgspec.Struct, frozen=True):
    """A table at a size of its letters: its width, and the blocks of its head and rows."""

    width: float
    head: Block
    rows: tuple[Block, ...]


def table_blocks(tables: Iterable[FigureTable], setter: Typesetter, size: float) -> tuple[Block, ...]:
    """All tables that have rows: short ones side by side, each on the first shelf that has room for it; then
    the others one by one."""
    shelves: list[tuple[float, Block]] = []
    long: list[Block] = []
    for table in (table for table in tables if table.rows):
        laid = _set(table, setter.fonts, size)
        if not table.is_short:
            long += _parted(laid, setter)
            continue
        block = stacked((laid.head, *laid.rows))
        room = (k for k, (filled, _) in enumerate(shelves) if filled + laid.width <= setter.width)
        k = next(room, len(shelves))
        if k == len(shelves):
            shelves.append((laid.width + BESIDE, block))
        else:
            filled, shelf = shelves[k]
            shelves[k] = (filled + laid.width + BESIDE, beside(shelf, block, offset=filled))
    return (*(block for _, shelf in shelves for block in (shelf, gap(BELOW))), *long)


def led_blocks(
    leading: FigureTable, others: Sequence[FigureTable], setter: Typesetter, size: float
) -> tuple[Block, ...]:
    """A table with those that speak of its rows: beside it, one under the other, where they have room there;
    else under it."""
    laid = _set(leading, setter.fonts, size) if leading.rows else None
    parts = [_set(table, setter.fonts, size) for table in others]
    if laid is not None and parts:
        lead = stacked((laid.head, *laid.rows))
        column = stacked([block for part in parts for block in (part.head, *part.rows, gap(BELOW))])
        wide = laid.width + BESIDE + max(part.width for part in parts)
        if wide <= setter.width and column.height <= lead.height <= setter.height / 2:
            return (beside(lead, column, offset=laid.width + BESIDE), gap(BELOW))
    return (*table_blocks((leading,), setter, size), *table_blocks(others, setter, size))


def _parted(laid: SetTable, setter: Typesetter) -> tuple[Block, ...]:
    """A table in as many columns as have room, a block each line of it."""
    count, apart = len(laid.rows), laid.width + BESIDE
    per = -(-count // max(1, int((setter.width + BESIDE) // apart)))
    heads = side_by_side([laid.head] * -(-count // per), apart=apart)
    body = [side_by_side(laid.rows[k::per], apart=apart) for k in range(per)]
    body = [msgspec.structs.replace(block, head=heads) for block in body]
    return (*kept_together((heads, body[0])), *body[1:], gap(BELOW))


def _set(table: FigureTable, fonts: Fonts, size: float) -> SetTable:
    """Each column as wide as its widest text."""
    widths = [
        max(fonts.width(head, BODY, bold=True), *(fonts.width(row[k], size) for row in table.rows))
        for k, head in enumerate(table.heads)
    ]
    gutter = GUTTER_SHARE * size
    lefts = [sum(widths[:k]) + gutter * k for k in range(len(widths))]
    columns = list(zip(lefts, widths, strict=True))
    total = lefts[-1] + widths[-1]
    head = Typesetter(fonts, total).ruled(_line(table.heads, columns, fonts, BODY, bold=True))
    return SetTable(total, head, tuple(_line(row, columns, fonts, size) for row in table.rows))


def _line(
    texts: Sequence[str],
    columns: Sequence[tuple[float, float]],
    fonts: Fonts,
    size: float,
    *,
    bold: bool = False,
) -> Block:
    """Texts in their columns, each a left end and a width."""
    base = -(size * LEADING + capital_height(size)) / 2
    words = [
        Words(text, (left + (wide - fonts.width(text, size, bold=bold) if k else 0.0), base), size, bold)
        for k, (text, (left, wide)) in enumerate(zip(texts, columns, strict=True))
        if text
    ]
    return Block(size * LEADING, (page_group(*words),) if words else ())
