"""Behind: what lies on a base's other face, under what lies on the front.

In: all boxes, a packing of those in front, how much all keeps off. Out: a packing of all. In whole steps.

Loops for a belt lie with both ends level, as high as they may and as far from the middle on one side as on
the other, so that what hangs by them hangs straight. Whatever else is behind lies in the middle before it
lies aside, and high before it lies low; its things end over the belt, where a hand finds them. Where
rows go through the base under the other face's leather, that waits for them (`stitch/order/reach.py`): never
do both of two boxes wait for each other, and better neither does. Rows of both faces keep clear of one
another, and of things. Where there is no room for that, the base grows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from math import inf

import msgspec

from handkit.draft.arrange.packing import PackedBox, Packing, apart, measured
from handkit.draft.arrange.shifts import Shifts, onto

# How far apart the places are that are tried, steps.
STRIDE = 4

# What a place costs, in steps that it might lie higher in its stead: rows that the leather behind waits for,
# rows under the leather in front; aside of the middle, each step; loops nearer to the middle, each step.
UNDER_BEHIND, UNDER_FRONT, ASIDE, TOGETHER = 40.0, 15.0, 0.5, 0.2

# As a share of the base: what each step of those costs when bases are weighed against one another.
WEIGHED = 0.0002

# So much wider or higher a base is tried, steps.
GROWN = (0, 6, 12, 24, 40, 60, 90, 130)

Place = tuple[int, int]
Put = tuple[PackedBox, int, int]


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


class _Through(msgspec.Struct, frozen=True):
    """A box in front, where it lies, and by how far one behind is shifted from there so that rows go through
    the base under leather: those in front under that behind, which waits for them; those behind under that in
    front; and so that they meet, or thread would lie under things."""

    at: Place
    waits: Shifts
    lies: Shifts
    never: tuple[Shifts, ...]

    def cost(self, at: Place) -> float | None:
        """What that costs at a place; None where they meet, or two boxes wait for each other."""
        shift = at[0] - self.at[0], at[1] - self.at[1]
        waits, lies = self.waits.has(*shift), self.lies.has(*shift)
        if (waits and lies) or any(each.has(*shift) for each in self.never):
            return None
        return UNDER_BEHIND * waits + UNDER_FRONT * lies


class _Front(msgspec.Struct, frozen=True):
    """What lies in front, as it is packed, seen by each box behind, and what places cost that are `known`."""

    seen: dict[int, tuple[_Through, ...]]
    known: dict[tuple[int, Place], float | None]

    def cost(self, index: int, at: Place) -> float | None:
        """Of a box behind, seen from the packing; None where it can't lie there."""
        if (index, at) not in self.known:
            costs = [each.cost(at) for each in self.seen[index]]
            self.known[index, at] = None if None in costs else sum(cost for cost in costs if cost is not None)
        return self.known[index, at]


class _Room(msgspec.Struct, frozen=True):
    """Where all behind is to lie: how wide and high it is, between two boxes, how far aside the packing in
    front begins."""

    wide: int
    high: int
    gap: int
    aside: int


def with_behind(
    boxes: Sequence[PackedBox], front: Sequence[int], way: Packing, spare: Spare
) -> Packing | None:
    """All boxes: those in front as they are packed, the others behind, on the least base that has room; None
    where none has, for what keeps its place."""
    back = [index for index in range(len(boxes)) if index not in front]
    free = [index for index in back if boxes[index].fixed is None]
    others = sorted((k for k in free if not boxes[k].belt), key=lambda k: (-boxes[k].wide * boxes[k].high, k))
    loops, single = [k for k in free if boxes[k].belt], [[k] for k in others]
    orders = ([*single, loops], [loops, *single]) if loops else (single,)
    stays = {index: at for index in back if (at := boxes[index].fixed) is not None}
    put = [(boxes[k], at) for k, at in zip(front, way.places, strict=True)]
    faced = _Front({k: _through(put, boxes[k]) for k in free}, {})
    fixed, best, least = any(box.fixed is not None for box in boxes), None, inf
    for wide, high in _sizes(boxes, back, way, spare):
        if wide * high >= least:
            break
        aside = 0 if fixed else (wide - way.wide) // 2
        room = _Room(wide, high - spare.behind_flap, spare.gap, aside)
        for order in orders:
            found = _laid(boxes, stays, faced, order, room)
            if found is not None and wide * high * (1 + WEIGHED * found[1]) < least:
                least = wide * high * (1 + WEIGHED * found[1])
                places = found[0] | {k: (x + aside, y) for k, (x, y) in zip(front, way.places, strict=True)}
                laid = tuple(places[index] for index in range(len(boxes)))
                best = measured(boxes, laid, spare.gap, least=(wide, high))
    return best


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
    boxes: Sequence[PackedBox],
    stays: dict[int, Place],
    front: _Front,
    order: Sequence[Sequence[int]],
    room: _Room,
) -> Found | None:
    """What is behind laid in a room, and what it costs; None where it has none."""
    found, cost = dict(stays), 0.0
    for members in order:
        best = _best(boxes, found, front, members, room)
        if best is None:
            return None
        found |= best[0]
        cost += best[1]
    return found, cost


def _best(
    boxes: Sequence[PackedBox],
    laid: dict[int, Place],
    front: _Front,
    members: Sequence[int],
    room: _Room,
) -> Found | None:
    """The best place of one box, or of all loops together."""
    beside = [(boxes[index], *at) for index, at in laid.items()]
    places = _level(boxes, members, room) if boxes[members[0]].belt else _anywhere(boxes[members[0]], room)
    best: Found | None = None
    for cost, spots in sorted(places, key=lambda each: each[0]):
        if best is not None and cost >= best[1]:
            break
        whole = cost
        for index, (x, y) in zip(members, spots, strict=True):
            more = front.cost(index, (x - room.aside, y))
            if more is None or not all(_clear((boxes[index], x, y), other, room.gap) for other in beside):
                break
            whole += more
        else:
            if best is None or whole < best[1]:
                best = dict(zip(members, spots, strict=True)), whole
    return best


Priced = tuple[float, tuple[Place, ...]]


def _level(boxes: Sequence[PackedBox], members: Sequence[int], room: _Room) -> Iterator[Priced]:
    """Loops in a level row, spread evenly about the middle."""
    wide, high, gap = room.wide, room.high, room.gap
    widest, highest = max(boxes[k].wide for k in members), max(boxes[k].high for k in members)
    between = len(members) - 1
    most = (wide - (between + 1) * widest - between * gap) // 2 if between else 0
    for aside, y in product(range(0, most + 1, STRIDE), range(high - highest, -1, -STRIDE)):
        span = wide - widest - 2 * aside
        lefts = (
            [aside + span * k // between for k in range(between + 1)] if between else [(wide - widest) // 2]
        )
        yield high - highest - y + TOGETHER * aside, tuple((x, y) for x in lefts)


def _anywhere(box: PackedBox, room: _Room) -> Iterator[Priced]:
    wide, high = room.wide, room.high
    middle = wide - box.leather[0] - box.leather[2]
    least = min(wide - box.wide, max(0, middle // 2))
    for x, y in product(
        [*range(least, -1, -STRIDE), *range(least + STRIDE, wide - box.wide + 1, STRIDE)],
        range(high - box.high, -1, -STRIDE),
    ):
        yield high - box.high - y + ASIDE * abs(2 * x - middle) / 2, ((x, y),)


def _clear(one: Put, other: Put, gap: int) -> bool:
    """Whether two behind are clear of each other, and things are drawn out over the belt."""
    (low, ax, ay), (up, bx, by) = sorted((one, other), key=lambda put: put[2])
    for belt, loop_y, holder, y in ((low, ay, up, by), (up, by, low, ay)):
        over = 2 * loop_y + belt.high + belt.belt
        if belt.belt and any(2 * (y + lane.end) < over for lane in holder.lanes):
            return False
    shift = bx - ax
    if shift >= low.wide + gap or -shift >= up.wide + gap:
        return True
    return by >= ay + low.high + apart(low, up, shift, gap)


def _through(front: Sequence[tuple[PackedBox, Place]], behind: PackedBox) -> tuple[_Through, ...]:
    """What of a box behind comes to lie over what of those in front."""
    return tuple(
        _Through(
            at,
            waits=onto([behind.leather], one.rows),
            lies=onto(behind.rows, [one.leather]),
            never=(onto(behind.rows, (*one.things, *one.rows)), onto(behind.things, one.rows)),
        )
        for one, at in front
    )
