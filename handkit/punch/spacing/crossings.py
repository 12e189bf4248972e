"""Crossings: where the edge of a layer crosses the run whose holes the layer takes.

In: the pattern, a seam. Out: `EdgeCross`es: the mouths of stepped pockets, the ends of a welt. All mm.

    run    ·  ·  ·  ·│ ·  ·  ·  ·      │ the layer's edge; left of it holes go through the layer,
           on it     │   beside it     right of it they do not

Words: an edge crosses a run where the two stand at more than a corner's turn to one another; an edge
that slants less runs along it, and what lies near it is told as of every edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, degrees, inf

from handkit.draft.pattern import Pattern, PatternSeam
from handkit.geometry.affine import Affine, Point
from handkit.geometry.intersect import common_places
from handkit.geometry.path import Path
from handkit.geometry.region import Region, region_of
from handkit.geometry.segment import Segment
from handkit.punch.punched import EdgeCross
from handkit.tolerances import COINCIDE, CORNER_TURN_DEGREES

# So far to either side of a crossing it is asked whether the run lies on the layer, mm.
_BESIDE = 0.05


def crossings_of(pattern: Pattern, seam: PatternSeam) -> tuple[EdgeCross, ...]:
    """All crossings of a seam's carried layers, by layer and along their run."""
    return tuple(
        cross
        for index, run in enumerate(seam.runs)
        if run.path is None
        for cross in _of(pattern, seam, index)
    )


def origin_of(seam: PatternSeam, index: int) -> int:
    """The run with a line whose holes a carried layer takes in the end."""
    while seam.runs[index].path is None:
        source = seam.runs[index].carried_from
        assert source is not None and source < index, "a carried layer takes the holes of one before it"
        index = source
    return index


def _of(pattern: Pattern, seam: PatternSeam, index: int) -> Iterator[EdgeCross]:
    """The crossings of one layer."""
    origin = origin_of(seam, index)
    path, run = seam.runs[origin].path, seam.runs[index]
    lie = pattern.carry_run(seam.runs[origin], run) or Affine()
    outline = pattern.piece(run.piece).outline.moved(lie.inverse())
    if path is None or _apart(path, outline):
        return
    found: list[tuple[float, int, float]] = []
    edges = [segment for segment in outline.segments if segment.chord > 0]
    for i, j, at in common_places(path.segments, edges):
        angle = _angle(path.segments[i], edges[j], at)
        if angle > CORNER_TURN_DEGREES:
            along = path.stations()[i] + path.segments[i].along_of(at)
            found.append((along, j, angle))
    if not found:
        return
    body = region_of(outline)
    last: dict[int, float] = {}  # by edge: at a joint of the run's segments it is met twice
    for along, edge, angle in sorted(found):
        before, after = (_lies_on(body, path, along + step) for step in (-_BESIDE, _BESIDE))
        if before != after and along - last.get(edge, -inf) > COINCIDE:
            last[edge] = along
            yield EdgeCross(seam.name, index + 1, origin, along, after, angle, edge)


def _apart(path: Path, outline: Path) -> bool:
    """Whether a run and an outline have no place in common by their upright boxes alone."""
    left, low, right, high = path.bounds()
    x0, y0, x1, y1 = outline.bounds()
    return left > x1 or right < x0 or low > y1 or high < y0


def _angle(run: Segment, edge: Segment, at: Point) -> float:
    """Between two segments at a place of both, 0 to 90 degrees."""
    (ax, ay), (bx, by) = run.direction_at(run.along_of(at)), edge.direction_at(edge.along_of(at))
    return degrees(asin(min(abs(ax * by - ay * bx), 1.0)))


def _lies_on(body: Region, path: Path, along: float) -> bool:
    """Whether a run lies on a layer at a place; before an open run's start and past its end it does not
    go on.
    """
    if not path.closed:
        along = min(max(along, 0.0), path.length)
    return body.contains(path.point_at(along))
