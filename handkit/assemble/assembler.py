"""Step 4, the public function: everything punched in, the article put together out.

All mm; see `article.py` for what comes out. A piece that does not lie flat has its place in plan where its
`on` and `at` put it, and its shape in space where a part drafted it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby, product

import msgspec

from handkit.assemble.advice.moving import Trials
from handkit.assemble.advice.telling import clash_findings
from handkit.assemble.article import (
    Article,
    Body,
    BodyKind,
    Cap,
    Clash,
    Figure,
    SewnRow,
    Thing,
    heights_of,
)
from handkit.assemble.bare import bare_findings
from handkit.assemble.clashes import clashes_of
from handkit.assemble.closing import closing_findings
from handkit.assemble.fittings import placed_fittings
from handkit.assemble.hardware import clashes_of_hardware
from handkit.assemble.hung.crossed import crossed_findings
from handkit.assemble.hung.handles import handle_in_plan
from handkit.assemble.hung.passed import passed_straps, placed_ties
from handkit.assemble.leaves import with_leaves
from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece, Room
from handkit.errors import refuse_errors
from handkit.findings import Finding, finding, in_order
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.laid.heights import Heights, Span
from handkit.geometry.region import region_of
from handkit.geometry.space import Motion
from handkit.geometry.straight import distance, unit
from handkit.grouping import grouped
from handkit.punch.punched import Punched, PunchedSeam, Stack
from handkit.read.project import PartKind

# What covers so much of a thing's place is what the thing lies on; what covers less is in its way.
LAID_ON = 0.99

# Mates' holes no farther apart in plan than this are taken to meet there, mm.
MEETS = 5.0


def assemble(punched: Punched) -> Article:
    """The article put together. Raises ProjectError where something is in the way; the article is in its
    `reached`."""
    pattern = punched.pattern
    bases = dict.fromkeys(piece.base for piece in pattern.pieces)
    figures = tuple(_figure(punched, base) for base in bases)
    told: list[Finding] = []
    clashes: list[Clash] = []
    for figure in figures:
        heights = heights_of(figure.bodies)
        found = _clashes(pattern, figure, heights)
        clashes += found
        told += _told_of(pattern, figure, found)
        told += closing_findings(pattern, figure, heights)
        told += bare_findings(pattern, figure, heights, found)
        told += crossed_findings(pattern, figure)
    article = Article(punched, figures, tuple(clashes), in_order(told))
    article = msgspec.structs.replace(article, punched=_with_fits(punched, article.hindered))
    refuse_errors(told, article)
    return article


def _with_fits(punched: Punched, hindered: frozenset[str]) -> Punched:
    """The same, where the room of an item that clashes says so."""
    if not hindered:
        return punched
    fits = tuple(
        msgspec.structs.replace(fit, clashes=not hindered.isdisjoint(fit.items))
        for fit in punched.pattern.item_fits
    )
    pattern = msgspec.structs.replace(punched.pattern, item_fits=fits)
    return msgspec.structs.replace(punched, pattern=pattern)


def _clashes(pattern: Pattern, figure: Figure, heights: Heights) -> tuple[Clash, ...]:
    """All clashes of a figure but those of folds that shut."""
    return (*clashes_of(pattern, figure, heights), *clashes_of_hardware(pattern, figure, heights))


# Of a drafted cover its part's depth decides how far its folds are apart.
OF_COVERS = {"clash/leaves": "clash/leaves-depth", "clash/leaf": "clash/leaf-depth"}


def _told_of(pattern: Pattern, figure: Figure, clashes: Sequence[Clash]) -> Iterator[Finding]:
    """What is told of a figure's clashes."""
    if clashes:
        yield from clash_findings(
            Trials(pattern, figure, _clashes), [each for each in clashes if each.room is None]
        )
    covers = {each.name: each for each in pattern.project.parts if each.kind is PartKind.FOLD_COVER}
    for clash in clashes:
        if clash.room is not None:
            where = next(each.source.at("folds") for each in pattern.project.pieces if each.name == clash.of)
            told: dict[str, object] = {"other": clash.other, "deep": clash.deep, "high": clash.high}
            told.update(at=clash.at, base=clash.base, room=clash.room, half=clash.high / 2)
            key = OF_COVERS.get(clash.key, clash.key) if clash.of in covers else clash.key
            where = where if key == clash.key else covers[clash.of].source.at("depth")
            yield finding(key, where, of=clash.of, together=clash.high + clash.room, **told)


def _figure(punched: Punched, base: str) -> Figure:
    pattern = punched.pattern
    rooms = {room.cover: room for room in pattern.rooms if room.stands}
    own = sorted((piece for piece in pattern.pieces if piece.base == base), key=lambda piece: piece.level)
    bodies = with_leaves([_body(punched, piece, rooms.get(piece.name)) for piece in own])
    heights, names = heights_of(bodies), {body.name: body for body in bodies}
    placed = {name: body for name, body in names.items() if body.kind is not BodyKind.WALL}
    things = [_things(room, names, heights) for room in pattern.rooms if room.base in names]
    rows = tuple(
        row for seam in punched.seams for stack in seam.stacks for row in _rows(seam, stack, placed, heights)
    )
    return Figure(
        base,
        bodies,
        tuple(thing for each in things for thing in each),
        tuple(cap for opening in pattern.openings for cap in _caps(opening, placed, heights)),
        rows,
        tuple(placed_fittings(pattern, placed, rows, heights)),
        tuple(placed_ties(pattern, placed)),
        tuple(passed_straps(pattern, {name: body for name, body in placed.items() if body.lies})),
    )


def _body(punched: Punched, piece: PatternPiece, room: Room | None) -> Body:
    pattern = punched.pattern
    outline, lie = pattern.in_plan(piece.name)
    if room is not None:
        return Body(piece, BodyKind.STANDING, outline, lie, piece.level, piece.up, room)
    hung = None if piece.flat else handle_in_plan(punched, piece)
    if hung is not None:
        return Body(piece, BodyKind.HANGING, *hung, piece.level, piece.up)
    kind = BodyKind.FLAT if piece.flat else BodyKind.LOOSE
    if not piece.flat and (_is_wall(pattern, piece) or _bends_along(punched, piece)):
        kind = BodyKind.WALL
    return Body(piece, kind, outline, lie, piece.level, piece.up)


def _bends_along(punched: Punched, piece: PatternPiece) -> bool:
    """Whether a piece that does not lie flat is sewn elsewhere than where its place in plan has its holes, as
    a gusset round a front is: then its place says nothing of where it is."""
    met = missed = 0
    for seam in punched.seams:
        own = [layer for layer in seam.layers if layer.piece == piece.name]
        mates = [layer for layer in seam.layers if layer.piece != piece.name]
        for layer, mate in product(own, mates):
            other = punched.pattern.piece(mate.piece)
            for hole in layer.holes:
                there = mate.hole(hole.number)
                if there is not None and other.base == piece.base and other.flat:
                    apart = distance(piece.in_base.apply(hole.at), other.in_base.apply(there.at))
                    met, missed = met + (apart <= MEETS), missed + (apart > MEETS)
    return missed > met


def _is_wall(pattern: Pattern, piece: PatternPiece) -> bool:
    """Whether a part with a room drafted it to stand between base and cover."""
    drafted = {each.name: each.drafted_by for each in pattern.project.pieces}
    return drafted[piece.name] in {room.part for room in pattern.rooms if room.stands}


def _things(room: Room, bodies: Mapping[str, Body], heights: Heights) -> tuple[Thing, ...]:
    """A room's items where they lie: on its base, or on what covers all their place there."""
    base, cover = bodies[room.base], bodies.get(room.cover)
    lie = base.lie @ room.lie
    towards_eye = room.behind == base.piece.turned
    up = unit(lie.apply((0.0, 0.0)), lie.apply((0.0, 1.0)))
    found: list[Thing] = []
    for held in room.items:
        outline, seat = held.outline.moved(lie), held.seat.moved(lie)
        region, middle = region_of(seat), Box(*seat.bounds()).middle
        floor = base.name
        for body in bodies.values():
            between = cover is not None and min(base.level, cover.level) < body.level < max(
                base.level, cover.level
            )
            if between and body.kind is BodyKind.FLAT:
                common = region.common(heights.region(body.name)).area
                floor = body.name if common >= LAID_ON * region.area else floor
                if not towards_eye and floor == body.name:
                    break  # the outermost on the far side comes first
        span = heights.span(floor, middle)
        face = span[1] if towards_eye else span[0]
        ends = sorted((face, face + held.thickness * (1 if towards_eye else -1)))
        found.append(Thing(held, room, floor, outline, lie, ends[0], ends[1], up))
    return tuple(found)


def _anchored(places: Sequence[tuple[Body, Point]], heights: Heights) -> tuple[Point, Span, tuple[str, ...]]:
    """Where a hole through bodies is in plan, between which heights, and the pieces from back to face.

    What a hole goes through is pulled together there: it is as thick as the pieces, on either side of
    the one that stands on the fewest others.
    """
    ordered = sorted(places, key=lambda place: place[0].level)
    anchor, at = min(ordered, key=lambda place: (place[0].piece.depth, place[0].level))
    low, high = heights.span(anchor.name, at)
    above = sum(body.piece.thickness for body, _ in ordered if body.level > anchor.level)
    below = sum(body.piece.thickness for body, _ in ordered if body.level < anchor.level)
    return at, (low - below, high + above), tuple(body.name for body, _ in ordered)


def _caps(opening: PatternOpening, placed: Mapping[str, Body], heights: Heights) -> list[Cap]:
    """The caps of an opening's hardware on both faces of what it goes through; of a buttonhole, that of
    another piece's, where that comes to stand: it adds nothing to the leather's own height."""
    traits = opening.opening.traits
    if not traits.hardware and traits.mates is None:
        return []
    radius = max(opening.opening.cap, opening.opening.diameter) / 2
    found: list[Cap] = []
    for number in dict.fromkeys(place.number for place in opening.places):
        places = [
            (placed[place.piece], placed[place.piece].lie.apply(opening.neck(place)))
            for place in opening.places
            if place.number == number and place.piece in placed
        ]
        if not places:
            continue
        at, (low, high), names = _anchored(places, heights)
        front, back = traits.stands_out, traits.stands_in
        if all(placed[name].level < 0 for name in names):
            front, back = back, front
        found.append(Cap(opening.name, number, at, radius, high, high + front, names[-1], True, names))
        found.append(Cap(opening.name, number, at, radius, low - back, low, names[0], False, names))
    return found


_Spot = tuple[Body, Point]


def _rows(seam: PunchedSeam, stack: Stack, placed: Mapping[str, Body], heights: Heights) -> Iterator[SewnRow]:
    """One stretch of a seam on both faces, on each of the leaves that it goes through; nothing where none of
    its pieces has its place here."""
    holes: list[tuple[int, dict[Motion, list[_Spot]]]] = []
    for number in range(stack.first, stack.last + 1):
        spots = [
            (placed[layer.piece], placed[layer.piece].lie.apply(hole.at))
            for layer in stack.layers
            if layer.piece in placed and (hole := layer.hole(number)) is not None
        ]
        if not spots:
            return
        holes.append((number, grouped(spots, by=lambda spot: spot[0].leaf_at([spot[1]]).fold)))
    for folds, some in groupby(holes, key=lambda hole: tuple(hole[1])):
        numbered = list(some)
        for fold in folds:
            anchored = [_anchored(spots[fold], heights) for _, spots in numbered]
            front = tuple((*at, high) for at, (_, high), _ in anchored)
            back = tuple((*at, low) for at, (low, _), _ in anchored)
            first, names = numbered[0][0], anchored[-1][2]
            yield SewnRow(seam.name, first, names, front, back, seam.stitching.thread)
