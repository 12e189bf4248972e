"""Outlines: a thing's outline in its own frame, with as few points as tell it.

In: an outline on the mat. Out: the same simplified, its long axis along x, the lower left of its box at
(0, 0); and the way back.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, degrees, radians, sin, sqrt

from handkit.geometry.affine import Affine, Point
from handkit.geometry.polygon import hull
from handkit.geometry.region import region_of_points
from handkit.photo.parallax import largest

# No place of an outline is further off than this for having fewer points, in mm; figures are told to so many
# decimals.
WITHIN, DECIMALS = 0.1, 2

# A thing that is less than so many times as long as wide, by the spread of its area, has no axis of its own.
LONG = 1.15


def in_own_frame(outline: Sequence[Point]) -> tuple[tuple[Point, ...], Affine]:
    """The outline by itself, and what brings it back onto the mat.

    >>> own, back = in_own_frame([(10, 10), (13, 10), (13, 60), (10, 60)])
    >>> own, [round(x) for x in back.apply((50, 0))]
    (((0.0, 0.0), (50.0, 0.0), (50.0, 3.0), (0.0, 3.0)), [13, 60])
    """
    simple = largest(region_of_points(outline).simplified(WITHIN))
    turn = axis(simple)
    level = [Affine.turn(-turn).apply(point) for point in simple]
    left, bottom = min(x for x, _ in level), min(y for _, y in level)
    own = [(round(x - left, DECIMALS), round(y - bottom, DECIMALS)) for x, y in level]
    first = min(range(len(own)), key=lambda index: (own[index][0] + own[index][1], own[index]))
    return tuple(own[first:] + own[:first]), Affine.turn(turn) @ Affine.shift(left, bottom)


def axis(ring: Sequence[Point]) -> float:
    """The direction of the long axis in degrees, over −90 up to 90: that of the area's greatest spread
    (second moments of a polygon, any handbook of statics), or of a side of the narrowest box where no way is
    longer.

    >>> round(axis([(0, 0), (30, 30), (29, 31), (-1, 1)]), 6)
    45.0
    """
    area = mx = my = xx = yy = xy = 0.0
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        cross = x0 * y1 - x1 * y0
        area += cross / 2
        mx, my = mx + (x0 + x1) * cross / 6, my + (y0 + y1) * cross / 6
        xx, yy = (
            xx + (x0 * x0 + x0 * x1 + x1 * x1) * cross / 12,
            yy + (y0 * y0 + y0 * y1 + y1 * y1) * cross / 12,
        )
        xy += (x0 * y1 + 2 * x0 * y0 + 2 * x1 * y1 + x1 * y0) * cross / 24
    xx, yy, xy = xx - mx * mx / area, yy - my * my / area, xy - mx * my / area
    spread = sqrt((xx - yy) ** 2 / 4 + xy * xy)
    middle = (xx + yy) / 2
    turn = degrees(atan2(2 * xy, xx - yy)) / 2
    if sqrt((middle + spread) / (middle - spread)) < LONG:
        turn = _narrowest(ring)
    return turn + 180 if turn <= -90 + 1e-9 else turn


def _narrowest(ring: Sequence[Point]) -> float:
    """The direction of the longer side of the least box round a ring: one of its hull's sides lies on it."""
    rim = hull(ring)
    best = (float("inf"), 0.0)
    for (x0, y0), (x1, y1) in zip(rim, [*rim[1:], rim[0]], strict=True):
        turn = degrees(atan2(y1 - y0, x1 - x0))
        c, s = cos(radians(turn)), sin(radians(turn))
        along, over = [x * c + y * s for x, y in rim], [y * c - x * s for x, y in rim]
        long, wide = max(along) - min(along), max(over) - min(over)
        best = min(best, (round(long * wide, 6), turn if long >= wide else turn + 90))
    return (best[1] + 90) % 180 - 90
