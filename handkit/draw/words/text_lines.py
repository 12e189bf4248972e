"""Text lines: headlines, filled text and tables of a plain text of 100 columns.

In: words. Out: lines without their ends; no control codes.
"""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

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


def text_table(heads: Sequence[str], rows: Sequence[Sequence[str]], *, names: int = 1) -> list[str]:
    """Columns as wide as they need; the first `names` and the note to the left, figures to the right.

    A name takes at most 32 columns and what is left of the width goes to the note; both go on
    over several lines.
    """
    widths = [max(len(cell) for cell in column) for column in zip(heads, *rows, strict=True)]
    widths[0] = min(widths[0], 32)
    widths[-1] = max(WIDTH - 2 * len(widths) - sum(widths[:-1]), 16)
    return [line for row in (heads, *rows) for line in _row(row, widths, names)]


def _row(cells: Sequence[str], widths: Sequence[int], names: int) -> list[str]:
    columns = [wrap(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    lines = []
    for index in range(max(map(len, columns))):
        parts = []
        for number, (column, width) in enumerate(zip(columns, widths, strict=True)):
            text = column[index] if index < len(column) else ""
            left = number < names or number == len(widths) - 1
            parts.append(f"{text:<{width}}" if left else f"{text:>{width}}")
        lines.append("  " + "  ".join(parts))
    return lines
