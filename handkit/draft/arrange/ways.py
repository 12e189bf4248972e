"""Ways: unlike packings of the same boxes, the best first.

In: boxes, the gap between two, what the base has beside them, in steps. Out: up to five packings.

Ways are ranked by the base's area; among those that are nearly as small the heavy lies behind, fewer things
are drawn out over others, and the base is no strip.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice
from math import sqrt

from handkit.draft.arrange.packing import PackedBox, Packing, orders, packed

# So many ways are told, none of them nearer to another in both its width and height than by this share, none
# with so many times the area of the least.
MOST_WAYS, UNLIKE, MOST_WASTE = 5, 0.05, 1.6

# So many times boxes are laid for one base, and one box against the others.
TRIES, LEAST_TRIES, LOOKS = 1_000, 12, 60_000

# What counts beside area: all the weight in front, a part drawn out over, a base so many times as long as
# wide.
IN_FRONT, DRAWN_OVER, LONG, LONGEST = 0.04, 0.002, 0.1, 2.5


def unlike_ways(boxes: Sequence[PackedBox], gap: int, edge: int) -> tuple[Packing, ...]:
    """Ways to lay boxes, the best first; the base is larger by `edge` than what they take, both ways."""
    fixed = any(box.fixed is not None for box in boxes)
    found: dict[tuple[tuple[int, int], ...], tuple[float, Packing]] = {}
    for width, order, down in islice(_tries(boxes, gap), max(LEAST_TRIES, _tries_for(len(boxes)))):
        way = packed(boxes, order, width, gap, down=down and not fixed)
        found.setdefault(way.places, (_cost(way, edge), way))
    ranked = [
        way for _, way in sorted(found.values(), key=lambda each: (each[0], each[1].wide, each[1].places))
    ]
    told: list[Packing] = []
    for way in ranked:
        if _area(way, edge) <= MOST_WASTE * _area(ranked[0], edge) and all(_unlike(way, one) for one in told):
            told.append(way)
    return tuple(told[:MOST_WAYS])


def _tries_for(count: int) -> int:
    return min(TRIES, LOOKS // (count * count))


def _tries(boxes: Sequence[PackedBox], gap: int) -> Iterator[tuple[int, tuple[int, ...], bool]]:
    """Widths, orders and directions, the most promising first."""
    least = max(box.wide for box in boxes)
    most = sum(box.wide + gap for box in boxes) - gap
    square = sqrt(sum((box.wide + gap) * (box.high + gap) for box in boxes))
    shares = (1.0, 1.2, 0.85, 1.4, 0.7, 1.1, 1.6, 0.95, 1.3, 0.78, 1.8, 2.2)
    widths = [*dict.fromkeys(min(most, max(least, round(square * share))) for share in shares), most]
    for order in orders(boxes):
        for width in dict.fromkeys(widths):
            yield width, order, True
            yield width, order, False


def _area(way: Packing, edge: int) -> int:
    return (way.wide + edge) * (way.high + edge)


def _cost(way: Packing, edge: int) -> float:
    """What a way is ranked by: the base's area and what counts beside it."""
    return _area(way, edge) * (1 + beside_area(way, edge))


def beside_area(way: Packing, edge: int) -> float:
    """What counts beside the base's area, as a share of it: more where it is long, where what is heavy lies
    in front, and where much is drawn out over."""
    sides = sorted((way.wide + edge, way.high + edge))
    long = max(0.0, sides[1] / sides[0] - LONGEST)
    return IN_FRONT * way.front + DRAWN_OVER * way.over + LONG * long


def _unlike(way: Packing, other: Packing) -> bool:
    pairs = ((way.wide, other.wide), (way.high, other.high))
    return any(abs(a - b) > UNLIKE * max(a, b) for a, b in pairs)
