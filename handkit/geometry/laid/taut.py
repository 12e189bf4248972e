"""Taut lines: what is pulled tight over points, from the first of them to the last.

In: places (along, height) in mm, the first where the line begins, the last where it ends. Out: the line's
corners, and its length, on the line itself or on the middle of leather that lies on it.

            ·────·            the upper hull of the points: it bridges what lies lower
          ╱   ·    ╲
    first            last
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import atan2, cos, pi, sin

from handkit.geometry.affine import Point
from handkit.geometry.polygon import hull
from handkit.geometry.straight import distance


def taut(points: Sequence[Point]) -> tuple[Point, ...]:
    """The line over points, from the first to the last; the last must not lie before the first.

    >>> taut([(0, 0), (2, 1), (4, 3), (6, 0)])
    ((0, 0), (4, 3), (6, 0))
    >>> taut([(0, 0), (4, 3), (4, 0)])
    ((0, 0), (4, 3), (4, 0))
    """
    first, last = points[0], points[-1]
    over = [at for at in points if _is_above(at, first, last)]
    ring = hull([first, last, *over])
    if first not in ring or last not in ring or first == last:
        return (first, last)
    k = ring.index(last)
    chain = [*ring[k:], *ring[:k]]
    return tuple(reversed(chain[: chain.index(first) + 1]))


def turned(line: Sequence[Point], *, start: Point | None = None, end: Point | None = None) -> float:
    """By how much a taut line turns to its right, in radians; `start` and `end` are the directions that it
    comes from and goes on in.

    >>> round(turned([(0, 0), (4, 4), (8, 0)]) / pi, 6)
    0.5
    >>> round(turned([(0, 0), (4, 0)], start=(0, 1), end=(0, -1)) / pi, 6)
    1.0
    """
    ways = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line)]
    ways = [*([start] if start else []), *ways, *([end] if end else [])]
    return sum(_right(a, b) for a, b in pairwise(ways))


def taut_length(
    line: Sequence[Point], *, off: float = 0.0, start: Point | None = None, end: Point | None = None
) -> float:
    """How long it is, `off` outside it: each corner adds an arc there.

    >>> round(taut_length([(0, 0), (0, 5), (30, 5), (30, 0)]), 3)
    40.0
    >>> round(taut_length([(0, 0), (0, 5), (30, 5), (30, 0)], off=1) - 40 - pi, 9)
    0.0
    """
    return sum(distance(a, b) for a, b in pairwise(line)) + off * turned(line, start=start, end=end)


def flap_length(  # noqa: PLR0913 - a bend, and what it is closed over
    over: Iterable[Point], end: Point, *, half: float, height: float, radius: float, leather: float
) -> float:
    """How far beyond its fold's line a flap reaches its stud at `end`, mm along its middle; places along
    count from that line towards the stud.

    Its inside goes round a bend of a half turn, which begins `half` along and at that height, with an inside
    radius, and taut over all that is on its way; the bent zone lies half on either side of the line.

    >>> zone = pi * (2 + 1) / 2  # leather 2 thick, bent on a radius of 2
    >>> round(flap_length([], (1000.0, 4.0), half=zone, height=0, radius=2, leather=2), 3)
    1000.0
    """
    turns = (pi * k / _LINES for k in range(_LINES + 1))
    bend = [(half - radius * sin(turn), height + radius * (1 - cos(turn))) for turn in turns]
    line = taut([*bend, *over, end])
    return taut_length(line, off=leather / 2, start=(-1.0, 0.0)) - half


# Into how many lines the inside of a bend is parted: of 10 mm radius they are 0.01 mm shorter than it.
_LINES = 90


def _right(before: Point, after: Point) -> float:
    """How far one direction turns to the right of another; to the left it is 0: the line is held there."""
    turn = atan2(before[1], before[0]) - atan2(after[1], after[0])
    turn = (turn + pi) % (2 * pi) - pi
    return max(turn, 0.0)


def _is_above(at: Point, start: Point, end: Point) -> bool:
    """Whether a place lies on the straight from start to end, or left of it."""
    return (end[0] - start[0]) * (at[1] - start[1]) - (end[1] - start[1]) * (at[0] - start[0]) >= -1e-9
