"""Table: rows of texts in columns, with a head that is drawn again on every page.

In: columns with shares of the width, rows of texts. Out: blocks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from handkit.draw.flow import Block, Cell, row, ruled
from handkit.draw.fonts import Fonts

GUTTER = 3.0


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, its share of the width, whether its texts stand to the right."""

    head: str
    share: float
    right: bool = False


def table(
    columns: Sequence[Column],
    rows: Sequence[Sequence[str]],
    fonts: Fonts,
    width: float,
    *,
    space: float = 0.8,
) -> tuple[Block, ...]:
    """Head, rule, rows. Nothing where there are no rows."""
    if not rows:
        return ()
    head = ruled(row(_cells(columns, [c.head for c in columns], width, bold=True), fonts), width)
    body = [row(_cells(columns, texts, width), fonts, space=space, head=head) for texts in rows]
    return (replace(head, kept=True), *body)


def _cells(
    columns: Sequence[Column], texts: Sequence[str], width: float, *, bold: bool = False
) -> list[Cell]:
    total = sum(column.share for column in columns)
    cells = []
    left = 0.0
    for column, text in zip(columns, texts, strict=True):
        wide = width * column.share / total
        cells.append(Cell(text, left, wide - GUTTER, right=column.right, bold=bold))
        left += wide
    return cells
