"""Grounds: what a part takes of its base, drafted alone, with all that must stay clear of others.

In: a project, a part, its base. Out: a `PartGround` in the base's frame, of a part whose `at` is [0, 0]. All
mm.

A ground has the cover's place with its rows, the things as far as they stand out of it, caps, and what
lies flat there; then how each thing is drawn out. A part that is turned otherwise than upright has the whole
way of its things in its ground.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

import msgspec

from handkit.draft.fit.on_base import Holes
from handkit.draft.fit.part_place import body_of, frame_of, place_of
from handkit.draft.parts.drafted import DraftedPart, DraftedPiece, PartContext
from handkit.draft.parts.part_kinds import DRAFTINGS
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box, box_of
from handkit.geometry.straight import mirrored_in, side_of
from handkit.read.project import Corner, InnerLine, Item, Opening, Part, PartKind, Piece, Project
from handkit.tolerances import BLADE_PLAY, SAME_POINT, blade_clear

# A base on which any part lies while it is drafted alone.
_HUGE = 20_000.0

# How high caps stand over what they hold, and how far thread keeps off what is beside it (common practice, no
# source).
CAPS, THREAD = 3.0, 2.0


# Between two parts, so that fingers and an awl come to both (common practice, no source), mm.
GAP = 6.0

# In so many bands of one breadth what a blade passes widens beyond its mouth.
BANDS = 4


class DrawnLane(msgspec.Struct, frozen=True):
    """How a thing is drawn out, upwards: from which x to which, from which mouth on, how thick it is; where
    it ends above, before it is."""

    left: float
    right: float
    mouth: float
    thick: float
    end: float


class PartGround(msgspec.Struct, frozen=True):
    """What something takes of a base: its box, how high it stands there, the volume of its things, which are
    drawn out by its ways; in the box what of it is leather, and where something goes through the base; the
    boxes of things that lie on it; how wide the belt of a loop behind is; where a bare blade is drawn over
    the base, so that nothing is sewn there; its box without the way that the things of a part that is turned
    are drawn out by. `part` is "" of what is no part.
    """

    part: str
    box: Box
    ways: tuple[DrawnLane, ...] = ()
    stands: float = 0.0
    heavy: float = 0.0
    leather: Box | None = None
    rows: tuple[Box, ...] = ()
    things: tuple[Box, ...] = ()
    behind: bool = False
    belt: float = 0.0
    bared: tuple[Box, ...] = ()
    still: Box | None = None


def large(base: Piece) -> Piece:
    """A base on which all parts lie."""
    points = ((-_HUGE, -_HUGE), (_HUGE, -_HUGE), (_HUGE, _HUGE), (-_HUGE, _HUGE))
    corners = tuple(
        Corner(corner.letter, at, corner.radius)
        for corner, at in zip(base.corners[: len(points)], points, strict=True)
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
    leather = [at for ring in place.area.rings() for at in ring]
    leather += _taken(given, part, context)
    holes = [*_rows(place.rows), *_rows(_dividers(given, part, context)), *_caps(given, part, context)]
    points = [*leather, *(at for hole in holes for at in hole.corners)]
    things = [_corners(*each.path.bounds()) for each in given.items]
    points += [at for corners in things for at in corners]
    still = box_of(lie.apply_all(points))
    points += [] if upright else _drawn(given, mouth)
    bared = [box_of(lie.apply_all(each.corners)) for each in _bared(given, part, context)]
    box = box_of(lie.apply_all(points))
    sides = [at for each in bared if upright for at in (each.left + GAP, each.right - GAP)]
    return PartGround(
        part.name,
        Box(min(box.left, *sides), box.bottom, max(box.right, *sides), box.top) if sides else box,
        tuple(_ways(given, items, lie, mouth)) if upright else (),
        _stands(given, items, own),
        sum(item.width * item.thickness * item.length for item in items),
        box_of(lie.apply_all(leather)),
        tuple(box_of(lie.apply_all(hole.corners)) for hole in holes),
        tuple(box_of(lie.apply_all(corners)) for corners in things if part.kind is not PartKind.SHEATH),
        part.flag("behind"),
        part.size("belt") if part.kind is PartKind.LOOP and part.flag("behind") else 0.0,
        tuple(bared),
        still,
    )


def ground_of_piece(piece: Piece) -> PartGround | None:
    """What a piece that the file lays on a base takes of it."""
    body = body_of(piece)
    if body is None:
        return None
    over = Affine.mirror() if piece.turned_over else Affine()
    lie = Affine.shift(*piece.at) @ Affine.turn(piece.turn_degrees) @ over
    box = Box(*body.moved(lie).bounds())
    return PartGround("", box, stands=piece.thickness, leather=box, behind=piece.behind)


def ground_of_line(line: InnerLine) -> PartGround:
    """What a line of the base takes, along which something is sewn."""
    return _hole(box_of(line.points).grown(THREAD), THREAD)


def ground_of_places(opening: Opening) -> Iterator[PartGround]:
    """What the places of an opening take of the first piece that it goes through."""
    clear = opening.clearance.stitch
    for at in opening.at:
        yield _hole(box_of([at]).grown(max(clear, opening.cap / 2)), CAPS)


def _hole(box: Box, stands: float) -> PartGround:
    """What goes through the base and keeps all else off on both its faces."""
    return PartGround("", box, stands=stands, leather=box, rows=(box,))


def _dividers(given: DraftedPart, part: Part, context: PartContext) -> Iterator[tuple[Point, ...]]:
    """Lines of a cover that lies flat on the base in front, sewn through both."""
    for piece in given.pieces:
        promised = context.pieces[piece.name]
        if promised.on == part.on and promised.flat and not part.flag("behind"):
            lie = Affine.shift(*piece.at) @ Affine.turn(piece.turn_degrees)
            yield from (lie.apply_all(line.points) for line in piece.lines)


def _rows(rows: Iterable[tuple[Point, ...]]) -> Iterator[Box]:
    """Where stitches go through the base, stretch by stretch."""
    for row in rows:
        yield from (box_of(stretch).grown(THREAD) for stretch in pairwise(row))


def _caps(given: DraftedPart, part: Part, context: PartContext) -> Iterator[Box]:
    """Where openings go through the base."""
    for opening in given.openings:
        radius = max(context.openings[opening.name].cap, context.openings[opening.name].diameter) / 2
        for at in (at for piece, places in opening.places if piece == part.on for at in places):
            yield box_of([at]).grown(radius)


def _taken(given: DraftedPart, part: Part, context: PartContext) -> Iterator[Point]:
    """Lines on the base, and pieces that lie flat on it, folded as they will be, in the part's frame."""
    for line in given.base_lines:
        yield from line.points
    for _, points in _lying(given, part, context):
        yield from points


def _lying(given: DraftedPart, part: Part, context: PartContext) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """The corners of pieces that lie flat on the base or on one another, by name."""
    lies: dict[str | None, Affine] = {part.on: Affine()}
    under: dict[str | None, DraftedPiece] = {}
    for piece in given.pieces:
        promised = context.pieces[piece.name]
        on_base = promised.on == part.on
        if promised.on in lies and (promised.flat or not on_base):  # a strap stands out on what lies there
            turned = promised.turned_over is not (on_base and part.flag("behind"))
            over = Affine.mirror() if turned else Affine()
            by = Affine.shift(*piece.at) @ Affine.turn(piece.turn_degrees) @ over
            lies[piece.name], under[piece.name] = lies[promised.on] @ by, piece
            points = by.apply_all(_folded([corner.at for corner in piece.corners], piece))
            on = under.get(promised.on)
            own = points if on is None else _folded(points, on)
            yield piece.name, tuple(lies[promised.on].apply_all(own))


def _folded(points: Iterable[Point], piece: DraftedPiece) -> Iterator[Point]:
    """Points of a piece, those that are folded over laid on what keeps its place."""
    by_letter = {corner.letter: corner.at for corner in piece.corners}
    for at in points:
        place = at
        for fold in piece.folds:
            line = (fold.points[0], fold.points[-1])
            beyond = side_of(place, line) * side_of(by_letter[fold.stays], line) < 0
            place = mirrored_in(line).apply(place) if fold.angle_degrees == 180.0 and beyond else place
        yield place


def _drawn(given: DraftedPart, mouth: float) -> Iterator[Point]:
    """The corners of things that are drawn out by what lies under the mouth, in the part's frame."""
    for each in given.items:
        left, low, right, high = each.path.bounds()
        yield from _corners(left, low, right, high + max(mouth - low, 0.0))


def _bared(given: DraftedPart, part: Part, context: PartContext) -> Iterator[Box]:
    """What a sheath's blade passes beyond its mouth, and how far beside that nothing is to be sewn, but for
    what the leaf that goes on there lies over; in the part's frame."""
    for room in given.rooms if part.kind is PartKind.SHEATH else ():
        mouth = room.place.bounds()[3]
        leaf = [at for name, points in _lying(given, part, context) if name == room.base for at in points]
        above = [at for at in leaf if at[1] > mouth + SAME_POINT]
        blades = {held.name for held in room.items if held.blade is None}
        for each in (each for each in given.items if each.item in blades):
            left, low, right, high = each.path.bounds()
            play = max(0.0, min((fit.ease for fit in given.fits if each.item in fit.items), default=0.0))
            tops = [(high - low) * (k + 1) / BANDS for k in range(BANDS)]
            tops[-1] += blade_clear(tops[-1], play or BLADE_PLAY, high - low)
            for bottom, top in pairwise((0.0, *tops)):
                near = blade_clear(top, play or BLADE_PLAY, high - low)
                band = Box(left - near, mouth + bottom, right + near, mouth + top)
                yield from _beyond(band, box_of([*above, (above[0][0], mouth)])) if above else (band,)


def _beyond(band: Box, leaf: Box) -> Iterator[Box]:
    """A band without what a leaf covers of it from below."""
    if leaf.top <= band.bottom or leaf.right <= band.left or leaf.left >= band.right:
        yield band
        return
    high = min(leaf.top, band.top)
    if leaf.left > band.left:
        yield Box(band.left, band.bottom, leaf.left, high)
    if leaf.right < band.right:
        yield Box(leaf.right, band.bottom, band.right, high)
    if high < band.top:
        yield Box(band.left, high, band.right, band.top)


def _ways(given: DraftedPart, items: tuple[Item, ...], lie: Affine, mouth: float) -> Iterator[DrawnLane]:
    thick = {item.name: item.thickness for item in items}
    thick |= {held.name: held.thickness for room in given.rooms for held in room.items}
    for each in given.items:
        left, _, right, high = each.path.bounds()
        first, last = sorted(lie.apply((x, mouth))[0] for x in (left, right))
        begins, end = (lie.apply((left, y))[1] for y in (mouth, high))
        yield DrawnLane(first, last, begins, thick[each.item], end)


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
