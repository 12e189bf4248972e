"""The mat: the sheet that things are laid on for a photo, and what stands on it.

In: a paper's width and height in mm. Out: `Mat`, in mm as drawn, origin at the sheet's lower left, y up.

Words: the *marks* are black squares along the border, so many that a photo's geometry is settled; *hollow*
ones have a white square of half their size in the middle and tell which way round the sheet lies: the four at
the corners, and the two beside the one at the lower left. The *bars* are two long lines, each with a tick
across both its ends, whose lengths the maker measures on the printed sheet, from tick to tick. The *field*
is where things may lie.

      ◻ ■ ■ ■ ■ ◻
      ■ ┌─────┐ ■
      ■ │field│ ■
      ◻ └─────┘ ■
      ◻ ◻ ■ ■ ■ ◻
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

import msgspec

from handkit.errors import PaperError
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.printers.page import MOST_LENGTH, WHOLE

# Sides of the squares, how far in their middles lie, and about how far they are from one to the next. As
# simulated layouts had them whose border was found to 0.01 mm.
MARK, MARK_INSET, MARKS_APART = 8.0, 12.0, 23.0
HOLE = MARK / 2

# Half of the ticks at a bar's ends; how far in its line lies: clear of marks and field; how far its ends stay
# from the paper's edges at the least.
TICK, BAR_INSET, BAR_END = 1.5, 19.5, 25.0

# The field begins so far in.
FIELD_INSET = 23.0

# Sides of the sheet: smaller, there is no field to speak of; larger ones (than A2) were never looked at.
LEAST_SIDE, MOST_SIDE = 120.0, 600.0


class MatMark(msgspec.Struct, frozen=True):
    """A black square about a place."""

    centre: Point
    size: float
    hollow: bool


class Bar(msgspec.Struct, frozen=True):
    """A line to measure, from end to end."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """As it is drawn."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])


class Mat(msgspec.Struct, frozen=True):
    """A sheet of this size, with its marks, bars and field."""

    width: float
    height: float
    marks: tuple[MatMark, ...]
    across: Bar
    up: Bar
    field: Box


def mat_of(width: float, height: float) -> Mat:
    """The mat for a paper so wide and high. Raises PaperError where there is none.

    >>> a4 = mat_of(210, 297)
    >>> len(a4.marks), sum(mark.hollow for mark in a4.marks), a4.across.length, a4.up.length
    (40, 6, 160.0, 240.0)
    """
    if min(width, height) < LEAST_SIDE or max(width, height) > MOST_SIDE:
        raise PaperError(
            f"found paper {width:g} × {height:g} mm for a mat; "
            f"allowed: sides from {LEAST_SIDE:g} to {MOST_SIDE:g} mm"
        )
    columns, rows = _places(width), _places(height)
    border = [
        (x, y) for y in rows for x in columns if x in (columns[0], columns[-1]) or y in (rows[0], rows[-1])
    ]
    hollow = {(x, y) for x in (columns[0], columns[-1]) for y in (rows[0], rows[-1])}
    hollow |= {(columns[1], rows[0]), (columns[0], rows[1])}
    return Mat(
        width,
        height,
        tuple(MatMark(place, MARK, place in hollow) for place in border),
        _bar(width, lambda along: (along, BAR_INSET)),
        _bar(height, lambda along: (BAR_INSET, along)),
        Box(FIELD_INSET, FIELD_INSET, width - FIELD_INSET, height - FIELD_INSET),
    )


def _places(side: float) -> list[float]:
    """Where marks stand along a side, evenly."""
    steps = round((side - 2 * MARK_INSET) / MARKS_APART)
    return [MARK_INSET + (side - 2 * MARK_INSET) * step / steps for step in range(steps + 1)]


def _bar(side: float, at: Callable[[float], Point]) -> Bar:
    """The longest of a whole number of cm, and of what a rule reads in one go, in the middle of a side."""
    length = min((side - 2 * BAR_END) // WHOLE * WHOLE, MOST_LENGTH)
    return Bar(at((side - length) / 2), at((side + length) / 2))
