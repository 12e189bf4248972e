"""Hole text: numbers at the first, every tenth and the last hole, and which way the seam counts.

In: the holes seen in a window, the window's free space. Out: marks.

At the first number of a seam in a window its short name stands before it, `S3·1`; at hole 1, or the
first that lies on the piece, an arrow along the seam points to the next.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice, pairwise

from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE
from handkit.draw.model.free_space import AIR, APART, FreeSpace, LabelRegion
from handkit.draw.model.label_search import across, led, put, put_along
from handkit.draw.model.marks import Ink, Mark, Words
from handkit.draw.model.path_ops import arrow_ops
from handkit.draw.model.view import View
from handkit.draw.templates.hole_ink import ShownHole
from handkit.geometry.affine import Point
from handkit.geometry.straight import distance, unit
from handkit.ink import ARROW, TENTH_TICK_LENGTH

# How far beside the seam the arrow runs, how long it is, and how big its head is.
ARROW_OFF, ARROW_FURTHER = 2.7, 4.2
ARROW_START = 1.7
ARROW_LENGTH = 6.0
ARROW_HEAD = 1.4

# From so many holes on, the first one first, it is tried.
ARROW_TRIES = 8

# The last bit of a line to a hole may touch its own tick and those beside it, in mm.
LED_END = 3.8

# Holes of two seams nearer than this are one, in mm.
SAME_HOLE = 0.05

# Where a number may stand, (off, slip): at the long tick's end, beside the tick, a little further.
_END = TENTH_TICK_LENGTH / 2 + AIR + 0.3
NEAR: tuple[Point, ...] = (
    *((_END, slip) for slip in (0.0, 0.4, -0.4)),
    *((_END - 1.6, slip) for slip in (1.0, -1.0)),
    *((_END + 1.2, slip) for slip in (0.0, 0.8, -0.8)),
)
FAR: tuple[Point, ...] = (
    *((_END + 3.0, slip) for slip in (0.0, 1.0, -1.0)),
    *((_END + 6.0, slip) for slip in (0.0, 1.0, -1.0, 2.0, -2.0)),
)


def start_marks(view: View, holes: Sequence[ShownHole], space: FreeSpace) -> tuple[Mark, ...]:
    """Where each seam begins in this window: the arrow of hole 1, and the first number, named.

    These go before all texts but corner letters: a maker who can't find hole 1 can't begin.
    """
    arrows = [arrow for hole in holes for arrow in _arrow(hole, space, holes)]
    firsts = [
        part
        for hole in _firsts(holes)
        for part in _needed(hole, f"{hole.code}·{hole.hole.number}", space, holes)
    ]
    return view.label((*arrows, *firsts))


def last_marks(view: View, holes: Sequence[ShownHole], space: FreeSpace) -> tuple[Mark, ...]:
    """Where each seam ends in this window: its last number, near its hole or with a leader to it."""
    parts: list[Ink | Words] = []
    for hole in _others(holes):
        if hole.last:
            text = _named(hole, holes)
            near = put(space, text, _beside(hole, text, space, NEAR))
            parts.extend(near or _led(space, text, hole))
    return view.label(parts)


def _led(space: FreeSpace, text: str, hole: ShownHole, *, bold: bool = False) -> tuple[Ink | Words, ...]:
    """With a leader to its hole, inside the piece or on bare paper."""
    regions = (LabelRegion.INSIDE, LabelRegion.OUTSIDE)
    found = (led(space, text, hole.at, end=LED_END, bold=bold, region=region) for region in regions)
    return next((each for each in found if each), ())


def number_marks(view: View, holes: Sequence[ShownHole], space: FreeSpace) -> tuple[Mark, ...]:
    """The other numbers, each near to its hole or not at all."""
    numbered = ((hole, _named(hole, holes)) for hole in _others(holes) if not hole.last)
    return view.label(
        part for hole, text in numbered for part in put(space, text, _beside(hole, text, space, NEAR))
    )


def _others(holes: Sequence[ShownHole]) -> tuple[ShownHole, ...]:
    """All that have a number but the first of each seam."""
    firsts = _firsts(holes)
    return tuple(hole for hole in holes if hole.numbered and hole not in firsts)


def _named(hole: ShownHole, holes: Sequence[ShownHole]) -> str:
    """The number; with the seam's short name where another seam has the same hole."""
    shared = any(other.code != hole.code and distance(other.at, hole.at) < SAME_HOLE for other in holes)
    return f"{hole.code}·{hole.hole.number}" if shared else str(hole.hole.number)


def _firsts(holes: Sequence[ShownHole]) -> tuple[ShownHole, ...]:
    """Of each seam's layer the first hole that has a number."""
    first: dict[str, ShownHole] = {}
    for hole in holes:
        if hole.numbered:
            first.setdefault(hole.code, hole)
    return tuple(first.values())


def _needed(
    hole: ShownHole, text: str, space: FreeSpace, holes: Sequence[ShownHole]
) -> tuple[Ink | Words, ...]:
    """Inside the piece, or on bare paper beside it, or with a leader to the hole from either, or over
    thin lines; where rows stand close, plainly nearer to its own row first."""
    places = tuple(_beside(hole, text, space, (*NEAR, *FAR)))
    reach = max(distance(at, hole.at) for at in places)
    others = [other.at for other in holes if other.code != hole.code and _near(other.at, hole.at, 2 * reach)]
    own = [at for at in places if _is_nearer(at, hole.at, others)]
    near = set(_beside(hole, text, space, NEAR))
    plain = (at for at in places if space.is_own(at, hole.at))
    return (
        put(space, text, (at for at in own if at in near), bold=True)
        or put(space, text, plain, LabelRegion.OUTSIDE, bold=True)
        or _led(space, text, hole, bold=True)
        or put(space, text, own, bold=True)
        or put(space, text, places, bold=True)
        or put(space, text, places, LabelRegion.OVER_LINES, bold=True)
    )


def _near(at: Point, own: Point, reach: float) -> bool:
    """Whether a hole is another one and no further off than `reach`, across or along the sheet."""
    near = abs(at[0] - own[0]) <= reach and abs(at[1] - own[1]) <= reach
    return near and distance(at, own) >= SAME_HOLE


def _is_nearer(at: Point, own: Point, others: Sequence[Point]) -> bool:
    """Whether a place is nearer to one hole than to all others."""
    reach = distance(at, own)
    return all(distance(at, other) > reach for other in others)


def _beside(hole: ShownHole, text: str, space: FreeSpace, places: Sequence[Point]) -> Iterator[Point]:
    """Middles for a number, on the piece's side of the seam and on the other."""
    width = space.fonts.width(text, LEAST_SIZE, bold=True)
    return across(hole.at, hole.along, hole.inward, width, CAPITAL * LEAST_SIZE, places, more=1.0)


def _arrow(hole: ShownHole, space: FreeSpace, holes: Sequence[ShownHole]) -> tuple[Ink, ...]:
    """Along the seam from the layer's first hole on, on the side that is free, or from one of the next; () of
    a row that has no room for it anywhere there."""
    if not hole.first or hole.lone:
        return ()
    row = [one for one in holes if one.code == hole.code]
    for one, following in islice(pairwise(row[row.index(hole) :]), ARROW_TRIES):
        if distance(one.at, following.at) < SAME_HOLE:
            continue
        (x, y), (ax, ay) = one.at, unit(one.at, following.at)
        for off in (ARROW_OFF, -ARROW_OFF, ARROW_FURTHER, -ARROW_FURTHER):
            side = off if (ax * one.inward[1] - ay * one.inward[0]) > 0 else -off
            tail = (x - ay * side + ax * ARROW_START, y + ax * side + ay * ARROW_START)
            tip = (tail[0] + ax * ARROW_LENGTH, tail[1] + ay * ARROW_LENGTH)
            if put_along(space, tail, tip, count=9, half=0.3, air=AIR, apart=APART):
                return (Ink(arrow_ops(tail, tip, head=ARROW_HEAD), ARROW),)
    return ()
