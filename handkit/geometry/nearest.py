"""Nearest move: the rigid move that brings points nearest to others.

In: points in mm, and as many that they are to come to. Out: a map of the plane that keeps shapes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, degrees

from handkit.geometry.affine import Affine, Point


def nearest_move(start: Sequence[Point], end: Sequence[Point], *, over: bool) -> Affine:
    """The rigid move with the least sum of squares; `over` turns over first.

    The best turn of two sets of points about their middles is the angle of the sum of b·conj(a)
    (points as complex numbers: a textbook result of least squares).

    >>> nearest_move([(0, 0), (4, 0)], [(1, 1), (1, 5)], over=False).apply((2, 0))
    (1.0, 3.0)
    """
    first = Affine.mirror() if over else Affine()
    a, b = first.apply_all(start), tuple(end)
    (ax, ay), (bx, by) = _middle(a), _middle(b)
    pairs = zip(_about(a, (ax, ay)), _about(b, (bx, by)), strict=True)
    dots = [(p[0] * q[0] + p[1] * q[1], p[0] * q[1] - p[1] * q[0]) for p, q in pairs]
    angle = degrees(atan2(sum(cross for _, cross in dots), sum(dot for dot, _ in dots)))
    turn = Affine.turn(round(angle, 9))
    return Affine.shift(bx, by) @ turn @ Affine.shift(-ax, -ay) @ first


def _middle(points: Sequence[Point]) -> Point:
    return (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))


def _about(points: Sequence[Point], middle: Point) -> Iterator[Point]:
    return ((x - middle[0], y - middle[1]) for x, y in points)
