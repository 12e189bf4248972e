"""Blade: the outline of a sheath's leaf about a blade, and how a strap goes round a handle.

In: the blade as seen flat, its back along x = 0 and its point down; what lies between blade and edge. Out:
corners and lengths, mm.

      ·────·      The leaf keeps a distance from the hull of the blade's edge: it bridges hollows, and the
      │     ╲     blade can be drawn out of the mouth at its widest. The foot is cut level, below the point.
      │ ╲    ·
      │  ╲   │
      │   ·  │    mouth up, x from the fold
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot, pi

from handkit.draft.sizes.fold_length import fold_allowance
from handkit.geometry.affine import Point
from handkit.geometry.polygon import hull


def spine_half(spine: float, leather: float) -> float:
    """From the fold's line to the blade's back, on the middle of the leather: half of what the fold takes,
    (π/4)·(t + s), leather s thick folded close round a spine t thick.

    >>> round(spine_half(3, 2.4), 4)
    4.2412
    """
    return fold_allowance(180, spine / 2, leather) / 2


def parallel_corners(edge: Sequence[Point], off: float) -> tuple[Point, ...]:
    """The corners of the line `off` outside an edge that goes up, and turns left, from its lowest place: the
    first where it leaves the level line under it, the last level with the edge's end.

    >>> parallel_corners([(0, 0), (20, 0), (20, 90)], 10)  # a chisel
    ((30.0, -10.0), (30.0, 90.0))
    >>> [(round(x, 3), round(y, 3)) for x, y in parallel_corners([(0, 0), (20, 20), (20, 90)], 10)]
    [(4.142, -10.0), (30.0, 15.858), (30.0, 90.0)]
    """
    legs = [(a, b) for a, b in pairwise(edge) if b[1] > a[1]]
    lines = [((legs[0][0][0], legs[0][0][1] - off), (1.0, 0.0))]
    for (x0, y0), (x1, y1) in legs:
        long = hypot(x1 - x0, y1 - y0)
        way = ((x1 - x0) / long, (y1 - y0) / long)
        lines.append(((x0 + off * way[1], y0 - off * way[0]), way))
    lines.append(((0.0, edge[-1][1]), (-1.0, 0.0)))
    return tuple(_meet(one, other) for one, other in pairwise(lines))


_Line = tuple[Point, Point]


def _meet(one: _Line, other: _Line) -> Point:
    """Where two lines, each by a place and a unit vector, cross."""
    ((ax, ay), (ux, uy)), ((bx, by), (vx, vy)) = one, other
    along = ((bx - ax) * vy - (by - ay) * vx) / (ux * vy - uy * vx)
    return (ax + along * ux, ay + along * uy)


def strap_round(handle: tuple[float, float], under: tuple[float, float], strap: float, ease: float) -> float:
    """Round a handle (width, thickness) and the leather under it (likewise), on the middle of a strap; its
    end over its start lies a thickness further out.

    >>> round(strap_round((28, 18), (20, 3), 0, 0), 6)  # 28 + 2 x 18 + 2 x √(4² + 3²) + 20
    94.0
    """
    (wide, thick), (base, leather) = handle, under
    corners = [(side * half, z) for side in (-1, 1) for half, z in _corners(wide, thick, base, leather)]
    ring = hull(corners)
    long = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise((*ring, ring[0])))
    return long + pi * strap + strap + ease


def _corners(wide: float, thick: float, base: float, leather: float) -> tuple[Point, ...]:
    return ((base / 2, 0.0), (base / 2, leather), (wide / 2, leather), (wide / 2, leather + thick))
