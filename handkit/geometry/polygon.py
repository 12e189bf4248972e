"""Polygons: what lies in a window, what of a path touches it, and the window a little wider.

In: places, paths and rings of points (the first not repeated), mm. Out: answers and new rings.
A kit asks this of every hole and line of every window, so it is plain arithmetic, no library.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from handkit.geometry.affine import Point
from handkit.geometry.path import Path, distance
from handkit.geometry.segment import Segment
from handkit.geometry.straight import foot_on, line_to_line, point_to_line
from handkit.tolerances import SAME_POINT

# How coarsely a line may be flattened where only nearness is asked.
COARSE = 0.1


def inside(place: Point, polygon: Sequence[Point]) -> bool:
    """Whether a place lies in a polygon or on its rim.

    >>> square = ((0, 0), (2, 0), (2, 2), (0, 2))
    >>> inside((1, 1), square), inside((2, 1), square), inside((2.1, 1), square)
    (True, True, False)
    """
    x, y = place
    odd = False
    for a, b in pairwise([*polygon, polygon[0]]):
        if _near(place, a, b):
            return True
        if (a[1] > y) != (b[1] > y) and x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]):
            odd = not odd
    return odd


def touching(path: Path, polygon: Sequence[Point], *, within: float) -> tuple[Path, ...]:
    """The runs of a path's segments that come as near as `within` to a polygon; the whole path
    where all do.

    Arcs are asked flattened by 0.1 mm; near misses are kept, since a clip hides them.
    """
    kept = [_touches(segment, polygon, within + COARSE) for segment in path.segments]
    if all(kept):
        return (path,)
    segments = path.segments
    if path.closed:  # begin after a gap, so that no run is parted at the start
        first = kept.index(False)
        segments, kept = segments[first:] + segments[:first], kept[first:] + kept[:first]
    return tuple(Path(tuple(run)) for run in _runs(segments, kept))


def grown(polygon: Sequence[Point], by: float) -> tuple[Point, ...]:
    """A convex polygon with every side moved outwards.

    >>> grown(((0, 0), (2, 0), (2, 2), (0, 2)), 1)
    ((-1.0, -1.0), (3.0, -1.0), (3.0, 3.0), (-1.0, 3.0))
    """
    corners = [p for p, q in pairwise([*polygon, polygon[0]]) if distance(p, q) > SAME_POINT]
    out = 1.0 if _signed_area(corners) > 0 else -1.0
    found = []
    for p, q, r in zip([corners[-1], *corners], corners, [*corners[1:], corners[0]], strict=False):
        (ax, ay), (bx, by_) = unit(p, q), unit(q, r)
        turn = 1 + ax * bx + ay * by_
        nx, ny = (ay + by_) * out, -(ax + bx) * out
        found.append((q[0] + nx * by / turn, q[1] + ny * by / turn))
    return tuple(found)


def clipped(ring: Sequence[Point], polygon: Sequence[Point]) -> tuple[Point, ...]:
    """What of a closed ring lies in a convex polygon, side by side cut off (Sutherland and Hodgman's
    way); () where nothing does.

    >>> clipped(((0, 0), (4, 0), (4, 2), (0, 2)), ((1, -1), (3, -1), (3, 5), (1, 5)))
    ((1.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.0, 2.0))
    """
    left = 1.0 if _signed_area(polygon) > 0 else -1.0
    points = list(ring)
    for a, b in pairwise([*polygon, polygon[0]]):
        kept: list[Point] = []
        for p, q in pairwise([*points, *points[:1]]):
            sp, sq = _side(a, b, p) * left, _side(a, b, q) * left
            if sp >= 0:
                kept.append(p)
            if sp * sq < 0:
                share = sp / (sp - sq)
                kept.append((p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share))
        points = kept
    return tuple(points)


def nearest_on(place: Point, ring: Sequence[Point]) -> Point:
    """The point of a closed ring that is nearest to a place.

    >>> nearest_on((3, 1), ((0, 0), (2, 0), (2, 2), (0, 2)))
    (2.0, 1.0)
    """
    found = (foot_on(place, side) for side in pairwise([*ring, ring[0]]))
    return min(found, key=lambda point: distance(place, point))


def clear_of(place: Point, ring: Sequence[Point], *, reach: float) -> bool:
    """Whether no side of a closed ring comes nearer to a place than `reach`; far sides are passed by.

    >>> square = ((0, 0), (2, 0), (2, 2), (0, 2))
    >>> clear_of((3, 1), square, reach=1), clear_of((3, 1), square, reach=1.1)
    (True, False)
    """
    x, y = place
    left, bottom, right, top = x - reach, y - reach, x + reach, y + reach
    for a, b in pairwise([*ring, ring[0]]):
        if (a[0] < left and b[0] < left) or (a[0] > right and b[0] > right):
            continue
        if (a[1] < bottom and b[1] < bottom) or (a[1] > top and b[1] > top):
            continue
        if point_to_line(place, (a, b)) < reach:
            return False
    return True


def unit(start: Point, end: Point) -> Point:
    """The direction from one point to another, of length 1. Raises ZeroDivisionError where they
    are one.

    >>> unit((1, 1), (1, 4))
    (0.0, 1.0)
    """
    length = distance(start, end)
    return ((end[0] - start[0]) / length, (end[1] - start[1]) / length)


def _runs(segments: Sequence[Segment], kept: Sequence[bool]) -> Iterable[list[Segment]]:
    run: list[Segment] = []
    for segment, keep in zip(segments, kept, strict=True):
        if keep:
            run.append(segment)
        elif run:
            yield run
            run = []
    if run:
        yield run


def _touches(segment: Segment, polygon: Sequence[Point], within: float) -> bool:
    points = segment.flattened(sagitta=COARSE)
    return any(_line_touches(a, b, polygon, within) for a, b in pairwise(points))


def _line_touches(a: Point, b: Point, polygon: Sequence[Point], within: float) -> bool:
    if inside(a, polygon) or inside(b, polygon):
        return True
    return any(line_to_line((a, b), side) <= within for side in pairwise([*polygon, polygon[0]]))


def _near(point: Point, a: Point, b: Point) -> bool:
    return point_to_line(point, (a, b)) <= SAME_POINT


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _signed_area(points: Sequence[Point]) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*points, points[0]])) / 2
