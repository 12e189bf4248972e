"""Beside: which part of an edge a row of holes goes along.

In: an edge's path, holes in a row. Out: from where to where, as distances along the path; all mm.

    edge ─────────────────────┃╌╌╌╌╌╌╌╌╌╌╌╌   The part ends opposite the last hole. Where less of the edge is
            ○   ○   ○   ○   ○ ┃                left than a further hole would need, it goes on to the end.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.tolerances import SAME_POINT


def beside(path: Path, row: Sequence[Point], *, near: float) -> tuple[float, float]:
    """The part of a path that a row goes along; on a closed one, travelled the row's way, it may end beyond
    the path's length. `near` is what is left over at an end, inset and pitch.

    >>> from handkit.geometry.path import polyline
    >>> beside(polyline([(0, 0), (60, 0)]), [(40, 4), (36, 4), (32, 4)], near=8)
    (32.0, 40.0)
    >>> beside(polyline([(0, 0), (60, 0)]), [(4, 4), (8, 4), (12, 4)], near=8)
    (0.0, 12.0)
    >>> ring = polyline([(0, 0), (60, 0), (60, 40), (0, 40)], closed=True)
    >>> beside(ring, [(10, 4), (56, 4), (56, 36), (4, 36), (10, 4)], near=8)  # all round, 2 · 60 + 2 · 40
    (10.0, 210.0)
    """
    first, last = path.along_of(row[0]), path.along_of(row[-1])
    if path.closed:
        return first, last + path.length * (last <= first + SAME_POINT)
    low, high = min(first, last), max(first, last)
    return 0.0 if low <= near else low, path.length if path.length - high <= near else high
