"""On leaves: parts without a place laid on the leaves of a cover, which stays as large as its own part says.

In: a project, a cover that one of its parts drafts. Out: where each part lies, in the cover's frame; what has
no room, with the measure of the cover that would give it some. All mm, laid in whole steps.

The large is laid first, on the first leaf where there is room on it. Leather keeps clear of its leaf's edges
and of the bend; things may reach up to both, and are drawn out beyond them. All lies in the middle of its
leaf where nothing that is stated lies there. What lies behind is laid as if it lay in front.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

import msgspec

from handkit.draft.arrange.grounds import GAP, PartGround
from handkit.draft.arrange.leaf_packing import LeafBox, least_growth, placed_on_leaf
from handkit.draft.arrange.lying import lying_on, shifted
from handkit.draft.arrange.steps import Arrangement, Steps
from handkit.draft.fit.on_base import Holes, keep_of
from handkit.draft.parts.drafted import DraftedPiece, PartContext
from handkit.draft.parts.part_kinds import DRAFTINGS
from handkit.draft.sizes.fold_length import fold_allowance
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.box import Box, around, box_of
from handkit.read.project import Part, Piece, Project


class OnLeaves(msgspec.Struct, frozen=True):
    """How a cover's leaves are laid, and what has no room."""

    way: Arrangement
    faults: tuple[Finding, ...] = ()


class _Leaf(msgspec.Struct, frozen=True):
    """Where a leaf's leather is straight, in the cover's frame; the keys of the cover that say how wide and
    how high it is on the page, and by how much more each says."""

    box: Box
    keys: tuple[str, str]
    more: Point


class _Laying(msgspec.Struct, frozen=True):
    """What is to lie on a cover: its leaves, the raster, how far leather keeps off their edges; what is
    stated, what is free."""

    leaves: tuple[_Leaf, ...]
    raster: Steps
    keep: float
    stated: tuple[PartGround, ...]
    free: tuple[PartGround, ...]

    @property
    def gap(self) -> int:
        """Between two boxes, which have their leather's margin already, in steps."""
        return self.raster.up(max(0.0, GAP - self.keep))

    def inner(self, leaf: _Leaf) -> tuple[int, int, int, int]:
        """A leaf in whole steps, no larger than it is."""
        box, up, down = leaf.box, self.raster.up, self.raster.down
        return up(box.left), up(box.bottom), down(box.right), down(box.top)

    def size(self, leaf: _Leaf) -> tuple[int, int]:
        """How wide and how high a leaf is, in steps."""
        left, low, right, top = self.inner(leaf)
        return right - left, top - low

    def boxes(self, leaf: _Leaf, free: tuple[PartGround, ...]) -> list[LeafBox]:
        """What lies on a leaf as boxes in its frame: what is stated there, then what is free."""
        left, low, _, _ = self.inner(leaf)
        by = (-left * self.raster.step, -low * self.raster.step)
        there = [shifted(each, by) for each in self.stated if each.box.meets(leaf.box)]
        return [*(self._box(each, fixed=True) for each in there), *(self._box(each) for each in free)]

    def _box(self, ground: PartGround, *, fixed: bool = False) -> LeafBox:
        still = self.still(ground, fixed=fixed)
        box = self.raster.box(msgspec.structs.replace(ground, box=still), fixed=fixed)
        left, low = self.raster.down(still.left), self.raster.down(still.bottom)
        return LeafBox(box, self.raster.rectangle(around([still, ground.box]), left, low))

    def still(self, ground: PartGround, *, fixed: bool = False) -> Box:
        """What a part takes, with the leather that it keeps off edges; without its turned things' way."""
        still = ground.still or ground.box
        return still if fixed else around([still, (ground.leather or still).grown(self.keep)])

    def at(self, leaf: _Leaf, ground: PartGround, place: tuple[int, int]) -> Point:
        """The place of a part whose box lies so on a leaf."""
        (left, low, _, _), still = self.inner(leaf), self.still(ground)
        x, y = left + place[0] - self.raster.down(still.left), low + place[1] - self.raster.down(still.bottom)
        return (x * self.raster.step, y * self.raster.step)


def on_leaves(project: Project, base: Piece) -> OnLeaves:
    """The parts on a cover, each where it finds room; none of them where the cover can't be drafted."""
    cover = next(part for part in project.parts if part.name == base.drafted_by)
    drawn = _drawn(project, cover)
    if drawn is None:
        return OnLeaves(Arrangement(base.name, (0.0, 0.0), (), within=True))
    laying = _laying(project, cover, base, drawn)
    on, before, without = _shared_out(laying)
    places = {
        ground.part: laying.at(leaf, ground, place)
        for leaf, held in zip(laying.leaves, on, strict=True)
        for ground, place in zip(held, _placed(laying, leaf, held) or (), strict=True)
    }
    size = box_of([corner.at for corner in drawn.corners])
    ordered = tuple((part.name, places[part.name]) for part in project.parts if part.name in places)
    way = Arrangement(base.name, (size.width, size.height), ordered, within=True)
    if not without:
        return OnLeaves(way)
    names = {ground.part for ground in without}
    paths = [part.source.path for part in project.parts if part.name in names]
    return OnLeaves(way, (_without_room(project, cover, laying, before, without[0]).spoiling(*paths),))


def _shared_out(
    laying: _Laying,
) -> tuple[list[tuple[PartGround, ...]], list[tuple[PartGround, ...]], list[PartGround]]:
    """What lies on each leaf, each part on the first that has room for it; the same as it was before the
    first that has none; what has none."""
    on: list[tuple[PartGround, ...]] = [() for _ in laying.leaves]
    before, without = on, list[PartGround]()
    for ground in laying.free:
        index = next((k for k, held in enumerate(on) if _has_room(laying, k, (*held, ground))), None)
        if index is None:
            before = before if without else list(on)
            without.append(ground)
        else:
            on[index] = (*on[index], ground)
    return on, before, without


def _has_room(laying: _Laying, index: int, held: tuple[PartGround, ...]) -> bool:
    return _placed(laying, laying.leaves[index], held) is not None


def _placed(laying: _Laying, leaf: _Leaf, held: tuple[PartGround, ...]) -> tuple[tuple[int, int], ...] | None:
    """Where parts lie on a leaf; None where it has no room for all of them."""
    return placed_on_leaf(laying.boxes(leaf, held), laying.size(leaf), laying.gap) if held else ()


def _laying(project: Project, cover: Part, base: Piece, drawn: DraftedPiece) -> _Laying:
    known = lying_on(project, base)
    roundest = max(corner.radius for corner in (*base.corners, *drawn.corners))
    # Where a corner is round, the corner of a box lies on the leather so far inside.
    keep = max(keep_of(base, Holes.of(project.seams)), roundest * (1 - sqrt(0.5)))
    free = sorted((ground for ground, fixed in known if not fixed), key=_smallness)
    stated = tuple(ground for ground, fixed in known if fixed)
    raster = Steps(base.source.units.whole, 0.0)
    keep = raster.up(keep) * raster.step
    return _Laying(tuple(_leaves(cover, base, drawn)), raster, keep, stated, tuple(free))


def _smallness(ground: PartGround) -> float:
    still = ground.still or ground.box
    return -still.width * still.height


def _drawn(project: Project, cover: Part) -> DraftedPiece | None:
    """The cover as its part drafts it alone."""
    own = {piece.name: piece for piece in project.pieces if piece.drafted_by == cover.name}
    items = tuple(item for item in project.items if item.held_by == cover.name)
    seams = {seam.name: seam for seam in project.seams}
    openings = {opening.name: opening for opening in project.openings}
    given = DRAFTINGS[cover.kind](cover, items, PartContext(None, own, seams, openings))
    return next((piece for piece in given.pieces if piece.name == cover.name), None)


def _leaves(cover: Part, base: Piece, drawn: DraftedPiece) -> Iterator[_Leaf]:
    """The first and the last panel of a cover, each between its edge and where the bend beside it begins."""
    whole, level = box_of([corner.at for corner in drawn.corners]), cover.word("spine") == "level"
    lines = sorted((fold.points[0][1 if level else 0], fold) for fold in drawn.folds)
    (first, one), (last, other) = lines[0], lines[-1]
    first -= fold_allowance(one.angle_degrees or 0.0, one.radius, base.thickness) / 2
    last += fold_allowance(other.angle_degrees or 0.0, other.radius, base.thickness) / 2
    far = "width" if cover.length("flap") is None else "flap"
    left, low, right, top = whole.left, whole.bottom, whole.right, whole.top
    if level:
        yield _Leaf(Box(left, low, right, first), ("height", "width"), (0.0, one.radius))
        yield _Leaf(Box(left, last, right, top), ("height", far), (0.0, other.radius))
    else:
        yield _Leaf(Box(left, low, first, top), ("width", "height"), (one.radius, 0.0))
        yield _Leaf(Box(last, low, right, top), (far, "height"), (other.radius, 0.0))


def _without_room(
    project: Project, cover: Part, laying: _Laying, on: list[tuple[PartGround, ...]], ground: PartGround
) -> Finding:
    """Which measures of the cover would give a part room, those that grow least."""
    grown = [
        (least_growth(laying.boxes(leaf, (*held, ground)), laying.size(leaf), laying.gap), leaf)
        for leaf, held in zip(laying.leaves, on, strict=True)
    ]
    growth, leaf = min(grown, key=lambda each: sum(each[0]))
    part, step = next(each for each in project.parts if each.name == ground.part), laying.raster.step
    spans, units = (leaf.box.width, leaf.box.height), part.source.units
    measures = [
        f"{key} {units.text(laying.raster.up(span + more) * step + by * step)}"
        for key, span, more, by in zip(leaf.keys, spans, leaf.more, growth, strict=True)
        if by
    ]
    leaves = [f"{units.number(each.box.width)} × {units.text(each.box.height)}" for each in laying.leaves]
    still = laying.still(ground)
    return finding(
        "arranged-without-room",
        part.source.at("on"),
        wide=still.width,
        high=still.height,
        leaves=list(dict.fromkeys(leaves)),
        cover=cover.name,
        measures=measures,
    )
