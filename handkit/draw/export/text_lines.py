"""Text lines: headlines, filled text and tables of a plain text.

In: words, rows, how many columns a line has. Out: lines without their ends; no control codes.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest
from textwrap import wrap

from handkit.draw.words.listing import Column, Row

# Where no terminal says how wide it is.
WIDTH = 100

# A column of text that has to give way keeps so many letters.
LEAST = 8


def headed(text: str) -> list[str]:
    """A headline with a rule under it, after an empty line."""
    return ["", text, "-" * len(text)]


def filled(text: str, width: int = WIDTH, first: str = "", then: str = "") -> list[str]:
    """Text wrapped under what stands before its first line, or behind `then`."""
    return wrap(
        text, width, initial_indent=first, subsequent_indent=then or " " * len(first), break_on_hyphens=False
    )


def text_table(columns: Sequence[Column], rows: Sequence[Row], width: int = WIDTH) -> list[str]:
    """Head and rows: columns as wide as they need, figures to the right; where that is too much, the widest
    texts give way and go on over several lines.

    >>> columns = (Column("piece", 1), Column("cut", 1, right=True))
    >>> text_table(columns, [("left loop", "2")], 20), text_table(columns, [("left loop", "2")], 15)
    (['  piece      cut', '  left loop    2'], ['  piece     cut', '  left        2', '  loop         '])
    """
    texts = (tuple(column.head for column in columns), *rows)
    widths = [max(map(len, column)) for column in zip(*texts, strict=True)]
    given = [k for k, column in enumerate(columns) if not column.right and widths[k] > LEAST]
    while given and sum(widths) + 2 * len(widths) > width:
        widest = max(given, key=lambda k: widths[k])
        widths[widest] -= 1
        given = [k for k in given if widths[k] > LEAST]
    return [line for row in texts for line in _row(row, columns, widths)] if rows else []


def _row(cells: Row, columns: Sequence[Column], widths: Sequence[int]) -> list[str]:
    broken = [wrap(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    return [
        "".join(
            f"  {text:>{width}}" if column.right else f"  {text:<{width}}"
            for text, column, width in zip(line, columns, widths, strict=True)
        )
        for line in zip_longest(*broken, fillvalue="")
    ]
