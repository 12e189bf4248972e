"""Names: each in what it names where that has room, else beside the picture with a leader to it.

In: names, what is seen of their groups on the paper. Out: words and leaders. What is hidden altogether is
not named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from handkit.draw.article.scene import Name
from handkit.draw.article.seen import Seen
from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.free_space import APART, CELL, FreeSpace, LabelRegion, rings_of
from handkit.draw.model.label_search import first_free, free_places, led
from handkit.draw.model.lettering import TextLine, text_block
from handkit.draw.model.marks import Ink, Words
from handkit.draw.model.path_ops import dot_ops
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.geometry.raster import Raster

# From what is named to its name beside it, mm, the shortest first.
REACHES = (4.0, 6.0, 9.0, 12.0, 16.0, 20.0, 25.0, 30.0, 36.0, 43.0, 51.0, 60.0, 72.0, 86.0, 104.0)
LEADER_DOT = 0.7

# Free paper round a name inside its shape; how large the spot is that a leader ends in.
AIR, SPOT = 0.7, 1.5

# How far from the middle a leader may end, as a share of what is seen.
OFF_MIDDLE = 0.35


def set_names(
    names: Sequence[Name], at: Mapping[Name, Point], space: Seen, texts: Raster, fonts: Fonts
) -> tuple[Ink | Words, ...]:
    """All names, those inside first, so that leaders find what is left; `texts` has what they keep off."""
    found: list[Ink | Words] = []
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
        found += _beside(name, places, _free(space, texts, space.covered, fonts))
    return tuple(found)


def _spots(own: Raster, shown: Box) -> tuple[Point, ...]:
    """Where a leader may end in what is seen of a thing: at its middle, or near one of its sides."""
    (x, y), dx, dy = shown.middle, shown.width * OFF_MIDDLE, shown.height * OFF_MIDDLE
    wanted = ((x, y), (x + dx, y), (x - dx, y), (x, y + dy), (x, y - dy))
    spots = (own.free_box(SPOT, SPOT, near=at) or own.free_box(CELL, CELL, near=at) for at in wanted)
    return tuple(dict.fromkeys(spot.middle for spot in spots if spot is not None))


def _beside(name: Name, places: Sequence[Point], free: FreeSpace) -> tuple[Ink | Words, ...]:
    """The name on bare paper with the shortest leader that crosses no name and no other leader."""
    for reach in REACHES:
        for place in places:
            words = led(free, name.text, place, end=0.0, bold=name.bold, reaches=(reach,))
            for part in words:
                if isinstance(part, Ink):
                    (line,) = rings_of(part.path)
                    free.hard.take_line(line, reach=APART)
            if words:
                return (*words, Ink(dot_ops(place, LEADER_DOT)))
    return ()


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
