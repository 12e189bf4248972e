"""One thing in its place, and what it sees: what clashes are found with.

In: one figure and a thing of it. Out: a `Sight`: how far out pieces lie, where they are held down, what of
the thing its cover leaves bare.
"""

from __future__ import annotations

import msgspec

from handkit.assemble.article import Body, BodyKind, Clash, Figure, Owner, PlacedFitting, Thing
from handkit.assemble.drawn import drawn
from handkit.assemble.overlap import Parting
from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Point
from handkit.geometry.laid.heights import Heights
from handkit.geometry.region import Region, hull_of, region_of

# One cap's: what a single one holds can be turned aside.
CORNERS = 4

# Farther out than any piece: what is between the leaves of one has no cover while that lies open.
FARTHEST = 1_000_000

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
        self.cover = self._cover(thing)
        eases = [
            fit.ease for fit in pattern.item_fits if thing.item in fit.items and fit.part == thing.room.part
        ]
        self.gap = max(0.0, min(eases, default=0.0)) / 2
        self.tall = thing.high - thing.low

    def level(self, piece: str) -> int:
        """How far out a piece lies."""
        return self.figure.body(piece).level * self.out

    def _cover(self, thing: Thing) -> int:
        """How far out what covers a thing lies."""
        return FARTHEST if thing.room.folded else self.level(thing.room.cover)

    def own(self, body: Body) -> bool:
        """Whether the thing's own part drafted a piece."""
        drafted = (each.drafted_by for each in self.pattern.project.pieces if each.name == body.name)
        return next(drafted) == self.thing.room.part

    def bare(self, level: int) -> Region:
        """What of it is not under its cover, for what lies further out than that; else all of it."""
        if level <= self.cover:
            return self.region
        return self.region.without(self.heights.region(self.thing.room.cover))

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
        """What of a piece is held down: between its holes, or all that is glued; None where it is not."""
        under = body.piece.on
        if body.piece.glued and under is not None and self.level(under) <= self.floor:
            return self.heights.region(body.name)
        held = set(self.held(body))
        alone = len(held) == CORNERS and not any(body.name in row.pieces for row in self.figure.rows)
        return hull_of(held) if len(held) > 2 and not alone else None

    def stays(self, fitting: PlacedFitting) -> bool:
        """Whether a fitting is not bent aside with the piece it is on: that bends up no further than the
        fitting is from what holds it."""
        level, body = self.level(fitting.on), self.figure.body(fitting.on)
        if level <= self.floor or (level <= self.cover and body.kind is BodyKind.FLAT):
            return level >= self.floor
        area = region_of(fitting.outline)
        return any(area.contains(at, slack=self.tall) for at in self.held(body))

    def parts(self, other: Thing) -> bool:
        """Whether leather parts it from another: it lies on the other's cover, or further out, or under."""
        floor, cover = self.level(other.floor), self._cover(other)
        return self.cover <= floor or cover <= self.floor

    def clash(self, key: str, other: str, owner: Owner, met: Met) -> Clash:
        """The thing with something else, as findings name it."""
        return clash_of(self.figure, key, Pair(self.thing.item, other, owner, (self.thing.item,)), met)


class Pair(msgspec.Struct, frozen=True):
    """Two that clash, as findings name them; whose the other is; the items among them."""

    of: str
    other: str
    owner: Owner
    items: tuple[str, ...] = ()


def clash_of(figure: Figure, key: str, pair: Pair, met: Met) -> Clash:
    """A clash of two that lie in one another."""
    parting, high = met
    deep, way, at = parting.deep, parting.way, parting.at
    clash = Clash(key, pair.of, pair.other, deep, high, way, at, figure.base, pair.items)
    return msgspec.structs.replace(clash, against=pair.owner, ways=parting.ways)
