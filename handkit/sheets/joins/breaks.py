"""Breaks: what was left out of pieces, and the windows that show the lines between which it lay.

In: the gaps of each piece, the sheets. Out: `Break`s, copy by copy. All mm, in the piece's frame.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handkit.geometry.affine import Point
from handkit.geometry.straight import line_to_line
from handkit.sheets.cut.straights import Edge, Gap
from handkit.sheets.laid import Break, Sheet, Window
from handkit.tolerances import ON_BREAK_LINE


def breaks_of(gaps: Mapping[str, Sequence[Gap]], sheets: Sequence[Sheet]) -> tuple[Break, ...]:
    """All breaks, by piece, copy and gap."""
    windows: dict[tuple[str, int], list[Window]] = {}
    for window in (window for sheet in sheets for window in sheet.windows):
        windows.setdefault((window.piece, window.copy), []).append(window)
    return tuple(
        Break(
            piece=name,
            lines=gap.lines,
            length=gap.length,
            windows=(_showing(gap.lines[0], shown), _showing(gap.lines[1], shown)),
            copy=copy,
        )
        for name, some in gaps.items()
        for copy in sorted(copy for piece, copy in windows if piece == name)
        for shown in (windows[name, copy],)
        for gap in some
    )


def _showing(line: Edge, windows: Sequence[Window]) -> tuple[int, ...]:
    """The windows on whose rim a break line lies."""
    return tuple(sorted(window.number for window in windows if _lies_on(line, window.polygon)))


def _lies_on(line: Edge, ring: Sequence[Point]) -> bool:
    sides = zip(ring, (*ring[1:], ring[0]), strict=True)
    return any(_along(side, line) for side in sides)


def _along(side: Edge, line: Edge) -> bool:
    """Whether a side of a window runs along a break line."""
    (ax, ay), (bx, by) = line
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    offs = [abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length for x, y in side]
    return max(offs) <= ON_BREAK_LINE and line_to_line(side, line) <= ON_BREAK_LINE
