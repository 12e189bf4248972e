"""Clashes: two things in one place, in plan and in height, once all is put together and filled.

In: one figure. Out: a `Clash` for each two that lie in one another by more than half a millimetre.

A thing lies on its *floor*: its base, or what lies on that all over the thing's place. Leather parts: what
lies under the floor, or over the thing's cover, is not in its way. What goes through the floor and stands
out of it is, as high as it stands; so is what is sewn or riveted down on the floor in the thing's place. A
cover gives: its inside is at least half of the thing's ease above the thing, and what stands out of it there
is in the way by what it stands out more; so through the leather of steps.

How far it holds: things are rigid; a thing is drawn out straight as far as its mouth, and beyond it tipped
over what stands there (`beyond.py`).
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence

import msgspec

from handkit.assemble.article import Body, BodyKind, Clash, Figure, PlacedFitting, Thing
from handkit.assemble.between import clashes_between
from handkit.assemble.beyond import beyond
from handkit.assemble.drawn import reached, section_of, sideways, strip
from handkit.assemble.overlap import LEAST, TOUCH, Parting, of_points, of_regions
from handkit.assemble.sight import Pair, Sight, clash_of
from handkit.assemble.standing import StandingOut, standing_out
from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Point
from handkit.geometry.laid.heights import Heights
from handkit.geometry.region import Region, region_of
from handkit.geometry.straight import off_line, unit
from handkit.kinds.fittings import FittingKind

# What is as good as along x or y.
ROUNDING = 1e-6


def clashes_of(pattern: Pattern, figure: Figure, heights: Heights) -> tuple[Clash, ...]:
    """All clashes of a figure's things, in their order, then of what folds over."""
    found: list[Clash] = []
    sights = [Sight(pattern, figure, heights, thing) for thing in figure.things]
    for index, sight in enumerate(sights):
        found += [clash for clash in _carried(sight) if clash.deep > LEAST and clash.high > LEAST]
        found += _of_things(sight, sights[index + 1 :])
        told = {clash.other for clash in found if clash.of == sight.thing.item}
        told |= {f'"{clash.of}"' for clash in found if sight.thing.item in clash.items}
        found += beyond(sight, told)
    return (*_worst(found), *clashes_between(pattern, figure, heights))


def _worst(found: Sequence[Clash]) -> Iterator[Clash]:
    """Of several of one thing with one other, the deepest."""
    worst: dict[tuple[str, str], Clash] = {}
    for clash in found:
        known = worst.get((clash.of, clash.other))
        if known is None or clash.deep > known.deep:
            worst[clash.of, clash.other] = clash
    yield from worst.values()


def _carried(sight: Sight) -> Iterator[Clash]:
    """With caps, rows, other pieces and folds."""
    under = [clash for body in sight.figure.bodies for clash in _with_body(sight, body)]
    yield from under
    held = {clash.other for clash in under}  # what goes through such a piece is no more to tell
    own_rows = set(_own_rows(sight))
    for fitting, clash in _with_fittings(sight, held):
        yield clash
        own_rows.update(f'the thread of "{seam}"' for seam in fitting.fitting.seams)
        if sight.level(fitting.on) > sight.floor:
            held.add(f'"{fitting.on}"')
    told: set[str] = set()
    for each in standing_out(sight.pattern, sight.figure, sight.out):
        if held.intersection(each.pieces) or each.other in own_rows or each.other in told:
            continue
        through = _goes_through(sight, each)
        high, other = _height(sight, each), each.other
        if through:  # in its way all over
            high, other = sight.tall * each.outwards, each.whole
        if high <= LEAST or (each.shut and not through):
            continue
        what = each if through else _open(sight, each)
        parting = _felt(sight, sight.region, what, high)
        if parting is not None:
            told.update(what.halves)
            yield sight.clash("clash/through" if through else what.key, other, what.owner, (parting, high))
        elif (through or what.key != "clash/row") and not what.shut and sight.drawn is not sight.region:
            parting = _felt(sight, sight.drawn, what, high)
            if parting is not None:
                key = "clash/way-through" if through else "clash/way"
                yield sight.clash(key, other, what.owner, (parting, high))
    yield from _with_folds(sight)


def _with_fittings(sight: Sight, held: Container[str]) -> Iterator[tuple[PlacedFitting, Clash]]:
    """With what is put on, as thick to both sides of its leather, but for that of pieces that are `held`."""
    for fitting in sight.figure.fittings:
        if f'"{fitting.on}"' in held or fitting.fitting.kind is FittingKind.MAGNET:
            continue
        high = _height_of(sight, fitting)
        if high <= LEAST:
            continue
        drawn = sight.drawn is not sight.region and fitting.fitting.kind is not FittingKind.ZIP  # slides over
        level, area = sight.level(fitting.on), region_of(fitting.outline)
        bare = sight.beside if level < sight.floor else sight.bare(level)
        ends = reached(sight.thing, high - LEAST)
        low = bare if ends is None else bare.common(strip(sight.thing, *ends))
        parting = None if low.empty else of_regions(low, area)
        if parting is not None:
            yield fitting, sight.clash("clash/cap", fitting.words, fitting.owner, (parting, high))
        elif drawn and (parting := of_regions(sight.drawn, area)) is not None:
            yield fitting, sight.clash("clash/way", fitting.words, fitting.owner, (parting, high))


def _height_of(sight: Sight, fitting: PlacedFitting) -> float:
    """By how much a fitting stands into the thing; 0 where leather is between, or where the piece it is
    on is bent aside with it."""
    level, body = sight.level(fitting.on), sight.figure.body(fitting.on)
    low, top = sorted((fitting.low * sight.out, fitting.high * sight.out))
    if level <= sight.floor:
        return 0.0 if sight.over_fitting(fitting) else min(top - sight.bottom(), sight.tall)
    if sight.thing.room.cover in (body.name, body.piece.on):
        at = region_of(fitting.outline).hull().rings()[0][0]
        face = min(z * sight.out for z in sight.heights.span(body.name, at))
        return face - low - max(sight.gap, face - sight.top())
    if not sight.stays(fitting):
        return 0.0
    return min(top - sight.bottom(), sight.tall) if low < sight.top() - LEAST else 0.0


def _open(sight: Sight, what: StandingOut) -> StandingOut:
    """What stands out further than the cover, or beside the floor: that of it which no leather parts from the
    thing."""
    if not what.outwards:
        return msgspec.structs.replace(what, points=sight.unheld(what.through, what.points, what.radius))
    levels, points = [sight.level(piece) for piece in what.through], what.points
    if max(levels) >= sight.cover:
        points = _outside(sight, sight.thing.room.cover, points)
    if not min(levels) <= sight.floor <= max(levels):
        points = _outside(sight, sight.thing.floor, points)
        points = tuple(at for at in points if sight.keeps_place(what.through, at))
    return msgspec.structs.replace(what, points=points)


def _outside(sight: Sight, piece: str, points: Sequence[Point]) -> tuple[Point, ...]:
    return tuple(points[index] for index in sorted(sight.heights.region(piece).outside(points)))


def _goes_through(sight: Sight, what: StandingOut) -> bool:
    """Whether it goes through cover and floor, so that the room is shut where it is."""
    return (
        sight.thing.room.cover in what.through
        and not sight.thing.room.folded
        and (min(sight.level(piece) for piece in what.through) <= sight.floor)
    )


def _height(sight: Sight, what: StandingOut) -> float:
    """By how much what stands out of pieces stands into the thing; 0 where leather is between."""
    levels = [sight.level(piece) for piece in what.through]
    low, top = min(levels), max(levels)
    if what.outwards:
        if sight.over(what.face + what.stands) or (low > sight.floor and sight.beside.area <= TOUCH):
            return 0.0
        if top == sight.floor:
            return min(what.stands, sight.tall)
        return min(sight.tall, what.face + what.stands - sight.bottom())
    if sight.floor < low <= sight.cover:
        return what.stands - max(sight.gap, what.face - sight.top())
    steps = sight.between(low)
    if steps:
        leather = sum(body.piece.thickness for body in steps)
        return what.stands - max(sight.gap, what.face - leather - sight.top())
    return 0.0


def _felt(sight: Sight, plan: Region, what: StandingOut, high: float) -> Parting | None:
    """How deep what stands out lies in a plan of the thing, where the thing comes so low, or so high,
    that it is felt: a round one rises beside the line it lies on."""
    parting = of_points(plan, what.points, what.radius)
    if parting is None:
        return None
    ends = reached(sight.thing, high - LEAST, from_top=not what.outwards)
    return (
        parting
        if ends is None
        else of_points(plan.common(strip(sight.thing, *ends)), what.points, what.radius)
    )


def _with_body(sight: Sight, body: Body) -> Iterator[Clash]:
    """A piece that lies partly under it, or is held down over it."""
    level = body.level * sight.out
    if body.name == sight.thing.room.cover or body.kind is BodyKind.WALL or sight.over_piece(body):
        return
    if (level > sight.cover or sight.thing.is_handle) and sight.own(body):
        return  # a step before its own, or what goes round a handle, which were drafted to stand over it
    other, own = f'"{body.name}"', ("piece", body.name)
    if level <= sight.floor or sight.lies_beside(body):
        met = sight.stands_beside(body)
        if met is not None:
            yield sight.clash("clash/over", other, own, met)
        return
    bare = sight.bare(level)
    if level <= sight.cover and body.kind is BodyKind.FLAT:
        parting = of_regions(bare, sight.heights.region(body.name))
        lines = body.piece.on == sight.thing.room.cover and not sight.thing.room.folded
        if parting is not None and not lines:
            yield sight.clash("clash/piece", other, own, (parting, min(body.piece.thickness, sight.tall)))
        return
    pinned = sight.pinned(body)
    if pinned is None or bare.empty:
        return
    parting = of_regions(bare, pinned)
    if parting is not None:
        yield sight.clash("clash/under", other, own, (parting, sight.lack(body, bare.common(pinned))))


def _own_rows(sight: Sight) -> frozenset[str]:
    """The rows of the strip that stands round it: a turned one's lie under it, and it was drafted so. A part
    with a base of its own is drafted with its own rows on that, as a bag is with those of its handles."""
    room, seams = sight.thing.room, sight.pattern.seams
    by_itself = room.base in sight.owned and not room.folded
    own = {room.wall[0] if room.wall else ""} | (sight.owned - {room.cover} if by_itself else set())
    by_part = by_itself or sight.thing.is_handle  # it lies on what holds its sheath above the mouth
    drafted = {seam.name for seam in seams if by_part and seam.seam.part == room.part}
    layers = {seam.name: {run.piece for run in seam.runs} for seam in seams}
    touched = {name for name, pieces in layers.items() if pieces & own - {room.base}}
    if sight.thing.is_handle and not drafted:  # a sheath that the file writes itself, and what it hangs on
        held = sight.owned | {sight.figure.body(room.base).on or ""}
        touched |= {name for name, pieces in layers.items() if pieces & sight.owned and pieces <= held}
    return frozenset(f'the thread of "{name}"' for name in (*drafted, *touched))


def _with_folds(sight: Sight) -> Iterator[Clash]:
    """A fold of its base that it lies across; a handle of what its sheath lies on."""
    base = sight.figure.body(sight.thing.room.base)
    if sight.thing.is_handle:  # what is folded of its sheath turns away from it
        if base.on is None:
            return
        base = sight.figure.body(base.on)
    for fold in base.piece.folds:
        start, end = (base.lie.apply(at) for at in fold.ends)
        spans = sight.region.along(start, end)
        if not spans or sum(b - a for a, b in spans) <= LEAST:
            continue
        off = [off_line(at, (start, end)) for at in sight.thing.outline.flattened(sagitta=LEAST)]
        deep = min(max(off), -min(off))
        if deep > LEAST:
            middle, (ux, uy) = (spans[0][0] + spans[-1][1]) / 2, unit(start, end)
            at = (start[0] + ux * middle, start[1] + uy * middle)
            met = Parting(deep, "off it", at, _off(start, end, off)), sight.tall
            yield sight.clash("clash/fold", f'fold "{fold.name}"', ("fold", fold.name), met)


def _off(start: Point, end: Point, off: Sequence[float]) -> tuple[tuple[str, float], ...]:
    """How far a thing is moved off a fold that lies along x or y; `off` is how far it lies left of it."""
    (ux, uy), left, right = unit(start, end), -min(off), max(off)
    if abs(uy) < ROUNDING:
        return (("up", left), ("down", right)) if ux > 0 else (("down", left), ("up", right))
    if abs(ux) < ROUNDING:
        return (("left", left), ("right", right)) if uy > 0 else (("right", left), ("left", right))
    return ()


def _of_things(sight: Sight, others: Sequence[Sight]) -> Iterator[Clash]:
    """Other things on the same face, where no leather parts them; as carried, or drawn to the mouth."""
    thing = sight.thing
    for seen in others:
        other = seen.thing
        high = min(thing.high, other.high) - max(thing.low, other.low)
        if other.in_front is not thing.in_front or high <= LEAST or sight.passes(other):
            continue
        ways = (sight.region, seen.region), (sight.drawn, seen.region), (sight.region, seen.drawn)
        for key, (one, two) in zip(("clash/thing", "clash/way-thing", "clash/way-thing"), ways, strict=True):
            boxed = of_regions(one, two)
            if boxed is None or sight.parts(other, one.common(two)):
                continue
            parting = _by_sections(thing, other, boxed)
            if parting.deep > LEAST:
                items, owner = (thing.item, other.item), ("item", other.item)
                pair = Pair(thing.item, other.words, owner, items, thing.words)
                yield clash_of(sight.figure, key, pair, (parting, high))
                break


def _by_sections(thing: Thing, other: Thing, parting: Parting) -> Parting:
    """The same of two that lie along one another: round ones may lie nearer than their outlines tell."""
    (ax, ay), (bx, by) = thing.way, other.way
    if abs(ax * by - ay * bx) > 1e-9:
        return parting
    across = (abs(ay), abs(ax)) if min(abs(ax), abs(ay)) < 1e-9 else (ay, -ax)
    less, more = sideways(section_of(thing, across), section_of(other, across))
    ways = {"left": less, "right": more} if across[0] > 0.5 else {"down": less, "up": more}
    if min(less, more) <= LEAST or min(abs(ax), abs(ay)) > 1e-9:
        return msgspec.structs.replace(parting, deep=min(parting.deep, less, more))
    all_ways = dict(parting.ways) | ways
    way = min(all_ways, key=lambda each: all_ways[each])
    return Parting(all_ways[way], way, parting.at, tuple(all_ways.items()))
