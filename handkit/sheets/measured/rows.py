"""Rows: holes that stand evenly on straight lines, as dividers step them, and those that don't.

In: places in order, with the direction of each slit. Out: spans of places, first and last: a row where the
two differ, else a lone one. A row goes on from the last place of the one before where the line turns there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handkit.geometry.affine import Point
from handkit.geometry.straight import distance

# Holes of a row stand where even steps from its first to its last come, to this much, in mm. A fifth of what
# dividers are set to; with the figures' own rounding a hole is within 0.05 mm of where it belongs.
EVEN = 0.03

# Slits that are within this of each other go the same way, in degrees.
ALIKE = 0.1

# Fewer are told one by one.
LEAST_ROW = 3

Place = tuple[Point, float | None]


def spans_of(places: Sequence[Place]) -> Iterator[tuple[int, int]]:
    """Indices of the first and the last place of each row, or twice that of a lone place, in order."""
    at, told = 0, -1
    while at < len(places):
        last = _reach(places, at, shared=told == at)
        if last - at + 1 >= LEAST_ROW:
            yield at, last
            told = at = last
            if last == len(places) - 1:
                return
            continue
        if told != at:
            yield at, at
        at += 1


def _reach(places: Sequence[Place], first: int, *, shared: bool) -> int:
    """How far a row goes from a place on; where that ends another row, its slit is that one's."""
    last = first
    ways = [degrees for _, degrees in places]
    for end in range(first + 1, len(places)):
        if not _alike(ways[end], ways[first + 1] if shared else ways[first]):
            break
        if not _even([at for at, _ in places[first : end + 1]]):
            break
        last = end
    return last


def _even(points: Sequence[Point]) -> bool:
    """Whether places stand where even steps from the first to the last come, one after the other."""
    (x0, y0), (x1, y1), steps = points[0], points[-1], len(points) - 1
    return distance(points[0], points[-1]) > EVEN and all(
        distance(at, (x0 + (x1 - x0) * k / steps, y0 + (y1 - y0) * k / steps)) <= EVEN
        for k, at in enumerate(points)
    )


def _alike(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs((one - other + 90.0) % 180.0 - 90.0) <= ALIKE
