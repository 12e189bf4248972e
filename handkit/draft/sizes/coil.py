"""Coil: how far it is round a roll when it is rolled up, with its things in it.

In: how long the strip of leather is that is rolled up, from its first thing's end, how thick it is; its
things along it. Out: the girth, on the outside of the last turn; the least that any rolling could come to.
All mm.

    ┌───┐                        The bundle rolls along the strip over one thing after the other. Each comes
    │ 1 ├──┐                     to lie flat against the side that the bundle has got to, with the leather on
    └───┘2 │   ──── 3 ──── 4 ──  its outside, which bridges hollows: the hull. What is left of the strip goes
       └───┘                     round the last turn.

Nothing is squeezed, and nothing slides into a hollow: hands roll tighter here and looser there, so a strap
has holes to either side. No source; `tests/draft/parts/test_roll.py` holds it to a finer reckoning.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import cos, hypot, pi, sin, sqrt

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.polygon import hull
from handkit.geometry.straight import distance

_SIDES = 16  # of a round thing


class Rolled(msgspec.Struct, frozen=True):
    """A thing in the strip: where its middle is, how wide and thick it is."""

    middle: float
    width: float
    thickness: float
    is_round: bool = False

    def places(self, at: Point, out: Point, leather: float) -> list[Point]:
        """Its corners with the leather on its outside, where it lies against a side at a place."""
        (x, y), (nx, ny) = at, out
        if self.is_round:
            r = self.thickness / 2 + leather
            mx, my = x + nx * self.thickness / 2, y + ny * self.thickness / 2
            turns = (2 * pi * k / _SIDES for k in range(_SIDES))
            return [(mx + r * cos(turn), my + r * sin(turn)) for turn in turns]
        half, high = self.width / 2, self.thickness + leather
        return [
            (x - ny * side * half + nx * up, y + nx * side * half + ny * up)
            for side in (-1, 1)
            for up in (0.0, high)
        ]


def tightest(things: Sequence[Rolled], length: float, leather: float) -> float:
    """The least that any rolling could come to: a circle without air in it."""
    solid = (pi * each.thickness**2 / 4 if each.is_round else each.width * each.thickness for each in things)
    return 2 * sqrt(pi * (length * leather + sum(solid)))


def coil_girth(things: Sequence[Rolled], length: float, leather: float) -> float:
    """The girth of the bundle. The first thing is its core, wrapped in leather.

    By hand, one rod of 10 mm in leather of 2 mm that ends with it: 14 across, as a polygon of 16 sides inside
    that circle, 14 · 16 · sin(π ÷ 16).

    >>> round(coil_girth([Rolled(5, 10, 10, True)], 5, 2), 2)
    43.7
    """
    first, *others = things
    core = first.places((0.0, -first.thickness / 2), (0.0, 1.0), leather)
    bundle = hull([*core, *((x, -y) for x, y in core)])
    at, along = (0.0, first.thickness / 2 + leather), first.middle
    for thing in others:
        at, out = _onwards(bundle, at, thing.middle - along)
        bundle = hull([*bundle, *thing.places(at, out, leather)])
        high = thing.thickness + leather
        at, along = (at[0] + out[0] * high, at[1] + out[1] * high), thing.middle
    left = length - along - things[-1].width / 2
    steps = max(0, int(left // leather)) if left > 0 else 0
    round_it = [_onwards(bundle, at, things[-1].width / 2 + k * leather) for k in range(steps + 1)]
    over = [(x + nx * leather, y + ny * leather) for (x, y), (nx, ny) in round_it] if steps else []
    return _round(hull([*bundle, *over]))


def _onwards(bundle: Sequence[Point], at: Point, way: float) -> tuple[Point, Point]:
    """From the place of a bundle that is nearest, so far on round it, and the way out there."""
    sides = list(pairwise((*bundle, bundle[0])))
    lengths = [distance(*side) for side in sides]
    begins = [sum(lengths[:k]) for k in range(len(sides))]
    start = min(
        (
            (distance(at, (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)), begin + share * long)
            for (a, b), begin, long in zip(sides, begins, lengths, strict=True)
            for share in (_share(at, a, b),)
        ),
    )[1]
    to = (start + way) % sum(lengths)
    k = max(k for k, begin in enumerate(begins) if begin <= to)
    (a, b), share = sides[k], (to - begins[k]) / lengths[k]
    dx, dy = (b[0] - a[0]) / lengths[k], (b[1] - a[1]) / lengths[k]
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share), (dy, -dx)


def _share(at: Point, a: Point, b: Point) -> float:
    """How far along a side the place nearest to another is, from 0 to 1."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    share = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / hypot(dx, dy) ** 2
    return min(max(share, 0.0), 1.0)


def _round(points: Sequence[Point]) -> float:
    return sum(distance(a, b) for a, b in pairwise((*points, points[0])))
