"""Free space: what of a sheet, or of a picture, is drawn already, and where texts may go.

In: what is drawn, the outlines of pieces on the sheet. Out: whether a text may stand in a box, and
whether a leader may run to what it names.

Words: a *leader* is a thin line from a text to what it names.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from enum import StrEnum
from functools import cached_property
from itertools import chain

import msgspec

from handkit.draw.model.fonts import Fonts
from handkit.draw.model.marks import Group, Ink
from handkit.draw.model.path_ops import PathOps, line_ops
from handkit.draw.model.rim import Rim
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.raster import Raster, RowSpans
from handkit.geometry.straight import distance, unit
from handkit.grouping import grouped
from handkit.ink import LEADER

# Cells of a sheet, in mm.
CELL = 0.5

# A curve no larger takes all cells of its box: at most one beside it.
SMALL = 1.0

# Free paper kept round a text, and round a line's own width.
AIR = 0.5

# By so much a box stays clear of the last of its cells, so that it touches no more of them.
FULL = 0.01

# More of it from one text to the next, so that two numbers don't read as one.
APART = 0.6

# By how much nearer a text outside must stand to what it names than to anything else, in mm.
PLAINLY = 1.5


# So near to its own piece's outline a leader is crossing it.
OWN_OUTLINE = 1.0


# Places of a leader are looked at this many apart, and then those between: what it crosses is soon met.
STRIDE = 8
STRIDES = (1, 5, 3, 7, 2, 4, 6, 8)


class LabelRegion(StrEnum):
    """Where a thing may be set."""

    INSIDE = "on free paper inside its piece"
    OUTSIDE = "on bare paper, outside every piece"
    OVER_LINES = "inside its piece, over thin lines if need be"


class FreeSpace(msgspec.Struct, frozen=True, dict=True, eq=False):
    """Where texts about one window, or one picture, may go.

    `busy` has all that is drawn, `hard` only what must never be written over (cut lines, holes,
    openings, texts), `regions` for each region the two rasters in both of which a thing must be free.
    `ring` is the outline of the window's part on the sheet, `others` those of pieces near it.
    """

    room: Box
    busy: Raster
    hard: Raster
    regions: Mapping[LabelRegion, tuple[Raster, Raster]]
    fonts: Fonts
    ring: tuple[Point, ...] = ()
    others: tuple[tuple[Point, ...], ...] = ()
    air: float = AIR
    apart: float = APART
    _parts: dict[tuple[LabelRegion, Box], tuple[tuple[int, int], Raster]] = msgspec.field(
        default_factory=dict
    )
    _spans: dict[LabelRegion, tuple[tuple[int, int], RowSpans]] = msgspec.field(default_factory=dict)

    def copy(self) -> FreeSpace:
        """Another with the same taken: what is taken there is free here."""
        of = {id(raster): raster.copy() for both in self.regions.values() for raster in both}
        of |= {id(raster): raster.copy() for raster in (self.busy, self.hard) if id(raster) not in of}
        regions = {region: (of[id(one)], of[id(other)]) for region, (one, other) in self.regions.items()}
        busy, hard = of[id(self.busy)], of[id(self.hard)]
        return FreeSpace(
            self.room, busy, hard, regions, self.fonts, self.ring, self.others, self.air, self.apart
        )

    def spans(self, region: LabelRegion) -> RowSpans:
        """What is taken of rows in a region, kept until something more is."""
        one, other = self.regions[region]
        state = (one.changes, other.changes)
        known = self._spans.get(region)
        if known is None or known[0] != state:
            rows = [a | b for a, b in zip(one.rows, other.rows, strict=True)]
            known = self._spans[region] = (state, RowSpans(rows))
        return known[1]

    def fits(self, box: Box, region: LabelRegion = LabelRegion.INSIDE, *, air: float | None = None) -> bool:
        """Whether a thing may stand in a box, with air about it."""
        air = self.air if air is None else air
        left, bottom, right, top = box.left - air, box.bottom - air, box.right + air, box.top + air
        room = self.room
        if left < room.left or bottom < room.bottom or right > room.right or top > room.top:
            return False
        one, other = self.regions[region]
        cells, more = one.cells(left, right), other.rows
        for index in one.rows_of(bottom, top):  # noqa: SIM110 - asked most of all; a plain loop is faster
            if (one.rows[index] | more[index]) & cells:
                return False
        return True

    def nearest(self, area: Box, width: float, height: float, region: LabelRegion) -> Box | None:
        """Of the places in an area where a thing of a size is free the one nearest to its middle."""
        by = self.air + FULL
        found = self._part(area, region).free_box(width + 2 * by, height + 2 * by, near=area.middle)
        if found is None:
            return None
        x, y = found.middle
        return Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)

    def _part(self, area: Box, region: LabelRegion) -> Raster:
        """What is taken of an area in a region, kept until something more is."""
        one, other = self.regions[region]
        state, key = (one.changes, other.changes), (region, area)
        known = self._parts.get(key)
        if known is None or known[0] != state:
            part = one.part(area.within(self.room), also=other.rows)
            known = self._parts[key] = (state, part)
        return known[1]

    def take(self, box: Box, *, apart: float | None = None) -> None:
        """Nothing else comes here, nor so near that two texts read as one."""
        by = self.apart if apart is None else apart
        for raster in dict.fromkeys((self.busy, self.hard)):
            raster.take(box.left - by, box.bottom - by, box.right + by, box.top + by)

    def take_ink(self, leader: Iterable[Ink]) -> None:
        """No text comes over a leader, and no other leader across it."""
        for ink in leader:
            for raster in dict.fromkeys((self.busy, self.hard)):
                take_path(raster, ink.path, reach=LEADER.width / 2)

    def is_own(self, centre: Point, anchor: Point) -> bool:
        """Whether a text outside is plainly about its anchor and not about a neighbour: it is the
        anchor it stands nearer to."""
        reach = distance(centre, anchor) + PLAINLY
        return all(rim.is_clear_of(centre, reach=reach) for rim in self._other_rims)

    def crosses_nothing(
        self, start: Point, place: Point, *, short: float, on: Raster, outside: bool = True
    ) -> bool:
        """Whether a leader may run from a text to a place, but for its last `short` mm: over no taken
        cell of a raster, and from outside on bare paper, across the own outline and in the own piece."""
        length, by, room = distance(start, place), 0.2, self.room
        left, right, bottom, top = room.left + by, room.right - by, room.bottom + by, room.top - by
        steps = int(2 * (length - short))
        for k in chain.from_iterable(range(first, steps, STRIDE) for first in STRIDES):
            share = k / 2 / length
            x, y = start[0] + (place[0] - start[0]) * share, start[1] + (place[1] - start[1]) * share
            if not outside:  # asked most of all
                if not (
                    left <= x <= right and bottom <= y <= top and on.is_free(x - by, y - by, x + by, y + by)
                ):
                    return False
                continue
            box, own = Box(x - by, y - by, x + by, y + by), self._rim
            free = self._is_free(box, on) and (self._is_free(box, self._pieces) or own.holds((x, y)))
            if not free and own.is_clear_of((x, y), reach=OWN_OUTLINE):
                return False
        return True

    def leader(self, box: Box, place: Point) -> tuple[Ink, ...] | None:
        """A leader from a text on bare paper to a place, where it crosses nothing but the own outline."""
        start = box.nearest(place)
        if distance(start, place) < 1e-6 or not self.crosses_nothing(start, place, short=0.5, on=self.busy):
            return None
        ux, uy = unit(start, place)
        return (Ink(line_ops((start[0] + ux * 0.5, start[1] + uy * 0.5), place), LEADER),)

    @cached_property
    def _rim(self) -> Rim:
        return Rim(self.ring)

    @cached_property
    def _other_rims(self) -> tuple[Rim, ...]:
        return tuple(Rim(ring) for ring in self.others)

    @property
    def _pieces(self) -> Raster:
        """The insides of all pieces."""
        return self.regions[LabelRegion.OUTSIDE][1]

    def _is_free(self, box: Box, raster: Raster) -> bool:
        return box.inside(self.room) and raster.is_free(box.left, box.bottom, box.right, box.top)


def take_path(raster: Raster, path: PathOps, *, reach: float) -> None:
    """Take the cells within `reach` of drawn lines and curves."""
    if path.operators == "ml":  # most of what is drawn: a hole's tick
        x0, y0, x1, y1 = path.numbers
        raster.take_line(((x0, y0), (x1, y1)), reach=reach)
        return
    here: Point = (0.0, 0.0)
    start = here
    for operator, numbers in path.each():
        if operator == "m":
            here = start = (numbers[0], numbers[1])
            continue
        if operator == "c":
            _take_cubic(raster, here, numbers, reach)
            here = (numbers[4], numbers[5])
            continue
        end = (numbers[0], numbers[1]) if operator == "l" else start
        raster.take_line((here, end), reach=reach)
        here = end


def rings_of(path: PathOps) -> tuple[tuple[Point, ...], ...]:
    """The subpaths of drawn lines and curves as points, coarsely.

    >>> rings_of(PathOps("mlhml", (0, 0, 1, 0, 5, 5, 6, 6)))
    (((0, 0), (1, 0)), ((5, 5), (6, 6)))
    """
    rings: list[list[Point]] = []
    for operator, numbers in path.each():
        if operator == "m":
            rings.append([(numbers[0], numbers[1])])
        elif operator == "l":
            rings[-1].append((numbers[0], numbers[1]))
        elif operator == "c":
            rings[-1].extend(_along_cubic(rings[-1][-1], numbers))
    return tuple(map(tuple, rings))


def take_groups(raster: Raster, groups: Iterable[Group]) -> None:
    """Take the lines that groups draw, as far as their clips show them; a hole's point lies on its tick."""
    for clips, alike in grouped(groups, by=lambda group: group.clips).items():
        drawn = Raster(raster.area, cell=raster.cell) if clips else raster
        for mark in (mark for group in alike for mark in group.marks):
            for part in mark.parts:
                if isinstance(part, Ink) and part.stroke is not None:
                    take_path(drawn, part.path, reach=part.stroke.width / 2)
        if clips:
            raster.take_cells(_clipped(drawn, clips))


def _clipped(drawn: Raster, clips: Sequence[PathOps]) -> list[int]:
    """What is taken inside every one of some clips."""
    rows = drawn.rows
    for clip in clips:
        for ring in rings_of(clip):
            rows = [a & b for a, b in zip(rows, drawn.inside(ring), strict=True)]
    return rows


def _take_cubic(raster: Raster, start: Point, handles: Sequence[float], reach: float) -> None:
    """A cubic; one no larger than a few cells, such as a hole's quarter, by its handles' box."""
    xs, ys = (start[0], *handles[::2]), (start[1], *handles[1::2])
    left, bottom, right, top = min(xs), min(ys), max(xs), max(ys)
    if max(right - left, top - bottom) <= SMALL:
        raster.take(left - reach, bottom - reach, right + reach, top + reach)
    else:
        raster.take_line((start, *_along_cubic(start, handles)), reach=reach)


def _along_cubic(start: Point, handles: Sequence[float]) -> Iterator[Point]:
    """Four points along a cubic, its end the last: a sixteenth of its sagitta is near enough."""
    (x0, y0), (x1, y1, x2, y2, x3, y3) = start, handles
    for t in (0.25, 0.5, 0.75, 1.0):
        s = 1 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        yield (a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3)
