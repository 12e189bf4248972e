"""Join ink: what two windows of a piece share: trim line, registration marks, rule line.

In: a view and the joins of its piece. Out: marks.

Both windows are trimmed at the dashed line in the middle of their overlap, or one is laid under
the other there; the marks come to lie on each other; a steel rule along the long line shows
whether both portions are in line.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import pi, tan

from handkit.draw.model import tags
from handkit.draw.model.marks import Group, Ink, Mark
from handkit.draw.model.path_ops import circle_ops, cross_ops, joined, line_ops, segment_ops
from handkit.draw.model.view import View
from handkit.geometry.affine import Point
from handkit.geometry.box import box_of
from handkit.geometry.polygon import cut_off, inside
from handkit.geometry.segment import Segment
from handkit.geometry.straight import unit
from handkit.ink import REGISTRATION_ARM, REGISTRATION_RADIUS, STROKES, Tag
from handkit.sheets.laid import Join, Sheets

# Further than any sheet is long, in mm.
FAR = 10_000.0

# The bulge of a quarter of a circle.
QUARTER = tan(pi / 8)


def joins_of(view: View, sheets: Sheets) -> tuple[Join, ...]:
    """The joins a window has part in."""
    window = view.window
    return tuple(
        join
        for join in sheets.joins
        if (join.piece, join.copy) == (window.piece, window.copy) and window.number in join.windows
    )


def inward(view: View, join: Join) -> Point:
    """The direction on the sheet from a trim line to the middle of this window, across the line."""
    (ax, ay), (bx, by) = view.to_sheet.apply_all(join.cut_line)
    cx = sum(x for x, _ in view.rim) / len(view.rim)
    cy = sum(y for _, y in view.rim) / len(view.rim)
    ux, uy = unit((ax, ay), (bx, by))
    side = 1.0 if (cx - ax) * -uy + (cy - ay) * ux > 0 else -1.0
    return (-uy * side, ux * side)


def keeps(view: View, joins: Iterable[Join], place: Point) -> bool:
    """Whether a place on the sheet is left on this window when it is trimmed."""
    for join in joins:
        (ax, ay), (nx, ny) = view.to_sheet.apply(join.cut_line[0]), inward(view, join)
        if (place[0] - ax) * nx + (place[1] - ay) * ny < 0:
            return False
    return True


def is_whole(view: View, joins: Iterable[Join], place: Point, reach: float) -> bool:
    """Whether a mark that reaches so far from its place on the sheet is to be drawn: where the place
    is kept when the window is trimmed, or all of it lies in the window. Half a mark misleads."""
    corners = box_of((place,)).grown(reach).corners
    return keeps(view, joins, place) or all(inside(corner, view.rim) for corner in corners)


def kept_part(view: View, joins: Iterable[Join]) -> tuple[Point, ...]:
    """What the window shows of the cut outline and keeps when it is trimmed, as a ring on the sheet."""
    ring = view.part()
    for join in joins:
        a, b = view.to_sheet.apply_all(join.cut_line)
        nx, ny = inward(view, join)
        ring = cut_off(ring, (a, b), left=(b[0] - a[0]) * ny - (b[1] - a[1]) * nx) or ring
    return ring


def beyond(view: View, join: Join) -> tuple[Point, ...]:
    """A ring that covers all of the sheet beyond a trim line."""
    a, b = view.to_sheet.apply_all(join.cut_line)
    (ux, uy), (nx, ny) = unit(a, b), inward(view, join)
    near = ((a[0] - ux * FAR, a[1] - uy * FAR), (b[0] + ux * FAR, b[1] + uy * FAR))
    far = tuple((x - nx * FAR, y - ny * FAR) for x, y in reversed(near))
    return (*near, *far)


def join_groups(view: View, joins: tuple[Join, ...]) -> tuple[Group, ...]:
    """Lines under the window's clip; marks whole, so that they can be told for what they are."""
    if not joins:
        return ()
    lines = tuple(mark for join in joins for mark in _lines(view, join))
    marks = tuple(mark for join in joins for mark in _marks(view, join))
    return (Group(lines, view.clips()), Group(marks))


def _lines(view: View, join: Join) -> tuple[Mark, ...]:
    properties = tags.join(view.properties, join.windows)
    return tuple(
        Mark(tag, properties, (Ink(line_ops(*view.to_sheet.apply_all(line)), STROKES[tag]),))
        for tag, line in ((Tag.CUT, join.cut_line), (Tag.RULE, join.rule_line))
    )


def _marks(view: View, join: Join) -> tuple[Mark, ...]:
    """One arm runs along the trim line, so that the marks of two windows lie on each other however these
    are turned on paper, and each window keeps one black quarter."""
    along = view.to_sheet.apply_direction(unit(*join.cut_line))
    return tuple(
        Mark(
            Tag.MARK,
            tags.mark(view.properties, join.windows, k),
            registration(view.to_sheet.apply(place), along),
        )
        for k, place in enumerate(join.marks, start=1)
    )


def registration(at: Point, along: Point, *, scale: float = 1.0) -> tuple[Ink, ...]:
    """A cross in a circle, the printing trade's mark, with two opposite quarters black: at arm's length it
    is taken for no hole."""
    (ux, uy), (x, y) = along, at
    arm, r = REGISTRATION_ARM * scale, REGISTRATION_RADIUS * scale
    quarters = joined(
        segment_ops(
            (
                Segment(at, (x + ux * s, y + uy * s)),
                Segment((x + ux * s, y + uy * s), (x - uy * s, y + ux * s), QUARTER),
                Segment((x - uy * s, y + ux * s), at),
            ),
            closed=True,
        )
        for s in (r, -r)
    )
    lines = joined((circle_ops(at, r), cross_ops(at, (ux * arm, uy * arm), (-uy * arm, ux * arm))))
    return (Ink(lines, STROKES[Tag.MARK]), Ink(quarters))
