"""Ways: unlike packings of the same boxes, the best first.

In: boxes, and how far they keep off, in steps. Out: up to five packings.

Ways are ranked by the base's area; among those that are nearly as small the heavy lies behind, fewer things
are drawn out over others, and the base is no strip.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice
from math import inf, sqrt

from handkit.draft.arrange.bands import on_foot, settled
from handkit.draft.arrange.behind import Spare, with_behind
from handkit.draft.arrange.faced import Pairs, StatedBehind, pairs_of
from handkit.draft.arrange.packing import PackedBox, Packing, measured, orders, packed

# So many ways are told, none of them nearer to another in both its width and height than by this share, none
# with so many times the area of the least.
MOST_WAYS, UNLIKE, MOST_WASTE = 5, 0.08, 1.4

# Ways that are so many times as long as wide are told where there are fewer others than that.
STRIP, FEW = 3.0, 3

# For so many of them it is looked where on their other face the rest lies, and for so many of the best ones
# that are alike.
LOOKED_BEHIND, LOOKED_ALIKE = 6, 6

# So many times boxes are laid for one base, and one box against the others.
TRIES, LEAST_TRIES, LOOKS = 1_000, 12, 60_000

# What counts beside area: all the weight in front, a part drawn out over, a base so many times as long as
# wide.
IN_FRONT, DRAWN_OVER, LONG, LONGEST = 0.08, 0.002, 0.1, 2.5


def unlike_ways(boxes: Sequence[PackedBox], spare: Spare) -> tuple[Packing, ...]:
    """Ways to lay boxes, the best first; the base is larger by two margins than what they take, both ways."""
    front = [index for index, box in enumerate(boxes) if not box.behind]
    edge = 2 * spare.margin
    if len(front) == len(boxes):
        return _told(_ranked(_in_front(boxes, spare), edge), edge)
    pairs = pairs_of(boxes)
    stated = any(box.behind and box.fixed is not None for box in boxes)
    beyond = StatedBehind(boxes, pairs, tuple(front), _highest(boxes), {}) if stated else None
    ways = _in_front([boxes[k] for k in front], spare, beyond)
    clear = [way for way in ways if beyond is None or beyond.clear(way.places)]
    found = _with_behind(boxes, pairs, _ranked(clear or ways, edge), spare)
    return _told(_ranked(found or _in_front(boxes, spare), edge), edge)


def _with_behind(
    boxes: Sequence[PackedBox], pairs: Pairs, ranked: Sequence[Packing], spare: Spare
) -> list[Packing]:
    """Packings of what lies in front, with the rest behind them: of unlike ones, and of those that are as
    small as the first where the base grows by less."""
    edge = 2 * spare.margin
    unlike = _told(ranked, edge, most=LOOKED_BEHIND) or (Packing((), 0, 0),)
    alike = [way for way in ranked[:LOOKED_ALIKE] if way not in unlike]
    found, least = [], inf
    for way in (*unlike, *alike):
        most = least * (MOST_WASTE if way in unlike else 1)
        whole = with_behind(boxes, pairs, way, spare, most)
        if whole is not None:
            found.append(whole)
            least = min(least, whole.area)
    return found


def _highest(boxes: Sequence[PackedBox]) -> int:
    """So high no box begins that is packed over all others."""
    fixed = (box.fixed[1] + box.high for box in boxes if box.fixed is not None)
    return sum(box.high + 2 * box.stands for box in boxes) + max(fixed, default=0)


def _in_front(boxes: Sequence[PackedBox], spare: Spare, beyond: StatedBehind | None = None) -> list[Packing]:
    """Packings of what lies on one face, settled as a maker would; none without boxes. Where something is
    stated `beyond`, on the other face, others that keep off it."""
    fixed = any(box.fixed is not None for box in boxes)
    foot = next((k for k, box in enumerate(boxes) if box.foot and not fixed), None)
    others = [box for k, box in enumerate(boxes) if k != foot]
    count = max(LEAST_TRIES, _tries_for(len(others))) if others else 0
    found: dict[tuple[tuple[int, int], ...], Packing] = {}
    beside: dict[tuple[tuple[int, int], ...], Packing] = {}
    for width, order, down in islice(_tries(others, spare.gap), count):
        way = packed(others, order, width, spare.gap, down=down and not fixed)
        found.setdefault(way.places, way)
        if beyond is not None and foot is None and not down:
            wide = max(width, beyond.reach)
            way = packed(others, order, wide, spare.gap, down=False, beyond=beyond)
            beside.setdefault(way.places, way)
    ways = list(found.values()) if others else [Packing((), 0, 0)]
    if not fixed:
        ways = [settled(others, way, spare.gap) if others else way for way in ways]
    ways += beside.values()
    if foot is not None:
        ways = [on_foot(boxes, foot, way, spare.gap) for way in ways]
    return [_under_flap(boxes, way, spare) for way in ways]


def _under_flap(boxes: Sequence[PackedBox], way: Packing, spare: Spare) -> Packing:
    """A packing that a flap covers, with room for its thread over all of it."""
    aside, tops = spare.beside_flap, [y + box.high for box, (_, y) in zip(boxes, way.places, strict=True)]
    if not tops or not (aside or spare.under_flap):
        return way
    places, high = tuple((x + aside, y) for x, y in way.places), max(way.high, max(tops) + spare.under_flap)
    return measured(boxes, places, spare.gap, least=(way.wide + 2 * aside, high))


def _ranked(ways: Sequence[Packing], edge: int) -> list[Packing]:
    return sorted(ways, key=lambda way: (_cost(way, edge), way.wide, way.places))


def _told(ranked: Sequence[Packing], edge: int, most: int = MOST_WAYS) -> tuple[Packing, ...]:
    """The first ways that are unlike one another, strips that are not the very best behind the others."""
    told: list[Packing] = []
    strips = [index > 0 and _long(way, edge) > STRIP for index, way in enumerate(ranked)]
    for strip, way in sorted(zip(strips, ranked, strict=True), key=lambda each: each[0]):
        if len(told) == most or (strip and len(told) >= FEW):
            break
        if _area(way, edge) <= MOST_WASTE * _area(ranked[0], edge) and all(_unlike(way, one) for one in told):
            told.append(way)
    return tuple(told)


def _long(way: Packing, edge: int) -> float:
    """How many times as long as wide a base is, or as wide as long."""
    sides = sorted((way.wide + edge, way.high + edge))
    return sides[1] / sides[0]


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
    in front, where much is drawn out over, and where what is behind lies badly."""
    long = max(0.0, _long(way, edge) - LONGEST)
    return IN_FRONT * way.front + DRAWN_OVER * way.over + LONG * long + way.behind


def _unlike(way: Packing, other: Packing) -> bool:
    pairs = ((way.wide, other.wide), (way.high, other.high))
    return any(abs(a - b) > UNLIKE * max(a, b) for a, b in pairs)
