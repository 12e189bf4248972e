"""Clashes: two things in one place, in plan and in height, once all is put together and filled.

In: one figure. Out: a `Clash` for each two that lie in one another by more than half a millimetre.

A thing lies on its *floor*: its base, or what lies on that all over the thing's place. Leather parts: what
lies under the floor, or over the thing's cover, is not in its way. What goes through the floor and stands
out of it is, as high as it stands; so is what is sewn or riveted down on the floor in the thing's place. A
cover gives: its inside is at least half of the thing's ease above the thing, and what stands out of it there
is in the way by what it stands out more.

How far it holds: things are rigid; a thing is drawn out straight as far as its mouth, and there lifted off
its base, so that what lies beyond the mouth is not in its way.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence

from handkit.assemble.article import Body, BodyKind, Clash, Figure, PlacedFitting, Thing
from handkit.assemble.between import clashes_between
from handkit.assemble.drawn import drawn, reached, strip
from handkit.assemble.heights import Heights
from handkit.assemble.overlap import LEAST, Parting, of_points, of_regions
from handkit.assemble.standing import StandingOut, standing_out
from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Point
from handkit.geometry.region import Region, hull_of, region_of
from handkit.geometry.straight import off_line, unit
from handkit.kinds.fittings import FittingKind


def clashes_of(pattern: Pattern, figure: Figure, heights: Heights) -> tuple[Clash, ...]:
    """All clashes of a figure's things, in their order, then of what folds over."""
    found: list[Clash] = []
    for index, thing in enumerate(figure.things):
        sight = _Sight(pattern, figure, heights, thing)
        found += [clash for clash in sight.clashes() if clash.deep > LEAST and clash.high > LEAST]
        found += _of_things(figure, thing, figure.things[index + 1 :])
    return (*_worst(found), *clashes_between(pattern, figure, heights))


def _worst(found: Sequence[Clash]) -> Iterator[Clash]:
    """Of several of one thing with one other, the deepest."""
    worst: dict[tuple[str, str], Clash] = {}
    for clash in found:
        known = worst.get((clash.of, clash.other))
        if known is None or clash.deep > known.deep:
            worst[clash.of, clash.other] = clash
    yield from worst.values()


class _Sight:
    """One thing in its place, and what it sees: levels count from the base's face it lies on, outwards."""

    def __init__(self, pattern: Pattern, figure: Figure, heights: Heights, thing: Thing) -> None:
        self.pattern, self.figure, self.heights, self.thing = pattern, figure, heights, thing
        self.out = 1 if thing.in_front else -1
        self.region, way = region_of(thing.outline), drawn(thing)
        self.drawn = self.region if way is thing.outline else region_of(way)
        self.floor = self.level(thing.floor)
        self.cover = self.level(thing.room.cover)
        eases = [
            fit.ease for fit in pattern.item_fits if thing.item in fit.items and fit.part == thing.room.part
        ]
        self.gap = max(0.0, min(eases, default=0.0)) / 2
        self.tall = thing.high - thing.low

    def level(self, piece: str) -> int:
        """How far out a piece lies."""
        return self.figure.body(piece).level * self.out

    def clashes(self) -> Iterator[Clash]:
        """With caps, rows, other pieces and folds."""
        under = [clash for body in self.figure.bodies for clash in self._with_body(body)]
        yield from under
        held = {clash.other for clash in under}  # what goes through such a piece is no more to tell
        own_rows = set(self._own_rows())
        for fitting, clash in self._with_fittings(held):
            yield clash
            own_rows.update(f'the thread of "{seam}"' for seam in fitting.fitting.seams)
            if self.level(fitting.on) > self.floor:
                held.add(f'"{fitting.on}"')
        told: set[str] = set()
        for what in standing_out(self.pattern, self.figure, self.out):
            if held.intersection(what.pieces) or what.other in own_rows or what.other in told:
                continue
            through = self._goes_through(what)
            high, other = self._height(what), what.other
            if through:  # in its way all over
                high, other = self.tall * what.outwards, what.whole
            if high <= LEAST or (what.shut and not through):
                continue
            parting = self._felt(self.region, what, high)
            if parting is not None:
                told.update(what.halves)
                yield self._clash("clash/through" if through else what.key, other, parting, high)
            elif (through or what.key != "clash/row") and not what.shut and self.drawn is not self.region:
                parting = self._felt(self.drawn, what, high)
                if parting is not None:
                    key = "clash/way-through" if through else "clash/way"
                    yield self._clash(key, other, parting, high)
        yield from self._with_folds()

    def _with_fittings(self, held: Container[str]) -> Iterator[tuple[PlacedFitting, Clash]]:
        """With what is bought and put on, and is as thick to both sides of its leather; `held` are the pieces
        that are in its way themselves."""
        for fitting in self.figure.fittings:
            if f'"{fitting.on}"' in held or fitting.fitting.kind is FittingKind.MAGNET:
                continue
            high = self._height_of(fitting)
            if high <= LEAST:
                continue
            area, bare = region_of(fitting.outline), self.bare(self.level(fitting.on))
            ends = reached(self.thing, high - LEAST)
            low = bare if ends is None else bare.common(strip(self.thing, *ends))
            parting = None if low.empty else of_regions(low, area)
            if parting is not None:
                yield fitting, self._clash("clash/cap", fitting.words, parting, high)
            elif self.drawn is not self.region and (parting := of_regions(self.drawn, area)) is not None:
                yield fitting, self._clash("clash/way", fitting.words, parting, high)

    def _height_of(self, fitting: PlacedFitting) -> float:
        """By how much a fitting stands into the thing; 0 where leather is between, or where the piece it is
        on is bent aside with it."""
        level, body = self.level(fitting.on), self.figure.body(fitting.on)
        low, top = sorted((fitting.low * self.out, fitting.high * self.out))
        if level < self.floor:
            return 0.0
        if level == self.floor:
            return min(top - self._bottom(), self.tall)
        if self.thing.room.cover in (body.name, body.piece.on):
            at = region_of(fitting.outline).hull().rings()[0][0]
            face = min(z * self.out for z in self.heights.span(body.name, at))
            return face - low - max(self.gap, face - self._top())
        if level > self.cover or body.kind is not BodyKind.FLAT:
            area = region_of(fitting.outline)
            if not any(area.contains(at, slack=self.tall) for at in self._held(body)):
                return 0.0
        return min(top - self._bottom(), self.tall) if low < self._top() - LEAST else 0.0

    def bare(self, level: int) -> Region:
        """What of it is not under its cover, for what lies further out than that; else all of it."""
        if level <= self.cover:
            return self.region
        return self.region.without(self.heights.region(self.thing.room.cover))

    def _goes_through(self, what: StandingOut) -> bool:
        """Whether it goes through cover and floor, so that the room is shut where it is."""
        return self.thing.room.cover in what.through and (
            min(self.level(piece) for piece in what.through) <= self.floor
        )

    def _height(self, what: StandingOut) -> float:
        """By how much what stands out of pieces stands into the thing; 0 where leather is between."""
        levels = [self.level(piece) for piece in what.through]
        low, top = min(levels), max(levels)
        if what.outwards:
            if top == self.floor:
                return min(what.stands, self.tall)
            if not low <= self.floor < top:
                return 0.0
            cover = self.thing.room.cover
            hidden = any(self.heights.covers(cover, at) for at in what.points)
            if top >= self.cover and hidden:
                return 0.0
            return min(self.tall, what.face + what.stands - self._bottom())
        if self.floor < low <= self.cover:
            return what.stands - max(self.gap, what.face - self._top())
        return 0.0

    def _felt(self, plan: Region, what: StandingOut, high: float) -> Parting | None:
        """How deep what stands out lies in a plan of the thing, where the thing comes so low, or so high,
        that it is felt: a round one rises beside the line it lies on."""
        parting = of_points(plan, what.points, what.radius)
        if parting is None:
            return None
        ends = reached(self.thing, high - LEAST, from_top=not what.outwards)
        return (
            parting
            if ends is None
            else of_points(plan.common(strip(self.thing, *ends)), what.points, what.radius)
        )

    def _bottom(self) -> float:
        """How far off the base the thing lies."""
        return self.thing.low if self.out > 0 else -self.thing.high

    def _top(self) -> float:
        """How far off the base the thing reaches."""
        return self.thing.high if self.out > 0 else -self.thing.low

    def _with_body(self, body: Body) -> Iterator[Clash]:
        """A piece that lies partly under it, or is held down over it."""
        level = body.level * self.out
        if level <= self.floor or body.name == self.thing.room.cover or body.kind is BodyKind.WALL:
            return
        other = f'"{body.name}"'
        bare = self.bare(level)
        if level <= self.cover and body.kind is BodyKind.FLAT:
            parting = of_regions(bare, self.heights.region(body.name))
            if parting is not None and body.piece.on != self.thing.room.cover:  # not what lines the cover
                yield self._clash("clash/piece", other, parting, min(body.piece.thickness, self.tall))
            return
        held = self._held(body)
        if len(held) < 3 or bare.empty:
            return
        pinned = hull_of(held)
        parting = of_regions(bare, pinned)
        if parting is not None:
            yield self._clash("clash/under", other, parting, self._lack(body, bare.common(pinned)))

    def _own_rows(self) -> frozenset[str]:
        """The rows of the strip that stands round it: a turned one's lie under it, and it was drafted so."""
        strip, _ = self.thing.room.wall or ("", None)
        seams = [seam for seam in self.pattern.seams if any(run.piece == strip for run in seam.runs)]
        return frozenset(f'the thread of "{seam.name}"' for seam in seams)

    def _held(self, body: Body) -> list[Point]:
        """Where a piece is held down on the floor, or on what lies under it."""
        found: list[Point] = []
        for row in self.figure.rows:
            if body.name in row.pieces and min(self.level(piece) for piece in row.pieces) <= self.floor:
                found += [(x, y) for x, y, _ in row.front]
        for cap in self.figure.caps:
            if body.name in cap.pieces and min(self.level(piece) for piece in cap.pieces) <= self.floor:
                found.append(cap.at)
        return found

    def _lack(self, body: Body, common: Region) -> float:
        """By how much the thing is higher than the room under a piece; as it stands, under a flat one."""
        if body.room is None:
            return self.tall
        frame = self.figure.body(body.room.base).lie @ body.room.lie
        back = frame.inverse()
        heights = [body.room.height(back.apply(at)) for ring in common.rings() for at in ring]
        return self.tall - min(heights, default=self.tall)

    def _with_folds(self) -> Iterator[Clash]:
        """A fold of its base that it lies across."""
        base = self.figure.body(self.thing.room.base)
        for fold in base.piece.folds:
            start, end = (base.lie.apply(at) for at in fold.ends)
            spans = self.region.along(start, end)
            if not spans or sum(b - a for a, b in spans) <= LEAST:
                continue
            off = [off_line(at, (start, end)) for at in self.thing.outline.flattened(sagitta=LEAST)]
            deep = min(max(off), -min(off))
            if deep > LEAST:
                middle, (ux, uy) = (spans[0][0] + spans[-1][1]) / 2, unit(start, end)
                at = (start[0] + ux * middle, start[1] + uy * middle)
                yield self._clash("clash/fold", f'fold "{fold.name}"', Parting(deep, "off it", at), self.tall)

    def _clash(self, key: str, other: str, parting: Parting, high: float) -> Clash:
        deep, way, at = parting.deep, parting.way, parting.at
        return Clash(key, self.thing.item, other, deep, high, way, at, self.figure.base, (self.thing.item,))


def _of_things(figure: Figure, thing: Thing, others: Sequence[Thing]) -> Iterator[Clash]:
    """Other things on the same face, where no leather parts them; as carried, or drawn to the mouth."""
    for other in others:
        if other.in_front is not thing.in_front or _is_parted(figure, thing, other):
            continue
        high = min(thing.high, other.high) - max(thing.low, other.low)
        ways = (thing.outline, other.outline), (drawn(thing), other.outline), (thing.outline, drawn(other))
        for key, (one, two) in zip(("clash/thing", "clash/way-thing", "clash/way-thing"), ways, strict=True):
            parting = of_regions(region_of(one), region_of(two)) if high > LEAST else None
            if parting is not None and parting.deep > LEAST:
                deep, way, at = parting.deep, parting.way, parting.at
                both = (thing.item, other.item)
                yield Clash(key, thing.item, f'"{other.item}"', deep, high, way, at, figure.base, both)
                break


def _is_parted(figure: Figure, one: Thing, two: Thing) -> bool:
    """Whether one thing lies on the other's cover, or further out."""
    out = 1 if one.in_front else -1

    def levels(thing: Thing) -> tuple[int, int]:
        return figure.body(thing.floor).level * out, figure.body(thing.room.cover).level * out

    (floor, cover), (other_floor, other_cover) = levels(one), levels(two)
    return cover <= other_floor or other_cover <= floor
