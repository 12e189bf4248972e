"""Text lines: headlines, filled text and tables of a plain text of 100 columns.

In: words, records. Out: lines without their ends; no control codes.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest
from textwrap import wrap

from handkit.draw.words.listing import Column, rows_of

WIDTH = 100


def headed(text: str) -> list[str]:
    """A headline with a rule under it, after an empty line."""
    return ["", text, "-" * len(text)]


def filled(text: str, first: str = "") -> list[str]:
    """Text wrapped under what stands before its first line."""
    return wrap(
        text,
        WIDTH,
        initial_indent=first,
        subsequent_indent=" " * (len(first) if first.strip() else len(first) + (4 if first else 0)),
        break_on_hyphens=False,
    )


def text_table(columns: Sequence[Column], records: Sequence[object], *, names: int = 1) -> list[str]:
    """Columns as wide as they need; the first `names` and the note to the left, figures to the right.

    A name takes at most 32 columns and what is left of the width goes to the note; both go on
    over several lines.
    """
    rows = (tuple(column.head for column in columns), *rows_of(columns, records))
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    widths[0] = min(widths[0], 32)
    widths[-1] = max(WIDTH - 2 * len(widths) - sum(widths[:-1]), 16)
    return [line for row in rows for line in _row(row, widths, names)]


def _row(cells: Sequence[str], widths: Sequence[int], names: int) -> list[str]:
    columns = [wrap(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    left = {*range(names), len(cells) - 1}
    return [
        "".join(
            f"  {text:<{widths[k]}}" if k in left else f"  {text:>{widths[k]}}"
            for k, text in enumerate(texts)
        )
        for texts in zip_longest(*columns, fillvalue="")
    ]
