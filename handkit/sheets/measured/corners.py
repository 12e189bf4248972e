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
    """A path's corners in its order, a closed one's from the first letter on, an open one's ends among them;
    or the first arc that rounds none.

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
    first = next((k for k, one in enumerate(corners) if letters and one.letter == letters[0].name), 0)
    return (*corners[first:], *corners[:first]) if path.closed else tuple(corners)


def _whole_arcs(path: Path) -> list[Segment]:
    """A path's segments with the arcs of one round in one: a round comes in halves, for each belongs to one
    of its edges. Where two rounds meet on one circle, as at a strap's end, the halves go two by two."""
    segments = list(path.segments)
    if path.closed:
        # What is round all over begins in the middle of a round.
        begin = next((k for k, one in enumerate(segments) if not _go_on(segments[k - 1], one)), 1)
        segments = [*segments[begin:], *segments[:begin]]
    whole: list[Segment] = []
    for run in _runs(segments):
        whole += next(parts for per in (len(run), 2, 1) if (parts := _joined_by(run, per)) is not None)
    return whole


def _joined_by(run: Sequence[Segment], per: int) -> list[Segment] | None:
    """So many arcs of a circle in one; None where one then turns too much for a round."""
    groups = [run[k : k + per] for k in range(0, len(run), per)]
    turns = [abs(sum(arc.sweep for arc in group)) for group in groups]
    return [_joined(group) for group in groups] if per == 1 or max(turns) <= radians(MOST_TURN) else None


def _runs(segments: Sequence[Segment]) -> list[list[Segment]]:
    """Segments in order, arcs that go on into one another together."""
    runs: list[list[Segment]] = []
    for segment in segments:
        if runs and _go_on(runs[-1][-1], segment):
            runs[-1].append(segment)
        else:
            runs.append([segment])
    return runs


def _go_on(one: Segment, other: Segment) -> bool:
    """Whether two arcs lie on one circle."""
    if not one.bulge * other.bulge > 0.0:
        return False
    return distance(one.centre, other.centre) <= COINCIDE and abs(one.radius - other.radius) <= COINCIDE


def _joined(arcs: Sequence[Segment]) -> Segment:
    if len(arcs) == 1:
        return arcs[0]
    return Segment(arcs[0].start, arcs[-1].end, tan(sum(arc.sweep for arc in arcs) / 4))


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
