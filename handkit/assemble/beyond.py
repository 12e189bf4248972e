"""Beyond the mouth: what stands in a thing's way until it is out.

In: a `Sight`. Out: a `Clash` for each that the thing can't be drawn over.

A thing is free once its foot is at the mouth: until then it is drawn straight, by as much as it lies under
its cover. It is tipped over what stands beyond, for leather gives and bends (common practice, no source):

     lift = give + d ÷ 2      d from the mouth to what stands there

At the mouth it gives by half of what the thing is thick, and by 2 mm at the most, besides what the cover is
higher there than the thing. What is bent aside, or hangs by one row, is in no thing's way; nor is what lies
beyond a fold of the base, which is laid open. What lies between two leaves, as in a pocket inside a bag, is
drawn out under the *front* one: what is on that, or further out, is in no way of it. The caps that it has
inside are lower than leather gives.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

import msgspec

from handkit.assemble.article import Body, BodyKind, Clash, Owner
from handkit.assemble.closing import GIVES
from handkit.assemble.drawn import swept
from handkit.assemble.overlap import LEAST, TOUCH, parted
from handkit.assemble.sight import FARTHEST, Sight, loose
from handkit.assemble.standing import standing_out
from handkit.geometry.box import Box, box_of
from handkit.geometry.polygon import hull
from handkit.geometry.region import Region, discs, region_of, region_of_points
from handkit.kinds.fittings import FittingKind
from handkit.tolerances import SAGITTA

# How far leather is bent, so that a thing is tipped: 1 in 2.
BENDS = 0.5


class _Standing(msgspec.Struct, frozen=True):
    """What may stand there: as the maker knows it, with its plan, how far off the base it reaches, what of
    the article it belongs to, and how far out the lowest of that lies."""

    other: str
    owner: Owner
    region: Region
    top: float
    belongs: tuple[str, ...]
    level: int


def beyond(sight: Sight, told: Collection[str]) -> Iterator[Clash]:
    """Of a thing, with what stands beyond its mouth; `told` is what is in its way already."""
    thing, room = sight.thing, sight.thing.room
    low, high = thing.held.seat.bounds()[1], thing.held.outline.bounds()[3]
    mouth = room.place.bounds()[3]
    free, over = mouth - low, max(high - mouth, 0.0)
    if free <= LEAST:
        return
    corners = thing.held.outline.flattened(sagitta=SAGITTA)
    drawn = [(x, y + free) for x, y in corners]
    past = hull([(x, max(y, mouth)) for x, y in (*corners, *drawn)])
    ahead, back = region_of_points(thing.lie.apply_all(past)), thing.lie.inverse()
    give, done = min(GIVES, sight.tall / 2) + _spare(sight, mouth), set(told)
    front = _front(sight)
    for each in (*_bodies(sight, ahead), *_hardware(sight, ahead), *_things(sight, ahead)):
        common = ahead.common(each.region)
        if common.area <= TOUCH or done.intersection(each.belongs) or each.level >= front:
            continue
        off = min(y for ring in common.rings() for _, y in back.apply_all(ring)) - mouth
        left, stands = free - max(off - over, 0.0), each.top - _floor(sight, common)
        if left <= LEAST or stands <= give + off * BENDS + LEAST:
            continue
        if sight.region.common(each.region).area > TOUCH or sight.beyond_fold(Box(*common.bounds()).middle):
            continue
        done.update(each.belongs)
        parting = parted(Box(*swept(thing).bounds()), Box(*each.region.bounds()))
        clash = sight.clash("clash/beyond", each.other, each.owner, (parting, stands))
        yield msgspec.structs.replace(clash, free=free)


def _front(sight: Sight) -> int:
    """How far out the leaf lies that stands over its cover and all of its place, as a bag's front."""
    levels = []
    for body in sight.figure.bodies:
        level, room = body.level * sight.out, body.room
        if room is not None and room.stands and level > sight.cover:
            base = sight.figure.body(room.base)
            place = region_of(room.place.moved(base.lie @ room.lie))
            if sight.carries(base) and sight.region.without(place).area <= TOUCH:
                levels.append(level)
    return min(levels, default=FARTHEST)


def _spare(sight: Sight, mouth: float) -> float:
    """How much higher the cover is at the mouth than the thing, all over its width."""
    room, xs = sight.thing.room, [x for x, _ in sight.thing.held.outline.flattened(sagitta=SAGITTA)]
    if not room.profiles:
        return 0.0
    return max(min(room.profiles[-1].height(x) for x in (min(xs), max(xs))) - sight.tall, 0.0)


def _floor(sight: Sight, common: Region) -> float:
    """How far off the base what the thing lies on is there: a front that stands may rise."""
    at = Box(*common.bounds()).middle
    if not sight.heights.covers(sight.thing.floor, at):
        return sight.bottom()
    return max(z * sight.out for z in sight.heights.span(sight.thing.floor, at))


def _bodies(sight: Sight, ahead: Region) -> Iterator[_Standing]:
    """Pieces that are held down there."""
    own = sight.thing.room.cover
    floor = sight.heights.region(sight.thing.floor)
    for body in sight.figure.bodies:
        if sight.carries(body) or own in (body.name, body.piece.on):
            continue
        region = None if body.kind is BodyKind.WALL else sight.pinned(body)
        if region is not None and body.level * sight.out < sight.floor:
            region = region.without(floor)
        if region is not None and (common := ahead.common(region)).area > TOUCH:
            other, owner = f'"{body.name}"', ("piece", body.name)
            top, level = _top(sight, body, common), body.level * sight.out
            yield _Standing(other, owner, region, top, (other,), level)


def _top(sight: Sight, body: Body, common: Region) -> float:
    """How far off the base a piece reaches; a cover that stands to the same side where it stands highest."""
    at = Box(*common.bounds()).middle
    room = body.room
    opens = room is not None and body.level * sight.out > sight.level(room.base)
    if room is not None and room.profiles and opens:
        rise = max(z for profile in room.profiles for _, z in profile.inside)
        under = max(z * sight.out for z in sight.heights.span(room.base, at))
        return under + rise + body.piece.thickness
    places = [at, *(corner for ring in common.rings() for corner in ring)]
    return max(z * sight.out for place in places for z in sight.heights.span(body.name, place))


def _hardware(sight: Sight, ahead: Region) -> Iterator[_Standing]:
    """Caps, magnets, and what else is put on and is not bent aside."""
    there = Box(*ahead.bounds())
    for what in standing_out(sight.pattern, sight.figure, sight.out):
        near = what.kind in ("cap", "magnet") and box_of(what.points).grown(what.radius).meets(there)
        if near and what.outwards:
            region, belongs = discs(what.points, what.radius), (what.other, *what.pieces)
            level = min(sight.level(piece) for piece in what.through)
            yield _Standing(what.other, what.owner, region, what.face + what.stands, belongs, level)
    for fitting in sight.figure.fittings:
        if fitting.fitting.kind is not FittingKind.MAGNET and sight.stays(fitting):
            top = max(fitting.low * sight.out, fitting.high * sight.out)
            belongs = (fitting.words, f'"{fitting.on}"')
            level = sight.level(fitting.on)
            yield _Standing(fitting.words, fitting.owner, region_of(fitting.outline), top, belongs, level)


def _things(sight: Sight, ahead: Region) -> Iterator[_Standing]:
    """Other things on the same face that are not in its way with their own covers; what lies further out than
    it has to come is passed under."""
    for other in sight.figure.things:
        low, top = sorted((other.low * sight.out, other.high * sight.out))
        if other.item == sight.thing.item or other.in_front is not sight.thing.in_front:
            continue
        if loose(sight.pattern, other) >= sight.tall + sight.bottom() - low:
            continue  # it is moved aside in its bag
        region = region_of(other.outline)
        if low < sight.top() - LEAST and not sight.parts(other, ahead.common(region)):
            belongs = (other.words, f'"{other.room.cover}"')
            level = sight.level(other.floor)
            yield _Standing(belongs[0], ("item", other.item), region, top, belongs, level)
