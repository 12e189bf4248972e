"""Leaf laying: what is to lie on one face of a piece whose size is given, shared out over its leaves.

In: leaves, what is stated there, what is free. Out: on which leaf each part lies and where, what has no room.
Lengths in mm, laid in whole steps.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.draft.arrange.faced import StatedBehind, pairs_of
from handkit.draft.arrange.grounds import GAP, PartGround
from handkit.draft.arrange.leaf_packing import LeafBox, least_growth, placed_on_leaf
from handkit.draft.arrange.lying import shifted
from handkit.draft.arrange.packing import Place
from handkit.draft.arrange.steps import Steps
from handkit.draft.parts.drafted import DraftedPanel
from handkit.geometry.affine import Point
from handkit.geometry.box import Box, around


class LeafLaying(msgspec.Struct, frozen=True):
    """What is to lie on one face: its leaves, the raster, how far leather keeps off their edges; what is
    stated, on either face; what is free, the large first; whether the face is that behind; how many better
    ways are left out on each leaf."""

    leaves: tuple[DraftedPanel, ...]
    raster: Steps
    keep: float
    stated: tuple[PartGround, ...]
    free: tuple[PartGround, ...]
    behind: bool
    rank: int = 0

    @property
    def gap(self) -> int:
        """Between two boxes, which have their leather's margin already, in steps."""
        return self.raster.up(max(0.0, GAP - self.keep))

    def size(self, leaf: DraftedPanel) -> Place:
        """How wide and how high a leaf is, in steps."""
        left, low, right, top = self._inner(leaf)
        return right - left, top - low

    def placed(self, leaf: DraftedPanel, held: Sequence[PartGround]) -> tuple[Place, ...] | None:
        """Where parts lie on a leaf; None where it has no room for all of them."""
        if not held:
            return ()
        boxes = self._boxes(leaf, held)
        return placed_on_leaf(boxes, self.size(leaf), self.gap, self._beyond(leaf, boxes), self.rank)

    def growth(self, index: int, held: Sequence[PartGround], axes: tuple[int, int]) -> Place:
        """By how much a leaf is to grow along some axes, so that parts lie on it; 0 where it can't."""
        leaf = self.leaves[index]
        boxes = self._boxes(leaf, held)
        return least_growth(boxes, self.size(leaf), self.gap, self._beyond(leaf, boxes), axes)

    def still(self, ground: PartGround, *, fixed: bool = False) -> Box:
        """What a part takes, with the leather that it keeps off edges; without its turned things' way."""
        still = ground.still or ground.box
        return still if fixed else around([still, (ground.leather or still).grown(self.keep)])

    def at(self, leaf: DraftedPanel, ground: PartGround, place: Place) -> Point:
        """The place of a part whose box lies so on a leaf."""
        (left, low, _, _), still = self._inner(leaf), self.still(ground)
        x, y = left + place[0] - self.raster.down(still.left), low + place[1] - self.raster.down(still.bottom)
        return (x * self.raster.step, y * self.raster.step)

    def _inner(self, leaf: DraftedPanel) -> tuple[int, int, int, int]:
        """A leaf in whole steps, no larger than it is."""
        box, up, down = leaf.box, self.raster.up, self.raster.down
        return up(box.left), up(box.bottom), down(box.right), down(box.top)

    def _boxes(self, leaf: DraftedPanel, free: Sequence[PartGround]) -> list[LeafBox]:
        """What lies on a leaf as boxes in its frame: what is stated there, then what is free."""
        there = self._there(leaf, behind=self.behind)
        return [*(self._box(each, fixed=True) for each in there), *(self._box(each) for each in free)]

    def _there(self, leaf: DraftedPanel, *, behind: bool) -> list[PartGround]:
        left, low, _, _ = self._inner(leaf)
        by = (-left * self.raster.step, -low * self.raster.step)
        stated = (each for each in self.stated if each.behind is behind)
        return [shifted(each, by) for each in stated if each.box.meets(leaf.box)]

    def _beyond(self, leaf: DraftedPanel, boxes: Sequence[LeafBox]) -> StatedBehind | None:
        """What lies on the other face of a leaf, which these boxes keep off."""
        other = [self._box(each, fixed=True).box for each in self._there(leaf, behind=not self.behind)]
        if not other:
            return None
        own = [msgspec.structs.replace(each.box, behind=False) for each in boxes]
        both = [*own, *(msgspec.structs.replace(box, behind=True) for box in other)]
        top = sum(box.high + self.gap for box in both) + self.size(leaf)[1]
        return StatedBehind(both, pairs_of(both), tuple(range(len(own))), top, {})

    def _box(self, ground: PartGround, *, fixed: bool = False) -> LeafBox:
        still = self.still(ground, fixed=fixed)
        box = self.raster.box(msgspec.structs.replace(ground, box=still), fixed=fixed)
        left, low = self.raster.down(still.left), self.raster.down(still.bottom)
        return LeafBox(box, self.raster.rectangle(around([still, ground.box]), left, low))


class SharedOut(msgspec.Struct, frozen=True):
    """What lies on each leaf, the same as it was before the first part that has no room; what has none."""

    on: tuple[tuple[PartGround, ...], ...]
    before: tuple[tuple[PartGround, ...], ...]
    without: tuple[PartGround, ...]

    def places(self, laying: LeafLaying) -> Iterator[tuple[str, Point]]:
        """Where each part lies that has room."""
        for leaf, held in zip(laying.leaves, self.on, strict=True):
            for ground, place in zip(held, laying.placed(leaf, held) or (), strict=True):
                yield ground.part, laying.at(leaf, ground, place)


def shared_out(laying: LeafLaying) -> SharedOut:
    """Each part on the first leaf that has room for it."""
    on: list[tuple[PartGround, ...]] = [() for _ in laying.leaves]
    before, without = tuple(on), list[PartGround]()
    for ground in laying.free:
        rooms = (
            k for k, held in enumerate(on) if laying.placed(laying.leaves[k], (*held, ground)) is not None
        )
        index = next(rooms, None)
        if index is None:
            before = before if without else tuple(on)
            without.append(ground)
        else:
            on[index] = (*on[index], ground)
    return SharedOut(tuple(on), before, tuple(without))
