"""Names: each in what it names where that has room, else beside the picture with a leader to it.

In: names, what is seen of their groups on the paper. Out: marks: words and leaders. What is hidden
altogether is not named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot, inf

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

# So many of the shortest leaders are tried; one that crosses a dimension line counts as so much longer, mm.
# Where names find no way, all are set anew with those first while that sets more, so often at most.
MOST_TRIED, CROSSED, ROUNDS = 1200, 20.0, 4
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


# A leader: how long, the lower left corner of its name, to which of the places of what it names.
_Way = tuple[float, float, float, int]


class _Outside(msgspec.Struct, frozen=True):
    """A name to set beside the picture, where its leader may end, and all it may have, the shortest first."""

    name: Name
    label: SetName
    places: tuple[Point, ...]
    ways: tuple[_Way, ...]


class _Leaders(msgspec.Struct, frozen=True):
    """The leaders of a picture: all of each, and each but for its end, where several may meet."""

    whole: Raster
    short: Raster

    def take(self, start: Point, place: Point) -> None:
        """One more."""
        share = min((LEADER_END + CELL) / distance(start, place), 1.0)
        self.whole.take_line((start, place), reach=BESIDE_LEADER)
        self.short.take_line((start, _before(start, place, share)), reach=BESIDE_LEADER)


def set_names(
    names: Sequence[Name], space: Seen, measures: Sequence[Mark], fonts: Fonts
) -> tuple[tuple[Mark, ...], tuple[str, ...]]:
    """All names, those inside first, so that leaders find what is left; and those that found no room.

    A leader crosses no text and no other leader, a fault's only where there is no other way; a dimension line
    where there is none.
    """
    found: list[Mark] = []
    texts, lines = (Raster(space.lines.area, cell=CELL) for _ in range(2))
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
        if not (spots or name.ring or name.thin) and max(shown.width, shown.height) > SMALL:
            continue  # no more of it is seen than a line along another's edge
        inside = _inside(name, shown, _free(space.lines, texts, own, fonts))
        if not inside and min(shown.width, shown.height) < SLENDER:
            inside = _inside(name, shown, _free(space.lines, texts, own, fonts, air=TIGHT), step=CELL / 2)
        found += inside
        if not inside:
            spots = spots or own.free_boxes(CELL, CELL, near=wanted)
            outside.append((name, tuple(dict.fromkeys(spot.middle for spot in spots))))
    free = _free(space.lines, texts, space.covered, fonts)
    named = [_outside(name, places, free) for name, places in outside]
    beside = _all_beside(named, free, lines)
    lacking = [each.name for each in named if each.name not in beside]
    return (*found, *beside.values()), tuple(f"{'fault ' * name.ring}{name.text}" for name in lacking)


def _all_beside(outside: Sequence[_Outside], free: FreeSpace, lines: Raster) -> dict[Name, Mark]:
    """Names beside the picture, each with its leader: of several tries, in each of which those that found no
    way before come first, the one that leaves out fewest."""
    order, best = sorted(outside, key=lambda each: not each.name.ring), dict[Name, Mark]()
    for _ in range(ROUNDS):
        found = _tried(order, free.copy(), lines)
        lacking = [each for each in order if each.name not in found]
        order = [*lacking, *(each for each in order if each.name in found)]
        gained, best = len(found) > len(best), max(best, found, key=len)
        if not (lacking and gained) or len(lacking) >= FULL:
            break
    return best


def _tried(outside: Sequence[_Outside], free: FreeSpace, lines: Raster) -> dict[Name, Mark]:
    """Those that find a place, one after another, as long as there is room."""
    leaders, lacking = _Leaders(*(Raster(free.room, cell=CELL) for _ in range(2))), 0
    found: dict[Name, Mark] = {}
    for each in outside:
        if lacking >= FULL and not each.name.ring:
            continue
        mark = _led(each, free, leaders, lines)
        lacking = 0 if mark else lacking + 1
        if mark is not None:
            found[each.name] = mark
            take_groups(free.busy, [Group((mark,))])
    return found


def _once(names: Sequence[Name], space: Seen) -> Iterator[Name]:
    """Of what has one name, that of which most is seen."""
    most: dict[tuple[str, bool], tuple[float, Name]] = {}
    for name in names:
        shown, key = space.around(name.group), (name.text, name.ring)
        size = shown.width * shown.height if shown is not None else 0.0
        if key not in most or size > most[key][0]:
            most[key] = (size, name)
    return (name for _, name in most.values())


def _led(outside: _Outside, free: FreeSpace, leaders: _Leaders, lines: Raster) -> Mark | None:
    """The name on bare paper with the shortest leader that crosses no text and no leader; a fault's crosses
    leaders where it must."""
    for over_leaders in (False, True)[: 1 + outside.name.ring]:
        taken, boxes, best, found = free.hard.copy(), dict[Point, Box | None](), inf, None
        taken.take_cells(taken.rows if over_leaders else leaders.whole.rows)
        for long, x, y, k in outside.ways:
            if long >= best:
                break
            if (x, y) not in boxes:
                box = outside.label.box_at((x, y))
                boxes[x, y] = box if free.fits(box) else None
            room, place = boxes[x, y], outside.places[k]
            if room is None:
                continue
            start = room.nearest(place)
            end = _before(start, place, LEADER_END / long)
            if taken.is_free_along(start, end, reach=BESIDE_LEADER) and (
                over_leaders or leaders.short.is_free_along(start, place, reach=BESIDE_LEADER)
            ):
                longer = long + CROSSED * (not lines.is_free_along(start, end, reach=BESIDE_LEADER))
                if longer < best:
                    best, found = longer, (room, start, place)
        if found is not None:
            box, start, place = found
            free.take(box)
            leaders.take(start, place)
            leader = (Ink(line_ops(start, place), LEADER), Ink(dot_ops(place, LEADER_DOT)))
            return outside.label.marks_at((box.left, box.bottom), leader)
    return None


def _outside(name: Name, places: tuple[Point, ...], free: FreeSpace) -> _Outside:
    """A name with the leaders to its places from where it has room beside the picture."""
    label, ways = _labels(name, free.fonts)[0], list[_Way]()
    wide, high = label.width, label.height
    rows = [row for band in _bands(free.room, high) for row in free_rows(free, band, wide, high, step=STEP)]
    columns = dict.fromkeys(x for _, xs in rows for x in xs)
    for k, (a, b) in enumerate(places):
        across = {x: _off(a, x, x + wide) for x in columns}
        for y, xs in rows:
            up = _off(b, y, y + high)
            ways += [(hypot(across[x], up), x, y, k) for x in xs]
    shortest = [way for way in sorted(ways) if way[0] >= LEAST_LEADER][:MOST_TRIED]
    return _Outside(name, label, places, tuple(shortest))


def _off(at: float, low: float, high: float) -> float:
    """How far something lies from a stretch."""
    return low - at if at < low else at - high if at > high else 0.0


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


def _bands(room: Box, high: float) -> list[Box]:
    """Parts of a room, one over the other, each with room for what is so high at both of its ends."""
    ends = [room.bottom + k * (room.height / BANDS) for k in range(BANDS + 1)]
    return [Box(room.left, a, room.right, min(room.top, b + high)) for a, b in pairwise(ends)]


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
    return ((x, y), (x + dx, y), (x - dx, y), (x, y + dy), (x, y - dy))


def _free(lines: Raster, texts: Raster, also: Raster, fonts: Fonts, *, air: float = AIR) -> FreeSpace:
    """Where names may go: off lines and texts, and off what else is said to be taken."""
    regions = {LabelRegion.INSIDE: (lines, also)}
    return FreeSpace(also.area, lines, texts, regions, fonts, air=air, apart=APART)


def _inside(name: Name, shown: Box, free: FreeSpace, *, step: float = 1.5) -> tuple[Mark, ...]:
    """The name in what it names."""
    for label in _labels(name, free.fonts):
        places = free_places(free, shown, label.width, label.height, step=step)
        placed = first_free(free, label, places)
        if placed is not None:
            return (label.marks_at(placed.place),)
    return ()
