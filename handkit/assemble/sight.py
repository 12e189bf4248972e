"""One thing in its place, and what it sees: what clashes are found with.

In: one figure and a thing of it. Out: a `Sight`: how far out pieces lie, where they are held down, what of
the thing its cover leaves bare.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.assemble.article import Body, BodyKind, Clash, Figure, Owner, PlacedFitting, Thing
from handkit.assemble.drawn import drawn
from handkit.assemble.overlap import LEAST, TOUCH, Parting, of_points, of_regions
from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.laid.heights import Heights
from handkit.geometry.region import Region, hull_of, region_of
from handkit.geometry.straight import unit
from handkit.kinds.fittings import FittingKind

# One cap's: what a single one holds can be turned aside.
CORNERS = 4

# Farther out than any piece: what is between the leaves of one has no cover while that lies open.
FARTHEST = 1_000_000

# Farther than any base reaches, mm.
FAR = 1e4

# How two lie in one another in plan, and how much in height.
Met = tuple[Parting, float]


class Sight:
    """One thing in its place, and what it sees: levels count from the base's face it lies on, outwards."""

    def __init__(self, pattern: Pattern, figure: Figure, heights: Heights, thing: Thing) -> None:
        self.pattern, self.figure, self.heights, self.thing = pattern, figure, heights, thing
        self.out = 1 if thing.in_front else -1
        self.region, way = region_of(thing.outline), drawn(thing)
        self.drawn = self.region if way is thing.outline else region_of(way)
        self.floor = self.level(thing.floor)
        self.beside = self.region.without(heights.region(thing.floor))  # what of it stands out over that
        self.cover = self._cover(thing)
        eases = [
            fit.ease for fit in pattern.item_fits if thing.item in fit.items and fit.part == thing.room.part
        ]
        self.gap = max(0.0, min(eases, default=0.0)) / 2
        self.tall = thing.high - thing.low
        owners = pattern.project.owners.items()
        self.owned = frozenset(piece for piece, part in owners if part == thing.room.part)
        self._pinned: dict[str, Region | None] = {}
        self.loose = loose(pattern, thing)

    def level(self, piece: str) -> int:
        """How far out a piece lies."""
        return self.figure.body(piece).level * self.out

    def _cover(self, thing: Thing) -> int:
        """How far out what covers a thing lies."""
        return FARTHEST if thing.room.folded else self.level(thing.room.cover)

    def over(self, top: float) -> bool:
        """Whether a thing that lies loose has room over what reaches so far off the base."""
        return self.loose > 0 and top - self.bottom() <= self.loose + TOUCH

    def over_fitting(self, fitting: PlacedFitting) -> bool:
        """Whether it has room over what is put on its floor; of a zip over both tapes, for one is inside its
        cover."""
        both = fitting.high - fitting.low if fitting.fitting.kind is FittingKind.ZIP else 0.0
        return self.over(max(fitting.low * self.out, fitting.high * self.out) + both)

    def over_piece(self, body: Body) -> bool:
        """Whether it has room over a piece that is sewn on inside, and what that holds."""
        common = self.region.common(self.heights.region(body.name))
        if self.loose <= 0 or not self.floor < body.level * self.out <= self.cover or common.area <= TOUCH:
            return False
        held = (each for each in self.figure.things if each.room.cover == body.name)
        tops = [max(each.low * self.out, each.high * self.out) + body.piece.thickness for each in held]
        return self.over(max([self.reaches(body, common), *tops]))

    def passes(self, other: Thing) -> bool:
        """Whether another thing is in its way nowhere: it is the same, or one of both lies loose, with room
        over the other and what holds that."""
        for under, lying in ((other, self.thing), (self.thing, other)):
            high = under.high - under.low + self.figure.body(under.room.cover).piece.thickness
            apart = under.room.part != lying.room.part
            if apart and high + abs(under.low - lying.low) <= loose(self.pattern, lying) + TOUCH:
                return True
        return other.item == self.thing.item

    def own(self, body: Body) -> bool:
        """Whether a piece belongs to the thing's own part."""
        return body.name in self.owned

    def bare(self, level: int) -> Region:
        """What of it is not under its cover, for what lies further out than that; else all of it."""
        if level <= self.cover:
            return self.region
        return self.region.without(self.heights.region(self.thing.room.cover))

    def between(self, level: int) -> list[Body]:
        """The steps of its own part from its cover up to a pocket that far out, without that; none where it
        is no later step."""
        steps = [body for body in self.figure.bodies if body.level * self.out == level and self.own(body)]
        while steps and (room := steps[-1].room) is not None and self.level(steps[-1].name) > self.cover:
            steps.append(self.figure.body(room.base or self.figure.base))
        return steps[1:] if steps and steps[-1].name == self.thing.room.cover else []

    def unheld(self, through: Iterable[str], points: tuple[Point, ...], radius: float) -> tuple[Point, ...]:
        """Where what stands into a later step presses on the thing: not where that step, or one between,
        holds another, of which it is told."""
        bodies = [self.figure.body(piece) for piece in through]
        steps = self.between(min(body.level * self.out for body in bodies))
        covers = {each.name for each in (*steps, *bodies)} - {self.thing.room.cover} if steps else set()
        over = [region_of(thing.outline) for thing in self.figure.things if thing.room.cover in covers]
        return tuple(at for at in points if all(of_points(one, (at,), radius) is None for one in over))

    def bottom(self) -> float:
        """How far off the base the thing lies."""
        return self.thing.low if self.out > 0 else -self.thing.high

    def top(self) -> float:
        """How far off the base the thing reaches."""
        return self.thing.high if self.out > 0 else -self.thing.low

    def held(self, body: Body) -> list[Point]:
        """Where a piece is held down on the floor, or on what lies under it; of caps their corners."""
        found: list[Point] = []
        for row in self.figure.rows:
            if body.name in row.pieces and min(self.level(piece) for piece in row.pieces) <= self.floor:
                found += [(x, y) for x, y, _ in row.front]
        for cap in self.figure.caps:
            if body.name in cap.pieces and min(self.level(piece) for piece in cap.pieces) <= self.floor:
                r, (x, y) = cap.radius, cap.at
                found += [(x - r, y - r), (x + r, y - r), (x - r, y + r), (x + r, y + r)]
        return found

    def lack(self, body: Body, common: Region) -> float:
        """By how much the thing is higher than the room under a piece; as it stands, under a flat one."""
        if body.room is None:
            return self.tall
        frame = self.figure.body(body.room.base).lie @ body.room.lie
        back = frame.inverse()
        heights = [body.room.height(back.apply(at)) for ring in common.rings() for at in ring]
        return self.tall - min(heights, default=self.tall)

    def pinned(self, body: Body) -> Region | None:
        """What of a piece is held down: between its holes, or all that is glued; None where it is not, and of
        what is free between both ends."""
        if body.name not in self._pinned:
            self._pinned[body.name] = self._held_down(body)
        return self._pinned[body.name]

    def _held_down(self, body: Body) -> Region | None:
        if body.kind is BodyKind.HANGING:
            return None
        under = body.piece.on
        if body.piece.glued and under is not None and self.level(under) <= self.floor:
            return self.heights.region(body.name)
        held = set(self.held(body))
        alone = len(held) == CORNERS and not any(body.name in row.pieces for row in self.figure.rows)
        return hull_of(held) if len(held) > 2 and not alone else None

    def keeps_place(self, pieces: Iterable[str], at: Point) -> bool:
        """Whether one of some pieces keeps its place there: what the thing lies on, or what is held down."""
        for body in map(self.figure.body, pieces):
            if self.carries(body):
                return True
            plan = self.pinned(body)
            if plan is not None and plan.contains(at):
                return True
        return False

    def lies_beside(self, body: Body) -> bool:
        """Whether a piece meets the thing only where that stands out over its floor."""
        if self.beside.area <= TOUCH:
            return False
        return self.heights.region(body.name).common(self.region).without(self.beside).area <= TOUCH

    def stands_beside(self, body: Body) -> Met | None:
        """How a piece that is held down beside the thing's floor stands into it; None where it lies lower, or
        stands so high that the thing goes under it."""
        plan = None if self.beside.area <= TOUCH or self.carries(body) else self.pinned(body)
        parting = None if plan is None else of_regions(self.beside, plan)
        if plan is None or parting is None:
            return None
        common = self.beside.common(plan)
        high = min(self.reaches(body, common) - self.bottom(), self.tall)
        if body.room is not None:
            high = min(high, self.lack(body, common) + self.bottom())
        return (parting, high) if high > LEAST else None

    def stays(self, fitting: PlacedFitting) -> bool:
        """Whether a fitting is not bent aside with the piece it is on: that bends up no further than the
        fitting is from what holds it."""
        level, body = self.level(fitting.on), self.figure.body(fitting.on)
        if level <= self.floor or (level <= self.cover and body.kind is BodyKind.FLAT):
            return level >= self.floor
        area = region_of(fitting.outline)
        return any(area.contains(at, slack=self.tall) for at in self.held(body))

    def parts(self, other: Thing, common: Region) -> bool:
        """Whether leather parts it from another where they meet in plan: it lies on the other's cover, or
        further out, or under, and does not stand out over what it lies on there."""
        floor = other.floor if self.cover <= self.level(other.floor) else None
        floor = self.thing.floor if self._cover(other) <= self.floor else floor
        return floor is not None and common.without(self.heights.region(floor)).area <= TOUCH

    def beyond_fold(self, at: Point) -> bool:
        """Whether a fold of its base, or of what that lies on, is between the thing and a place."""
        name: str | None = self.thing.room.base
        while name is not None:
            base = self.figure.body(name)
            here, there = base.lie.inverse().apply_all((Box(*self.region.bounds()).middle, at))
            if base.piece.folds_between(here, there) > 0:
                return True
            name = base.on
        return False

    def carries(self, body: Body) -> bool:
        """Whether it lies on a body: on its floor, or on what that lies on."""
        own = self.figure.body(self.thing.floor)
        while own.name != body.name and own.on is not None:
            own = self.figure.body(own.on)
        return own.name == body.name

    def reaches(self, body: Body, common: Region) -> float:
        """How far off the base a body reaches where it meets something."""
        places = [Box(*common.bounds()).middle, *(at for ring in common.rings() for at in ring)]
        if body.room is not None:  # the ends of its lines, between which it changes evenly
            frame = self.figure.body(body.room.base).lie @ body.room.lie
            for x in {x for profile in body.room.profiles for x, _ in profile.inside}:
                line = (frame.apply((x, -FAR)), frame.apply((x, FAR)))
                along = unit(*line)
                places += [
                    (line[0][0] + along[0] * s, line[0][1] + along[1] * s)
                    for span in common.along(*line)
                    for s in span
                ]
        return max(z * self.out for at in places for z in self.heights.span(body.name, at))

    def clash(self, key: str, other: str, owner: Owner, met: Met) -> Clash:
        """The thing with something else, as findings name it."""
        pair = Pair(self.thing.item, other, owner, (self.thing.item,), self.thing.words)
        return clash_of(self.figure, key, pair, met)


def loose(pattern: Pattern, thing: Thing) -> float:
    """How much deeper a bag is than a thing in it, which lies loose, over what is sewn on inside; 0 of what
    is held."""
    room = thing.room
    if room.wall is None or pattern.project.owners.get(room.base) != room.part:
        return 0.0
    return room.height((0.0, 0.0)) - (thing.high - thing.low)


class Pair(msgspec.Struct, frozen=True):
    """Two that clash, as findings name them; whose the other is; the items among them; what the first is
    told as, where that is more than its name."""

    of: str
    other: str
    owner: Owner
    items: tuple[str, ...] = ()
    said: str = ""


def clash_of(figure: Figure, key: str, pair: Pair, met: Met) -> Clash:
    """A clash of two that lie in one another."""
    parting, high = met
    deep, way, at = parting.deep, parting.way, parting.at
    clash = Clash(key, pair.of, pair.other, deep, high, way, at, figure.base, pair.items)
    return msgspec.structs.replace(clash, against=pair.owner, ways=parting.ways, said=pair.said)
