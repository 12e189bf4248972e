"""Mirrored: a project with its parts drafted, for the other hand.

In: what the drafting of parts gives. Out: the same as a looking glass shows it: every piece with all that is
drawn on it, where it lies, openings, fittings, points that must meet, rooms. Everything after it is drafted
from that, as of any project; that slits lean the other way is the punching's (`Project.mirrored`).

Each piece's own frame is mirrored, x to −x. A piece that lies at a place of another, turned and perhaps
turned over, then lies at the mirrored place, turned the other way, and turned over as before:
M·T(at)·R(turn)·M is T(M at)·R(−turn). Which side lies up, what is behind what, letters and texts stay.

The sewing is mirrored with the rest: work that is clamped with its face to the right hand, its start farthest
off and its edge up is, in the glass, clamped with its face to the left hand, start and edge as before. So the
needle that goes first changes hands, and each stitch lies in its slit as it does in the other kit.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from handkit.draft.parts.parts import DraftedParts
from handkit.draft.pattern import Room, RoomProfile
from handkit.geometry.affine import Affine, Point
from handkit.read.project import Fitting, MatchPoint, Opening, Piece, Project, Seam

_OVER = Affine.mirror()


def mirrored(whole: DraftedParts) -> DraftedParts:
    """All of it in the glass; twice is as before."""
    return replace(whole, project=_project(whole.project), rooms=tuple(_room(room) for room in whole.rooms))


def _project(project: Project) -> Project:
    return replace(
        project,
        pieces=tuple(_piece(piece) for piece in project.pieces),
        seams=tuple(_seam(seam) for seam in project.seams),
        openings=tuple(_opening(opening) for opening in project.openings),
        fittings=tuple(_fitting(fitting) for fitting in project.fittings),
    )


def _points(points: Iterable[Point]) -> tuple[Point, ...]:
    return tuple((0.0 - x, y) for x, y in points)


def _piece(piece: Piece) -> Piece:
    (at,) = _points((piece.at,))
    return replace(piece.mirror_image(), at=at, turn_degrees=0.0 - piece.turn_degrees)


def _seam(seam: Seam) -> Seam:
    matches = tuple(
        MatchPoint(
            tuple(_points((place,))[0] if isinstance(place, tuple) else place for place in match.places)
        )
        for match in seam.matches
    )
    stitching = replace(seam.stitching, left_handed=not seam.stitching.left_handed)
    return replace(seam, matches=matches, stitching=stitching)


def _opening(opening: Opening) -> Opening:
    return replace(
        opening,
        at=_points(opening.at),
        places=tuple((piece, _points(points)) for piece, points in opening.places),
        turn_degrees=180.0 - opening.turn_degrees,
    )


def _fitting(fitting: Fitting) -> Fitting:
    return replace(fitting, at=_points(fitting.at))


def _room(room: Room) -> Room:
    return replace(
        room,
        lie=_OVER @ room.lie @ _OVER,
        place=room.place.moved(_OVER),
        profiles=tuple(RoomProfile(each.at, _points(each.inside)[::-1]) for each in room.profiles),
        items=tuple(
            replace(
                each,
                outline=each.outline.moved(_OVER),
                section=each.section.moved(_OVER),
                blade=each.blade and each.blade.moved(_OVER),
            )
            for each in room.items
        ),
    )
