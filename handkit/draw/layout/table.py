"""Table: how wide the columns of a table are.

In: columns with shares of the width, rows of texts. Out: widths, mm.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import BODY
from handkit.draw.words.listing import Column

GUTTER = 3.0


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
