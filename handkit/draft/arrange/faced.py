"""Faced: what a place behind costs for what lies in front of it.

In: boxes of both faces, a packing of those in front. Out: for each step aside, which heights cost what. In
whole steps.

Where rows go through the base under the other face's leather, that waits for them (`stitch/order/reach.py`):
never do both of two boxes wait for each other, and better neither does. Rows of both faces keep clear of one
another, and of things.

Heights are a whole number, whose bits are the steps up: what all of them cost is asked at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.draft.arrange.packing import PackedBox, Place, crossing
from handkit.draft.arrange.shifts import Shifts, onto

# What a place costs, in steps that it might lie higher in its stead: rows that the leather behind waits for;
# rows under the leather in front.
UNDER_BEHIND, UNDER_FRONT = 40.0, 15.0

# What some heights cost, each of which is a bit.
Priced = tuple[float, int]


class Through(msgspec.Struct, frozen=True):
    """By how far a box behind is shifted from one in front so that rows meet, or lie under things or on a
    blade's way; so that
    rows in front go under leather behind, which waits for them; so that those behind go under that in
    front."""

    never: Shifts
    waits: Shifts
    lies: Shifts


Pairs = Mapping[tuple[int, int], Through]


def pairs_of(boxes: Sequence[PackedBox]) -> Pairs:
    """Of each box in front with each behind, by their numbers, unless both are fixed: what comes to lie over
    what."""
    return {
        (k, index): _through(one, behind)
        for k, one in enumerate(boxes)
        if not one.behind
        for index, behind in enumerate(boxes)
        if behind.behind and (behind.fixed is None or one.fixed is None)
    }


def _through(one: PackedBox, behind: PackedBox) -> Through:
    return Through(
        onto(crossing(behind, one)),
        onto((((behind.leather,), one.rows),)),
        onto(((behind.rows, (one.leather,)),)),
    )


class Faced(msgspec.Struct, frozen=True):
    """What lies in front, as it is packed, seen from behind, where none lies as high as `top`; what is
    `known` of it."""

    pairs: Pairs
    front: Mapping[int, Place]
    top: int
    known: dict[tuple[int, int], tuple[Priced, ...]]

    def heights(self, index: int, x: int) -> tuple[Priced, ...]:
        """At which heights a box may lie so far aside, and what they cost; the cheap first."""
        if (index, x) not in self.known:
            self.known[index, x] = self._heights(index, x)
        return self.known[index, x]

    def _heights(self, index: int, x: int) -> tuple[Priced, ...]:
        found = {0.0: (1 << self.top) - 1}
        for k, (left, low) in self.front.items():
            pair = self.pairs[k, index]
            waits, lies = pair.waits.heights(x - left, low), pair.lies.heights(x - left, low)
            found = _without(found, pair.never.heights(x - left, low) | (waits & lies))
            found = _dearer(found, UNDER_BEHIND, waits)
            found = _dearer(found, UNDER_FRONT, lies)
        return tuple(sorted(found.items()))


def _without(found: dict[float, int], barred: int) -> dict[float, int]:
    return {price: left for price, bits in found.items() if (left := bits & ~barred)}


def _dearer(found: dict[float, int], more: float, where: int) -> dict[float, int]:
    """The same, some of them dearer."""
    if not where:
        return found
    dearer = _without(found, where)
    for price, bits in found.items():
        if bits & where:
            dearer[price + more] = dearer.get(price + more, 0) | (bits & where)
    return dearer


class StatedBehind(msgspec.Struct, frozen=True):
    """What is fixed behind, seen from boxes in front, which lie no higher than `top`: the boxes, those in
    front by their numbers among them; what is `known` of it."""

    boxes: Sequence[PackedBox]
    pairs: Pairs
    front: tuple[int, ...]
    top: int
    known: dict[tuple[int, int], int]

    def barred(self, index: int, x: int) -> int:
        """At which heights a box in front meets rows of what is fixed, or waits for what waits for it."""
        if (index, x) not in self.known:
            number, bits = self.front[index], 0
            for (k, behind), pair in self.pairs.items():
                at = self.boxes[behind].fixed
                if k == number and at is not None:
                    bits |= sum(1 << y for y in range(self.top) if _in_the_way(pair, (at[0] - x, y - at[1])))
            self.known[index, x] = bits
        return self.known[index, x]

    def beside(self, box: PackedBox, gap: int) -> Iterator[int]:
        """On either side of what is fixed."""
        for other in self.boxes:
            if other.behind and other.fixed is not None:
                yield from (other.fixed[0] + other.wide + gap, other.fixed[0] - gap - box.wide)

    @property
    def reach(self) -> int:
        """How far to the right it goes."""
        fixed = [(box, box.fixed) for box in self.boxes if box.behind]
        return max((at[0] + box.wide for box, at in fixed if at is not None), default=0)

    def clear(self, places: Sequence[Place]) -> bool:
        """Whether all in front, so packed, keeps off it."""
        return not any(self.barred(k, x) >> y & 1 for k, (x, y) in enumerate(places))


def _in_the_way(pair: Through, at: Place) -> bool:
    """Whether a box behind may not lie so far aside of one in front that begins so low under it."""
    never, waits, lies = (each.heights(*at) & 1 for each in (pair.never, pair.waits, pair.lies))
    return bool(never or (waits and lies))
