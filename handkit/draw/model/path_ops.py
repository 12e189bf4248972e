"""Path operations: lines and arcs as the moves, lines and cubics a page is drawn with.

In: paths, points and circles in mm. Out: `PathOps` in mm, with the operators of ISO 32000-1 8.5.2:
`m` move, `l` line, `c` cubic, `h` close.

An arc becomes cubics of at most 22.5 degrees each, with handles of 4/3·tan(a/4)·r for a bit that
turns by a: the curve then meets the arc at both ends and at its middle and leaves it by less than
2e-8 of the radius between. Bits of 90 degrees, as drawing libraries have them, are out by 2.7e-4
of the radius: 0.03 mm at r = 100 mm. (The standard cubic for a circle; errors by calculation.)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from itertools import pairwise
from math import ceil, cos, pi, radians, sin, tan
from types import MappingProxyType

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.geometry.straight import distance

# How many numbers each operator takes.
NUMBERS: Mapping[str, int] = MappingProxyType({"m": 2, "l": 2, "c": 6, "h": 0})

MOST_TURN_DEGREES = 22.5


class PathOps(msgspec.Struct, frozen=True):
    """Operators, a letter each, and all their numbers in a row: x and y by turns.

    >>> list(PathOps("mlh", (0, 0, 5, 1)).each())
    [('m', (0, 0)), ('l', (5, 1)), ('h', ())]
    """

    operators: str = ""
    numbers: tuple[float, ...] = ()

    def each(self) -> Iterator[tuple[str, tuple[float, ...]]]:
        """Each operator with its numbers."""
        first = 0
        for operator in self.operators:
            last = first + NUMBERS[operator]
            yield operator, self.numbers[first:last]
            first = last

    def shifted(self, shifts: Iterable[Point]) -> PathOps:
        """Moved by each of some (x, y), one after another."""
        xs, ys = self.numbers[::2], self.numbers[1::2]
        for dx, dy in shifts:
            xs = tuple([x + dx for x in xs]) if dx else xs
            ys = tuple([y + dy for y in ys]) if dy else ys
        return PathOps(self.operators, tuple([n for pair in zip(xs, ys, strict=True) for n in pair]))

    def moved(self, by: Affine) -> PathOps:
        """Its image under any map of the plane: a cubic's is the cubic of its points' images."""
        points = zip(self.numbers[::2], self.numbers[1::2], strict=True)
        return PathOps(self.operators, tuple([n for point in points for n in by.apply(point)]))

    def scaled(self, scale: float) -> PathOps:
        """Larger or smaller about the origin."""
        return PathOps(self.operators, tuple([n * scale for n in self.numbers]))


def path_ops(path: Path) -> PathOps:
    """A path; a closed one ends with `h`."""
    return segment_ops(path.segments, closed=path.closed)


def segment_ops(segments: Sequence[Segment], *, closed: bool = False) -> PathOps:
    """Segments that join, end to start, as one subpath."""
    operators, numbers = ["m"], [*segments[0].start]
    for index, segment in enumerate(segments):
        if segment.bulge:
            for cubic in cubics_of(segment):
                operators.append("c")
                numbers.extend(cubic)
        elif not (closed and index == len(segments) - 1):  # the close draws the last line itself
            operators.append("l")
            numbers.extend(segment.end)
    return PathOps("".join(operators) + "h" * closed, tuple(numbers))


def cubics_of(arc: Segment) -> tuple[tuple[float, ...], ...]:
    """An arc as cubics: two handles and an end each, six numbers."""
    (cx, cy), (x0, y0), sweep = arc.centre, arc.start, arc.sweep
    count = max(1, ceil(abs(sweep) / radians(MOST_TURN_DEGREES) - 1e-9))
    spokes = [_turned((x0 - cx, y0 - cy), sweep * k / count) for k in range(count + 1)]
    points = [arc.start, *((cx + x, cy + y) for x, y in spokes[1:-1]), arc.end]
    reach = 4 / 3 * tan(sweep / count / 4)
    return tuple(
        (p[0] - u[1] * reach, p[1] + u[0] * reach, q[0] + v[1] * reach, q[1] - v[0] * reach, *q)
        for p, q, u, v in zip(points, points[1:], spokes, spokes[1:], strict=False)
    )


def circle_ops(centre: Point, radius: float, *, bits: int = 16) -> PathOps:
    """A closed circle, counter-clockwise from three o'clock, in so many cubics."""
    x, y = centre
    reach = 4 / 3 * tan(pi / 2 / bits) * radius
    numbers = [x + radius, y]
    for c, s, d, t in _round_unit(bits):
        handles = (x + c * radius - s * reach, y + s * radius + c * reach)
        ending = (x + d * radius + t * reach, y + t * radius - d * reach)
        numbers += (*handles, *ending, x + d * radius, y + t * radius)
    return PathOps("m" + "c" * bits + "h", tuple(numbers))


def dot_ops(centre: Point, diameter: float) -> PathOps:
    """A dot. Four cubics do: at 0.4 mm across they are out by 0.00005 mm."""
    return circle_ops(centre, diameter / 2, bits=4)


def line_ops(start: Point, end: Point) -> PathOps:
    """One straight line."""
    return PathOps("ml", (*start, *end))


def polyline_ops(points: Sequence[Point], *, closed: bool = False) -> PathOps:
    """A line through points."""
    operators = "m" + "l" * (len(points) - 1) + "h" * closed
    return PathOps(operators, tuple([n for point in points for n in point]))


def box_ops(left: float, bottom: float, right: float, top: float) -> PathOps:
    """A closed upright rectangle, counter-clockwise from its lower left."""
    return PathOps("mlllh", (left, bottom, right, bottom, right, top, left, top))


def cross_ops(centre: Point, *arms: Point) -> PathOps:
    """Lines through a point, each reaching its arm (x, y) to either side."""
    x, y = centre
    return joined(line_ops((x - dx, y - dy), (x + dx, y + dy)) for dx, dy in arms)


def arrow_ops(tail: Point, tip: Point, *, head: float) -> PathOps:
    """A line with an open head of a length at its tip."""
    dx, dy = tip[0] - tail[0], tip[1] - tail[1]
    length = distance(tail, tip)
    ux, uy = dx / length * head, dy / length * head
    back = (tip[0] - ux, tip[1] - uy)
    wings = (
        (back[0] - uy * 0.45, back[1] + ux * 0.45),
        tip,
        (back[0] + uy * 0.45, back[1] - ux * 0.45),
    )
    return joined((line_ops(tail, tip), polyline_ops(wings)))


def joined(many: Iterable[PathOps]) -> PathOps:
    """Several subpaths as one."""
    parts = list(many)
    return PathOps("".join(p.operators for p in parts), tuple([n for p in parts for n in p.numbers]))


def _turned(vector: Point, angle: float) -> Point:
    (x, y), c, s = vector, cos(angle), sin(angle)
    return (x * c - y * s, x * s + y * c)


@cache
def _round_unit(bits: int) -> tuple[tuple[float, float, float, float], ...]:
    """Cosine and sine at both ends of each bit of a full turn; whole quarters are exact."""
    exact = {0: (1.0, 0.0), 1: (0.0, 1.0), 2: (-1.0, 0.0), 3: (0.0, -1.0)}
    spokes = [
        exact[4 * k // bits % 4] if 4 * k % bits == 0 else (cos(2 * pi * k / bits), sin(2 * pi * k / bits))
        for k in range(bits + 1)
    ]
    return tuple((*a, *b) for a, b in pairwise(spokes))
