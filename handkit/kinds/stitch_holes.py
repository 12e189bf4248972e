"""Stitch holes: how near to one another two of a row may stand.

In: a hole's width and slant, the thread. Out: the least step, centre to centre. All mm.

Two neighbours keep their centres two hole widths apart and 1 mm of leather between them, or they
tear into one (common practice). A slit is a line of its own length; its width along the row is its
projection, at least its thread.
"""

from __future__ import annotations

from math import cos, radians, sin, sqrt

# Leather that must be left between two holes, rim to rim.
LEATHER_BETWEEN = 1.0

# A hole keeps this many of its widths from the edge, centre to edge.
EDGE_WIDTHS = 2.0


def least_step(width: float, *, slant: float | None, thread: float) -> float:
    """The least step of a straight row; `slant` is a slit's to the row in degrees, None of a round hole.

    Slits side by side are `step · sin` apart; slits that do not reach one another, end to end.

    >>> least_step(1.6, slant=None, thread=0.8), least_step(0.8, slant=None, thread=0.6)
    (3.2, 1.8)
    >>> round(least_step(2.5, slant=45, thread=0.8), 4)  # 2 · 2.5 · cos 45°
    3.5355
    >>> round(least_step(1.0, slant=90, thread=0.4), 4)  # side by side
    1.0
    """
    if slant is None:
        return max(2 * width, width + LEATHER_BETWEEN)
    along, across = abs(cos(radians(slant))), abs(sin(radians(slant)))
    if LEATHER_BETWEEN * along <= width * across:
        leather = LEATHER_BETWEEN / across
    else:
        leather = width * along + sqrt(LEATHER_BETWEEN**2 - (width * across) ** 2)
    return max(2 * max(width * along, thread), leather)
