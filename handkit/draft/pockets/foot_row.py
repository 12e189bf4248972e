"""Foot row: the row of stitches round a flat pocket's foot, and where dividers start at it.

In: the pocket's width, inset and foot radii; where a divider stands. Out: the divider's lower end.

       │              │  ╎ starts in a hole of the row where its second hole is clear of the row
       │         ╎    │    besides
       ╲         ╎    │  over a steep arc of the row it starts a pitch away from it: no hole is shared
        ╲__      ╎    ╱
           ──────o───╱

All mm, in the pocket's frame.
"""

from __future__ import annotations

from math import hypot, sqrt

import msgspec

from handkit.geometry.affine import Point
from handkit.read.project import Stitching
from handkit.tolerances import COINCIDE

# A step comes out no shorter than this share of the pitch, but on lines of two or three stitches.
SHORTEST_STEP = 0.85


class FootRow(msgspec.Struct, frozen=True):
    """The stitch line of a pocket `width` wide; `left` and `right` are its outline's radii there."""

    width: float
    inset: float
    left: float
    right: float

    def divider_foot(self, x: float, stitching: Stitching) -> Point:
        """Where a divider at `x` starts: on the row, or a pitch above its arc."""
        on_row = self._height(x)
        if on_row - self.inset <= COINCIDE:
            return (x, self.inset)
        second = on_row + SHORTEST_STEP * stitching.pitch
        least = stitching.least_step
        if self._off((x, second)) >= least:
            return (x, on_row)
        return (x, self._above(x, max(least, stitching.pitch)))

    def meets(self, at: Point) -> bool:
        """Whether a divider's foot lies on the row, so that both have a hole there."""
        return at[1] <= self._height(at[0]) + COINCIDE

    def _corner(self, x: float) -> tuple[Point, float]:
        """Centre and radius of the row's arc on the side where `x` is; radius 0 of a sharp corner."""
        is_left = x <= self.width / 2
        outer = self.left if is_left else self.right
        radius = max(0.0, outer - self.inset)
        beside = self.inset + radius
        return (beside if is_left else self.width - beside, beside), radius

    def _across(self, x: float) -> float:
        """How far outside the arc's centre `x` is; at most 0 above the straight foot."""
        (middle, _), _ = self._corner(x)
        return middle - x if x <= self.width / 2 else x - middle

    def _height(self, x: float) -> float:
        """The row's height at `x`: the inset, or that of its arc."""
        return self._above(x, 0.0)

    def _above(self, x: float, apart: float) -> float:
        """The lowest height at `x` that is `apart` from the foot's row: over its arc, or the straight."""
        (_, low), radius = self._corner(x)
        across = self._across(x)
        if across <= 0:
            return self.inset + apart
        inner = radius - apart
        return low if inner <= across else low - sqrt(inner**2 - across**2)

    def _off(self, at: Point) -> float:
        """From a point inside to the row round the foot's corner or along the foot."""
        (middle, low), radius = self._corner(at[0])
        if self._across(at[0]) <= 0 or at[1] >= low:
            return at[1] - self.inset
        return radius - hypot(at[0] - middle, at[1] - low)
