"""Polygons: areas, hulls, what lies inside, what is cut off, what comes near.

In: rings of points (the first not repeated), points and paths, mm. Out: answers and new rings.
A kit asks this of every hole and line of every window, so it is plain arithmetic, no library;
areas in several parts, and with arcs, are `region.py`'s.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from handkit.geometry.affine import Point
from handkit.geometry.box import Box, box_of
from handkit.geometry.intersect import carriers_meet, lies_on
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.geometry.straight import (
    Straight,
    distance,
    foot_on,
    line_to_line,
    point_to_line,
    side_of,
    unit,
)
from handkit.tolerances import SAME_POINT

# How coarsely a line may be flattened where only nearness is asked.
COARSE = 0.1


def sides(ring: Sequence[Point]) -> Iterator[Straight]:
    """The sides of a ring, the one back to its start last.

    >>> list(sides(((0, 0), (2, 0), (2, 2))))
    [((0, 0), (2, 0)), ((2, 0), (2, 2)), ((2, 2), (0, 0))]
    """
    return pairwise((*ring, ring[0]))


def goes_up_once(ring: Sequence[Point]) -> bool:
    """Whether a ring goes up once and down once: no level line crosses it more than twice.

    >>> goes_up_once(((0, 0), (4, 0), (4, 4), (0, 4))), goes_up_once(((0, 0), (4, 0), (4, 4), (2, 1), (0, 4)))
    (True, False)
    """
    ups = [b[1] > a[1] for a, b in sides(ring) if a[1] != b[1]]
    return sum(one is not other for one, other in pairwise(ups)) < 3


def widths_at(ring: Sequence[Point], level: float) -> tuple[float, float] | None:
    """The least and the greatest x of a ring on a level line; None where it does not reach there.

    >>> widths_at(((0, 0), (4, 0), (2, 4)), 2), widths_at(((0, 0), (4, 0), (2, 4)), 5)
    ((1.0, 3.0), None)
    """
    xs = [x for x, y in ring if y == level]
    for (x0, y0), (x1, y1) in sides(ring):
        if min(y0, y1) < level < max(y0, y1):
            xs.append(x0 + (x1 - x0) * (level - y0) / (y1 - y0))
    return (min(xs), max(xs)) if xs else None


def widths_below(ring: Sequence[Point], level: float) -> tuple[float, float] | None:
    """The least and the greatest x of what of a ring lies under a level line.

    >>> widths_below(((0, 0), (4, 0), (8, 4), (0, 4)), 1)
    (0, 5.0)
    """
    xs = [x for x, _ in below(ring, level)]
    return (min(xs), max(xs)) if xs else None


def below(ring: Sequence[Point], level: float) -> tuple[Point, ...]:
    """What of a ring lies under a level line, cut off along it; a ledge on the line itself is none of it.

    >>> below(((0, 0), (4, 0), (4, 2), (8, 2), (8, 4), (0, 4)), 2)
    ((0, 0), (4, 0), (4.0, 2), (0.0, 2))
    """
    kept: list[Point] = []
    for (x0, y0), (x1, y1) in sides(ring):
        if y0 < level:
            kept.append((x0, y0))
        if (y0 < level) is not (y1 < level):
            kept.append((x0 + (x1 - x0) * (level - y0) / (y1 - y0), level))
    return tuple(kept)


def signed_area(ring: Sequence[Point]) -> float:
    """Area within a ring in mm², negative where it goes clockwise.

    >>> signed_area(((0, 0), (2, 0), (2, 2))), signed_area(((0, 0), (2, 2), (2, 0)))
    (2.0, -2.0)
    """
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in sides(ring)) / 2


def hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """The corners of the convex hull, counter-clockwise from the least x, none on a side; where the
    points span no area, the two that lie farthest apart, or the one.

    >>> hull([(2, 1), (0, 0), (4, 0), (2, 3), (2, 0)]), hull([(3, 3), (0, 0), (1, 1)])
    (((0, 0), (4, 0), (2, 3)), ((0, 0), (3, 3)))
    """
    ordered = sorted(set(points))
    corners: list[Point] = []
    for way in (ordered, ordered[::-1]):  # the lower chain, then the upper one
        chain: list[Point] = []
        for point in way:
            while len(chain) > 1 and side_of(point, (chain[-2], chain[-1])) <= 0:
                chain.pop()
            chain.append(point)
        corners.extend(chain[:-1])
    return tuple(corners) or tuple(ordered)


def inside(place: Point, polygon: Sequence[Point]) -> bool:
    """Whether a place lies in a polygon or on its rim.

    >>> square = ((0, 0), (2, 0), (2, 2), (0, 2))
    >>> inside((1, 1), square), inside((2, 1), square), inside((2.1, 1), square)
    (True, True, False)
    """
    x, y = place
    odd = False
    for a, b in sides(polygon):
        if near_box(place, a, b, 2 * SAME_POINT) and point_to_line(place, (a, b)) <= SAME_POINT:
            return True
        if (a[1] > y) != (b[1] > y) and x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]):
            odd = not odd
    return odd


def touching(path: Path, polygon: Sequence[Point], *, within: float) -> tuple[Path, ...]:
    """The runs of a path's segments that come as near as `within` to a polygon; the whole path
    where all do.

    Arcs are asked flattened by 0.1 mm; near misses are kept, since a clip hides them.
    """
    around = box_of(polygon).grown(2 * (within + COARSE))
    kept = [_touches(segment, polygon, around, within + COARSE) for segment in path.segments]
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
    corners = [p for p, q in sides(polygon) if distance(p, q) > SAME_POINT]
    out = 1.0 if signed_area(corners) > 0 else -1.0
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
    left = 1.0 if signed_area(polygon) > 0 else -1.0
    for side in sides(polygon):
        ring = cut_off(ring, side, left=left)
    return tuple(ring)


def cut_off(ring: Sequence[Point], line: Straight, *, left: float = 1.0) -> tuple[Point, ...]:
    """What of a convex ring lies left of a line that is drawn on both ways (right where `left` is −1).

    >>> cut_off([(0, 0), (4, 0), (4, 4), (0, 4)], ((2, 0), (2, 1)))
    ((0, 0), (2.0, 0.0), (2.0, 4.0), (0, 4))
    """
    kept: list[Point] = []
    for p, q in pairwise([*ring, *ring[:1]]):
        sp, sq = side_of(p, line) * left, side_of(q, line) * left
        if sp >= 0:
            kept.append(p)
        if (sp >= 0) != (sq >= 0):
            share = sp / (sp - sq)
            kept.append((p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share))
    return tuple(kept)


def parts_left_of(outline: Path, line: Straight) -> tuple[Path, ...]:
    """What of a closed path that does not cross itself lies left of a line that is drawn on both ways:
    closed paths, arcs kept as arcs, round the same way as it.

    >>> from handkit.geometry.path import polyline
    >>> comb = polyline([(0, 0), (9, 0), (9, 5), (6, 5), (6, 2), (3, 2), (3, 5), (0, 5)], closed=True)
    >>> [part.signed_area() for part in parts_left_of(comb, ((0, 3), (1, 3)))]
    [6.0, 6.0]
    """
    if outline.signed_area() < 0:
        return tuple(part.reversed() for part in parts_left_of(outline.reversed(), line))
    (start, way), cutter = (line[0], unit(*line)), Segment(*line)

    def place(at: Point) -> Point:
        """How far along the line a point is, and how far left of it."""
        dx, dy = at[0] - start[0], at[1] - start[1]
        return (dx * way[0] + dy * way[1], dy * way[0] - dx * way[1])

    bits = [bit for segment in outline.segments for bit in _cut_at(segment, cutter)]
    kept = [place(bit.point_at(bit.length / 2))[1] > SAME_POINT for bit in bits]
    if all(kept) or not any(kept):
        return (outline,) if all(kept) else ()
    first = kept.index(False)
    runs = list(_runs([*bits[first:], *bits[:first]], [*kept[first:], *kept[:first]]))
    # Round counter-clockwise, where the outline leaves the left side and where it comes back take turns
    # along the line.
    leaves = sorted(range(len(runs)), key=lambda k: place(runs[k][-1].end)[0])
    enters = sorted(range(len(runs)), key=lambda k: place(runs[k][0].start)[0])
    follows, found = dict(zip(leaves, enters, strict=True)), []
    while follows:
        at, ring = min(follows), list[Segment]()
        while at in follows:
            ring += runs[at]
            at = follows.pop(at)
            if distance(ring[-1].end, runs[at][0].start) > SAME_POINT:
                ring.append(Segment(ring[-1].end, runs[at][0].start))
        found.append(Path(tuple(ring), closed=True))
    return tuple(found)


def _cut_at(segment: Segment, cutter: Segment) -> list[Segment]:
    """A segment in bits that end where it meets another's carrier."""
    alongs = (segment.along_of(at) for at in carriers_meet(segment, cutter) if lies_on(at, segment))
    inner = (along for along in alongs if SAME_POINT < along < segment.length - SAME_POINT)
    ends = [0.0, *sorted(set(inner)), segment.length]
    return [segment.between(a, b) for a, b in pairwise(ends)] if len(ends) > 2 else [segment]


def nearest_on(place: Point, ring: Sequence[Point]) -> Point:
    """The point of a closed ring that is nearest to a place.

    >>> nearest_on((3, 1), ((0, 0), (2, 0), (2, 2), (0, 2)))
    (2.0, 1.0)
    """
    found = (foot_on(place, side) for side in sides(ring))
    return min(found, key=lambda point: distance(place, point))


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


def _touches(segment: Segment, polygon: Sequence[Point], around: Box, within: float) -> bool:
    points = segment.flattened(sagitta=COARSE)
    return any(
        around.meets(box_of(line)) and _line_touches(line, polygon, within) for line in pairwise(points)
    )


def _line_touches(line: Straight, polygon: Sequence[Point], within: float) -> bool:
    if inside(line[0], polygon) or inside(line[1], polygon):
        return True
    near = box_of(line).grown(2 * within)
    return any(near.meets(box_of(side)) and line_to_line(line, side) <= within for side in sides(polygon))


def near_box(place: Point, a: Point, b: Point, reach: float) -> bool:
    """Whether a place comes within `reach` of the box round two points: asked before true distances."""
    (x, y), (ax, ay), (bx, by) = place, a, b
    return not (
        (ax < x - reach and bx < x - reach)
        or (ax > x + reach and bx > x + reach)
        or (ay < y - reach and by < y - reach)
        or (ay > y + reach and by > y + reach)
    )
