"""Capsules: all that is nearer than a radius to a straight line, such as a hole in leather.

In and out: points and distances in mm. A round hole is a capsule whose line is one point, a slit one
of radius 0, a slot with round ends has both.
"""

from __future__ import annotations

from math import cos, radians, sin

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.straight import Straight, distance, line_to_line


class Capsule(msgspec.Struct, frozen=True):
    """All that is no farther than `radius` from the line from `start` to `end`."""

    start: Point
    end: Point
    radius: float = 0.0

    @staticmethod
    def about(middle: Point, *, half: float, degrees: float, radius: float) -> Capsule:
        """Half its line's length to either side of a middle, in a direction.

        >>> Capsule.about((5.0, 5.0), half=2, degrees=0, radius=1)
        Capsule(start=(3.0, 5.0), end=(7.0, 5.0), radius=1)
        """
        turn = radians(degrees)
        x, y = half * cos(turn), half * sin(turn)
        return Capsule((middle[0] - x, middle[1] - y), (middle[0] + x, middle[1] + y), radius)

    @property
    def line(self) -> Straight:
        """Its middle line."""
        return (self.start, self.end)

    @property
    def is_round(self) -> bool:
        """Whether its line is one point."""
        return self.start == self.end

    def moved(self, by: Affine) -> Capsule:
        """Laid elsewhere, its size kept."""
        return Capsule(by.apply(self.start), by.apply(self.end), self.radius)

    def middle_distance(self, other: Capsule) -> float:
        """From middle line to middle line: of round ones from centre to centre."""
        if self.is_round and other.is_round:
            return distance(self.start, other.start)
        return line_to_line(self.line, other.line)

    def gap(self, other: Capsule) -> float:
        """What is left between the rims; negative where they overlap."""
        return self.middle_distance(other) - self.radius - other.radius
