"""The test page's measures: what stands on it to be measured, and where.

In: a paper. Out: lengths and places in mm, origin at the paper's lower left, y up.

Words: the *bars* are the two longest lines, across and down; the *box* is the rectangle whose four corners
have crosses, from cross to cross its *diagonals*, A from the lower left and B from the lower right; the
*steps* of a side are short lines beside one another, each 1 mm farther in than the one before, the first on
the paper's very edge.

          ┌────────┴steps┴───┐
          │  │               │
          │  +B             A+
          │ b│               │
          ├ a│               ┤
          │ r│               │
          │  +A───bar across─+B─
          └──┴─────┬steps┬───┘
"""

from __future__ import annotations

from math import floor, hypot

import msgspec

from handkit.geometry.affine import Point
from handkit.paper import Paper

# Bars begin and end so far from the paper's edges: no printer in use loses more (common practice, no source).
INSET = 15.0
# The bars' lines lie so far in: clear of the steps and their numbers.
LINE = 25.0
# What a steel rule of 300 mm reads in one go: a longer line is measured in two, and no better.
MOST_LENGTH = 290.0
# All lengths are a multiple of this.
WHOLE = 10.0
# Of steps: the last is so far in, and from one to the next along the side; both ends of a side stay free.
MOST_STEPS = 15
STEP_APART = 4.5
STEPS_CLEAR = LINE + 10.0


class PrinterPage(msgspec.Struct, frozen=True):
    """A test page on this paper."""

    paper: Paper

    @property
    def across(self) -> float:
        """Length of the bar across."""
        return _whole(min(self.paper.width - 2 * INSET, MOST_LENGTH))

    @property
    def down(self) -> float:
        """Length of the bar down."""
        return _whole(min(self.paper.height - 2 * INSET, MOST_LENGTH))

    @property
    def box(self) -> tuple[float, float]:
        """Width and height of the box: of all whose diagonals a rule reads, the one that shows a lean best.

        A lean of s radians makes one diagonal longer than the other by 2·w·h·s ÷ diagonal: plane geometry.
        """
        wide, high = (int(_whole(INSET + bar - LINE) / WHOLE) for bar in (self.across, self.down))
        sizes = [(i * WHOLE, j * WHOLE) for i in range(1, wide + 1) for j in range(1, high + 1)]
        return max((w * h / hypot(w, h), w, h) for w, h in sizes if hypot(w, h) <= MOST_LENGTH)[1:]

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Of the box: lower left, lower right, upper right, upper left."""
        width, height = self.box
        right, top = LINE + width, LINE + height
        return (LINE, LINE), (right, LINE), (right, top), (LINE, top)

    def steps(self, side: float) -> int:
        """The number of the last step on a side so long."""
        return min(MOST_STEPS, floor((side - 2 * STEPS_CLEAR) / STEP_APART + 1e-9))


def _whole(length: float) -> float:
    return max(1, floor(length / WHOLE + 1e-9)) * WHOLE
