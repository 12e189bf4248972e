"""Nearness: which of many holes lie near one another, and how near an outline comes.

In: points, lines and outlines in mm, in one frame. Out: pairs and distances in mm.

Both searches sort into square cells first, so that ten thousand holes cost ten times a thousand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import product
from math import floor, hypot

import msgspec

from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.geometry.straight import distance
from handkit.punch.spacing.measured import MeasuredSegment, measured
from handkit.tolerances import SAME_POINT

# A cell's number: cells lie in columns of more cells than any piece is high. A cell and its eight
# neighbours lie these steps from it.
_COLUMN = 1 << 40
_ROUND = tuple(x * _COLUMN + y for x in (-1, 0, 1) for y in (-1, 0, 1))


def near_pairs(points: Sequence[Point], *, within: float) -> Iterator[tuple[int, int, float]]:
    """Pairs (i, j, distance), i < j, of points no further apart than `within`, in order.

    >>> list(near_pairs([(0, 0), (9, 9), (3, 4)], within=5))
    [(0, 2, 5.0)]
    """
    size = within + SAME_POINT  # neighbours by rounding are neighbours by cells, too
    places = [floor(x / size) * _COLUMN + floor(y / size) for x, y in points]
    cells: dict[int, list[int]] = {}
    for index, place in enumerate(places):
        cells.setdefault(place, []).append(index)
    for i, place in enumerate(places):
        near = [j for step in _ROUND if place + step in cells for j in cells[place + step] if j > i]
        for j in sorted(near):
            apart = distance(points[i], points[j])
            if apart <= within:
                yield i, j, apart


class EdgeIndex(msgspec.Struct, frozen=True):
    """An outline's segments in cells, for the nearest place within `reach` of a point."""

    segments: tuple[MeasuredSegment, ...]
    reach: float
    size: float  # of a cell
    cells: dict[tuple[int, int], list[int]]

    def nearest(self, point: Point) -> tuple[float, Point] | None:
        """Distance to the nearest edge and the place on it; None where none is within reach."""
        cell = (floor(point[0] / self.size), floor(point[1] / self.size))
        found = nearest_of((self.segments[index] for index in self.cells.get(cell, ())), point)
        return found if found and found[0] <= self.reach else None


def edge_index(outline: Path, *, reach: float, kept: Callable[[int], bool] = lambda _: True) -> EdgeIndex:
    """The outline made ready for `EdgeIndex.nearest`; of its segments those whose index is `kept`.

    A cell is as large as a quarter of the mean segment: four segments of a rectangle make some fifty cells,
    a thousand segments some thousands, and a cell is near to few of them.
    """
    segments = tuple(segment for index, segment in enumerate(measured(outline)) if kept(index))
    size = max(reach, sum(segment.length for segment in segments) / (4 * max(len(segments), 1)))
    cells: dict[tuple[int, int], list[int]] = {}
    for index, segment in enumerate(segments):
        parts = max(1, floor(segment.length / size))
        half = segment.length / parts / 2
        for k in range(parts):
            x, y = segment.point(half * (2 * k + 1))
            for cell in _cells_round(x, y, half + reach + SAME_POINT, size):
                listed = cells.setdefault(cell, [])
                if not listed or listed[-1] != index:
                    listed.append(index)
    return EdgeIndex(segments, reach, size, cells)


def _cells_round(x: float, y: float, by: float, size: float) -> Iterator[tuple[int, int]]:
    across = range(floor((x - by) / size), floor((x + by) / size) + 1)
    up = range(floor((y - by) / size), floor((y + by) / size) + 1)
    return product(across, up)


def nearest_of(segments: Iterator[MeasuredSegment], point: Point) -> tuple[float, Point] | None:
    """Distance from a point to the nearest of some segments, and the place on it."""
    best: tuple[float, Point] | None = None
    for segment in segments:
        x, y = segment.point(segment.nearest(point))
        apart = hypot(x - point[0], y - point[1])
        if best is None or apart < best[0]:
            best = (apart, (x, y))
    return best
