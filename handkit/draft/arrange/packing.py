"""Packing: rectangles laid beside and over one another, in whole steps.

In: boxes with what is drawn out of them. Out: where each lies, and how much they take together. Pure whole
numbers, so that the same boxes come to lie alike on any machine.

Words: a *step* is the raster that all is laid on; a *lane* is where a thing of a box is drawn out, upwards:
from which x to which, from which y on, and how much it is lifted there; *behind* is up, where handles are.

A box is laid where it reaches least far, one after the other, from the lower edge up or from the upper edge
down: of all places beside or over those that lie already the one that ends first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

import msgspec

# Left, low, right, high.
Rectangle = tuple[int, int, int, int]

# Left and low.
Place = tuple[int, int]


class Lane(msgspec.Struct, frozen=True):
    """Where a thing is drawn out of its box, in the box's frame: what lies over it there, `stands` high, is
    to be `2 * stands - lift` off the mouth. Before that the thing reaches up to its `end`."""

    left: int
    right: int
    mouth: int
    lift: int
    end: int = 0


class PackedBox(msgspec.Struct, frozen=True):
    """A box of whole steps; `stands` is how high it reaches over the base, `weight` how heavy it is. One that
    is `fixed` keeps its place. In its frame, `leather` is what of it lies on the base, `rows` are where
    something goes through the base, `things` lie on it. It lies `behind`, or alone at the `foot`; `belt` is
    how wide what goes through a loop is. Over what is `bared` a blade is drawn: no row of others lies there.
    """

    wide: int
    high: int
    lanes: tuple[Lane, ...] = ()
    stands: int = 0
    weight: int = 0
    fixed: Place | None = None
    leather: Rectangle = (0, 0, 0, 0)
    rows: tuple[Rectangle, ...] = ()
    things: tuple[Rectangle, ...] = ()
    behind: bool = False
    foot: bool = False
    belt: int = 0
    bared: tuple[Rectangle, ...] = ()


class Packing(msgspec.Struct, frozen=True):
    """Where the lower left corners of all boxes lie, and how far they reach; `over` counts the boxes that lie
    where a thing is drawn out over them, `front` is how far in front, 0 to 1, the weight lies, `behind` what
    the places of what is behind count, as a share of the area."""

    places: tuple[Place, ...]
    wide: int
    high: int
    over: int = 0
    front: float = 0.0
    behind: float = 0.0

    @property
    def area(self) -> int:
        """In steps by steps."""
        return self.wide * self.high


class Beyond(Protocol):
    """What is fixed on the other face."""

    def barred(self, index: int, x: int) -> int:
        """At which heights a box may not lie so far aside; each of them is a bit."""

    def beside(self, box: PackedBox, gap: int) -> Iterable[int]:
        """How far aside a box lies beside what is fixed."""


def apart(lower: PackedBox, upper: PackedBox, shift: int, gap: int) -> int:
    """How far over a box's upper edge another one lies at the least, `shift` to the right of it.

    >>> pen = PackedBox(20, 150, (Lane(5, 15, 120, 4),))
    >>> apart(pen, PackedBox(30, 40, stands=10), 0, 6), apart(pen, PackedBox(30, 40, stands=40), 0, 6)
    (6, 46)
    >>> sheath, sewn = PackedBox(20, 60, bared=((0, 60, 20, 120),)), PackedBox(30, 40, rows=((0, 5, 30, 8),))
    >>> apart(sheath, sewn, 0, 6), apart(sheath, sewn, 20, 6)
    (55, 6)
    """
    needed = gap
    for lane in lower.lanes:
        if lane.left < shift + upper.wide and shift < lane.right:
            needed = max(needed, lane.mouth + 2 * upper.stands - lane.lift - lower.high)
    for left, _, right, top in lower.bared:
        for row in upper.rows:
            if left < shift + row[2] and shift + row[0] < right:
                needed = max(needed, top - row[1] - lower.high)
    return needed


def packed(  # noqa: PLR0913 - what is laid, how, and beside what
    boxes: Sequence[PackedBox],
    order: Sequence[int],
    width: int,
    gap: int,
    *,
    down: bool,
    beyond: Beyond | None = None,
) -> Packing:
    """All boxes laid in an order, none wider than a width; `down` from the upper edge. Those that are fixed
    lie already, as do those `beyond`, on the other face: both go from below alone."""
    laid = [(index, *box.fixed) for index, box in enumerate(boxes) if box.fixed is not None]
    spaces = _Spaces(gap, down, beyond)
    for index in order:
        if boxes[index].fixed is None:
            laid.append((index, *_lowest(boxes, laid, index, width, spaces)))
    high = max(y + boxes[index].high for index, _, y in laid)
    places = {index: (x, high - y - boxes[index].high if down else y) for index, x, y in laid}
    return measured(boxes, tuple(places[index] for index in range(len(boxes))), gap)


def measured(
    boxes: Sequence[PackedBox],
    places: tuple[tuple[int, int], ...],
    gap: int,
    *,
    least: tuple[int, int] = (0, 0),
) -> Packing:
    """What the places come to; it is no smaller than `least`."""
    high = max(least[1], *(y + box.high for box, (_, y) in zip(boxes, places, strict=True)))
    wide = max(least[0], *(x + box.wide for box, (x, _) in zip(boxes, places, strict=True)))
    over = sum(
        any(
            lane.left < bx - ax + upper.wide + gap and bx - ax - gap < lane.right and by >= ay + lane.mouth
            for lower, (ax, ay) in zip(boxes, places, strict=True)
            if lower.behind is upper.behind
            for lane in lower.lanes
        )
        for upper, (bx, by) in zip(boxes, places, strict=True)
    )
    weight = sum(box.weight for box in boxes)
    middles = sum(box.weight * (2 * y + box.high) for box, (_, y) in zip(boxes, places, strict=True))
    front = 1 - middles / (2 * high * weight) if weight else 0.0
    return Packing(places, wide, high, over, front)


Laid = tuple[int, int, int]


class _Spaces(msgspec.Struct, frozen=True):
    """Between two boxes at the least, and whether they are laid from the upper edge down; what is fixed on
    the other face."""

    gap: int
    down: bool
    beyond: Beyond | None = None

    def between(self, first: PackedBox, second: PackedBox, shift: int) -> int:
        """From a box to the one that is laid beyond it, `shift` to the right of it."""
        return apart(second, first, -shift, self.gap) if self.down else apart(first, second, shift, self.gap)


def _lowest(
    boxes: Sequence[PackedBox], laid: Sequence[Laid], index: int, width: int, spaces: _Spaces
) -> tuple[int, int]:
    """Where a box ends first: the least y of its end, then the least x."""
    box = boxes[index]
    lefts = {0, max(0, width - box.wide)}
    if spaces.beyond is not None:
        lefts.update(x for x in spaces.beyond.beside(box, spaces.gap) if x >= 0)
    for other, x, _ in laid:
        lefts.add(x + boxes[other].wide + spaces.gap)
        lefts.add(max(0, x - spaces.gap - box.wide))
    within = [x for x in lefts if x + box.wide <= max(width, box.wide)]
    y, x = min((_height(boxes, laid, index, x, spaces), x) for x in within)
    return x, y


def _height(boxes: Sequence[PackedBox], laid: Sequence[Laid], index: int, x: int, spaces: _Spaces) -> int:
    """The least y at which a box with its left edge at x is clear of all that lies."""
    box = boxes[index]
    barred: list[tuple[int, int]] = []
    for number, left, low in laid:
        other, shift = boxes[number], left - x
        if shift < box.wide + spaces.gap and -shift < other.wide + spaces.gap:
            over = low + other.high + spaces.between(other, box, -shift)
            barred.append((low - spaces.between(box, other, shift) - box.high, over))
    never = spaces.beyond.barred(index, x) if spaces.beyond is not None else 0
    y = _first_free(never, 0)
    for low, high in sorted(barred):
        if low < y < high:
            y = _first_free(never, high)
    return y


def _first_free(barred: int, least: int) -> int:
    """The first height from one on that is not among those barred, each of which is a bit.

    >>> _first_free(0b1011, 0), _first_free(0b1011, 3), _first_free(0, 7)
    (2, 4, 7)
    """
    over = barred >> least
    return least + (~over & over + 1).bit_length() - 1


def crossing(box: PackedBox, other: PackedBox) -> tuple[tuple[Sequence[Rectangle], Sequence[Rectangle]], ...]:
    """Of a box and one on the other face: what of it may not come to lie on what of the other."""
    return (box.rows, (*other.rows, *other.things, *other.bared)), ((*box.things, *box.bared), other.rows)


def rows(boxes: Sequence[PackedBox], order: Sequence[int], gap: int) -> Packing:
    """All side by side in one row, feet on one line: the plain way."""
    places, x = {}, 0
    for index in order:
        places[index] = (x, 0)
        x += boxes[index].wide + gap
    return measured(boxes, tuple(places[index] for index in range(len(boxes))), gap)


def orders(boxes: Sequence[PackedBox]) -> Iterator[tuple[int, ...]]:
    """Ways to lay boxes one after the other: the high, the large, the wide first, as they are written, and
    then each of these with neighbours changed, on and on."""
    index = range(len(boxes))
    keys = (
        lambda k: (-boxes[k].high, -boxes[k].wide, k),
        lambda k: (-boxes[k].wide * boxes[k].high, k),
        lambda k: (-boxes[k].wide, -boxes[k].high, k),
        lambda k: (-max(boxes[k].wide, boxes[k].high), k),
        lambda k: (-boxes[k].weight, k),
        lambda k: k,
    )
    first = [tuple(sorted(index, key=key)) for key in keys]
    yield from dict.fromkeys(first)
    for turn in range(len(boxes) * len(boxes)):
        order = list(first[turn % len(first)])
        a, b = turn % len(order), (turn * 7 // len(first) + turn + 1) % len(order)
        order[a], order[b] = order[b], order[a]
        yield tuple(order)
