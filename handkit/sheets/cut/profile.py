"""Profile: how wide a piece is between two heights, from its outline alone.

In: a ring in the laid frame, and how far its ink reaches beyond it, mm. Out: *spans*, the stretches
from left to right in which something of the piece lies between two heights, in order, apart.

Exact for straight edges: a place of the piece inside a band lies above or below an edge that runs
in the band, or on the band's upper limit. So the spans are those of the edges' parts in the band
and of the upper limit's inside.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

from handkit.geometry.affine import Point
from handkit.geometry.polygon import goes_up_once, sides
from handkit.sheets.nest.packing import NOISE

Span = tuple[float, float]

# The heights of both ends, their places across, the slope between.
_Edge = tuple[float, float, float, float, float]

# Of an outline with many corners only the edges near a height are gone through.
EDGES_A_BAND = 8


class Profile:
    """Answers are remembered; nothing else changes.

    >>> arch = Profile([(0, 0), (9, 0), (9, 9), (6, 9), (6, 4), (3, 4), (3, 9), (0, 9)], room=0)
    >>> arch.spans(0, 3), arch.spans(5, 9)
    (((0.0, 9.0),), ((0.0, 3.0), (6.0, 9.0)))
    """

    def __init__(self, ring: Sequence[Point], *, room: float) -> None:
        self._ring = ring
        self._room = room
        self._known: dict[Span, tuple[Span, ...]] = {}
        heights = [y for _, y in ring]
        self.bottom = min(heights) - room
        self.top = max(heights) + room

    @cached_property
    def _edges(self) -> list[_Edge]:
        """From low to high."""
        edges = sorted(
            (a[1], b[1], a[0], b[0]) if a[1] <= b[1] else (b[1], a[1], b[0], a[0])
            for a, b in sides(self._ring)
        )
        return [(*one, _slope(*one)) for one in edges]

    @cached_property
    def _bands(self) -> list[tuple[list[_Edge], list[_Edge]]]:
        """Bands of equal height, from low to high: the edges that reach into each from below, and those that
        begin in it."""
        count = max(1, len(self._edges) // EDGES_A_BAND)
        bands: list[tuple[list[_Edge], list[_Edge]]] = [([], []) for _ in range(count)]
        for edge in self._edges:
            begun = self._band_of(edge[0], count)
            bands[begun][1].append(edge)
            for reached in bands[begun + 1 : self._band_of(edge[1], count) + 1]:
                reached[0].append(edge)
        return bands

    def _band_of(self, height: float, count: int) -> int:
        low, high = self.bottom + self._room, self.top - self._room
        share = (height - low) / (high - low) if high > low else 0.0
        return min(max(int(share * count), 0), count - 1)

    def _edges_between(self, low: float, high: float) -> Iterator[_Edge]:
        """Edges among which all are that lie between two heights, in part."""
        count = len(self._bands)
        first = self._band_of(low, count)
        yield from self._bands[first][0]
        for _, begun in self._bands[first : self._band_of(high, count) + 1]:
            yield from begun

    @cached_property
    def _is_simple(self) -> bool:
        """Whether the ring goes up once and down once: between any two heights it is one stretch."""
        return goes_up_once(self._ring)

    def spans(self, low: float, high: float) -> tuple[Span, ...]:
        """The stretches of the piece's ink between two heights; on a line where they are equal."""
        key = (round(low, 4), round(high, 4))
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._spans(low - self._room, high + self._room)
        return found

    def _spans(self, low: float, high: float) -> tuple[Span, ...]:
        found: list[Span] = []
        crossed: list[float] = []
        for bottom, top, x0, x1, slope in self._edges_between(low, high):
            if bottom > high or top < low:
                continue
            start = x0 + slope * (low - bottom) if bottom < low else x0
            end = x1
            if top > high:
                end = x0 + slope * (high - bottom)
                crossed.append(end)
            found.append((start, end) if start <= end else (end, start))
        if self._is_simple and found:
            low, high = min(found)[0] - self._room, max([end for _, end in found]) + self._room
            return ((float(low), float(high)),)
        crossed.sort()
        found += zip(crossed[::2], crossed[1::2], strict=False)
        return merged(found, self._room)


def _slope(low: float, high: float, x0: float, x1: float) -> float:
    return (x1 - x0) / (high - low) if high > low else 0.0


def merged(spans: Sequence[Span], room: float) -> tuple[Span, ...]:
    """Stretches made longer by `room` at both ends; what then touches is one.

    >>> merged([(5, 6), (0, 2), (1, 3)], 0.5)
    ((-0.5, 3.5), (4.5, 6.5))
    """
    if not spans:
        return ()
    found: list[Span] = []
    ordered = sorted(spans)
    low, high = float(ordered[0][0] - room), float(ordered[0][1] + room)
    for start, end in ordered:
        if start - room > high + NOISE:
            found.append((low, high))
            low, high = float(start - room), float(end + room)
        elif end + room > high:
            high = float(end + room)
    return (*found, (low, high))


def mirrored(spans: Sequence[Span]) -> tuple[Span, ...]:
    """The same seen from behind."""
    return tuple((-end, -start) for start, end in reversed(spans))
