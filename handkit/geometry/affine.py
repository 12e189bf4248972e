"""Affine maps of the plane: how a piece's frame lies in another frame or on a sheet.

In and out: points as (x, y), y up. A map is six numbers in the order of ISO 32000's matrices:
x' = a·x + c·y + e,  y' = b·x + d·y + f.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import atan2, cos, degrees, radians, sin

import msgspec

Point = tuple[float, float]

# Cosine and sine of whole quarters, which radians cannot say exactly.
_QUARTERS: dict[float, Point] = {
    0.0: (1.0, 0.0),
    90.0: (0.0, 1.0),
    180.0: (-1.0, 0.0),
    270.0: (0.0, -1.0),
}


class Affine(msgspec.Struct, frozen=True):
    """A map of the plane onto itself; `outer @ inner` does `inner` first."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @staticmethod
    def shift(x: float, y: float) -> Affine:
        """Moves by (x, y)."""
        return Affine(e=x, f=y)

    @staticmethod
    def turn(degrees: float) -> Affine:
        """Turns about the origin, counter-clockwise; quarter turns are exact.

        >>> Affine.turn(90).apply((2, 1))
        (-1.0, 2.0)
        """
        c, s = _QUARTERS.get(degrees % 360, (cos(radians(degrees)), sin(radians(degrees))))
        return Affine(c, s, -s, c)

    @staticmethod
    def mirror() -> Affine:
        """Turns over about the y axis: x becomes −x."""
        return Affine(a=-1.0)

    @staticmethod
    def across(start: Point, end: Point) -> Affine:
        """Turns over about the line through two points. Raises ZeroDivisionError where they are one.

        >>> Affine.across((0, 2), (3, 2)).apply((1.0, 5.0))
        (1.0, -1.0)
        """
        (x, y), (u, v) = start, (end[0] - start[0], end[1] - start[1])
        a, b = (u * u - v * v) / (u * u + v * v), 2 * u * v / (u * u + v * v)
        return Affine(a, b, b, -a, x - a * x - b * y, y - b * x + a * y)

    def __matmul__(self, inner: Affine) -> Affine:
        return Affine(
            self.a * inner.a + self.c * inner.b,
            self.b * inner.a + self.d * inner.b,
            self.a * inner.c + self.c * inner.d,
            self.b * inner.c + self.d * inner.d,
            self.a * inner.e + self.c * inner.f + self.e,
            self.b * inner.e + self.d * inner.f + self.f,
        )

    def apply(self, point: Point) -> Point:
        """Where a point goes."""
        x, y = point
        return (self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def apply_all(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Where each point goes, in order."""
        a, b, c, d, e, f = self.a, self.b, self.c, self.d, self.e, self.f
        return tuple([(a * x + c * y + e, b * x + d * y + f) for x, y in points])

    def apply_direction(self, vector: Point) -> Point:
        """Where a direction goes: the shift is left out."""
        x, y = vector
        return (self.a * x + self.c * y, self.b * x + self.d * y)

    def way(self, angle: float) -> float:
        """Where the direction of a line goes, in degrees, 0 up to 180: a line has no front end.

        >>> Affine.mirror().way(30), Affine.turn(90).way(90), Affine().way(-45)
        (150.0, 0.0, 135.0)
        """
        return self.heading(angle) % 180

    def heading(self, angle: float) -> float:
        """Where a direction goes, in degrees, 0 up to 360.

        >>> Affine.mirror().heading(30), Affine().heading(-45)
        (150.0, 315.0)
        """
        x, y = self.apply_direction((cos(radians(angle)), sin(radians(angle))))
        return round(degrees(atan2(y, x)), 9) % 360

    @property
    def determinant(self) -> float:
        """Area of the unit square's image; negative where the map turns over."""
        return self.a * self.d - self.b * self.c

    @property
    def turns_over(self) -> bool:
        """Whether left becomes right."""
        return self.determinant < 0

    def inverse(self) -> Affine:
        """The way back. Raises ZeroDivisionError for a map that flattens the plane.

        >>> place = Affine.shift(3, 4) @ Affine.turn(90) @ Affine.mirror()
        >>> place.inverse().apply(place.apply((5.0, 6.0)))
        (5.0, 6.0)
        """
        k = self.determinant
        a, b, c, d = self.d / k, -self.b / k, -self.c / k, self.a / k
        return Affine(a, b, c, d, -(a * self.e + c * self.f), -(b * self.e + d * self.f))

    def numbers(self) -> tuple[float, float, float, float, float, float]:
        """(a, b, c, d, e, f)."""
        return (self.a, self.b, self.c, self.d, self.e, self.f)
