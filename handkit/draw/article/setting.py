"""Setting: scenes on paper, at a scale that is told.

In: scenes, a room, fonts. Out: blocks: each picture under its title with its scale, its overall measures by
dimension lines (ISO 129: thin, arrows, the figure over the line), its names and its notes.

Words: a *cell* is the room that one picture takes with all that stands about it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

import msgspec

from handkit.draw.article.names import set_names
from handkit.draw.article.scene import ArticleScene
from handkit.draw.article.seen import seen
from handkit.draw.layout.flow import Block, beside, stacked
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.dimension import PAST, dimension
from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.lettering import HEAD, LEADING
from handkit.draw.model.marks import Group, Mark, enlarged, settled, shifted
from handkit.geometry.affine import Point
from handkit.geometry.box import Box
from handkit.kept.kept import NOTHING, KeptOf
from handkit.wording.figures import Units, plain
from handkit.wording.quoting import words as listed

# Scales that are told in whole or plain numbers: times larger, then times smaller.
LARGER = (5.0, 4.0, 3.0, 2.5, 2.0, 1.5)
SMALLER = (1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0)
HUGE = (50.0, 75.0, 100.0)  # up to the longest piece that may be written
SCALES = (*LARGER, *(1 / times for times in (*SMALLER, *HUGE)))

# Free paper left and right of a picture for names, above and below it; mm.
BESIDE, ABOVE = 20.0, 5.0

# How far dimension lines stand from what they measure.
OFF = 6.0
BELOW = 5.0
TITLE_SPACE = HEAD * LEADING


class SceneCell(msgspec.Struct, frozen=True):
    """A scene at a scale, with what room it takes, and whoever sets its words."""

    scene: ArticleScene
    scale: float
    setter: Typesetter
    units: Units

    @property
    def width(self) -> float:
        """Of the picture, with room for names beside it."""
        return self.scene.box.width * self.scale + 2 * BESIDE

    def height(self, width: float) -> float:
        """Of the picture, with its title, its measures and notes, as they are set at a width."""
        measured = OFF + 2 * PAST if self.scene.measured else 0.0
        notes = sum(block.height for block in self.notes(width))
        return TITLE_SPACE + self.scene.box.height * self.scale + 2 * ABOVE + measured + notes + BELOW

    def notes(self, width: float) -> list[Block]:
        """What is told under the picture, at a width."""
        setter = self.setter.narrowed(width)
        return [line for text in self.scene.notes for line in setter.text(text, size=LEAST_SIZE)]


class SetRows(msgspec.Struct, frozen=True):
    """Scenes in rows at one scale, and how much of a page's height they take."""

    rows: tuple[tuple[SceneCell, ...], ...]
    scale: float
    height: float

    def blocks(self, setter: Typesetter, kept: KeptOf = NOTHING) -> tuple[Block, ...]:
        """Drawn, a block a row; each picture is `kept` by its scene and its room."""
        return tuple(_row(row, setter, kept) for row in self.rows)


def settings_of(scenes: Sequence[ArticleScene], units: Units, setter: Typesetter) -> Iterator[SetRows]:
    """All scenes in rows, in order, at one scale, for each at which none is wider than all the room and all
    are no higher; the largest first."""
    for scale in SCALES:
        rows = _rows([SceneCell(scene, scale, setter, units) for scene in scenes], setter.width)
        high = sum(_height(row, _spare(row, setter.width)) for row in rows or ())
        if rows is not None and high <= setter.height:
            yield SetRows(tuple(map(tuple, rows)), scale, high)


def arranged(scenes: Sequence[ArticleScene], units: Units, setter: Typesetter) -> tuple[Block, ...]:
    """All scenes in rows, in order, at one scale: the largest at which they fill no more than the setter's
    height. Nothing where that is too little for them at any scale."""
    found = next(settings_of(scenes, units, setter), None)
    return () if found is None else found.blocks(setter)


def arranged_by_kinds(
    figures: Sequence[tuple[Sequence[ArticleScene], Sequence[ArticleScene]]],
    units: Units,
    setter: Typesetter,
    kept: KeptOf = NOTHING,
) -> tuple[Block, ...]:
    """Figures with two kinds of scenes each, on one page: figure by figure in rows at one scale, or all of
    the second kind under all of the first, each kind at a scale of its own; whichever leaves the smaller of
    both scales largest, and then the other. The first kind alone where there is no room for both."""
    mixed = [scene for kinds in figures for kind in kinds for scene in kind]
    first, second = ([scene for kinds in figures for scene in kinds[k]] for k in (0, 1))
    together = next(settings_of(mixed, units, setter), None)
    ways = [[together]] if together is not None else []
    below = list(settings_of(second, units, setter))
    for each in settings_of(first, units, setter):
        under = next((other for other in below if each.height + other.height <= setter.height), None)
        ways += [[each, under]] if under is not None else []
    if not ways:
        return arranged(first, units, setter)
    best = max(ways, key=lambda way: sorted((way[0].scale, way[-1].scale)))
    return tuple(block for each in best for block in each.blocks(setter, kept))


def scale_words(scale: float) -> str:
    """A scale as drawings tell it (ISO 5455).

    >>> scale_words(1 / 3), scale_words(2.0), scale_words(1 / 2.5)
    ('1 : 3', '2 : 1', '1 : 2.5')
    """
    return f"{plain(scale)} : 1" if scale > 1 else f"1 : {plain(1 / scale)}"


def _rows(cells: Sequence[SceneCell], width: float) -> list[list[SceneCell]] | None:
    """Cells side by side as far as there is room; None where one is wider than all."""
    rows: list[list[SceneCell]] = []
    for cell in cells:
        if cell.width > width:
            return None
        if rows and sum(one.width for one in rows[-1]) + cell.width <= width:
            rows[-1].append(cell)
        else:
            rows.append([cell])
    return rows


def _row(cells: Sequence[SceneCell], setter: Typesetter, kept: KeptOf) -> Block:
    """Pictures side by side, what is spare shared out among them."""
    spare = _spare(cells, setter.width)
    height = _height(cells, spare)
    block, offset = Block(0.0), 0.0
    for cell in cells:
        wide = cell.width + spare
        room = Box(0, -height, wide, 0)
        known = (cell.scene, cell.scale, cell.units, cell.setter.width, room)
        picture = kept.of_these("picture", known, partial(_picture, cell, room))
        block = beside(block, picture, offset=offset)
        offset += wide
    return block


def _spare(cells: Sequence[SceneCell], width: float) -> float:
    """What each of a row's cells has beside its own width."""
    return max(0.0, width - sum(cell.width for cell in cells)) / len(cells)


def _height(cells: Sequence[SceneCell], spare: float) -> float:
    """Of a row."""
    return max(cell.height(cell.width + spare) for cell in cells)


def _picture(cell: SceneCell, room: Box) -> Block:
    """A picture in the upper left of its room, its middle in the room's."""
    scene, setter = cell.scene, cell.setter
    fonts = setter.fonts
    notes = cell.notes(room.width)
    foot = sum(block.height for block in notes) + BELOW
    area = Box(0, room.bottom + foot, room.width, -TITLE_SPACE)
    box = scene.box
    x = area.middle[0] - (box.left + box.right) / 2 * cell.scale
    y = area.top - ABOVE - box.top * cell.scale
    groups = [settled(shifted(enlarged(group, cell.scale), x, y)) for group in scene.groups]
    measures = tuple(_measures(cell, (x, y), fonts))
    space = seen((*groups, *((Group(measures),) if measures else ())), area)
    marks, left_out = set_names(scene.names, space, measures, fonts)
    names = Group(marks)
    if left_out:  # in what is left free below a picture
        notes += setter.text(also_seen(left_out, room.width, fonts), size=LEAST_SIZE)
    head = f"{scene.title}, {scale_words(cell.scale)}"
    title = setter.narrowed(room.width).text(head, size=HEAD, bold=True)
    drawn = (*groups, *(group for group in (Group(measures), names) if group.marks))
    body = Block(-area.bottom - TITLE_SPACE, tuple(shifted(group, 0, TITLE_SPACE) for group in drawn))
    return stacked([*title, body, *notes])


def also_seen(names: Sequence[str], width: float, fonts: Fonts) -> str:
    """One line no wider than `width` (mm) with the names that found no place in a picture; of those that the
    line has no room for it tells how many, since half a name names nothing."""
    some = ([*names[:kept], f"{len(names) - kept} more"] for kept in range(len(names) - 1, -1, -1))
    lines = [f"also seen: {listed(each, last='and')}" for each in (names, *some)]
    return next((line for line in lines if fonts.width(line, LEAST_SIZE) <= width), lines[-1])


def _measures(cell: SceneCell, by: Point, fonts: Fonts) -> Iterator[Mark]:
    """Overall width below the picture and height left of it."""
    measured, scene, scale = cell.scene.measured, cell.scene.box, cell.scale
    if measured is None:
        return
    left, right = measured.left * scale + by[0], measured.right * scale + by[0]
    low, high = measured.bottom * scale + by[1], measured.top * scale + by[1]
    foot, side = scene.bottom * scale + by[1] - OFF, scene.left * scale + by[0] - OFF
    ways = (
        (((left, low), (right, low)), ((left, foot), (right, foot)), measured.width),
        (((left, low), (left, high)), ((side, low), (side, high)), measured.height),
    )
    for of, line, length in ways:
        yield dimension(of, line, length, cell.units.rough.text(length), fonts)
