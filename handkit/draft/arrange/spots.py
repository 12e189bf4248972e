"""Spots: where aside what is behind may lie, and at which heights.

In: boxes behind, what lies in front of them. Out: for each place aside what it costs, and which heights there
cost what. In whole steps.

Loops for a belt are one group: their middles lie level, and as far from the middle of the base on one side as
on the other. Any other box is a group by itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.draft.arrange.faced import Faced, Priced
from handkit.draft.arrange.packing import PackedBox, Place, apart

# How far apart the places aside are that are tried, steps.
STRIDE = 4

# What a place costs, in steps that it might lie higher in its stead: aside of the middle, each step; loops
# nearer to the middle, each step.
ASIDE, TOGETHER = 0.5, 0.2


class Spot(msgspec.Struct, frozen=True):
    """Of one box of a group: how far aside it lies, and how far over the foot of the group."""

    index: int
    x: int
    lift: int = 0


class Spots(msgspec.Struct, frozen=True):
    """Of a whole group: what they cost, and which heights of its foot cost what, the cheap first."""

    cost: float
    spots: tuple[Spot, ...]
    heights: tuple[Priced, ...]


class Places(msgspec.Struct, frozen=True):
    """Where a group may lie on a base so wide, the cheap first; how high the group is, how high the base is
    at the least."""

    listed: tuple[Spots, ...]
    high: int
    least: int


class Behind(msgspec.Struct, frozen=True):
    """What is behind, seen from a packing in front; what is `known` of its places: for each group, width of
    the base, and how far aside the packing in front begins."""

    boxes: Sequence[PackedBox]
    faced: Faced
    gap: int
    known: dict[tuple[tuple[int, ...], int, int], Places]

    def places(self, group: tuple[int, ...], wide: int, aside: int) -> Places:
        """Where a group may lie by what is in front."""
        if (group, wide, aside) not in self.known:
            found = [
                Spots(cost, spots, heights)
                for cost, spots in self._asides(group, wide)
                if (heights := self._heights(spots, aside))
            ]
            lows = (heights & -heights for each in found for _, heights in each.heights)
            lowest = min(lows, default=1 << self.faced.top).bit_length() - 1
            highest = max(self.boxes[index].high for index in group)
            ranked = tuple(sorted(found, key=lambda each: each.cost))
            self.known[group, wide, aside] = Places(ranked, highest, lowest + highest)
        return self.known[group, wide, aside]

    def _asides(self, group: tuple[int, ...], wide: int) -> Iterator[tuple[float, tuple[Spot, ...]]]:
        if self.boxes[group[0]].belt:
            return _level(self.boxes, group, wide, self.gap)
        return _anywhere(self.boxes, group[0], wide)

    def _heights(self, spots: Sequence[Spot], aside: int) -> tuple[Priced, ...]:
        """At which heights a whole group may lie."""
        found: dict[float, int] = {0.0: -1}
        for spot in spots:
            both: dict[float, int] = {}
            for more, own in self.faced.heights(spot.index, spot.x - aside):
                for price, heights in found.items():
                    common = heights & own >> spot.lift
                    both[price + more] = both.get(price + more, 0) | common
            found = both
        return tuple(sorted((price, heights) for price, heights in found.items() if heights))


def _level(
    boxes: Sequence[PackedBox], group: Sequence[int], wide: int, gap: int
) -> Iterator[tuple[float, tuple[Spot, ...]]]:
    """Loops in a level row, spread evenly about the middle."""
    widest, highest = max(boxes[k].wide for k in group), max(boxes[k].high for k in group)
    between = len(group) - 1
    most = (wide - (between + 1) * widest - between * gap) // 2 if between else 0
    for aside in range(0, most + 1, STRIDE):
        span = wide - widest - 2 * aside
        lefts = [aside + span * k // between for k in range(between + 1)] if between else [span // 2]
        yield (
            TOGETHER * aside,
            tuple(
                Spot(index, x + (widest - boxes[index].wide) // 2, (highest - boxes[index].high) // 2)
                for index, x in zip(group, lefts, strict=True)
            ),
        )


def _anywhere(boxes: Sequence[PackedBox], index: int, wide: int) -> Iterator[tuple[float, tuple[Spot, ...]]]:
    """One box, wherever there is room for it aside."""
    box = boxes[index]
    middle = wide - box.leather[0] - box.leather[2]
    least = min(wide - box.wide, max(0, middle // 2))
    for x in (*range(least, -1, -STRIDE), *range(least + STRIDE, wide - box.wide + 1, STRIDE)):
        yield ASIDE * abs(2 * x - middle) / 2, (Spot(index, x),)


def clear_heights(
    boxes: Sequence[PackedBox], spots: Sequence[Spot], laid: Mapping[int, Place], gap: int
) -> int:
    """At which heights a group is clear of all that lies behind, and things are drawn out over the belt; as a
    whole number whose bits are heights, endless ones of them where nothing bars what is high."""
    found = -1
    for spot in spots:
        for index, (left, low) in laid.items():
            found &= _clear(boxes[spot.index], boxes[index], (left - spot.x, low), gap) >> spot.lift
    return found


def _clear(box: PackedBox, other: PackedBox, at: Place, gap: int) -> int:
    """At which heights a box is clear of another, which lies so far aside of it and so high."""
    found, (shift, low) = -1, at
    if other.belt:
        over = 2 * low + other.high + other.belt
        least = max((-((2 * lane.end - over) // 2) for lane in box.lanes), default=0)
        found &= -1 << max(0, least)
    if box.belt and other.lanes:
        most = min((2 * (low + lane.end) - box.high - box.belt) // 2 for lane in other.lanes)
        found &= (1 << max(0, most + 1)) - 1
    if shift < box.wide + gap and -shift < other.wide + gap:
        under = max(0, low - box.high - apart(box, other, shift, gap) + 1)
        over = max(under, low + other.high + apart(other, box, -shift, gap))
        found &= ~((1 << over) - (1 << under))
    return found
