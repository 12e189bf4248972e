"""The hull rule: how long a strap is between two seams when something lies under it.

In: a section standing on the base, the distance `base` between the two seams, the strap's
thickness. Out: the way of the strap's middle from seam to seam, as straight lines and arcs.

    stitch point  ·.    .·""·.    .·  stitch point      the middle lies half a thickness off the
                    `··´ item `··´                      item, and half a thickness above the base
    ───────────────────────────────────── base

The section is grown by half the thickness, what lies lower than the stitch points is cut off, and
the way is that of the convex hull with both stitch points, less the base. It is exact: tangents
from the stitch points, lines beside the section's own, arcs about its corners; nothing is sampled.

How far it holds: the middle of the strap neither stretches nor shrinks (common practice, no
source), and the strap bends at the stitch points as at a hinge.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import asin, atan2, cos, hypot, inf, pi, sin, tan

from handkit.draft.sizes.section import Section
from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.tolerances import SAME_POINT

# Segments shorter than this are left out of the way: a tenth of what a path allows at its joints.
_NO_LENGTH = SAME_POINT / 10


def least_base(section: Section, thickness: float) -> float:
    """The least distance between the seams: the section and half the strap on either side."""
    return section.width + thickness


def strap_way(section: Section, *, base: float, thickness: float) -> Path:
    """The way of the strap's middle over a section, from the right stitch point to the left.

    The stitch points are (±base/2, thickness/2). Raises ValueError where `base` is less than the
    least, or the section has no height.

    >>> from handkit.draft.sizes.section import rectangle_section, round_section
    >>> round(strap_way(rectangle_section(30, 5), base=54, thickness=0).length, 3)  # 5-12-13
    56.0
    >>> round(strap_way(round_section(20), base=30, thickness=0).length, 3)  # 30 + 40·atan(2/3)
    53.52
    """
    if base < least_base(section, thickness) - SAME_POINT:
        raise ValueError(f"a base of {base} is less than {least_base(section, thickness)}")
    if section.height <= 0:
        raise ValueError("a section needs a height")
    grown = section.radius + thickness / 2
    right, left = (base / 2, thickness / 2), (-base / 2, thickness / 2)
    first, leaving = _tangent(right, section.centres, grown)
    last, mirrored = _tangent(right, [(-x, y) for x, y in section.centres], grown)
    ring = (*section.centres, *section.centres)
    corners = ring[first : last + 1 if last >= first else last + len(section.centres) + 1]
    directions = (leaving, *(_direction(a, b) for a, b in pairwise(corners)), 2 * pi - mirrored)
    stops = [right]
    segments: list[Segment] = []
    for corner, (before, after) in zip(corners, pairwise(directions), strict=True):
        begin, end = _beside(corner, before, grown), _beside(corner, after, grown)
        segments += [Segment(stops[-1], begin), Segment(begin, end, tan(_turn(before, after) / 4))]
        stops.append(end)
    segments.append(Segment(stops[-1], left))
    return Path(tuple(segment for segment in segments if segment.chord > _NO_LENGTH))


def _tangent(point: Point, centres: Sequence[Point], radius: float) -> tuple[int, float]:
    """Which disc the upper tangent from a point on their right touches, and its direction.

    The hull lies left of that tangent, so its direction is the least of all discs'. A corner that
    is the point itself has none.
    """
    angles: list[float] = []
    for x, y in centres:
        off = hypot(x - point[0], y - point[1])
        towards = atan2(y - point[1], x - point[0]) % (2 * pi)
        angles.append(towards - asin(min(radius / off, 1.0)) if off > SAME_POINT else inf)
    least = min(angles)
    return angles.index(least), least


def _direction(start: Point, end: Point) -> float:
    return atan2(end[1] - start[1], end[0] - start[0])


def _turn(before: float, after: float) -> float:
    """The angle to the left from one direction to the next, 0 to 2π; noise below 0 is 0."""
    turn = (after - before) % (2 * pi)
    return 0.0 if turn > 2 * pi - 1e-9 else turn


def _beside(centre: Point, direction: float, radius: float) -> Point:
    """The place of a circle that is travelled counter-clockwise in a direction."""
    return (centre[0] + radius * sin(direction), centre[1] - radius * cos(direction))
