"""Names: each in what it names where that has room, else beside the picture with a leader to it.

In: names, what is seen of their groups on the paper. Out: words and leaders. What is hidden altogether is
not named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from handkit.draw.article.scene import Name
from handkit.draw.article.seen import Seen
from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.free_space import APART, CELL, LEADER, FreeSpace, LabelRegion, take_groups
from handkit.draw.model.label_search import first_free, free_places
from handkit.draw.model.lettering import TextLine, capital_height, text_block
from handkit.draw.model.marks import Group, Ink, Mark, Words, page_group
from handkit.draw.model.path_ops import dot_ops, line_ops
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.raster import Raster
from handkit.geometry.straight import distance

# Places for names beside the picture are tried so far apart; a leader is no shorter, mm.
STEP, LEAST_LEADER = 2.5, 2.5

# Places are looked for in so many parts of the room, for the search tries only so many in each.
BANDS = 4

# So many of the shortest leaders are tried before one may cross more.
MOST_TRIED = 400
LEADER_DOT = 0.7

# Free paper round a name inside its shape; how large the spot is that a leader ends in.
AIR, SPOT = 0.7, 1.5

# How far from the middle a leader may end, as a share of what is seen.
OFF_MIDDLE = 0.35


def set_names(
    names: Sequence[Name], at: Mapping[Name, Point], space: Seen, measures: Sequence[Mark], fonts: Fonts
) -> tuple[Ink | Words, ...]:
    """All names, those inside first, so that leaders find what is left. A leader crosses no text; other
    leaders and dimension lines only where there is no other way."""
    found: list[Ink | Words] = []
    texts, lines, leaders = (Raster(space.lines.area, cell=CELL) for _ in range(3))
    take_groups(lines, [Group(tuple(measures))])
    _take(texts, [part for mark in measures for part in mark.parts], fonts)
    space.lines.take_cells(texts.rows)
    outside: list[tuple[Name, tuple[Point, ...]]] = []
    for name in names:
        shown = space.around(name.group)
        if shown is None:
            continue
        own = space.all_but(name.group)
        words = () if name.at else tuple(_inside(name, own, shown, _free(space, texts, own, fonts)))
        found += words
        if not words:
            outside.append((name, (at[name],) if name.at else _spots(own, shown)))
    for name, places in outside:
        free = _free(space, texts, space.covered, fonts)
        beside = _led(name, places, free, ((leaders, lines), (lines,), ()))
        take_groups(leaders, [page_group(*beside)])
        found += beside
    return tuple(found)


def _led(
    name: Name, places: Sequence[Point], free: FreeSpace, others: Sequence[Sequence[Raster]]
) -> tuple[Ink | Words, ...]:
    """The name on bare paper with one of the shortest leaders: off all texts, and off the first of `others`
    that leave it a way."""
    line = TextLine(name.text, LEAST_SIZE, name.bold).measured(free.fonts)
    wide, high = line.width, line.low + line.high
    boxes = [
        Box(x, y, x + wide, y + high)
        for band in _bands(free.room, high)
        for x, y in free_places(free, band, wide, high, step=STEP)
    ]
    ways = sorted(
        (*min((distance(box.nearest(place), place), place) for place in places), k)
        for k, box in enumerate(boxes)
    )
    ways = [way for way in ways if way[0] >= LEAST_LEADER][:MOST_TRIED]
    for more in others:
        taken = free.hard.copy()
        for raster in more:
            taken.take_cells(raster.rows)
        for _, place, k in ways:
            box = boxes[k]
            start = box.nearest(place)
            if free.crosses_nothing(start, place, short=0, on=taken, outside=False):
                free.take(box)
                middle = (box.middle[0], box.bottom + line.low + line.high / 2)
                leader = Ink(line_ops(start, place), LEADER)
                return (*line.words_at(middle), leader, Ink(dot_ops(place, LEADER_DOT)))
    return ()


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


def _spots(own: Raster, shown: Box) -> tuple[Point, ...]:
    """Where a leader may end in what is seen of a thing: at its middle, or near one of its sides."""
    (x, y), dx, dy = shown.middle, shown.width * OFF_MIDDLE, shown.height * OFF_MIDDLE
    wanted = ((x, y), (x + dx, y), (x - dx, y), (x, y + dy), (x, y - dy))
    spots = (own.free_box(SPOT, SPOT, near=at) or own.free_box(CELL, CELL, near=at) for at in wanted)
    return tuple(dict.fromkeys(spot.middle for spot in spots if spot is not None))


def _free(space: Seen, texts: Raster, also: Raster, fonts: Fonts) -> FreeSpace:
    """Where names may go: off lines and texts, and off what else is said to be taken."""
    regions = {LabelRegion.INSIDE: (space.lines, also)}
    return FreeSpace(also.area, space.lines, texts, regions, fonts, air=AIR, apart=APART)


def _inside(name: Name, own: Raster, shown: Box, free: FreeSpace) -> Iterator[Words]:
    """The name in one line, in several, or upright."""
    line = TextLine(name.text, LEAST_SIZE, name.bold)
    wide = free.fonts.width(name.text, LEAST_SIZE, bold=name.bold)
    level = text_block([line], wide + 1, free.fonts)
    widest = max(free.fonts.width(word, LEAST_SIZE, bold=name.bold) for word in name.text.split() or [""])
    for block in (level, text_block([line], max(widest + 0.5, wide * 0.55), free.fonts), level.turned()):
        placed = first_free(free, block, free_places(free, shown, block.width, block.height, step=1.5))
        if placed is not None:
            yield from block.words_at(placed.place)
            return
