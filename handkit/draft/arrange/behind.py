"""Behind: what lies on a base's other face, under what lies on the front.

In: all boxes, a packing of those in front, how much all keeps off. Out: a packing of all. In whole steps.

Loops for a belt lie level and as far from the middle on one side as on the other, so that what hangs by them
hangs straight (`spots.py`). Whatever else is behind lies in the middle before it lies aside. All lies high
before it lies low, and things end over the belt, where a hand finds them. Rows of the two faces keep off one
another (`faced.py`). Where there is no room for that, the base grows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product
from math import inf

import msgspec

from handkit.draft.arrange.faced import Faced, Pairs
from handkit.draft.arrange.packing import PackedBox, Packing, Place, measured
from handkit.draft.arrange.spots import Behind, Spot, clear_heights

# What it costs that all in front lies aside of the middle, each step, in steps that what is behind might lie
# higher in its stead.
UNEVEN = 0.5

# As a share of the base: what each step of those costs when bases are weighed against one another.
WEIGHED = 0.0002

# What a place costs where a bare blade is drawn over the row that a flap is sewn on by, in steps that it
# might lie higher in its stead: a base may grow by a twentieth for one that is not.
OVER_FLAP_ROW = 250.0

# So much wider or higher a base is tried, steps.
GROWN = (0, 6, 12, 24, 40, 60, 90, 130)


class Spare(msgspec.Struct, frozen=True):
    """How far all keeps off: boxes of one another, of the base's edge, of its upper edge where a flap is sewn
    on behind, and of its sides where that ends (0: there is none)."""

    gap: int
    margin: int
    flap: int = 0
    sides: int = 0

    @property
    def under_flap(self) -> int:
        """How far under what boxes have for themselves those in front end."""
        return max(0, self.flap - self.margin)

    @property
    def beside_flap(self) -> int:
        """How far beside what boxes have for themselves those in front end, so that the flap covers them."""
        return max(0, self.sides - self.margin)

    @property
    def behind_flap(self) -> int:
        """The same behind."""
        return max(0, self.flap + self.gap - self.margin) if self.flap else 0


class _Room(msgspec.Struct, frozen=True):
    """Where all behind is to lie: how wide and high it is, how far aside the packing in front begins; where
    a flap is sewn on there."""

    wide: int
    high: int
    aside: int
    flap: tuple[int, int, int] | None  # where a flap is sewn on: from its left to its right, from how high on


def with_behind(
    boxes: Sequence[PackedBox], pairs: Pairs, way: Packing, spare: Spare, most: float = inf
) -> Packing | None:
    """All boxes: those in front as they are packed, the others behind, on the least base that has room; None
    where none has, for what keeps its place, or that takes as much as `most`. `pairs` are of the boxes."""
    front = [index for index, box in enumerate(boxes) if not box.behind]
    back = [index for index, box in enumerate(boxes) if box.behind]
    stays = {index: at for index in back if (at := boxes[index].fixed) is not None}
    sizes = _sizes(boxes, back, way, spare)
    in_front = dict(zip(front, way.places, strict=True))
    faced = Faced(pairs, in_front, max(high for _, high in sizes), {})
    behind = Behind(boxes, faced, spare.gap, {})
    orders = _orders(boxes, [index for index in back if index not in stays])
    best, least = None, most
    for wide, high in sizes:
        if wide * high >= least:
            break
        for aside in _asides(boxes, wide - way.wide):
            beside = spare.beside_flap
            flap = (beside, wide - beside, high - spare.under_flap) if spare.flap else None
            room = _Room(wide, high - spare.behind_flap, aside, flap)
            if any(behind.places(group, wide, aside).least > room.high for group in orders[0]):
                continue
            uneven = UNEVEN * abs(2 * aside - wide + way.wide) / 2
            for order in orders:
                dearest = (least / (wide * high) - 1) / WEIGHED - uneven
                found = _laid(behind, stays, order, room, dearest)
                if found is not None:
                    least = wide * high * (1 + WEIGHED * (found[1] + uneven))
                    places = found[0] | {k: (x + aside, y) for k, (x, y) in in_front.items()}
                    laid = tuple(places[index] for index in range(len(boxes)))
                    best = measured(boxes, laid, spare.gap, least=(wide, high))
                    best = msgspec.structs.replace(best, behind=WEIGHED * (found[1] + uneven))
    return best


def _asides(boxes: Sequence[PackedBox], more: int) -> Sequence[int]:
    """Where the packing in front may begin on a base that is so much wider."""
    if any(box.fixed is not None for box in boxes):
        return (0,)
    if any(box.foot for box in boxes):
        return (more // 2,)
    return tuple(dict.fromkeys((more // 2, 0, more)))


# Boxes that are laid at once.
Group = tuple[int, ...]


def _orders(boxes: Sequence[PackedBox], free: Sequence[int]) -> tuple[tuple[Group, ...], ...]:
    """In which orders what is free is laid, all loops at once: the large first, the loops last or first."""
    others = sorted((k for k in free if not boxes[k].belt), key=lambda k: (-boxes[k].wide * boxes[k].high, k))
    single = tuple((k,) for k in others)
    loops = tuple(k for k in free if boxes[k].belt)
    return tuple(dict.fromkeys(((*single, loops), (loops, *single)))) if loops else (single,)


def _sizes(
    boxes: Sequence[PackedBox], back: Sequence[int], way: Packing, spare: Spare
) -> list[tuple[int, int]]:
    """Bases, the least first; the last of them has room for all behind over and beside all in front."""
    all_wide = sum(boxes[k].wide + spare.gap for k in back)
    highest = max(boxes[k].high for k in back) + spare.behind_flap
    wide, high = max(way.wide, *(boxes[k].wide for k in back)), max(way.high, highest)
    wides = {wide + more for more in GROWN} | {wide + all_wide, wide + 2 * all_wide}
    highs = {high + more for more in GROWN} | {high + 2 * highest}
    return sorted(product(sorted(wides), sorted(highs)), key=lambda each: each[0] * each[1])


Found = tuple[dict[int, Place], float]


def _laid(
    behind: Behind, stays: Mapping[int, Place], order: Sequence[Group], room: _Room, most: float
) -> Found | None:
    """What is behind laid in a room, and what it costs; None where it has none, or that is as much as
    `most`."""
    found, cost = dict(stays), 0.0
    for group in order:
        best = _best(behind, found, group, room, most - cost)
        if best is None:
            return None
        found |= best[0]
        cost += best[1]
    return found, cost


def _best(behind: Behind, laid: Mapping[int, Place], group: Group, room: _Room, most: float) -> Found | None:
    """The best place of a group, the higher the better; None where none costs less than `most`."""
    best = None
    places = behind.places(group, room.wide, room.aside)
    upmost = room.high - places.high
    within = (1 << upmost + 1) - 1
    for each in places.listed:
        if each.cost >= most:
            break
        clear = within & clear_heights(behind.boxes, each.spots, laid, behind.gap)
        drawn_over = _over_flap_row(behind.boxes, each.spots, room)
        for price, heights in each.heights:
            for more, some in ((0.0, ~drawn_over), (OVER_FLAP_ROW, drawn_over)):
                at = heights & clear & some
                whole = each.cost + price + more + upmost - at.bit_length() + 1
                if at and whole < most:
                    most, y = whole, at.bit_length() - 1
                    best = {spot.index: (spot.x, y + spot.lift) for spot in each.spots}, whole
    return best


def _over_flap_row(boxes: Sequence[PackedBox], spots: Sequence[Spot], room: _Room) -> int:
    """At which heights a bare blade is drawn over what a flap is sewn on by; each is a bit."""
    if room.flap is None:
        return 0
    first, last, low = room.flap
    tops = [
        spot.lift + top
        for spot in spots
        for left, _, right, top in boxes[spot.index].bared
        if spot.x + left < last and first < spot.x + right
    ]
    return -1 << max(0, low - max(tops) + 1) if tops else 0
