"""Half a way: how leather lies over half a thing, where its base bows over the other half.

In: a thing's width and thickness, the leather's. Out: the length between two rows of stitches. All mm.
"""

from __future__ import annotations

from math import atan, pi


def way_over(width: float, thickness: float, *, leather: float, round_: bool = False) -> float:
    """How long leather must be from stitch to stitch to bow over half a thing, in mm; all inputs mm.

    The middle of leather of thickness s neither stretches nor shrinks; it lies s/2 off the thing and,
    where it is stitched down, s/2 above the plane between the two layers. Stitched as near as may
    be, s/2 beside the thing on either side, it goes straight up, round the corner on s/2 and across.
    With s = 0 it is half the girth: width + thickness, or half a circle.

    >>> way_over(30, 5, leather=0), round(way_over(10, 10, leather=0, round_=True), 4)
    (35.0, 15.708)
    >>> way_over(30, 0, leather=2)
    32.0
    """
    if round_:
        radius = (width + leather) / 2
        return leather + 2 * radius * (pi / 2 - 2 * atan(leather / (2 * radius)))
    if thickness >= leather:
        return width + thickness - leather + leather * pi / 2
    deep = (leather - thickness) / 2
    return width + 2 * deep + leather * (pi / 2 - 2 * atan(2 * deep / leather))
