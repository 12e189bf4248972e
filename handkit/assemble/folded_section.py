"""Sections of folded pieces, square to their folds.

In: one figure, a body of it. Out: `ArticleSection`s: closed shapes in (s, z), mm; s runs over the folds, z
towards the eye that sees the side that shows, 0 in the middle of the leather that keeps its place.

A sheath is cut along its blade, too, handle and all: where its loop is cut, else by itself.

How far it holds: of what lies on a folded piece its things are shown, the sleeves that hold them, and welts;
and what goes round all of it, strap or tie.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from math import hypot

from handkit.assemble.article import ArticleSection, Body, BodyKind, Figure, Leaf, Plate, SectionThing, Thing
from handkit.assemble.between import shut_plan, welts_of
from handkit.assemble.hung.cut import cut_straps, cut_ties
from handkit.draft.pattern import Pattern, PatternFold, PatternPiece
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.path import polyline
from handkit.geometry.region import region_of
from handkit.geometry.space import Bend, Motion, Place
from handkit.geometry.straight import unit
from handkit.tolerances import SAGITTA

# Farther than any piece reaches.
FAR = 1e4

# Into how many lines the bent zone of a fold is parted.
BENT_LINES = 24

# So little off square, as a cosine, is square.
SQUARE = 0.01

# What overlaps by less lies beside one another, mm².
TOUCHING = 1.0


def folded_sections(pattern: Pattern, figure: Figure, body: Body) -> Iterator[ArticleSection]:
    """One for all folds of a piece that lie side by side; one more for each that lies another way."""
    piece = body.piece
    left = [fold for fold in piece.folds if fold.bend is not None]
    blades = [thing for thing in figure.things if thing.is_handle and thing.room.base == piece.name]
    while left:
        first = left[0]
        alike = [fold for fold in left if _same_way(first, fold)]
        left = [fold for fold in left if fold not in alike]
        plate = _bent_plate(piece, first, alike)
        if plate is not None:
            held = [
                thing
                for thing in figure.things
                if piece.name in (figure.base, thing.room.base)
                if not thing.room.folded or _go_round(body, alike, thing)
            ]
            bend, middle = first.bend, first.path.point_at(first.path.length / 2)
            assert bend is not None  # as all that are left
            cut = _Cut(figure, body, bend.way, middle)
            between = {thing.room.cover for thing in held} | (welts_of(pattern) if held else frozenset())
            flat = [each for each in figure.bodies if each.piece.on == piece.name and each.name in between]
            plates = [made for each in flat if each.kind is BodyKind.FLAT for made in cut.plates(each)]
            things = [shown for thing in held for shown in cut.thing(thing)]
            if any(thing in held and cut.square_to(thing) < SQUARE for thing in blades):
                things += _blade(figure, held, cut)  # it is cut along its blade, too
                plates += cut.leaves(beyond={each.bend for each in alike})
                blades = []
            yield cut.with_hung(pattern, ArticleSection(piece.name, True, (plate, *plates), tuple(things)))
    for handle in blades:
        lie, middle = handle.room.lie, Box(*handle.held.seat.bounds()).middle
        cut = _Cut(figure, body, lie.apply_direction((1.0, 0.0)), lie.apply(middle))
        things = [*cut.thing(handle), *_blade(figure, [handle], cut)]
        yield ArticleSection(handle.item, True, tuple(cut.leaves()), tuple(things))


def _blade(figure: Figure, handles: Sequence[Thing], cut: _Cut) -> Iterator[SectionThing]:
    """What is cut of the blades of some handles."""
    names = {handle.item for handle in handles if handle.is_handle}
    for thing in figure.things:
        if thing.item in names and not thing.is_handle:
            yield from cut.thing(thing)


def _go_round(body: Body, folds: Sequence[PatternFold], thing: Thing) -> bool:
    """Whether some folds lay a leaf over a thing that is between leaves."""
    own, panels, bends = _leaf(body, thing), body.piece.panels, [fold.bend for fold in folds]
    if own.fold.plan is None:
        return False
    home, there = panels[body.leaves.index(own)], shut_plan(own, region_of(thing.outline))
    for leaf, panel in zip(body.leaves, panels, strict=False):
        parting = {body.piece.bends[k] for k in {*home.beyond} ^ {*panel.beyond}}
        if leaf.fold.plan is None or not parting.intersection(bends):
            continue
        if shut_plan(leaf, region_of(leaf.outline)).common(there).area > TOUCHING:
            return True
    return False


def _leaf(body: Body, thing: Thing) -> Leaf:
    return body.leaf_at(thing.seat)


class _Cut:
    """A cut through a place of a body, square to a way: to a fold, as a rule; both in the body's frame."""

    def __init__(self, figure: Figure, body: Body, way: Point, at: Point) -> None:
        self._figure, self._body = figure, body
        self._way, self._at = way, at
        (wx, wy), (x, y) = way, at
        ends = ((x + wy * FAR, y - wx * FAR), (x - wy * FAR, y + wx * FAR))
        self._line = body.lie.apply_all(ends)
        home = body.leaves[0]
        level = (home.middle - home.fold.by[2]) * home.fold.rows[2][2]  # it lies parallel, or over
        lie = Motion(by=(0.0, 0.0, level)) @ Motion.of_plane(body.lie)
        self._home, self._back = level, lie.inverse() @ home.fold.inverse()

    def plates(self, flat: Body) -> Iterator[Plate]:
        """What is cut of a piece that lies on it, on each of its leaves."""
        away = 1.0 if flat.level > self._body.level else -1.0
        face = self._home + away * self._body.thickness / 2
        heights = (face, face + away * flat.thickness)
        up = flat.up if away > 0 else flat.up.other
        for leaf in flat.leaves:
            for start, end in region_of(leaf.outline).along(*self._line):
                lower, upper = ([self._seen(leaf, self._place(s), z) for s in (start, end)] for z in heights)
                ring = polyline((*lower, *reversed(upper)), closed=True)
                yield Plate(flat.name, ring, polyline(upper), up)

    def leaves(self, beyond: Collection[Bend | None] = ()) -> Iterator[Plate]:
        """What is cut of those of its leaves that lie beyond none of some bends; of all without any."""
        piece = self._body.piece
        line = self._body.lie.inverse().apply_all(self._line)
        for panel in piece.panels:
            bends = {piece.bends[k] for k in panel.beyond}
            if panel.plan is None or not bends.isdisjoint(beyond) or (beyond and not bends):
                continue
            start, end = panel.plan.inverse().apply_all(line)
            (ux, uy), half = unit(start, end), piece.thickness / 2
            for span in region_of(panel.outline).along(start, end):
                ends = [(start[0] + ux * s, start[1] + uy * s) for s in span]
                lower, upper = (
                    [self._cut(panel.motion.apply((*at, z))) for at in ends] for z in (-half, half)
                )
                ring = polyline((*lower, *reversed(upper)), closed=True)
                yield Plate(piece.name, ring, polyline(upper), piece.shows)

    def thing(self, thing: Thing) -> Iterator[SectionThing]:
        """What is cut of a thing that lies along the fold, by its section, or square to it."""
        leaf = _leaf(self._figure.body(thing.room.base), thing)
        spans = region_of(thing.outline).along(*self._line)
        lies_along = self.square_to(thing)
        if not spans or SQUARE < lies_along < 1 - SQUARE:
            return
        if lies_along > 0.5:  # across it any of its places is as far over the fold as all along it
            section = thing.held.section.flattened(sagitta=SAGITTA)
            places = [(thing.lie.apply((across, 0.0)), z) for across, z in section]
        else:
            ends, tall = [self._place(each) for each in (spans[0][0], spans[-1][1])], thing.held.thickness
            places = [(ends[0], 0.0), (ends[1], 0.0), (ends[1], tall), (ends[0], tall)]
        ring = [self._seen(leaf, at, thing.low + z if thing.in_front else thing.high - z) for at, z in places]
        yield SectionThing(thing.item, polyline(ring, closed=True))

    def with_hung(self, pattern: Pattern, section: ArticleSection) -> ArticleSection:
        """With the straps and ties that go round the figure once it is shut."""
        plan = self._body.leaves[0].fold.plan
        if plan is None:
            return section
        (start, end), shapes = (
            plan.apply_all(self._line),
            [(each.piece, each.outline) for each in section.plates],
        )
        shapes += [("", thing.outline) for thing in section.things]
        straps = cut_straps(pattern, self._figure, (start, end), self._shut, shapes)
        ties = cut_ties(self._figure, (start, end), self._shut, shapes)
        plates, things = (*section.plates, *straps), (*section.things, *ties)
        return ArticleSection(section.of, section.along, plates, things)

    def square_to(self, thing: Thing) -> float:
        """1 where it cuts a thing across, 0 where it cuts it lengthwise."""
        wx, wy = self._body.lie.apply_direction(self._way)
        return abs(thing.way[0] * wx + thing.way[1] * wy)

    def _place(self, along: float) -> Point:
        """A place of the plan, so far along the cut."""
        (x0, y0), (x1, y1) = self._line
        share = along / (2 * FAR)
        return (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)

    def _seen(self, leaf: Leaf, at: Point, z: float) -> Point:
        """Where a place of the open figure comes to in the cut once all is folded."""
        return self._cut((self._back @ leaf.fold).apply((*at, z)))

    def _shut(self, at: Point, z: float) -> Point:
        """A place of the shut figure in the cut."""
        return self._cut(self._back.apply((*at, z)))

    def _cut(self, at: Place) -> Point:
        """A place of the folded body, in the cut."""
        (wx, wy), (x, y), (px, py, pz) = self._way, self._at, at
        return ((py - y) * wx - (px - x) * wy, pz)


def _same_way(first: PatternFold, second: PatternFold) -> bool:
    assert first.bend is not None and second.bend is not None
    (ax, ay), (bx, by_) = first.bend.way, second.bend.way
    return abs(ax * by_ - ay * bx) < 1e-9


def _bent_plate(piece: PatternPiece, fold: PatternFold, alike: Sequence[PatternFold]) -> Plate | None:
    """A cut square to the folds through the middle of the first, where it is in space."""
    assert fold.bend is not None
    (wx, wy), (x, y) = fold.bend.way, fold.path.point_at(fold.path.length / 2)
    across = (-wy, wx)
    left, low, right, top = piece.outline.bounds()
    reach = hypot(right - left, top - low)
    spans = region_of(piece.outline).along(
        (x - across[0] * reach, y - across[1] * reach), (x + across[0] * reach, y + across[1] * reach)
    )
    if not spans:
        return None
    start, end = min(span[0] for span in spans) - reach, max(span[1] for span in spans) - reach
    stops = {start, end}
    for each in alike:
        assert each.bend is not None
        at = (each.bend.at[0] - x) * across[0] + (each.bend.at[1] - y) * across[1]
        half = each.bend.half
        stops |= {at - half + 2 * half * k / BENT_LINES for k in range(BENT_LINES + 1)}
    ordered = sorted(stop for stop in stops if start <= stop <= end)
    edges: list[list[Point]] = [[], []]
    for stop in ordered:
        place = (x + across[0] * stop, y + across[1] * stop)
        for edge, height in zip(edges, (-piece.thickness / 2, piece.thickness / 2), strict=True):
            px, py, pz = piece.in_space(place, height=height)
            edge.append(((px - x) * across[0] + (py - y) * across[1], pz))
    lower, upper = edges
    ring = polyline((*lower, *reversed(upper)), closed=True)
    return Plate(piece.name, ring, polyline(upper), piece.shows)
