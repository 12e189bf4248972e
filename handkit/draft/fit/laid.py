"""Laid: what lies on a base once its parts are drafted, and how high it stands there.

In: a base, the pieces that have a shape, the rooms of the parts. Out: heights, as the model of the article
put together has them, and the outlines of the things with their tops. All mm, in the base's frame, z from
the face that is looked at.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from handkit.draft.fit.rows_on import rows_on
from handkit.draft.parts.drafted import Around
from handkit.draft.pattern import Room
from handkit.draft.pieces.placement import Placement, placements_of
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box
from handkit.geometry.laid.heights import Heights
from handkit.geometry.path import Path
from handkit.geometry.region import Region, lines_of, region_of

# What covers so much of a thing's place is what the thing lies on.
LAID_ON = 0.99


class LaidPiece(msgspec.Struct, frozen=True):
    """A piece where it lies on the base; see `Lies`. `lie` leads there from its own frame, or from that of
    the room it covers."""

    name: str
    outline: Path
    lie: Affine
    level: int
    thickness: float
    depth: int
    on: str | None
    room: Room | None = None

    @property
    def over(self) -> str | None:
        """The base of the room it covers."""
        return None if self.room is None else self.room.base

    def rise(self, at: Point) -> float:
        """How far its inside is off that base."""
        return 0.0 if self.room is None else self.room.height(self.lie.inverse().apply(at))


class LaidBase(msgspec.Struct, frozen=True):
    """All that lies on one base, without walls, which stand between others."""

    pieces: Mapping[str, LaidPiece]
    heights: Heights
    things: tuple[tuple[Path, float], ...]  # in front, with how high they reach
    around: Around
    placements: Mapping[str, Placement]

    def flat(self, name: str) -> tuple[Region, Region]:
        """A piece as it is cut, laid where it lies, and the rows on it: what is set in it has to do with both
        of them, and not with the place that it takes once it stands. Raises KeyError."""
        lie, outline = self.pieces[name].lie, _outline(self.around, name)
        assert outline is not None
        rows = [path.moved(lie) for path in rows_on(name, self.around, self.placements)]
        return region_of(outline.moved(lie)), lines_of(rows)


def laid_on(base: str, around: Around, *, without: frozenset[str]) -> LaidBase:
    """What lies on a base, `without` some pieces."""
    outlines = {name: outline for name in around.pieces if (outline := _outline(around, name)) is not None}
    pieces = tuple(piece for piece in around.pieces.values() if piece.name in outlines)
    names = {piece.name for piece in pieces}
    pieces = tuple(piece for piece in pieces if piece.on is None or piece.on in names)
    placements = placements_of(pieces, outlines, {})
    rooms = {room.cover: room for room in around.rooms if room.stands}
    walls = {room.wall[0] for room in around.rooms if room.wall is not None}
    found: dict[str, LaidPiece] = {}
    for piece in pieces:
        place = placements[piece.name]
        if place.base == base and piece.name not in walls | without:
            room = rooms.get(piece.name)
            lie, outline = _in_plan(place, room, outlines[piece.name], placements)
            found[piece.name] = LaidPiece(
                piece.name, outline, lie, place.level, piece.thickness, place.depth, piece.on, room
            )
    heights = Heights(list(found.values()))
    things = tuple(
        thing
        for room in around.rooms
        if room.base in found and room.cover in found
        for thing in _things(room, found, heights)
    )
    return LaidBase(found, heights, things, around, placements)


def _outline(around: Around, name: str) -> Path | None:
    outline = around.outlines.get(name)
    return None if outline is None else outline.path


def _in_plan(
    place: Placement, room: Room | None, outline: Path, placements: Mapping[str, Placement]
) -> tuple[Affine, Path]:
    if room is None:
        return place.in_base, outline.moved(place.in_base)
    lie = placements[room.base].in_base @ room.lie
    return lie, room.place.moved(lie)


def _things(room: Room, pieces: Mapping[str, LaidPiece], heights: Heights) -> list[tuple[Path, float]]:
    """A room's items in front, on its base or on what covers all their place there."""
    base, cover = pieces[room.base], pieces[room.cover]
    if cover.level < base.level or (room.folded and room.behind is not base.lie.turns_over):
        return []
    lie, found = base.lie @ room.lie, []
    for held in room.items:
        outline, seat = held.outline.moved(lie), held.seat.moved(lie)
        region, floor = region_of(seat), base.name
        for piece in pieces.values():
            if base.level < piece.level < cover.level and piece.room is None:
                common = region.common(heights.region(piece.name)).area
                floor = piece.name if common >= LAID_ON * region.area else floor
        top = heights.span(floor, Box(*seat.bounds()).middle)[1]
        found.append((outline, top + held.thickness))
    return found
