"""Names: each in what it names where that has room, else beside the picture with a leader to it.

In: names, what is seen of their groups on the paper. Out: marks: words and leaders. What is hidden
altogether is not named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.draw.article.scene import Name
from handkit.draw.article.seen import CELL, Seen
from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.free_space import APART, FreeSpace, LabelRegion, take_groups
from handkit.draw.model.label_search import first_free, free_places, free_rows
from handkit.draw.model.lettering import TextBlock, TextLine, capital_height, centred, text_block
from handkit.draw.model.marks import Group, Ink, Mark, Words
from handkit.draw.model.path_ops import circle_ops, dot_ops, line_ops
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.raster import Raster
from handkit.geometry.straight import distance
from handkit.ink import LEADER, STROKES, Tag

# Radius of the ring round a fault's number, mm.
RING = 2.7

# Places for names beside the picture are tried so far apart; a leader is no shorter, mm.
STEP, LEAST_LEADER = 3.0, 2.5

# Places are looked for in so many parts of the room, for the search tries only so many in each.
BANDS = 3

# So many of the shortest leaders are tried before one may cross more.
MOST_TRIED = 200
LEADER_DOT = 0.7

# Where so many names in a row found no room beside the picture, it is full, and only faults are still told.
FULL = 12

# Free paper on both sides of a leader, up to so near to its end: several may end in one place.
BESIDE_LEADER, LEADER_END = 0.2, 0.7

# Free paper round a name inside its shape; how large the spot is that a leader ends in.
AIR, SPOT = 0.7, 1.5

# In what is no wider than this, such as a strap, a name is looked for everywhere, with this air, mm.
SLENDER, TIGHT = 10.0, 0.2

# What is larger and of which no such spot is seen is not named, mm.
SMALL = 4.0

# How far from the middle a leader may end, as a share of what is seen.
OFF_MIDDLE = 0.35


class SetName(msgspec.Struct, frozen=True):
    """A name as it is set, by its lower left corner: in lines, level or upright, or in a ring."""

    block: TextBlock
    number: Words | None = None

    @property
    def width(self) -> float:
        """Of what it covers."""
        return 2 * RING if self.number else self.block.width

    @property
    def height(self) -> float:
        """Of what it covers."""
        return 2 * RING if self.number else self.block.height

    def box_at(self, corner: Point) -> Box:
        """What it covers."""
        return Box(corner[0], corner[1], corner[0] + self.width, corner[1] + self.height)

    def marks_at(self, corner: Point, leader: Sequence[Ink] = ()) -> Mark:
        """The label, set, after its leader."""
        if self.number is None:
            return Mark(Tag.PAGE, (), (*leader, *self.block.words_at(corner)))
        x, y = corner[0] + RING, corner[1] + RING
        ring = Ink(circle_ops((x, y), RING), STROKES[Tag.FAULT], 1.0)
        words = msgspec.structs.replace(self.number, at=(x + self.number.at[0], y + self.number.at[1]))
        return Mark(Tag.FAULT, (("Number", int(words.text)),), (*leader, ring, words))


def set_names(
    names: Sequence[Name], space: Seen, measures: Sequence[Mark], fonts: Fonts
) -> tuple[tuple[Mark, ...], tuple[str, ...]]:
    """All names, those inside first, so that leaders find what is left; and those that found no room.

    A leader crosses no text; other leaders and dimension lines only where there is no other way.
    """
    found: list[Mark] = []
    left_out: tuple[str, ...] = ()
    texts, lines, leaders = (Raster(space.lines.area, cell=CELL) for _ in range(3))
    take_groups(lines, [Group(tuple(measures))])
    _take(texts, [part for mark in measures for part in mark.parts], fonts)
    space.lines.take_cells(texts.rows)
    outside: list[tuple[Name, tuple[Point, ...]]] = []
    for name in _once(names, space):
        shown = space.around(name.group)
        if shown is None:
            continue
        own = space.all_but(name.group)
        wanted = _wanted(shown)
        spots = own.free_boxes(SPOT, SPOT, near=wanted)
        if not (spots or name.ring) and max(shown.width, shown.height) > SMALL:
            continue  # no more of it is seen than a line along another's edge
        inside = _inside(name, shown, _free(space, texts, own, fonts))
        if not inside and min(shown.width, shown.height) < SLENDER:
            inside = _inside(name, shown, _free(space, texts, own, fonts, air=TIGHT), step=CELL / 2)
        found += inside
        if not inside:
            spots = spots or own.free_boxes(CELL, CELL, near=wanted)
            outside.append((name, tuple(dict.fromkeys(spot.middle for spot in spots))))
    lacking = 0
    for name, places in outside:
        if lacking >= FULL and not name.ring:
            left_out += (name.text,)
            continue
        free = _free(space, texts, space.covered, fonts)
        beside = _led(name, places, free, ((leaders, lines), (lines,), ()))
        lacking = 0 if beside else lacking + 1
        take_groups(leaders, [Group(beside)])
        found += beside
        left_out += () if beside else (f"fault {name.text}" if name.ring else name.text,)
    return tuple(found), left_out


def _once(names: Sequence[Name], space: Seen) -> Iterator[Name]:
    """Of what has one name, that of which most is seen."""
    most: dict[tuple[str, bool], tuple[float, Name]] = {}
    for name in names:
        shown, key = space.around(name.group), (name.text, name.ring)
        size = shown.width * shown.height if shown is not None else 0.0
        if key not in most or size > most[key][0]:
            most[key] = (size, name)
    return (name for _, name in most.values())


def _led(
    name: Name, places: Sequence[Point], free: FreeSpace, others: Sequence[Sequence[Raster]]
) -> tuple[Mark, ...]:
    """The name on bare paper with one of the shortest leaders: off all texts, and off the first of `others`
    that leave it a way."""
    label = _labels(name, free.fonts)[0]
    (a, b), half, high = places[0], label.width / 2, label.height / 2
    ways: list[tuple[float, Point]] = []
    for band in _bands(free.room, label.height):
        for y, xs in free_rows(free, band, label.width, label.height, step=STEP):
            up = max(abs(y + high - b) - high, 0.0) ** 2
            ways += [(max(abs(x + half - a) - half, 0.0) ** 2 + up, (x, y)) for x in xs]
    ways.sort()
    for more in others:
        taken = free.hard.copy()
        for raster in more:
            taken.take_cells(raster.rows)
        for _, corner in ways[:MOST_TRIED]:
            box = label.box_at(corner)
            long, start, place = min((distance(box.nearest(at), at), box.nearest(at), at) for at in places)
            if long < LEAST_LEADER:
                continue
            end = _before(start, place, LEADER_END / long)
            if taken.is_free_along(start, end, reach=BESIDE_LEADER):
                free.take(box)
                leader = (Ink(line_ops(start, place), LEADER), Ink(dot_ops(place, LEADER_DOT)))
                return (label.marks_at(corner, leader),)
    return ()


def _before(start: Point, end: Point, share: float) -> Point:
    """A share of the way from start to end before its end."""
    return (end[0] + (start[0] - end[0]) * share, end[1] + (start[1] - end[1]) * share)


def _labels(name: Name, fonts: Fonts) -> tuple[SetName, ...]:
    """How a name may be set: in one line, in several, upright; a fault's number in its ring."""
    line = TextLine(name.text, LEAST_SIZE, name.bold)
    wide = fonts.width(name.text, LEAST_SIZE, bold=name.bold)
    level = text_block([line], wide + 1, fonts)
    if name.ring:
        return (SetName(level, centred(name.text, (0.0, 0.0), fonts, bold=name.bold)),)
    widest = max(fonts.width(word, LEAST_SIZE, bold=name.bold) for word in name.text.split() or [""])
    broken = text_block([line], max(widest + 0.5, wide * 0.55), fonts)
    return (SetName(level), SetName(broken), SetName(level.turned()))


def _bands(room: Box, high: float) -> Iterator[Box]:
    """Parts of a room, one over the other, each with room for what is so high at both of its ends."""
    deep = room.height / BANDS
    for k in range(BANDS):
        yield Box(
            room.left, room.bottom + k * deep, room.right, min(room.top, room.bottom + (k + 1) * deep + high)
        )


def _take(raster: Raster, parts: Sequence[Ink | Words], fonts: Fonts) -> None:
    """Take the room of texts."""
    for words in parts:
        if isinstance(words, Words):
            (x, y), high = words.at, capital_height(words.size)
            wide = fonts.width(words.text, words.size, bold=words.bold)
            left, right, top = (x - high, x, y + wide) if words.degrees else (x, x + wide, y + high)
            raster.take(left - APART, y - APART, right + APART, top + APART)


def _wanted(shown: Box) -> tuple[Point, ...]:
    """Where a leader should end in what is seen of a thing: at its middle, or near one of its sides."""
    (x, y), dx, dy = shown.middle, shown.width * OFF_MIDDLE, shown.height * OFF_MIDDLE
    return ((x, y), (x + dx, y), (x - dx, y)) if dx > dy else ((x, y), (x, y + dy), (x, y - dy))


def _free(space: Seen, texts: Raster, also: Raster, fonts: Fonts, *, air: float = AIR) -> FreeSpace:
    """Where names may go: off lines and texts, and off what else is said to be taken."""
    regions = {LabelRegion.INSIDE: (space.lines, also)}
    return FreeSpace(also.area, space.lines, texts, regions, fonts, air=air, apart=APART)


def _inside(name: Name, shown: Box, free: FreeSpace, *, step: float = 1.5) -> tuple[Mark, ...]:
    """The name in what it names."""
    for label in _labels(name, free.fonts):
        places = free_places(free, shown, label.width, label.height, step=step)
        placed = first_free(free, label, places)
        if placed is not None:
            return (label.marks_at(placed.place),)
    return ()
