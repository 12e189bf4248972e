"""Leaf packing: boxes laid on a leaf whose size is given.

In: boxes, those that keep their place among them; the leaf's width and height. Out: places of the others, or
by how much the leaf would have to grow. All in whole steps, from the leaf's lower left corner.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

import msgspec

from handkit.draft.arrange.bands import settled
from handkit.draft.arrange.faced import StatedBehind
from handkit.draft.arrange.packing import PackedBox, Packing, Place, Rectangle, apart, orders, packed
from handkit.draft.arrange.ways import beside_area

# So many orders are tried on a leaf.
ORDERS = 12


class LeafBox(msgspec.Struct, frozen=True):
    """A box, and in its frame all that it takes with the way that its things are drawn out by, which goes
    beyond the leaf, but over nothing that lies on it."""

    box: PackedBox
    reach: Rectangle


def placed_on_leaf(
    boxes: Sequence[LeafBox], size: Place, gap: int, beyond: StatedBehind | None = None, rank: int = 0
) -> tuple[Place, ...] | None:
    """Where all that are free lie, in their order; None where there is no room. `beyond` is what lies on the
    leaf's other face, `rank` how many better ways are left out, as far as there are so many.

    >>> rule = LeafBox(PackedBox(40, 100), (0, 0, 40, 100))
    >>> placed_on_leaf([rule, rule], (100, 120), 6)
    ((7, 10), (53, 10))
    >>> placed_on_leaf([rule, rule], (80, 120), 6) is None
    True
    """
    ways = [way for way in _ways(boxes, size[0], gap, beyond) if _within(boxes, way.places, size)]
    found: dict[tuple[Place, ...], None] = {}
    for way in sorted(ways, key=lambda way: beside_area(way, 0)):
        if len(found) <= rank:
            found[_in_the_middle(boxes, way.places, size, gap, beyond)] = None
    if not found:
        return None
    places = [*found][-1]
    return tuple(at for each, at in zip(boxes, places, strict=True) if each.box.fixed is None)


def least_growth(
    boxes: Sequence[LeafBox],
    size: Place,
    gap: int,
    beyond: StatedBehind | None = None,
    axes: tuple[int, int] = (1, 1),
) -> Place:
    """By how much a leaf is to grow, in width and in height, so that all lie on it; the least together that
    was found, along such axes; 0 where there is none.

    >>> rule = LeafBox(PackedBox(40, 100), (0, 0, 40, 100))
    >>> least_growth([rule, rule], (80, 120), 6), least_growth([rule, rule], (30, 210), 6)
    ((6, 0), (10, 0))
    """
    wide, high = size
    needed = max(each.box.wide for each in boxes if each.box.fixed is None)
    beside = max(wide, sum(each.box.wide + gap for each in boxes) - gap)
    grown: list[Place] = []
    for width in dict.fromkeys((max(wide, needed), beside)) if axes[0] else (wide,):
        for way in _ways(boxes, width, gap, beyond):
            ends = [
                (x + each.box.wide, y + each.box.high)
                for each, (x, y) in zip(boxes, way.places, strict=True)
                if each.box.fixed is None
            ]
            right, top = (max(end) for end in zip(*ends, strict=True))
            more = max(0, right - wide), max(0, top - high)
            grown += [more] if all(axis or not by for axis, by in zip(axes, more, strict=True)) else []
    return min(grown, key=lambda each: (sum(each), each), default=(0, 0))


def _ways(boxes: Sequence[LeafBox], wide: int, gap: int, beyond: StatedBehind | None) -> Iterator[Packing]:
    """Packings of a width in which no thing is drawn out sideways over another part, and which keep off what
    lies on the other face."""
    plain = [each.box for each in boxes]
    fixed = any(box.fixed is not None for box in plain)
    for order in islice(orders(plain), ORDERS):
        for down in (False,) if fixed or beyond else (False, True):
            way = packed(plain, order, wide, gap, down=down, beyond=beyond)
            way = way if fixed or beyond else settled(plain, way, gap)
            if _ways_out_clear(boxes, way.places):
                yield way


def _within(boxes: Sequence[LeafBox], places: Sequence[Place], size: Place) -> bool:
    """Whether all that are free lie on the leaf."""
    return all(
        x >= 0 and y >= 0 and x + each.box.wide <= size[0] and y + each.box.high <= size[1]
        for each, (x, y) in zip(boxes, places, strict=True)
        if each.box.fixed is None
    )


def _ways_out_clear(boxes: Sequence[LeafBox], places: Sequence[Place]) -> bool:
    """Whether nothing lies where another part's things are drawn out."""
    for index, (each, (x, y)) in enumerate(zip(boxes, places, strict=True)):
        left, low, right, top = each.reach
        for other, (at, up) in enumerate(places):
            box = boxes[other].box
            if box.fixed is not None and each.box.fixed is not None:
                continue
            across = x + left < at + box.wide and at < x + right
            if other != index and across and y + low < up + box.high and up < y + top:
                return False
    return True


def _in_the_middle(
    boxes: Sequence[LeafBox], places: Sequence[Place], size: Place, gap: int, beyond: StatedBehind | None
) -> tuple[Place, ...]:
    """All that are free moved together to the middle of the leaf, as far as what keeps its place leaves
    them clear."""
    free = [k for k, each in enumerate(boxes) if each.box.fixed is None]
    left, low = (min(places[k][axis] for k in free) for axis in (0, 1))
    right = max(places[k][0] + boxes[k].box.wide for k in free)
    top = max(places[k][1] + boxes[k].box.high for k in free)
    aside, up = (size[0] - right - left) // 2, (size[1] - top - low) // 2
    for shift in ((aside, up), (aside, 0), (0, up)):
        moved = tuple(
            (x + shift[0], y + shift[1]) if k in free else (x, y) for k, (x, y) in enumerate(places)
        )
        apart_from_it = beyond is None or beyond.clear(moved)
        if apart_from_it and _clear(boxes, moved, gap) and _ways_out_clear(boxes, moved):
            return moved
    return tuple(places)


def _clear(boxes: Sequence[LeafBox], places: Sequence[Place], gap: int) -> bool:
    """Whether all free boxes keep off those that keep their place."""
    for each, (x, y) in zip(boxes, places, strict=True):
        for other, (at, up) in zip(boxes, places, strict=True):
            if (each.box.fixed is None) is (other.box.fixed is None):
                continue
            beside = x + each.box.wide + gap <= at or at + other.box.wide + gap <= x
            above = up >= y + each.box.high + apart(each.box, other.box, at - x, gap)
            below = y >= up + other.box.high + apart(other.box, each.box, x - at, gap)
            if not (beside or above or below):
                return False
    return True
