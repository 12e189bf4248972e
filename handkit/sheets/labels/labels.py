"""Labels: where on its sheet a window's name and facts are written.

In: templates, their windows on a sheet, joins. Out: for each window an area of the sheet and
whether it lies inside the piece, or None.

Tried first is the inside of the piece, near its middle, where no hole, opening, line or letter
stands; then the free area of the sheet right beside it; each with the full text and then with less.
All mm, in the sheet's frame.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor, hypot

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box, box_of
from handkit.geometry.raster import Raster
from handkit.ink import REGISTRATION_ARM, TENTH_TICK_LENGTH
from handkit.sheets.laid import Join
from handkit.sheets.nest.packing import Size
from handkit.sheets.shape import STROKE_ROOM, Shape

# Text: mean width of a letter and distance of lines, as shares of its size.
LETTER_WIDTH = 0.62
LINE_HEIGHT = 1.35
PADDING = 1.0

# Letters in a line, lines, and text size in mm; the first that has room is taken, upright or turned
# by a quarter. The name and some five facts in lines of at most 26 letters, the same folded, then
# the name and the main facts. Each is wider than high: a higher area tells that the text is turned.
LAYOUTS: tuple[tuple[int, int, float], ...] = (
    (26, 6, 3.0),
    (18, 8, 3.0),
    (40, 4, 3.0),
    (26, 6, 2.5),
    (18, 8, 2.5),
    (40, 3, 2.5),
    (18, 4, 2.5),
    (14, 5, 2.5),
    (26, 2, 2.5),
    (12, 3, 2.5),
)

# Kept clear between text and what else is drawn.
CLEAR = 1.5
HOLE_ROOM = TENTH_TICK_LENGTH / 2 + 0.5
TEXT_ROOM = 6.0

# A label beside its piece is no further from it than this.
BESIDE = 10.0

# Squares of a raster: fine for what is small, in mm²; a strap is.
FINE, ROUGH = 1.0, 2.0
SMALL = 120.0 * 120.0


class LaidWindow(msgspec.Struct, frozen=True):
    """One window as it lies on a sheet: the corners of what is kept once it is trimmed, and rings
    round all that is drawn."""

    shape: Shape
    placed: Affine
    content: tuple[Point, ...]
    drawn: tuple[tuple[Point, ...], ...]
    joins: tuple[Join, ...]

    @property
    def box(self) -> Box:
        """The least box round what is drawn."""
        return box_of(point for ring in self.drawn for point in ring)


class Label(msgspec.Struct, frozen=True):
    """Where the label is; None where there is no room."""

    area: Box | None
    inside: bool


def labels_on(sheet: Sequence[LaidWindow], printable: Box) -> tuple[Label, ...]:
    """A label for each window of one sheet."""
    inside = [_inside(shown) for shown in sheet]
    if all(inside):
        return tuple(Label(box, True) for box in inside if box)
    raster = _free_of_sheet(sheet, printable)
    labels = []
    for shown, box in zip(sheet, inside, strict=True):
        if box:
            labels.append(Label(box, True))
            continue
        beside = _beside(shown, raster)
        if beside:
            taken = beside.grown(CLEAR)
            raster.take(taken.left, taken.bottom, taken.right, taken.top)
        labels.append(Label(beside, False))
    return tuple(labels)


def label_sizes() -> Iterator[Size]:
    """The room each layout of the text needs, most wanted first."""
    for letters, lines, text in LAYOUTS:
        width = letters * LETTER_WIDTH * text + 2 * PADDING
        height = lines * LINE_HEIGHT * text + 2 * PADDING
        yield from (Size(width, height), Size(height, width))


def _inside(shown: LaidWindow) -> Box | None:
    kept = box_of(shown.content).within(shown.box)
    cell = FINE if kept.width * kept.height <= SMALL else ROUGH
    raster = _raster(kept, cell)
    shape, placed = shown.shape, shown.placed
    ring = placed.apply_all(shape.coarse_ring)
    raster.take_all_but(raster.inside(ring))
    if shown.joins:
        raster.take_all_but(raster.inside(shown.content))
        raster.take_line((*shown.content, shown.content[0]), reach=0.0)
    raster.take_line((*ring, ring[0]), reach=STROKE_ROOM + CLEAR)
    for line in shape.lines:
        raster.take_line(placed.apply_all(line), reach=CLEAR)
    for keep_out in shape.keep_outs:
        raster.take_line(placed.apply_all((keep_out.start, keep_out.end)), reach=keep_out.radius + HOLE_ROOM)
    for at in (*shape.letters, *shape.texts):
        raster.take_disc(placed.apply(at), TEXT_ROOM)
    _block_joins(raster, shown)
    return _first_free(raster, _middle(kept))


def _free_of_sheet(sheet: Sequence[LaidWindow], printable: Box) -> Raster:
    """What no window draws on."""
    raster = _raster(printable, FINE)
    for shown in sheet:
        for ring in shown.drawn:
            raster.take_cells(raster.inside(ring))
            raster.take_line((*ring, ring[0]), reach=CLEAR)
    return raster


def _raster(area: Box, cell: float) -> Raster:
    """The whole cells of an area, all free."""
    columns, rows = floor(area.width / cell + 1e-6), floor(area.height / cell + 1e-6)
    right, top = area.left + columns * cell, area.bottom + rows * cell
    return Raster(
        Box(area.left, area.bottom, max(area.left, right), max(area.bottom, top)), cell=cell, exact=True
    )


def _beside(shown: LaidWindow, raster: Raster) -> Box | None:
    for size in label_sizes():
        box = raster.free_box(size.width, size.height, near=_middle(shown.box))
        if box and _apart(box, shown.box) <= BESIDE:
            return box
    return None


def _first_free(raster: Raster, near: Point) -> Box | None:
    boxes = (raster.free_box(size.width, size.height, near=near) for size in label_sizes())
    return next((box for box in boxes if box), None)


def _block_joins(raster: Raster, shown: LaidWindow) -> None:
    for join in shown.joins:
        raster.take_line(shown.placed.apply_all(join.cut_line), reach=CLEAR)
        raster.take_line(shown.placed.apply_all(join.rule_line), reach=CLEAR)
        for mark in join.marks:
            raster.take_disc(shown.placed.apply(mark), REGISTRATION_ARM + CLEAR)


def _apart(one: Box, other: Box) -> float:
    """Distance between two boxes, 0 where they meet."""
    return hypot(
        max(one.left - other.right, other.left - one.right, 0.0),
        max(one.bottom - other.top, other.bottom - one.top, 0.0),
    )


def _middle(box: Box) -> Point:
    return ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
