"""Steps: paths of lines and arcs as the lines and cubics a page is drawn with.

In: paths, points and circles in mm. Out: `Steps` in mm.

An arc becomes cubics of at most 22.5 degrees each, with handles of 4/3·tan(a/4)·r for a bit that
turns by a: the curve then meets the arc at both ends and at its middle and leaves it by less than
2e-8 of the radius between. Bits of 90 degrees, as drawing libraries have them, are out by 2.7e-4
of the radius: 0.03 mm at r = 100 mm. (The standard cubic for a circle; errors by calculation.)
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import ceil, cos, pi, radians, sin, tan

from handkit.draw.model.marks import Step, Steps
from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment

MOST_TURN_DEGREES = 22.5


def path_steps(path: Path) -> Steps:
    """A path as steps; a closed one ends with `h`."""
    return segment_steps(path.segments, closed=path.closed)


def segment_steps(segments: Sequence[Segment], *, closed: bool = False) -> Steps:
    """Segments that join, end to start, as one subpath."""
    steps: list[Step] = [("m", segments[0].start)]
    for index, segment in enumerate(segments):
        if segment.bulge:
            steps.extend(("c", cubic) for cubic in cubics_of(segment))
        elif not (closed and index == len(segments) - 1):  # the close draws the last line itself
            steps.append(("l", segment.end))
    return (*steps, ("h", ())) if closed else tuple(steps)


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


def circle_steps(centre: Point, radius: float, *, bits: int = 16) -> Steps:
    """A closed circle, counter-clockwise from three o'clock, in so many cubics."""
    x, y = centre
    reach = 4 / 3 * tan(pi / 2 / bits) * radius
    steps: list[Step] = [("m", (x + radius, y))]
    for c, s, d, t in _round_unit(bits):
        handles = (x + c * radius - s * reach, y + s * radius + c * reach)
        ending = (x + d * radius + t * reach, y + t * radius - d * reach)
        steps.append(("c", (*handles, *ending, x + d * radius, y + t * radius)))
    return (*steps, ("h", ()))


def point_steps(centre: Point, diameter: float) -> Steps:
    """A dot. Four cubics do: at 0.4 mm across they are out by 0.00005 mm."""
    return circle_steps(centre, diameter / 2, bits=4)


def line_steps(start: Point, end: Point) -> Steps:
    """One straight line."""
    return (("m", start), ("l", end))


def points_steps(points: Sequence[Point], *, closed: bool = False) -> Steps:
    """A line through points."""
    first, *rest = points
    steps: tuple[Step, ...] = (("m", first), *(("l", point) for point in rest))
    return (*steps, ("h", ())) if closed else steps


def box_steps(left: float, bottom: float, right: float, top: float) -> Steps:
    """A closed upright rectangle, counter-clockwise from its lower left."""
    return points_steps(((left, bottom), (right, bottom), (right, top), (left, top)), closed=True)


def joined(many: Iterable[Steps]) -> Steps:
    """Several subpaths as one."""
    return tuple(step for steps in many for step in steps)


def _turned(vector: Point, angle: float) -> Point:
    (x, y), c, s = vector, cos(angle), sin(angle)
    return (x * c - y * s, x * s + y * c)


def _round_unit(bits: int) -> tuple[tuple[float, float, float, float], ...]:
    """Cosine and sine at both ends of each bit of a full turn; whole quarters are exact."""
    exact = {0: (1.0, 0.0), 1: (0.0, 1.0), 2: (-1.0, 0.0), 3: (0.0, -1.0)}
    spokes = [
        exact[4 * k // bits % 4] if 4 * k % bits == 0 else (cos(2 * pi * k / bits), sin(2 * pi * k / bits))
        for k in range(bits + 1)
    ]
    return tuple((*a, *b) for a, b in pairwise(spokes))
