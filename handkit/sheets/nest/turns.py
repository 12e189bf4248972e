"""Turns: by how much a piece is turned before it is cut or put down whole.

In: a ring in the piece's frame (turned over already where it is to be), or what is drawn of a
window. Out: degrees, counter-clockwise.

To be cut, a piece is laid along its longest edges, and at every 6°: finer steps found nothing more.
To lie whole on a page, it is laid at the turn at which it exceeds the page least. That is looked
for at whole degrees and at its hull's edges, then closer between them. To be nested, a drawing is
laid in eight ways; one that is nearly its own box in four, and a plain rectangle in two.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import atan2, cos, degrees, hypot, radians, sin

from handkit.geometry.affine import Point
from handkit.geometry.polygon import sides
from handkit.geometry.region import Region, hull_of
from handkit.sheets.nest.packing import NOISE, Size

STEP = 6
EDGES = 4

# Shares of its box that a drawing fills.
PLAIN_BOX, NEARLY_BOX = 0.99, 0.9
QUARTERS = (0.0, 90.0, 180.0, 270.0)
EIGHTHS = tuple(45.0 * k for k in range(8))

# Steps of a search by thirds: a degree becomes 1e-4 of one.
THIRDS = 24
PROMISING = 6


def turns_to_cut(ring: Sequence[Point]) -> tuple[float, ...]:
    """Turns from 0 to below 180 degrees: along the edges first, then every 6."""
    along = [turn + quarter for turn in edge_turns(ring)[:EDGES] for quarter in (0.0, 90.0)]
    return tuple(dict.fromkeys((*along, *(float(turn) for turn in range(0, 180, STEP)))))


def edge_turns(ring: Sequence[Point]) -> tuple[float, ...]:
    """Turns of 0 to below 90 degrees that lay an edge straight; that of most length first.

    >>> edge_turns([(0, 0), (30, 0), (30, 20), (15, 35)])
    (0.0, 23.199, 45.0)
    """
    lengths: dict[float, float] = {}
    for (ax, ay), (bx, by) in sides(ring):
        turn = round(-degrees(atan2(by - ay, bx - ax)) % 90, 3) % 90
        lengths[turn] = lengths.get(turn, 0.0) + hypot(bx - ax, by - ay)
    return tuple(sorted(lengths, key=lambda turn: (-round(lengths[turn], 3), turn)))


def turns_to_nest(drawn: Region, hull: Sequence[Point]) -> tuple[float, ...]:
    """Turns that are worth trying for a drawing, by it and its hull, among others."""
    left, bottom, right, top = drawn.bounds()
    filled = drawn.area / ((right - left) * (top - bottom))
    if filled > NEARLY_BOX:
        return QUARTERS[:2] if filled > PLAIN_BOX else QUARTERS
    along = edge_turns(hull)[0]
    return (*EIGHTHS, *(along + quarter for quarter in QUARTERS)) if along % 45 else EIGHTHS


def turn_to_fit(ring: Sequence[Point], page: Size, *, room: float) -> float | None:
    """A turn at which a ring, with `room` all round, fits the page as it is; None where none does.

    >>> turn_to_fit([(0, 0), (100, 100), (90, 110), (-10, 10)], Size(20, 150), room=0)
    45.0
    """
    hull = hull_of(ring).rings()[0]

    def excess(turn: float) -> float:
        width, height = size_at(hull, turn)
        return max(width - page.width, height - page.height) + 2 * room

    for turn in (0.0, 90.0):
        if excess(turn) <= NOISE:
            return turn
    edges = [turn + quarter for turn in edge_turns(hull) for quarter in (0.0, 90.0)]
    turns = sorted({*(float(turn) for turn in range(180)), *edges}, key=lambda t: (round(excess(t), 6), t))
    for turn in turns[:PROMISING]:
        if excess(turn) <= NOISE:
            return turn
        for low, high in ((turn - 1, turn), (turn, turn + 1)):
            best = _least(excess, low, high)
            if excess(best) <= NOISE:
                return best
    return None


def size_at(ring: Sequence[Point], turn: float) -> tuple[float, float]:
    """Width and height of a ring at a turn."""
    c, s = (cos(radians(turn)), sin(radians(turn))) if turn % 90 else _QUARTERS[turn % 180]
    xs = [x * c - y * s for x, y in ring]
    ys = [x * s + y * c for x, y in ring]
    return max(xs) - min(xs), max(ys) - min(ys)


_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0)}


def _least(function: Callable[[float], float], low: float, high: float) -> float:
    """The place of the least value between two places, where the function has one valley."""
    for _ in range(THIRDS):
        third = (high - low) / 3
        if function(low + third) <= function(high - third):
            high -= third
        else:
            low += third
    return (low + high) / 2
