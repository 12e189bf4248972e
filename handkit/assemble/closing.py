"""Closing: does what folds over meet its other half, over all that is inside?

In: one figure, with the pattern's snaps. Out: findings.

          ╭──────────╮        A flap goes from its fold over what stands highest, tight like a strap, to the
    fold ╱   things   ╲ stud  other half: the hull of what lies on its way. Half of the turn at the fold is
    ────┴──────────────┴───   made beyond it, on the middle of the leather. A fold with an angle is bent on
                              both sides of its line alike; from there on it is taut, on its middle.

Words: the *cap* is the half on the piece that is folded, the *stud* the one it comes down on.

How far it holds: the way is that of a flap that bends along its fold and not across, over the things as
they are carried; leather gives by a few mm. Over a thing that is drawn on its way as an outline alone, whose
thickness no part tells, a flap is never told to be slack.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import pi

import msgspec

from handkit.assemble.article import Body, BodyKind, Cap, Figure, Thing
from handkit.draft.pattern import Pattern, PatternFold, PatternOpening
from handkit.findings import Finding, Where, finding
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.laid.heights import Heights
from handkit.geometry.laid.taut import flap_length, taut, taut_length
from handkit.geometry.laid.way import FlapWay
from handkit.geometry.straight import distance, off_line, unit
from handkit.tolerances import EDGE_SLACK

# A flap so much shorter than its way is pulled shut all the same; one so much longer does not hang loose
# yet; so far beside each other a snap's halves still find one another (common practice, no source).
GIVES, LOOSE, BESIDE = 2.0, 8.0, 2.0

# How far apart the places on the way are that leather is asked at.
STEP = 1.0


class Closing(msgspec.Struct, frozen=True):
    """How a flap closes: how far its cap is beyond its fold, how far it has to be, how far beside its stud
    the cap comes down. All mm."""

    piece: str
    own: float
    least: float
    apart: float


def closing_findings(pattern: Pattern, figure: Figure, heights: Heights) -> Iterator[Finding]:
    """What the snaps of a figure have to tell that close over a fold."""
    for opening, cap, stud in _halves(pattern, figure):
        fold = _fold_between(figure, cap, stud)
        where = opening.source.at("at")
        if fold is None:
            yield from _strap_told(figure, heights, where, (cap, stud))
        elif _half_turn(fold[1]):
            yield from _told(figure, heights, where, (cap, stud), fold)


def closings(pattern: Pattern, figure: Figure, heights: Heights) -> Iterator[Closing]:
    """How each snap of a figure closes over a fold."""
    for _, cap, stud in _halves(pattern, figure):
        fold = _fold_between(figure, cap, stud)
        if fold is not None and _half_turn(fold[1]):
            yield _closing(figure, heights, (cap, stud), fold)[0]


def _half_turn(fold: PatternFold) -> bool:
    """Whether a fold brings a flap down on its base, as one of two that go round a box does not."""
    return fold.bend is None or abs(fold.bend.degrees) == 180


def _halves(pattern: Pattern, figure: Figure) -> Iterator[tuple[PatternOpening, Cap, Cap]]:
    """Each snap's cap with what it is to meet in front of the base."""
    for opening in pattern.openings:
        facts = opening.opening
        if facts.traits.mates is not None and facts.mate is not None:
            caps, studs = (_outer(figure, name) for name in (opening.name, facts.mate))
            yield from (
                (opening, cap, stud)
                for cap, stud in zip(caps, studs, strict=False)
                if stud.to_eye and stud.low >= 0.0
            )


def _outer(figure: Figure, opening: str) -> list[Cap]:
    """The places of an opening, by number, where they look at the eye."""
    return [cap for cap in figure.caps if cap.opening == opening and cap.to_eye]


def _fold_between(figure: Figure, cap: Cap, stud: Cap) -> tuple[Body, PatternFold] | None:
    """The piece of a cap that is folded between the cap and what the piece is held by, and that fold; of
    several the one next to what holds it. A base that nothing holds is held by the stud on another piece,
    and beside a fold with an angle by what keeps its place. None where nothing folds
    towards the eye."""
    body = _bears(figure, cap)
    held = _held(figure, body, cap)
    if not held and body.level == 0:
        own = body.lie.inverse().apply(cap.at)
        if body.name not in stud.pieces or any(bend.beyond(own) > 0 for bend in body.piece.bends):
            held = [stud.at]
    parting = [
        fold
        for fold in body.piece.folds
        if held
        and (fold.bend is None or (fold.bend.degrees > 0) is (body.up is body.piece.shows))
        and all(_side(body, fold, at) * _side(body, fold, cap.at) < 0 for at in held)
    ]
    if not parting:
        return None
    return body, max(parting, key=lambda fold: abs(_side(body, fold, cap.at)))


def _bears(figure: Figure, cap: Cap) -> Body:
    """The piece of a cap that stands on the fewest others."""
    return min((figure.body(name) for name in cap.pieces), key=lambda each: each.piece.depth)


def _held(figure: Figure, body: Body, cap: Cap) -> list[Point]:
    """Where a piece is held by other than a cap."""
    held = [
        (place[0], place[1])
        for row in figure.rows
        if body.name in row.pieces and _holds(figure, body, row.pieces)
        for place in row.front
    ]
    held += [
        each.at
        for each in figure.caps
        if body.name in each.pieces and each.opening != cap.opening and _holds(figure, body, each.pieces)
    ]
    return held


def _strap_told(figure: Figure, heights: Heights, where: Where, halves: tuple[Cap, Cap]) -> Iterator[Finding]:
    """A strap without a fold, held at one end, that is too short from there over what it closes; one that is
    not laid along the way to its stud is not judged, nor one that is longer: it may close round more."""
    (cap, stud), body = halves, _bears(figure, halves[0])
    held = [] if body.level <= 0 or body.piece.folds else _held(figure, body, cap)
    if not held or set(cap.pieces) & set(stud.pieces):
        return
    middle = (sum(x for x, _ in held) / len(held), sum(y for _, y in held) / len(held))
    if distance(middle, cap.at) <= STEP:
        return
    across = unit(middle, cap.at)
    way = FlapWay(middle, (-across[1], across[0]), across)
    way = msgspec.structs.replace(way, start=way.place(max(way.along(at) for at in held), 0.0))
    own, reach = way.along(cap.at), way.along(stud.at)
    if min(own, reach) <= STEP or abs(way.beside(stud.at)) > BESIDE:
        return
    least = _length(figure, heights, body, way, stud)
    if own < least - GIVES:
        told: dict[str, object] = {"piece": body.name, "cap": f'"{cap.opening}"', "stud": f'"{stud.opening}"'}
        yield finding("closes-short/strap", where, by=least - own, found=own, least=least - GIVES, **told)


def _holds(figure: Figure, body: Body, pieces: Sequence[str]) -> bool:
    """Whether what goes through pieces holds one of them on another that it stands on, or on itself."""
    others = [figure.body(name) for name in pieces if name != body.name]
    return any(other.piece.depth < body.piece.depth for other in others) or (
        body.level == 0 and any(other.kind is not BodyKind.FLAT for other in others)
    )


def _side(body: Body, fold: PatternFold, at: Point) -> float:
    """How far a place of the plan lies left of a fold."""
    start, end = (body.lie.apply(each) for each in fold.ends)
    return off_line(at, (start, end))


def _told(
    figure: Figure, heights: Heights, where: Where, halves: tuple[Cap, Cap], folded: tuple[Body, PatternFold]
) -> Iterator[Finding]:
    """Too short, too slack, or beside the stud; nothing where stud and cap are on one side of the fold's
    line only because it is folded the other way."""
    (cap, stud), (body, _) = halves, folded
    closing, reach = _closing(figure, heights, halves, folded)
    own, least = closing.own, closing.least
    told: dict[str, object] = {"piece": body.name, "cap": f'"{cap.opening}"', "stud": f'"{stud.opening}"'}
    if closing.apart > BESIDE:
        yield finding("closes-beside", where, apart=closing.apart, most=BESIDE, **told)
    told.update(found=own, least=least - GIVES, most=least + LOOSE)
    if own < least - GIVES:
        yield finding("closes-short", where, by=least - own, **told)
    elif own > least + LOOSE and reach > 0 and not _unmeasured(figure, halves, folded):
        yield finding("closes-slack", where, by=own - least, **told)


def _unmeasured(figure: Figure, halves: tuple[Cap, Cap], folded: tuple[Body, PatternFold]) -> bool:
    """Whether a thing lies where a flap closes, or in the flap, of which no room tells how thick it is."""
    known, way = {thing.held.name for thing in figure.things}, _way(halves[1], folded)
    across, reach = way.breadth(folded[0].outline, STEP), way.along(halves[1].at)
    for body in (each for each in figure.bodies if each.lies):
        for item in (each for each in body.piece.items if each.item not in known and not each.beside):
            outline = item.path.moved(body.lie)
            near = min(abs(way.along(at)) for at in outline.flattened(sagitta=STEP))
            if near < reach and _meet(way.breadth(outline, STEP), across):
                return True
    return False


def _way(stud: Cap, folded: tuple[Body, PatternFold]) -> FlapWay:
    """From the fold to the stud."""
    body, fold = folded
    start, end = (body.lie.apply(each) for each in fold.ends)
    out = 1.0 if _side(body, fold, stud.at) > 0 else -1.0
    along = unit(start, end)
    return FlapWay(start, along, (-along[1] * out, along[0] * out))


def _closing(
    figure: Figure, heights: Heights, halves: tuple[Cap, Cap], folded: tuple[Body, PatternFold]
) -> tuple[Closing, float]:
    """How it closes, and how far its stud is on this side of the fold's line."""
    (cap, stud), (body, _) = halves, folded
    way = _way(stud, folded)
    least = _beyond_fold(figure, heights, way, stud, folded)
    apart = abs(way.beside(cap.at) - way.beside(stud.at))
    return Closing(body.name, abs(way.along(cap.at)), least, apart), way.along(stud.at)


def _beyond_fold(
    figure: Figure, heights: Heights, way: FlapWay, stud: Cap, folded: tuple[Body, PatternFold]
) -> float:
    """How long the folded piece has to be from its fold's line to the stud; its bend lies half on either side
    of the line, and begins where the piece still lies flat on what it is sewn to."""
    (body, fold), leather = folded, folded[0].piece.thickness
    if fold.bend is None:
        return _length(figure, heights, body, way, stud) + pi / 2 * leather / 2
    half, reach = fold.bend.half, way.along(stud.at)
    if reach <= half:
        return 0.0
    flat = way.place(half + EDGE_SLACK, way.beside(stud.at))
    height = heights.span(body.name, flat)[1]
    over = _on_the_way(figure, heights, body, way, stud)
    return flap_length(over, (reach, stud.low), half=half, height=height, radius=fold.radius, leather=leather)


def _length(figure: Figure, heights: Heights, body: Body, way: FlapWay, stud: Cap) -> float:
    """The way of the folded piece's inside from its fold to the stud: tight over all that is on it."""
    reach = way.along(stud.at)
    if reach <= 0:
        return 0.0
    over = _on_the_way(figure, heights, body, way, stud)
    return taut_length(taut([(0.0, heights.span(body.name, way.start)[1]), *over, (reach, stud.low)]))


def _on_the_way(figure: Figure, heights: Heights, body: Body, way: FlapWay, stud: Cap) -> list[Point]:
    """What a piece that is folded comes down on from its fold to the stud: (along, height)."""
    reach, beside = way.along(stud.at), way.beside(stud.at)
    steps = [EDGE_SLACK, *(k * STEP for k in range(1, int(reach / STEP) + 1) if k * STEP < reach)]
    names = [
        other.name for other in figure.bodies if other.level >= 0 and other.name != body.name and other.lies
    ]
    points = list(heights.tops(names, [(along, way.place(along, beside)) for along in steps]))
    across = way.breadth(body.outline, STEP)
    inside = _inside(figure, heights, body, way)
    for thing in sorted(figure.things, key=lambda thing: thing in inside):
        corners = thing.outline.flattened(sagitta=STEP)
        own = thing in inside
        if not (own or thing.in_front) or not _meet([way.beside(at) for at in corners], across):
            continue
        alongs = [-way.along(at) if own else way.along(at) for at in corners]
        start, end = (min(max(along, 0.0), reach) for along in (min(alongs), max(alongs)))
        if start < end:  # what lies in the flap lies on the highest of what it comes down on
            under = max(
                (z for along, z in [*points, (reach, stud.low)] if start <= along <= end), default=0.0
            )
            high = under + thing.held.thickness if own else thing.high
            points += [(along, high) for along in (start, end) if along < reach]
    return points


def _inside(figure: Figure, heights: Heights, body: Body, way: FlapWay) -> list[Thing]:
    """The things beyond the fold of a piece, on its side that is inside once it is folded."""
    found = []
    for thing in figure.things:
        base = figure.body(thing.room.base)
        while base.piece.depth > body.piece.depth and base.piece.on is not None:
            base = figure.body(base.piece.on)
        beyond = all(way.along(at) <= 0 for at in thing.outline.flattened(sagitta=STEP))
        low, high = heights.span(body.name, Box(*thing.outline.bounds()).middle)
        if base is body and beyond and thing.low + thing.high > low + high:
            found.append(thing)
    return found


def _meet(one: Sequence[float], other: Sequence[float]) -> bool:
    return min(one) < max(other) and min(other) < max(one)
