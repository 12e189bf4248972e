"""Tooling: which holes a pricking iron marks, and which are left to the awl.

In: a layer's holes in their piece's frame, an iron. Out: groups of holes one stand of the iron
marks, with how far it is out at most; and the holes no group reaches. All mm.

    holes   ·   ·   ·   ·   ·   ·        the iron stands with its first tooth in a hole that is
    teeth   |   |   |   |   |   |        marked, in line with the last one it is to mark

Words: *drift* is the distance from a tooth to the hole it should mark; an awl finds its hole again
within 0.3 mm, the width of a scribed line (common practice, no source). A group begins in the last
hole of the one before, as the trade keeps an iron in step.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from handkit.geometry.affine import Point
from handkit.geometry.straight import distance
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.read.project import Iron
from handkit.stitch.plan import DECIMALS, Tooling

MOST_DRIFT = 0.3

IronGroup = tuple[int, int, float]


def toolings(seam: PunchedSeam) -> tuple[Tooling, ...]:
    """For each layer that is marked, where it is; none where no iron is stated."""
    settings = seam.stitching
    if settings.iron is None:
        return ()
    found = (_tooling(seam, layer, settings.iron) for layer in seam.layers)
    return tuple(tooling for tooling in found if tooling is not None)


def _tooling(seam: PunchedSeam, layer: PunchedLayer, iron: Iron) -> Tooling | None:
    """One layer's; None where it has no marks. Every stretch of marks is begun anew."""
    groups: list[IronGroup] = []
    awl: list[int] = []
    rows = seam.marked_rows(layer)
    for row in rows:
        round_it = seam.closed and len(row) == seam.count and not seam.run_of(layer).across
        places = [hole.at for hole in (*row, row[0])] if round_it else [hole.at for hole in row]
        stands = iron_groups(places, iron)
        reached = {(place - 1) % len(row) for a, b, _ in stands for place in range(a, b + 1)}
        first = row[0].number - 1
        groups.extend((a + first, b + first, drift) for a, b, drift in stands)
        awl.extend(hole.number for place, hole in enumerate(row) if place not in reached)
    return Tooling(layer.piece, layer.run, tuple(groups), tuple(awl)) if rows else None


def iron_groups(places: Sequence[Point], iron: Iron) -> tuple[IronGroup, ...]:
    """Numbers of the first and last hole of each group, and its drift.

    As many teeth as keep within the drift, from each hole on; where not even two do, the iron is
    lifted to the next hole.

    >>> iron_groups([(4.05 * k, 0) for k in range(7)], Iron(teeth=6, pitch=4))
    ((1, 6, 0.25), (6, 7, 0.05))
    >>> iron_groups([(4.4 * k, 0) for k in range(5)], Iron(teeth=6, pitch=4))
    ()
    """
    groups: list[IronGroup] = []
    start = 0
    while start < len(places) - 1:
        ends = range(min(start + iron.teeth, len(places)) - 1, start, -1)
        fits = ((end, drift_of(places[start : end + 1], iron.pitch)) for end in ends)
        best = next(((end, drift) for end, drift in fits if drift <= MOST_DRIFT), None)
        if best is None:
            start += 1
            continue
        groups.append((start + 1, best[0] + 1, best[1]))
        start = best[0]
    return tuple(groups)


def drift_of(places: Sequence[Point], pitch: float) -> float:
    """The most a tooth is out, the first in the first place and the row in line with the last.

    >>> drift_of([(0, 0), (3.9, 0), (8.1, 0)], 4)
    0.1
    >>> drift_of([(0, 0), (4, 3), (8, 0)], 4)  # a corner between
    3.0
    """
    (x, y), end = places[0], places[-1]
    length = distance((x, y), end)
    if not length:
        return pitch
    dx, dy = (end[0] - x) / length * pitch, (end[1] - y) / length * pitch
    out = (hypot(x + k * dx - at[0], y + k * dy - at[1]) for k, at in enumerate(places))
    return round(max(out), DECIMALS)
