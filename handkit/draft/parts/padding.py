"""Padding: a layer between a strap and its lining, where the strap lies on the body.

In: a strap's measures, its padding's thickness and width. Out: where the padding lies, how much wider the
lining is over it, where tongue holes are then. All mm, x along the strap.

      strap   ════════════════════     across      The seam goes along both edges beside the padding, on strap
    padding      ▒▒▒▒▒▒▒▒▒▒▒▒▒▒                    and lining alone. The lining goes up over the padding and
     lining   ──╱              ╲──                 down again: as much wider as the hull rule says.

It begins behind the butt that is turned back and ends before the first tongue hole, so that the buckle's end
and the end that is buckled bend as they do without. To both its ends the lining comes back to the strap's own
width on a *ramp*. Girth counts on the inside. At its edges, where they are sewn on one another, strap and
lining keep their length as without a padding; what lies on the body is its whole thickness further in, for
the share of the way that it lies on: 2 π t more, or what of that is padded (`padded_along`).
"""

from __future__ import annotations

from math import pi, sqrt

import msgspec

from handkit.draft.parts.drafted import DraftedPiece
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.sizes.hull_rule import strap_way
from handkit.draft.sizes.section import rectangle_section
from handkit.geometry.affine import Point

# How long a ramp is, and what there is between a row and the padding at the least; a padding narrower or
# shorter than that pads nothing (common practice, no source).
RAMP, BESIDE_ROW, LEAST_WIDE, LEAST_LONG = 15.0, 2.0, 4.0, 30.0


class Padding(msgspec.Struct, frozen=True):
    """A padding so thick and wide, from `start`; it ends `before` the first tongue hole. `spread` is how much
    wider the lining is over it."""

    thickness: float
    width: float
    start: float
    before: float
    spread: float

    def piece(self, name: str, width: float, first_hole: float) -> DraftedPiece:
        """Along the middle of a strap so wide, behind it."""
        long = first_hole - self.before - self.start
        corners = rectangle_corners(long, self.width, foot=0.0, mouth=0.0)
        at = (self.start + long, (width - self.width) / 2)
        return DraftedPiece(name, corners, at=at, grain_degrees=0.0)

    def widened(self, first_hole: float, low: Point, high: Point) -> tuple[Point, ...]:
        """The places where the lining's lower edge leaves the line from `low` to `high`, and where it is back
        on it."""
        end, off = first_hole - self.before, self.spread / 2

        def on_line(x: float) -> float:
            return low[1] + (high[1] - low[1]) * (x - low[0]) / (high[0] - low[0])

        places = ((self.start - RAMP, 0.0), (self.start, off), (end, off), (end + RAMP, 0.0))
        return tuple((x, on_line(x) - down) for x, down in places)


def spread_over(thickness: float, width: float, base: float, lining: float) -> float:
    """How much longer a lining is across from row to row over a padding than straight.

    By hand, nothing thick, 3 high and 20 wide between rows 28 apart: 20 and twice 5 (3, 4, 5).

    >>> round(spread_over(3, 20, 28, 0), 6)
    2.0
    """
    return strap_way(rectangle_section(width, thickness), base=base, thickness=lining).length - base


def default_width(base: float, thickness: float) -> float:
    """As wide as the rows leave, `base` from each other, the lining coming down at half a right angle or
    flatter."""
    return base - 2 * max(BESIDE_ROW, thickness)


def first_padded(along: float, thickness: float, bare: float) -> float:
    """How far from the fold the first hole is that would be at `along` without a padding, which leaves `bare`
    of that way; a = along + 2 π t (a − bare) / a.

    >>> round(first_padded(400, 0, 120), 9), round(first_padded(400, 4, 120), 3)
    (400.0, 417.916)
    """
    whole = along + 2 * pi * thickness
    return (whole + sqrt(max(whole**2 - 8 * pi * thickness * bare, 0.0))) / 2


def padded_along(along: float, thickness: float, padded: float) -> float:
    """The same of any hole, once it is known how long the padding is; a = along + 2 π t · padded / a.

    >>> round(padded_along(400, 4, 417.916 - 120), 3)
    417.916
    """
    return (along + sqrt(along**2 + 8 * pi * thickness * padded)) / 2
