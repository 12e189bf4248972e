"""Corners: a line of straight edges and rounds by the places where its straight lines meet.

In: a path. Out: its corners with their radii, or the curve that is no round of a corner.

A round is an arc that goes on smoothly into its neighbours at both ends and turns by less than a half
turn: then its tangents meet in a corner, and compasses set to its radius join the two lines.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import radians, tan

from handkit.draft.pattern import Letter
from handkit.geometry.affine import Point
from handkit.geometry.path import Path, turn_degrees
from handkit.geometry.segment import Segment
from handkit.geometry.straight import distance
from handkit.sheets.laid import MarkedCorner
from handkit.tolerances import COINCIDE

# A joint that turns by less is smooth: an arc of 100 mm is then out of its tangent by 0.02 mm at most.
SMOOTH = 0.01

# Beyond this the tangents meet so far off that nobody marks the corner, in degrees.
MOST_TURN = 150.0


def corners_of(path: Path, letters: Sequence[Letter] = ()) -> tuple[MarkedCorner, ...] | Segment:
    """A path's corners in its order, an open one's ends among them; or the first arc that rounds none.

    A corner has the letter that stands there, or at the middle of its round.
    """
    corners: list[MarkedCorner] = []
    segments = _whole_arcs(path)
    count = len(segments)
    for index, segment in enumerate(segments):
        before = segments[index - 1] if path.closed or index else None
        after = segments[(index + 1) % count] if path.closed or index + 1 < count else None
        if segment.bulge and not _is_round(before, segment, after):
            return segment
        if before is None or not (segment.bulge or before.bulge):
            corners.append(MarkedCorner(segment.start, 0.0, _letter(segment.start, letters)))
        if segment.bulge:
            middle = segment.point_at(segment.length / 2)
            corners.append(MarkedCorner(_corner(segment), segment.radius, _letter(middle, letters)))
        if after is None:
            corners.append(MarkedCorner(segment.end, 0.0, _letter(segment.end, letters)))
    return tuple(corners)


def _whole_arcs(path: Path) -> list[Segment]:
    """A path's segments with arcs in one that follow one another on one circle, as the halves of a round do
    that belong to either of its edges."""
    whole: list[Segment] = []
    for segment in path.segments:
        goes_on = bool(whole) and _go_on(whole[-1], segment)
        whole.append(_joined(whole.pop(), segment) if goes_on else segment)
    if path.closed and len(whole) > 1 and _go_on(whole[-1], whole[0]):
        whole[0] = _joined(whole.pop(), whole[0])
    return whole


def _go_on(one: Segment, other: Segment) -> bool:
    """Whether two arcs are the parts of one round."""
    if not one.bulge * other.bulge > 0.0 or abs(one.sweep + other.sweep) > radians(MOST_TURN):
        return False
    return distance(one.centre, other.centre) <= COINCIDE and abs(one.radius - other.radius) <= COINCIDE


def _joined(one: Segment, other: Segment) -> Segment:
    return Segment(one.start, other.end, tan((one.sweep + other.sweep) / 4))


def _letter(at: Point, letters: Sequence[Letter]) -> str:
    return next((letter.name for letter in letters if distance(letter.at, at) <= COINCIDE), "")


def _is_round(before: Segment | None, arc: Segment, after: Segment | None) -> bool:
    """Whether an arc goes on smoothly into what there is at its ends, and turns little enough."""
    joints = [turn_degrees(before, arc)] if before is not None else []
    joints += [turn_degrees(arc, after)] if after is not None else []
    return all(abs(turn) <= SMOOTH for turn in joints) and abs(arc.sweep) <= radians(MOST_TURN)


def _corner(arc: Segment) -> Point:
    """Where an arc's tangents meet."""
    (x, y), (dx, dy) = arc.start, arc.direction_at(0.0)
    reach = arc.radius * tan(abs(arc.sweep) / 2)
    return (x + dx * reach, y + dy * reach)
