"""Table: rows of texts in columns, with a head that is drawn again on every page.

In: columns with shares of the width, rows of texts. Out: blocks.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draw.layout.flow import Block, TextCell, row, row_lines, ruled
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import BODY

GUTTER = 3.0


class Column(msgspec.Struct, frozen=True):
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
    widths = column_widths(columns, rows, fonts, width)
    head = ruled(row(_cells(columns, [c.head for c in columns], widths, bold=True), fonts), width)
    body = (row_lines(_cells(columns, texts, widths), fonts, space=space, head=head) for texts in rows)
    return (msgspec.structs.replace(head, kept=True), *(line for lines in body for line in lines))


def column_widths(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], fonts: Fonts, width: float
) -> tuple[float, ...]:
    """Widths that sum to `width`: what each column needs at least, the rest by shares.

    A column of figures needs its longest text, another its longest word; where that is too much
    for the page, every column needs its longest word, and where even that is, shares alone count.
    """
    shares = [column.share for column in columns]
    for whole in (True, False):
        needs = [
            _need(column, [texts[k] for texts in rows], fonts, whole=whole and column.right)
            for k, column in enumerate(columns)
        ]
        if sum(needs) <= width:
            return _over(needs, shares, width)
    return _over([0.0] * len(columns), shares, width)


def _need(column: Column, texts: Sequence[str], fonts: Fonts, *, whole: bool) -> float:
    def widest(text: str, *, bold: bool = False) -> float:
        parts = [text] if whole else text.split()
        return max((fonts.width(part, BODY, bold=bold) for part in parts), default=0.0)

    return max(widest(column.head, bold=True), *map(widest, texts)) + GUTTER + 0.01


def _over(needs: Sequence[float], shares: Sequence[float], width: float) -> tuple[float, ...]:
    """Each column its share of the width, or its need where that is more: the others give way."""
    fixed: set[int] = set()
    while True:
        free = width - sum(needs[k] for k in fixed)
        total = sum(share for k, share in enumerate(shares) if k not in fixed)
        short = {k for k, s in enumerate(shares) if k not in fixed and free * s / total < needs[k]}
        if not short:
            return tuple(needs[k] if k in fixed else free * s / total for k, s in enumerate(shares))
        fixed |= short


def _cells(
    columns: Sequence[Column], texts: Sequence[str], widths: Sequence[float], *, bold: bool = False
) -> list[TextCell]:
    cells = []
    left = 0.0
    for column, text, wide in zip(columns, texts, widths, strict=True):
        cells.append(TextCell(text, left, wide - GUTTER, right=column.right, bold=bold))
        left += wide
    return cells
