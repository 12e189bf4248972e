"""Moves: what stands on a base is put elsewhere, and all is looked at again.

In: one figure with its clashes. Out: whether a move leaves nothing new in the way.

What is moved is a piece, or all that a part drafted, with what stands on it, and its holes; or one opening
or magnet of the file's own. A move is no good where it takes it past the base, or its holes nearer to an edge
or to other holes than they may be, where it gets under other holes or off what a thing lies on, where
something clashes then that did not, or where a flap does not close any more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import msgspec

from handkit.assemble.article import Body, Cap, Clash, Figure, SewnRow, Thing, heights_of
from handkit.assemble.closing import closing_findings
from handkit.draft.pattern import Pattern, Room
from handkit.geometry.affine import Affine, Point
from handkit.geometry.laid.heights import Heights
from handkit.geometry.region import Region, discs, region_of

# How near holes that are moved may come to others, mm: a pitch; half of a narrow hole.
APART, HOLE = 4.0, 0.1

# How many moves are tried of one figure: enough for a dozen clashes, and no more than a second.
MOST = 300

# What an area may lie further outside than it did, mm²: rounding.
ROUNDING = 0.05

Clashing = Callable[[Pattern, Figure, Heights], Sequence[Clash]]


class Moved(msgspec.Struct, frozen=True):
    """What is moved: pieces with what stands on them, openings, magnets and rows by name; how it is told."""

    words: str
    pieces: frozenset[str] = frozenset()
    openings: frozenset[str] = frozenset()
    fittings: frozenset[str] = frozenset()
    rows: frozenset[str] = frozenset()

    def has(self, pieces: Iterable[str]) -> bool:
        """Whether one of some pieces is moved."""
        return not self.pieces.isdisjoint(pieces)


class Trials:
    """One figure, on which moves are tried; `clashing` finds what clashes."""

    def __init__(self, pattern: Pattern, figure: Figure, clashing: Clashing) -> None:
        self.pattern, self.figure, self._clashing = pattern, figure, clashing
        self._insets = {seam.name: seam.stitching.inset for seam in pattern.seams}
        self._clear = {each.name: each.opening.clearance.edge for each in pattern.openings}
        self._mates = [(each.name, each.opening.mate) for each in pattern.openings if each.opening.mate]
        self._left = MOST
        self._before = self._told(figure, heights_of(figure.bodies))

    def standing_on(self, words: str, pieces: Iterable[str]) -> Moved:
        """Pieces, and all that stands on them."""
        names = set(pieces)
        for body in sorted(self.figure.bodies, key=lambda body: body.piece.depth):
            if body.piece.on in names:
                names.add(body.name)
        return Moved(words, frozenset(names))

    def clears(
        self, what: Moved, by: Point, pairs: frozenset[tuple[str, str]], *, larger: bool = False
    ) -> bool:
        """Whether a move leaves nothing in the way but what was there, and not those pairs; on a base that is
        larger on that side, where it may be."""
        self._left -= 1
        if self._left < 0:
            return False
        figure = moved(self.figure, what, by)
        heights = heights_of(figure.bodies)
        if not self._lies(what, figure, heights, larger=larger):
            return False
        return self._told(figure, heights) <= self._before - pairs

    def inset(self, seam: str) -> float:
        """How far inside edges a seam's rows stand."""
        return self._insets[seam]

    def _told(self, figure: Figure, heights: Heights) -> frozenset[tuple[str, str]]:
        """All pairs that clash, and what does not close."""
        pairs = {(clash.of, clash.other) for clash in self._clashing(self.pattern, figure, heights)}
        closing = closing_findings(self.pattern, figure, heights)
        return frozenset(pairs | {(each.code, str(each.where)) for each in closing})

    def _lies(self, what: Moved, figure: Figure, heights: Heights, *, larger: bool) -> bool:
        """Whether all has its place where it is moved to."""
        before = heights_of(self.figure.bodies)
        if not larger:
            base = before.region(self.figure.base)
            for old, new in zip(_areas(self.figure, what), _areas(figure, what), strict=True):
                if new.without(base).area > old.without(base).area + ROUNDING:
                    return False
        for thing in figure.things:
            if what.has((thing.room.cover,)) and thing.floor != thing.room.base:
                place = region_of(thing.outline)
                if place.without(heights.region(thing.floor)).area > ROUNDING:
                    return False
        holed = {cap.opening for cap in figure.caps if _is_moved(cap, what)}
        if any((one in holed) is not (other in holed) for one, other in self._mates):
            return False  # a snap's halves stay together
        return not self._pierces(what, figure, heights) and self._holes_lie(what, figure, larger=larger)

    def _holes_lie(self, what: Moved, figure: Figure, *, larger: bool) -> bool:
        """Whether the holes that are moved are on their pieces and clear of all others."""
        heights, before = heights_of(figure.bodies), heights_of(self.figure.bodies)
        others = [at for each in _holes(figure) if not _is_moved(each, what) for at in _places(each)]
        around = discs(others, APART) if others else None
        for each, was in zip(_holes(figure), _holes(self.figure), strict=True):
            if not _is_moved(each, what):
                continue
            for name in set(each.pieces) - what.pieces - ({figure.base} if larger else set()):
                region, start = heights.region(name), before.region(name)
                for at, old in zip(_places(each), _places(was), strict=True):
                    room = min(self._least(each), start.edge_distance(old))
                    if not region.contains(at) or region.edge_distance(at) < room - ROUNDING:
                        return False
            if around is not None and around.meets(discs(_places(each), HOLE)):
                return False
        return True

    def _pierces(self, what: Moved, figure: Figure, heights: Heights) -> bool:
        """Whether a hole gets through a piece that it does not go through: one of the two is moved."""
        levels = {body.name: body.level for body in figure.bodies}
        for each in _holes(figure):
            own = [levels[name] for name in each.pieces]
            for body in figure.bodies:
                between = min(own) < body.level < max(own) and body.name not in each.pieces
                one_of_two = _is_moved(each, what) is not (body.name in what.pieces)
                if between and one_of_two and any(heights.covers(body.name, at) for at in _places(each)):
                    return True
        return False

    def _least(self, each: Cap | SewnRow) -> float:
        """How near to an edge holes may stand."""
        if isinstance(each, Cap):
            return self._clear.get(each.opening, 0.0)
        return self._insets.get(each.seam, 0.0)


def _areas(figure: Figure, what: Moved) -> list[Region]:
    """What is moved and has to stay on its base: pieces that lie there, things."""
    bodies = [body for body in figure.bodies if body.name in what.pieces]
    found = [region_of(body.outline) for body in bodies]
    return found + [region_of(thing.outline) for thing in figure.things if what.has((thing.room.cover,))]


def _holes(figure: Figure) -> list[Cap | SewnRow]:
    return [*figure.caps, *figure.rows]


def _places(each: Cap | SewnRow) -> list[Point]:
    return [each.at] if isinstance(each, Cap) else [(x, y) for x, y, _ in each.front]


def _is_moved(each: Cap | SewnRow, what: Moved) -> bool:
    if isinstance(each, SewnRow):
        return what.has(each.pieces) or each.seam in what.rows
    return what.has(each.pieces) or each.opening in what.openings


def moved(figure: Figure, what: Moved, by: Point) -> Figure:
    """The figure with something moved in plan."""
    shift = Affine.shift(*by)
    bodies = tuple(
        _moved_body(figure, body, what, shift) if body.name in what.pieces else body for body in figure.bodies
    )
    rooms = {body.name: body.room for body in bodies if body.room is not None}
    return Figure(
        figure.base,
        bodies,
        tuple(
            _moved_thing(thing, rooms.get(thing.room.cover, thing.room), shift)
            if what.has((thing.room.cover,))
            else thing
            for thing in figure.things
        ),
        tuple(
            msgspec.structs.replace(cap, at=shift.apply(cap.at)) if _is_moved(cap, what) else cap
            for cap in figure.caps
        ),
        tuple(_moved_row(row, by) if _is_moved(row, what) else row for row in figure.rows),
        tuple(
            msgspec.structs.replace(each, outline=each.outline.moved(shift))
            if each.on in what.pieces or each.fitting.name in what.fittings
            else each
            for each in figure.fittings
        ),
    )


def _moved_body(figure: Figure, body: Body, what: Moved, shift: Affine) -> Body:
    room = body.room
    if room is not None and room.base not in what.pieces:
        base = figure.body(room.base).lie
        room = msgspec.structs.replace(room, lie=base.inverse() @ shift @ base @ room.lie)
    leaves = tuple(msgspec.structs.replace(leaf, outline=leaf.outline.moved(shift)) for leaf in body.leaves)
    outline = body.outline.moved(shift)
    return msgspec.structs.replace(body, outline=outline, lie=shift @ body.lie, room=room, leaves=leaves)


def _moved_thing(thing: Thing, room: Room, shift: Affine) -> Thing:
    outline = thing.outline.moved(shift)
    return msgspec.structs.replace(thing, room=room, outline=outline, lie=shift @ thing.lie)


def _moved_row(row: SewnRow, by: Point) -> SewnRow:
    front, back = (tuple((x + by[0], y + by[1], z) for x, y, z in places) for places in (row.front, row.back))
    return msgspec.structs.replace(row, front=front, back=back)
