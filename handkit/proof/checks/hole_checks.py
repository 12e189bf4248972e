"""Hole checks: that every stitch hole's marks stand about one place, and how many holes there are.

In: the marks of all pages. Out: checks `holes`. A hole is known by piece, seam, run and number;
one that stands in the overlap of two windows is drawn twice and counted once.

Words: the *tick* is the line across the stitch line, the *point* is where the awl goes.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist, hypot

from handkit.ink import Tag
from handkit.proof.checks.checking import WITHIN, check, place_of, there, together
from handkit.proof.content.marks import MeasuredMark, Painted
from handkit.proof.content.paths import bounds, middle
from handkit.proof.proof import Check

# The awl's point on paper is at most this across (common practice, no source).
MOST_POINT = 0.5


def hole_checks(marks: Sequence[MeasuredMark]) -> tuple[Check, ...]:
    """Each hole's drawing, and the count of all; nothing where no hole is drawn."""
    drawn = [mark for mark in marks if mark.tag is Tag.HOLE]
    if not drawn:
        return ()
    names = {name for mark in drawn if (name := _name(mark)) is not None}
    pieces = {name[0] for name in names}
    holes = check("holes", True, holes=len(names), pieces=len(pieces))
    return together(holes, [_hole(mark) for mark in drawn])


def _name(mark: MeasuredMark) -> tuple[str, str, int, int] | None:
    """Piece, seam, run, number; None where one is lacking."""
    piece, seam = mark.text("Piece"), mark.text("Seam")
    run, number = mark.count("Run"), mark.count("Number")
    if piece is None or seam is None or run is None or number is None or mark.count("Window") is None:
        return None
    return piece, seam, run, number


def _hole(mark: MeasuredMark) -> Check:
    name = _name(mark)
    if name is None:
        return check("holes/nameless", page=mark.page, at=place_of(mark))
    hole = {"page": mark.page, **dict(zip(("piece", "seam", "run", "number"), name, strict=True))}
    points = [painted for painted in mark.painted if _is_point(painted)]
    if len(points) != 1 or not mark.lines:
        ticks, dots = len(mark.lines), len(points)
        return check("holes/marks", ticks=ticks, points=dots, most=MOST_POINT, at=place_of(mark), **hole)
    place = middle(points[0].subpaths[0].points)
    off = max(dist(middle(path.points), place) for path in mark.subpaths)
    return check("holes/apart", off <= WITHIN, off=off, at=there(place), **hole)


def _is_point(painted: Painted) -> bool:
    """Whether it is one dot: a small filled shape, or a stroke without length and its pen's round end."""
    if len(painted.subpaths) != 1:
        return False
    left, bottom, right, top = bounds(painted.subpaths[0].points)
    if painted.filled:
        return max(right - left, top - bottom) <= MOST_POINT + WITHIN
    return hypot(right - left, top - bottom) == 0 and painted.width <= MOST_POINT + WITHIN
