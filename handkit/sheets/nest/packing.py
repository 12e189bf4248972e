"""Packing: boxes onto few equal pages.

In: boxes by width and height in mm, the page, the gap between boxes. Out: for each box its page,
its lower left corner on it, and whether it is turned by a quarter.

The rule: keep of each page all greatest free rectangles; a box goes to the first page that has a
place for it, into the free rectangle whose shorter side it leaves least of (`SNUG`), or to the
lowest place (`LOW`); unturned rather than turned, left rather than right. Both are tried with
several orders of the boxes, and the first that takes fewest pages is kept. Chosen over shelves,
which waste the height of the tallest box, and over a skyline, which loses what lies under a step.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import Enum
from itertools import product
from math import ceil
from operator import itemgetter

import msgspec

from handkit.geometry.box import Box

# Rounding noise of sums of thousandths.
NOISE = 1e-6


class Size(msgspec.Struct, frozen=True):
    """What is to be packed."""

    width: float
    height: float


class BoxPlacement(msgspec.Struct, frozen=True):
    """Where a box has come to lie: page from 0, lower left corner, turned by a quarter or not."""

    page: int
    left: float
    bottom: float
    turned: bool


class PackingRule(Enum):
    """Which of several free places a box takes."""

    SNUG = "leaves least beside it"
    LOW = "lies lowest"


ORDERS: tuple[Callable[[Size], tuple[float, ...]], ...] = (
    lambda size: (max(size.width, size.height), min(size.width, size.height)),
    lambda size: (size.width * size.height, max(size.width, size.height)),
    lambda size: (min(size.width, size.height), max(size.width, size.height)),
    lambda size: (size.width + size.height, max(size.width, size.height)),
)


def pack(
    sizes: Sequence[Size], *, page: Size, gap: float, most_pages: int | None = None
) -> tuple[BoxPlacement, ...]:
    """A placement for each box, in the order given; none where they take more than `most_pages`. Raises
    ValueError for a box larger than the page.

    >>> sizes = [Size(60, 90), Size(30, 90), Size(50, 50)]
    >>> [placement.page for placement in pack(sizes, page=Size(92, 100), gap=2)]
    [0, 0, 1]
    """
    best: tuple[BoxPlacement, ...] = ()
    fewest = _fewest(sizes, page=page, gap=gap)
    if most_pages is not None and fewest > most_pages:
        return ()
    tried: set[tuple[PackingRule, tuple[Size, ...]]] = set()
    for turn, rule in product(turns_of(sizes), PackingRule):
        if best and _pages(best) <= fewest:
            break
        queue = tuple(sizes[index] for index in turn)
        if (rule, queue) in tried:  # alike boxes come in the same order by many a measure
            continue
        tried.add((rule, queue))
        placements = packed(queue, page=page, gap=gap, rule=rule, most_pages=most_pages)
        if placements:
            most_pages = _pages(placements) - 1  # as many are of no use any more
            best = tuple(one for _, one in sorted(zip(turn, placements, strict=True), key=itemgetter(0)))
    return best


def turns_of(sizes: Sequence[Size]) -> list[list[int]]:
    """The orders in which boxes are put down, by their numbers."""
    unlike = dict.fromkeys(sizes)
    turns = []
    for order in ORDERS:
        ranks = {size: tuple(-round(value, 6) for value in order(size)) for size in unlike}
        listed = [ranks[size] for size in sizes]
        turns.append(sorted(range(len(sizes)), key=listed.__getitem__))
    return turns


def _fewest(sizes: Sequence[Size], *, page: Size, gap: float) -> int:
    """Pages below which the areas alone do not fit."""
    area = sum((size.width + gap) * (size.height + gap) for size in sizes)
    return ceil(area / ((page.width + gap) * (page.height + gap)) - NOISE)


def _pages(placements: Sequence[BoxPlacement]) -> int:
    return max((placement.page for placement in placements), default=-1) + 1


def packed(
    sizes: Sequence[Size], *, page: Size, gap: float, rule: PackingRule, most_pages: int | None = None
) -> list[BoxPlacement]:
    """Boxes put down in the order given, by one rule: each, and the page, one gap wider and higher; none as
    soon as they take more than `most_pages`."""
    pages: list[list[Box]] = []
    placements: list[BoxPlacement] = []
    full: dict[Size, int] = {}  # so many pages from the first have no room for a size, and never will
    for one in sizes:
        size = Size(one.width + gap, one.height + gap)
        open_pages = range(full.get(size, 0), len(pages))
        places = ((number, _best_place(pages[number], size, rule)) for number in open_pages)
        found = next(((number, placement) for number, placement in places if placement), None)
        if found is None:
            if most_pages is not None and len(pages) >= most_pages:
                return []
            pages.append([Box(0.0, 0.0, page.width + gap, page.height + gap)])
            placement = _best_place(pages[-1], size, rule)
            if placement is None:
                raise ValueError(f"a box of {one} is larger than the page {page}")
            found = (len(pages) - 1, placement)
        number, (box, turned) = found
        full[size] = number
        pages[number] = _without(pages[number], box)
        placements.append(BoxPlacement(number, round(box.left, 3), round(box.bottom, 3), turned))
    return placements


def _best_place(free: Sequence[Box], size: Size, rule: PackingRule) -> tuple[Box, bool] | None:
    """The box's place among free rectangles and whether it is turned there, or None."""
    best: tuple[tuple[float, ...], Box, bool] | None = None
    ways = ((size.width, size.height), (size.height, size.width))[: 1 + (size.width != size.height)]
    for room in free:
        wide, high = room.right - room.left, room.top - room.bottom
        for turned, (width, height) in enumerate(ways):
            if wide - width < -NOISE or high - height < -NOISE:
                continue
            over = round(min(wide - width, high - height), 3)
            first = over if rule is PackingRule.SNUG else round(room.bottom, 3)
            if best is not None and first > best[0][0]:
                continue
            snug = (over, float(turned), round(room.bottom, 3), round(room.left, 3))
            rank = snug if rule is PackingRule.SNUG else (first, float(turned), *snug)
            if best is None or rank < best[0]:
                best = (rank, room, bool(turned))
    if best is None:
        return None
    _, room, across = best
    width, height = ways[across]
    return Box(room.left, room.bottom, room.left + width, room.bottom + height), across


def _without(free: Sequence[Box], taken: Box) -> list[Box]:
    """The greatest free rectangles once a box is taken out of them. Of those that it leaves as they are none
    is held by another, nor by a part of one."""
    kept: list[tuple[Box, bool]] = []
    for room in free:
        left = _around_taken(room, taken)
        kept += ((each, each is not room) for each in left)
    return [
        room
        for index, (room, cut) in enumerate(kept)
        if not cut
        or not any(
            _holds(other, room) and (other != room or k < index)
            for k, (other, _) in enumerate(kept)
            if k != index
        )
    ]


def _around_taken(room: Box, taken: Box) -> list[Box]:
    """What is left of a free rectangle on each side of a box: up to four, that may overlap."""
    apart = (
        taken.right <= room.left + NOISE
        or taken.left >= room.right - NOISE
        or taken.top <= room.bottom + NOISE
        or taken.bottom >= room.top - NOISE
    )
    if apart:
        return [room]
    sides = (
        Box(room.left, room.bottom, taken.left, room.top),
        Box(taken.right, room.bottom, room.right, room.top),
        Box(room.left, room.bottom, room.right, taken.bottom),
        Box(room.left, taken.top, room.right, room.top),
    )
    return [side for side in sides if side.width > NOISE and side.height > NOISE]


def _holds(outer: Box, inner: Box) -> bool:
    return (
        outer.left <= inner.left + NOISE
        and outer.bottom <= inner.bottom + NOISE
        and outer.right >= inner.right - NOISE
        and outer.top >= inner.top - NOISE
    )
