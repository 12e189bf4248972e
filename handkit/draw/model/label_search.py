"""Label search: a text is set at the first of its places where it lies on no line, hole or other text.

In: what to set, places for it in the order of liking, where it may stand. Out: the place taken.

Every text of a sheet, every arrow and small picture, and every text of a seam's picture finds its
place here. A text first looks for room inside its own piece; only what must be there (a name, a hole
1) may go to bare paper outside every piece. What finds no room is left out rather than printed over
a mark.

Words: a *place* is what a thing to be set is set by: a line of text its middle, a block its lower
left corner.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import ceil, cos, hypot, pi, sin, sqrt
from typing import Protocol

import msgspec

from handkit.draw.model.fonts import LEAST_SIZE
from handkit.draw.model.free_space import FreeSpace, LabelRegion
from handkit.draw.model.lettering import TextLine
from handkit.draw.model.marks import Ink, Words
from handkit.draw.model.path_ops import line_ops
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.straight import distance, unit
from handkit.ink import LEADER

# About how many places for a box are tried in an area: enough to find room, few enough to be quick.
MOST_PLACES = 400

# A text that finds no room beside what it names stands so far off, with a leader.
LED_REACHES = (5.0, 6.5, 8.0, 10.0, 12.0, 14.5, 17.0, 20.0, 23.0)
LED_DIRECTIONS = 48

# A leader that stops before its place is no shorter, or nobody would see where it points.
LEAST_LEADER = 2.0


class Settable(Protocol):
    """What can be set at a place."""

    def box_at(self, place: Point) -> Box:
        """What it covers there."""


class Blank(msgspec.Struct, frozen=True):
    """An empty box of a size, for an arrow or a picture; its place is its lower left corner."""

    width: float
    height: float

    def box_at(self, place: Point) -> Box:
        """What it covers there."""
        return Box(place[0], place[1], place[0] + self.width, place[1] + self.height)


class PlacedLabel(msgspec.Struct, frozen=True):
    """Where a thing was set, what it covers, and its leader if it has one."""

    place: Point
    box: Box
    leader: tuple[Ink, ...] = ()


# From the box that a text would cover its leader, () where it needs none; None where it can't stand there.
Lead = Callable[[Box], tuple[Ink, ...] | None]


def first_free(
    space: FreeSpace,
    thing: Settable,
    places: Iterable[Point],
    region: LabelRegion = LabelRegion.INSIDE,
    *,
    lead: Lead | None = None,
) -> PlacedLabel | None:
    """The first place where a thing is free, taken; None where there is none."""
    for place in places:
        box = thing.box_at(place)
        if space.fits(box, region):
            leader = () if lead is None else lead(box)
            if leader is not None:
                space.take(box)
                space.take_ink(leader)
                return PlacedLabel(place, box, leader)
    return None


def free_places(  # noqa: PLR0913 - each by name
    space: FreeSpace,
    area: Box,
    width: float,
    height: float,
    region: LabelRegion = LabelRegion.INSIDE,
    *,
    step: float = 3.0,
) -> Iterator[Point]:
    """Lower left corners at which a box of a size is free in an area, from its middle outwards."""
    rows = free_rows(space, area, width, height, region, step=step)
    yield from _outwards([(x, y) for y, xs in rows for x in xs], area, width, height)


def free_rows(  # noqa: PLR0913 - each by name
    space: FreeSpace,
    area: Box,
    width: float,
    height: float,
    region: LabelRegion = LabelRegion.INSIDE,
    *,
    step: float = 3.0,
) -> Iterator[tuple[float, list[float]]]:
    """Bottoms at which a box of a size is free in an area, from the lowest, with its lefts there.

    Columns and rows of a grid of places are looked up together: what is taken of the rows that a
    box at some height touches is one number for all boxes at that height.
    """
    room, air, (one, _), spans = space.room, space.air, space.regions[region], space.spans(region)
    xs, ys = _grid(area, width, height, step)
    columns = [
        (x, one.cells(x - air, (x + width) + air))
        for x in xs
        if x - air >= room.left and (x + width) + air <= room.right
    ]
    for y in ys:
        if y - air >= room.bottom and (y + height) + air <= room.top:
            taken = spans.over(one.rows_of(y - air, (y + height) + air))
            yield y, [x for x, cells in columns if not taken & cells]


def spots(area: Box, width: float, height: float, *, step: float) -> Iterator[Box]:
    """Boxes of a size within an area, free or not, from its middle outwards, ties from the lower left."""
    xs, ys = _grid(area, width, height, step)
    for x, y in _outwards([(x, y) for x in xs for y in ys], area, width, height):
        yield Box(x, y, x + width, y + height)


def circles(
    centre: Point, reaches: Iterable[float], *, directions: int = 16, wide: float = 0.0, stretch: float = 1.0
) -> Iterator[Point]:
    """Places on circles round a point, the smaller ones first; ellipses, `stretch` times as wide and
    `wide` more."""
    for reach in reaches:
        for k in range(directions):
            angle = 2 * pi * k / directions
            yield (
                centre[0] + (reach * stretch + wide) * cos(angle),
                centre[1] + reach * sin(angle),
            )


def across(  # noqa: PLR0913, PLR0917 - a line, a text beside it
    at: Point,
    along: Point,
    normal: Point,
    width: float,
    height: float,
    places: Iterable[tuple[float, float]],
    *,
    more: float = 0.0,
) -> Iterator[Point]:
    """Middles for a text of a size beside a line through a point, on the normal's side and on the
    other by turns.

    `places` are (off, slip): how far the text stays from the line, and by how many of its own half
    lengths (each `more` longer) it slips along it.
    """
    (x, y), (ax, ay), (nx, ny) = at, along, normal
    reach = (abs(nx) * width + abs(ny) * height) / 2
    half = (abs(ax) * width + abs(ay) * height) / 2 + more
    for off, slip in places:
        for side in (1, -1):
            out = side * (off + reach)
            yield (x + nx * out + ax * half * slip, y + ny * out + ay * half * slip)


def put(  # noqa: PLR0913 - a text's looks, each with a default
    space: FreeSpace,
    text: str,
    centres: Iterable[Point],
    region: LabelRegion = LabelRegion.INSIDE,
    *,
    size: float = LEAST_SIZE,
    bold: bool = False,
    upright: bool = False,
) -> tuple[Words, ...]:
    """The text at the first centre where it is free; () where it is free at none."""
    line = TextLine(text, size, bold).measured(space.fonts, upright=upright)
    found = first_free(space, line, centres, region)
    return line.words_at(found.place) if found else ()


def led(  # noqa: PLR0913 - each by name
    space: FreeSpace,
    text: str,
    place: Point,
    *,
    end: float | None,
    bold: bool = False,
    region: LabelRegion = LabelRegion.INSIDE,
    reaches: Sequence[float] = LED_REACHES,
    stops: float = 0.0,
) -> tuple[Ink | Words, ...]:
    """A text further off in the piece, or on bare paper, with a leader to a place; () where it has
    no room there.

    The leader touches no hole, no cut and no text but within `end` of the place (None: anywhere); one
    from outside crosses the own outline. Where something is in its way it may stop up to `stops` before the
    place, pointing at it.
    """
    line = TextLine(text, LEAST_SIZE, bold).measured(space.fonts)
    outside = region is LabelRegion.OUTSIDE

    def lead(box: Box) -> tuple[Ink, ...] | None:
        start = box.nearest(place)
        if end is None or space.crosses_nothing(start, place, short=end, on=space.hard, outside=outside):
            return (Ink(line_ops(start, place), LEADER),)
        length = distance(start, place)
        for k in range(1, ceil(stops) + 1):
            if length - k < LEAST_LEADER:
                return None
            ux, uy = unit(place, start)
            tip = (place[0] + ux * k, place[1] + uy * k)
            if space.crosses_nothing(start, tip, short=0.0, on=space.hard, outside=outside):
                return (Ink(line_ops(start, tip), LEADER),)
        return None

    centres = circles(place, reaches, directions=LED_DIRECTIONS, wide=line.width / 2)
    found = first_free(space, line, centres, region, lead=lead)
    return (*line.words_at(found.place), *found.leader) if found else ()


def put_along(  # noqa: PLR0913 - each by name
    space: FreeSpace, tail: Point, tip: Point, *, count: int, half: float, air: float, apart: float
) -> bool:
    """Take the way of an arrow, in `count` small boxes of two `half`s, where all of it is free."""
    (x, y), (dx, dy), last = tail, (tip[0] - tail[0], tip[1] - tail[1]), count - 1
    middles = [(x + dx * k / last, y + dy * k / last) for k in range(count)]
    boxes = [Box(x - half, y - half, x + half, y + half) for x, y in middles]
    if not all(space.fits(box, air=air) for box in boxes):
        return False
    for box in boxes:
        space.take(box, apart=apart)
    return True


def _grid(area: Box, width: float, height: float, step: float) -> tuple[list[float], list[float]]:
    """Lefts and bottoms at which a box of a size lies in an area, `step` apart or more."""
    free = (area.width - width, area.height - height)
    if area.width < width or area.height < height:
        return [], []
    step = max(step, sqrt(free[0] * free[1] / MOST_PLACES))
    return _steps(area.left, area.right - width, step), _steps(area.bottom, area.top - height, step)


def _outwards(corners: list[Point], area: Box, width: float, height: float) -> list[Point]:
    """Corners by their distance from where a box of a size has the area's middle."""
    x0, y0 = (area.left + area.right - width) / 2, (area.bottom + area.top - height) / 2
    return sorted(corners, key=lambda at: (round(hypot(at[0] - x0, at[1] - y0), 3), at[1], at[0]))


def _steps(first: float, last: float, step: float) -> list[float]:
    """Positions from first to last, evenly, the middle among them."""
    count = 2 * ceil((last - first) / step / 2)
    return [first + (last - first) * k / count for k in range(count + 1)] if count else [first]
