"""Grounds: what a part takes of its base, drafted alone, with all that must stay clear of others.

In: a project, a part, its base. Out: a `PartGround` in the base's frame, of a part whose `at` is [0, 0]. All
mm.

A ground has the cover's place with its rows, the things as far as they stand out of it, caps, and what
lies flat there; then how each thing is drawn out. A part that is turned otherwise than upright has the whole
way of its things in its ground.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draft.fit.on_base import Holes
from handkit.draft.fit.part_place import body_of, frame_of, place_of
from handkit.draft.parts.drafted import DraftedPart, PartContext
from handkit.draft.parts.part_kinds import DRAFTINGS
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box, box_of
from handkit.read.project import Corner, InnerLine, Item, Opening, Part, Piece, Project

# A base on which any part lies while it is drafted alone.
_HUGE = 20_000.0

# How high caps stand over what they hold, and how far thread keeps off what is beside it (common practice, no
# source).
CAPS, THREAD = 3.0, 2.0


class DrawnLane(msgspec.Struct, frozen=True):
    """How a thing is drawn out, upwards: from which x to which, from which mouth on, how thick it is."""

    left: float
    right: float
    mouth: float
    thick: float


class PartGround(msgspec.Struct, frozen=True):
    """What something takes of a base: its box, how high it stands there, the volume of its things, which are
    drawn out by its ways. `part` is "" of what is no part."""

    part: str
    box: Box
    ways: tuple[DrawnLane, ...] = ()
    stands: float = 0.0
    heavy: float = 0.0


def large(base: Piece) -> Piece:
    """A base on which all parts lie."""
    points = ((-_HUGE, -_HUGE), (_HUGE, -_HUGE), (_HUGE, _HUGE), (-_HUGE, _HUGE))
    corners = tuple(
        Corner(corner.letter, at, corner.radius) for corner, at in zip(base.corners, points, strict=True)
    )
    return msgspec.structs.replace(base, corners=corners)


def ground_of(part: Part, base: Piece, project: Project) -> PartGround | None:
    """What a part takes; None of one that can't be drafted, of which its own findings tell."""
    items = tuple(item for item in project.items if item.held_by == part.name)
    own = {piece.name: piece for piece in project.pieces if piece.drafted_by == part.name}
    context = PartContext(
        large(base),
        own,
        {seam.name: seam for seam in project.seams},
        {opening.name: opening for opening in project.openings},
    )
    given = DRAFTINGS[part.kind](part, items, context)
    place = place_of(given, Holes.of(seam for seam in project.seams if seam.part == part.name).inset)
    if place is None:
        return None
    lie = frame_of(part, (0.0, 0.0))
    upright = part.turn_degrees % 360.0 == 0.0
    mouth = given.standing.place.bounds()[3] if given.standing else place.area.bounds()[3]
    points = [at for ring in place.area.rings() for at in ring]
    points += [at for each in given.items for at in _corners(*each.path.bounds())]
    points += _taken(given, part, context)
    points += [] if upright else _drawn(given, mouth)
    ways = _ways(given, items, lie, mouth) if upright else ()
    heavy = sum(item.width * item.thickness * item.length for item in items)
    return PartGround(
        part.name, box_of(lie.apply_all(points)), tuple(ways), _stands(given, items, own), heavy
    )


def ground_of_piece(piece: Piece) -> PartGround | None:
    """What a piece that the file lays on a base takes of it."""
    body = body_of(piece)
    if body is None:
        return None
    over = Affine.mirror() if piece.turned_over else Affine()
    lie = Affine.shift(*piece.at) @ Affine.turn(piece.turn_degrees) @ over
    return PartGround("", Box(*body.moved(lie).bounds()), stands=piece.thickness)


def ground_of_line(line: InnerLine) -> PartGround:
    """What a line of the base takes, along which something is sewn."""
    return PartGround("", box_of(line.points).grown(THREAD), stands=THREAD)


def ground_of_places(opening: Opening) -> Iterator[PartGround]:
    """What the places of an opening take of the first piece that it goes through."""
    clear = opening.clearance.stitch
    for at in opening.at:
        yield PartGround("", box_of([at]).grown(max(clear, opening.cap / 2)), stands=CAPS)


def _taken(given: DraftedPart, part: Part, context: PartContext) -> Iterator[Point]:
    """Lines and caps on the base, and pieces that lie flat on it, in the part's frame."""
    for line in given.base_lines:
        yield from line.points
    for opening in given.openings:
        radius = max(context.openings[opening.name].cap, context.openings[opening.name].diameter) / 2
        for x, y in (at for piece, places in opening.places if piece == part.on for at in places):
            yield from _corners(x - radius, y - radius, x + radius, y + radius)
    lies: dict[str | None, Affine] = {part.on: Affine()}
    for piece in given.pieces:
        promised = context.pieces[piece.name]
        on_base = promised.on == part.on
        if promised.on in lies and (promised.flat or not on_base):  # a strap stands out on what lies there
            turned = promised.turned_over is not (on_base and part.flag("behind"))
            over = Affine.mirror() if turned else Affine()
            by = lies[promised.on] @ Affine.shift(*piece.at) @ Affine.turn(piece.turn_degrees) @ over
            lies[piece.name] = by
            yield from by.apply_all([corner.at for corner in piece.corners])


def _drawn(given: DraftedPart, mouth: float) -> Iterator[Point]:
    """The corners of things that are drawn out by what lies under the mouth, in the part's frame."""
    for each in given.items:
        left, low, right, high = each.path.bounds()
        yield from _corners(left, low, right, high + max(mouth - low, 0.0))


def _ways(given: DraftedPart, items: tuple[Item, ...], lie: Affine, mouth: float) -> Iterator[DrawnLane]:
    thick = {item.name: item.thickness for item in items}
    thick |= {held.name: held.thickness for room in given.rooms for held in room.items}
    for each in given.items:
        left, _, right, _ = each.path.bounds()
        ends = sorted(lie.apply((x, mouth))[0] for x in (left, right))
        yield DrawnLane(ends[0], ends[1], lie.apply((left, mouth))[1], thick[each.item])


def _stands(given: DraftedPart, items: tuple[Item, ...], own: dict[str, Piece]) -> float:
    """How high a part reaches over its base: its cover where it stands highest, or all its leather on its
    things."""
    held = (each.thickness for room in given.rooms for each in room.items)
    thick = max((*(item.thickness for item in items), *held), default=0.0)
    caps = CAPS if given.openings else 0.0
    standing = given.standing
    if standing is None or not standing.profiles:
        return thick + sum(piece.thickness for piece in own.values()) + caps
    rise = max(z for profile in standing.profiles for _, z in profile.inside)
    return max(rise, thick) + own[standing.cover].thickness + caps


def _corners(left: float, low: float, right: float, high: float) -> tuple[Point, ...]:
    return ((left, low), (right, low), (right, high), (left, high))
