"""Lying: what each piece covers of its base's plan while the work lies on the bench.

In: the pattern and its tasks. Out: a `Lying` for each piece, in the plan of its base or of what it stands on.

Words: a fold is *shut* once a seam through both its leaves is sewn, or rivets are; what is beyond a fold
that is not shut *folds over*, and can be laid back. Beyond a fold is the leaf that nothing else is joined to
but what stands on the piece. A bend that is no more than a wall's corner stands up while the work lies flat,
and covers nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property, reduce

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Affine, Point
from handkit.geometry.region import Region, region_of, region_of_points
from handkit.geometry.straight import distance, side_of
from handkit.stitch.order.hole_rows import RIM
from handkit.stitch.order.standing import standing_on
from handkit.stitch.order.tasks import Task
from handkit.tolerances import FOLDED_OVER

# What is folded at its base's edge has no more than this share of it over the base while it is laid open.
AT_THE_EDGE = 0.02


class LeafFold(msgspec.Struct, frozen=True):
    """A fold in its base's plan: what lies beyond it, and where that comes to lie."""

    beyond: Region
    over: Affine
    shut: bool


class Lying(msgspec.Struct, frozen=True, dict=True, eq=False):
    """What a piece covers of its base's plan; `over` is what can be laid back."""

    piece: PatternPiece
    base: str  # whose plan it is: the piece's base, or what stands at no known place and the piece lies on
    way: Affine  # own frame to the plan
    flat: Region
    over: Region | None = None
    over_edge: bool = False  # whether what folds over comes to lie on the base's other face
    folds: tuple[LeafFold, ...] = ()  # its own, and those of what it lies on

    @cached_property
    def leaves(self) -> tuple[tuple[Region, bool], ...]:
        """What it covers but for its rim, and whether that can be laid back."""
        over = [(self.over.grown(-RIM), True)] if self.over is not None else []
        return ((self.flat.grown(-RIM), False), *over)

    def at(self, point: Point) -> Point:
        """Where one of its places lies in the plan once its folds are shut."""
        placed = self.way.apply(point)
        for fold in self.folds:
            if fold.shut and fold.beyond.contains(placed):
                placed = fold.over.apply(placed)
        return placed


def lyings(pattern: Pattern, tasks: Sequence[Task]) -> dict[str, Lying]:
    """By piece, in the order of what lies on what. What stands at a place that the file does not tell, such
    as a gusset, is the base of what lies on it.
    """
    found: dict[str, Lying] = {}
    joins = [task for task in tasks if task.joins]
    raised = set().union(*(task.raises for task in tasks))
    for piece in sorted(pattern.pieces, key=lambda piece: piece.depth):
        under = found.get(piece.on or "")
        known = piece.flat or _covers_room(pattern, piece)
        if under is None or not (
            known or (piece.name not in raised and _meets(pattern, piece, joins, found))
        ):
            outline, way, name = piece.outline, Affine(), piece.name
        elif under.base == piece.base:
            (outline, way), name = pattern.in_plan(piece.name), piece.base
        else:
            way, name = under.way @ under.piece.in_base.inverse() @ piece.in_base, under.base
            outline = piece.outline.moved(way)
        folds = (*(under.folds if under else ()), *_leaf_folds(pattern, piece, way, joins))
        if piece.name == name:
            folds = ()  # it lies open while it is worked
        base = found.get(name)
        found[piece.name] = _folded(Lying(piece, name, way, region_of(outline), folds=folds), base)
    return found


def _covers_room(pattern: Pattern, piece: PatternPiece) -> bool:
    return any(room.cover == piece.name for room in pattern.rooms)


def _meets(pattern: Pattern, piece: PatternPiece, joins: Iterable[Task], found: Mapping[str, Lying]) -> bool:
    """Whether what does not lie flat has its place in plan: whether it is sewn on there."""
    way = pattern.in_plan(piece.name)[1]
    for task in joins:
        own = next((layer for layer in task.layers if layer.piece == piece.name), None)
        for mate in task.layers:
            if own is not None and mate.piece in found and found[mate.piece].base == piece.base:
                there = pattern.in_plan(mate.piece)[1].apply_all(mate.points)
                here = way.apply_all(own.points)
                if len(here) == len(there) and all(
                    distance(*pair) <= task.pitch for pair in zip(here, there, strict=True)
                ):
                    return True
    return False


def _leaf_folds(
    pattern: Pattern, piece: PatternPiece, way: Affine, joins: Sequence[Task]
) -> Iterable[LeafFold]:
    """The folds of a piece that lay a leaf over, in plan."""
    own = standing_on(pattern, piece)
    held = [
        point
        for task in joins
        if set(task.pieces) - own and task.pieces.count(piece.name) == 1
        for points in task.on(piece.name)
        for point in points
    ]
    shut = any(task.pieces.count(piece.name) > 1 for task in joins)
    for fold in piece.folds:
        sides = {side_of(point, fold.ends) > 0 for point in held}
        over = fold.angle_degrees is None or fold.angle_degrees >= FOLDED_OVER
        if len(sides) == 1 and over:
            a, b = way.apply_all(fold.ends)
            left = sides.pop() == way.turns_over
            yield LeafFold(_half_plane(a, b, left=left), Affine.across(a, b), shut)
    homes = {piece.sheet.panel_of([point]) for point in held} if len(piece.bends) > 1 else set()
    if len(homes) == 1:
        yield from _over_walls(piece, way, homes.pop(), shut=shut)


def _over_walls(piece: PatternPiece, way: Affine, home: int, *, shut: bool) -> Iterable[LeafFold]:
    """The leaves that come to lie over the one that is held by bends none of which lays it there alone."""
    sheet = piece.sheet
    for panel in sheet.panels:
        parting = set(panel.beyond) ^ set(sheet.panels[home].beyond)
        plan = (sheet.panels[home].motion.inverse() @ panel.motion).plan
        if plan is None or not parting or max(abs(sheet.bends[b].degrees) for b in parting) >= FOLDED_OVER:
            continue
        lines = ((b, way.apply_all(sheet.bends[b].parallel(0.0))) for b in parting)
        planes = [_half_plane(*line, left=(b in panel.beyond) is not way.turns_over) for b, line in lines]
        yield LeafFold(reduce(Region.common, planes), way @ plan @ way.inverse(), shut)


def _folded(lying: Lying, base: Lying | None) -> Lying:
    """With what its folds lay over."""
    flat, over, over_edge = lying.flat, None, False
    for fold in lying.folds:
        beyond = flat.common(fold.beyond)
        if not beyond.empty:
            flat, leaf = flat.without(fold.beyond), beyond.moved(fold.over)
            if fold.shut:
                flat = flat.joined(leaf)
            else:
                over = leaf
                over_edge = base is not None and beyond.common(base.flat).area < AT_THE_EDGE * beyond.area
    return msgspec.structs.replace(lying, flat=flat, over=over, over_edge=over_edge)


def _half_plane(a: Point, b: Point, *, left: bool) -> Region:
    """All on one side of a line, as far as any piece reaches."""
    far = 1e5
    length = distance(a, b)
    x, y = far * (b[0] - a[0]) / length, far * (b[1] - a[1]) / length
    start, end, side = (a[0] - x, a[1] - y), (a[0] + x, a[1] + y), 1 if left else -1
    return region_of_points(
        [start, end, (end[0] - side * y, end[1] + side * x), (start[0] - side * y, start[1] + side * x)]
    )
