"""Hole text: numbers at the first, every tenth and the last hole, and which way the seam counts.

In: the holes seen in a window, the window's site. Out: marks.

At the first number of a seam in a window its short name stands before it, `S3·1`; at hole 1 an
arrow along the seam points to hole 2.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE
from handkit.draw.model.marks import Ink, Mark, Words
from handkit.draw.model.path_ops import arrow_ops
from handkit.draw.model.placing import AIR, Site, led, put
from handkit.draw.model.view import View
from handkit.draw.templates.hole_ink import Seen
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.straight import distance
from handkit.ink import TENTH_TICK_LENGTH, Stroke, Tag

# How far beside the seam the arrow runs, how long it is, and how big its head is.
ARROW_OFF = 2.7
ARROW_START = 1.7
ARROW_LENGTH = 6.0
ARROW_HEAD = 1.4
ARROW = Stroke(0.25)

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


def start_marks(view: View, seen: Sequence[Seen], site: Site) -> tuple[Mark, ...]:
    """Where each seam begins in this window: the arrow of hole 1, and the first number, named.

    These go before all other texts: a maker who can't find hole 1 can't begin.
    """
    arrows = [arrow for hole in seen if (arrow := _arrow(hole, site)) is not None]
    firsts = ((hole, f"{hole.code}·{hole.hole.number}") for hole in _firsts(seen))
    parts = [part for hole, text in firsts for part in _needed(hole, text, site, seen)]
    return _label(view, (*arrows, *parts))


def number_marks(view: View, seen: Sequence[Seen], site: Site) -> tuple[Mark, ...]:
    """The other numbers, each near to its hole or not at all."""
    firsts = _firsts(seen)
    parts: list[Ink | Words] = []
    for hole in seen:
        if hole.numbered and hole not in firsts:
            text = _named(hole, seen)
            found = put(site, text, _beside(hole, text, site, NEAR))
            last = hole.hole.number == hole.seam.count
            parts.extend(
                [found] if found is not None else led(site, text, hole.at, end=LED_END) if last else []
            )
    return _label(view, tuple(parts))


def _named(hole: Seen, seen: Sequence[Seen]) -> str:
    """The number; with the seam's short name where another seam has the same hole."""
    shared = any(other.code != hole.code and distance(other.at, hole.at) < SAME_HOLE for other in seen)
    return f"{hole.code}·{hole.hole.number}" if shared else str(hole.hole.number)


def _firsts(seen: Sequence[Seen]) -> tuple[Seen, ...]:
    """Of each seam's layer the first hole that has a number."""
    first: dict[str, Seen] = {}
    for hole in seen:
        if hole.numbered:
            first.setdefault(hole.code, hole)
    return tuple(first.values())


def _needed(hole: Seen, text: str, site: Site, seen: Sequence[Seen]) -> tuple[Ink | Words, ...]:
    """Inside the piece, or on bare paper beside it, or with a line to the hole from either, or over
    thin lines; where rows stand close, plainly nearer to its own row first."""
    places = tuple(_beside(hole, text, site, (*NEAR, *FAR)))
    others = [other.at for other in seen if other.code != hole.code]
    own = tuple(at for at in places if _is_nearer(at, hole.at, others))
    plain = (at for at in places if site.own(at, hole.at))  # asked only where needed
    near = put(site, text, own, bold=True) or put(site, text, plain, bold=True, outside=True)
    if near is not None:
        return (near,)
    off = led(site, text, hole.at, end=LED_END, bold=True) or led(
        site, text, hole.at, end=LED_END, bold=True, outside=True
    )
    if off:
        return off
    last = put(site, text, places, bold=True) or put(site, text, places, bold=True, over_lines=True)
    return (last,) if last is not None else ()


def _is_nearer(at: Point, own: Point, others: Sequence[Point]) -> bool:
    """Whether a place is nearer to one hole than to all others that are not the same hole."""
    reach = distance(at, own)
    return all(distance(at, other) > reach or distance(own, other) < SAME_HOLE for other in others)


def _label(view: View, parts: tuple[Ink | Words, ...]) -> tuple[Mark, ...]:
    return (Mark(Tag.LABEL, view.properties, parts),) if parts else ()


def _beside(hole: Seen, text: str, site: Site, places: Sequence[Point]) -> Iterator[Point]:
    """Centres for a number, on the piece's side of the seam and on the other.

    `places` are (off, slip): how far the text stays from the seam's line, and how many of its own
    half lengths it slips along the seam.
    """
    width, height = site.fonts.width(text, LEAST_SIZE, bold=True), CAPITAL * LEAST_SIZE
    (x, y), (nx, ny), (ax, ay) = hole.at, hole.inward, hole.along
    reach = (abs(nx) * width + abs(ny) * height) / 2
    half = (abs(ax) * width + abs(ay) * height) / 2 + 1.0
    for off, slip in places:
        for side in (1, -1):
            across = side * (off + reach)
            yield (x + nx * across + ax * half * slip, y + ny * across + ay * half * slip)


def _arrow(hole: Seen, site: Site) -> Ink | None:
    """Along the seam from hole 1 on, on the side that is free; None where neither is."""
    if hole.hole.number != 1 or hole.seam.count < 2:
        return None
    (x, y), (nx, ny), (ax, ay) = hole.at, hole.inward, hole.along
    for side in (1, -1):
        off = side * ARROW_OFF
        tail = (x + nx * off + ax * ARROW_START, y + ny * off + ay * ARROW_START)
        tip = (tail[0] + ax * ARROW_LENGTH, tail[1] + ay * ARROW_LENGTH)
        boxes = _boxes_along(tail, tip)
        if all(site.free(box) for box in boxes):
            for box in boxes:
                site.take(box)
            return Ink(arrow_ops(tail, tip, head=ARROW_HEAD), ARROW)
    return None


def _boxes_along(tail: Point, tip: Point) -> list[Box]:
    """Small boxes that cover an arrow, whichever way it points."""
    boxes = []
    for k in range(9):
        x, y = tail[0] + (tip[0] - tail[0]) * k / 8, tail[1] + (tip[1] - tail[1]) * k / 8
        boxes.append(Box(x - 0.3, y - 0.3, x + 0.3, y + 0.3))
    return boxes
