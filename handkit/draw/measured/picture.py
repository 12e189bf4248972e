"""Picture: a measured piece drawn small, with its names, so that each figure has its place.

In: a piece by its measures, a scale. Out: a block. Nothing in it is full scale, and nothing is tagged as what
a template has.

    zero line
      │A──────────────B      corner letters, with the radius of their round
   82 ││ · · · · · ·  │      overall sizes beside it; the length of every other edge at its middle
      └┴──────────────┴─ base line
            120
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from handkit.draw.layout.flow import Block
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.measured.picture_names import names_of
from handkit.draw.measured.scaled import ScaledPiece
from handkit.draw.model.dimension import dimension
from handkit.draw.model.fonts import LEAST_SIZE, Fonts
from handkit.draw.model.free_space import CELL, FreeSpace, LabelRegion, take_groups
from handkit.draw.model.lettering import BENCH, right_aligned
from handkit.draw.model.marks import Group, Ink, Mark, Words, shifted
from handkit.draw.model.path_ops import PathOps, circle_ops, dot_ops, joined, line_ops, path_ops
from handkit.draw.templates.extra_hole import saltire
from handkit.draw.templates.opening_ink import long_path
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box
from handkit.geometry.raster import Raster
from handkit.ink import STROKES, Tag
from handkit.sheets.laid import LineKind, MarkedLine, MarkedRow

# How far dimension lines stand off, and base line and zero line reach past the piece.
OFF, PAST = 8.0, 4.0

# How small holes may come out before they are drawn larger than they are, mm.
DOT, LEAST_RADIUS = 0.6, 0.5

# Pens: as templates have them.
PENS: Mapping[LineKind, Tag] = {
    LineKind.CUT: Tag.OUTLINE,
    LineKind.FINISHED: Tag.FINISHED,
    LineKind.TRIM: Tag.TRIM,
    LineKind.HEM: Tag.HEM,
    LineKind.FOLD: Tag.FOLD,
    LineKind.SKIVE: Tag.SKIVE,
    LineKind.MEET: Tag.MEET,
    LineKind.NOTCH: Tag.NOTCH,
}


def picture_block(picture: ScaledPiece, setter: Typesetter) -> Block:
    """The picture with its names and overall sizes."""
    cut, *others = picture.told.measured.lines
    thin = tuple(_line(picture, line) for line in reversed(others))
    hard = (*_frame(picture, setter.fonts), _line(picture, cut), *_rows(picture))
    names = tuple(names_of(picture, _space(picture, thin, hard, setter.fonts)))
    group = Group((*thin, *hard, *((_mark(picture, *names),) if names else ())))
    return Block(picture.height, (shifted(group, 0, -picture.height),))


def _mark(picture: ScaledPiece, *parts: Ink | Words) -> Mark:
    return Mark(Tag.MEASURED, (("Piece", picture.told.piece.name),), parts)


def _line(picture: ScaledPiece, line: MarkedLine) -> Mark:
    return _mark(picture, Ink(path_ops(line.path.moved(picture.to_paper)), STROKES[PENS[line.kind]]))


def _rows(picture: ScaledPiece) -> Iterator[Mark]:
    """A thin line along each row with a dot at each hole; openings in outline; extra holes past a mouth."""
    for row in picture.told.measured.rows:
        places = picture.to_paper.apply_all(row.places())
        if row.run:
            dots = joined(dot_ops(at, DOT) for at in places)
            line = (Ink(line_ops(places[0], places[-1]), STROKES[Tag.STITCH]),) if row.steps else ()
            yield _mark(picture, *line, Ink(dots))
        else:
            rims = joined(_rim(picture, row, at) for at in places)
            yield _mark(picture, Ink(rims, STROKES[Tag.OPENING]))
    for extra in picture.told.extras:
        yield _mark(picture, *saltire(picture.to_paper.apply(picture.told.measured.lie.apply(extra.at))))


def _rim(picture: ScaledPiece, row: MarkedRow, at: Point) -> PathOps:
    opening = picture.told.opening(row)
    if row.degrees is None:
        return circle_ops(at, max(opening.diameter / 2 * picture.scale, LEAST_RADIUS))
    turn, scale = Affine.turn(row.degrees), picture.scale
    grown = Affine(scale, 0.0, 0.0, scale, *at)
    return path_ops(long_path(opening).moved(grown @ turn))


def _frame(picture: ScaledPiece, fonts: Fonts) -> tuple[Mark, ...]:
    """Base line, zero line, their names, overall width and height."""
    box, told, pen = picture.body, picture.told, STROKES[Tag.CENTRE]
    base = line_ops((box.left - PAST, box.bottom), (box.right + PAST, box.bottom))
    zero = line_ops((box.left, box.bottom - PAST), (box.left, box.top + PAST))
    names = (
        right_aligned("zero line", (box.left + 1.0, box.top + PAST + 1.0), fonts),
        right_aligned("base line", (box.right - 1.5, box.bottom - LEAST_SIZE), fonts),
    )
    below, beside = box.bottom - OFF, box.left - OFF
    width, height = told.measured.width, told.measured.height
    across = (
        ((box.left, box.bottom), (box.right, box.bottom)),
        ((box.left, below), (box.right, below)),
        width,
    )
    upwards = (
        ((box.left, box.bottom), (box.left, box.top)),
        ((beside, box.bottom), (beside, box.top)),
        height,
    )
    return (
        _mark(picture, Ink(base, pen), Ink(zero, pen), *names),
        *(
            dimension(of, line, length, told.measure.number(length), fonts, size=BENCH)
            for of, line, length in (across, upwards)
        ),
    )


def _space(picture: ScaledPiece, thin: Sequence[Mark], marks: Sequence[Mark], fonts: Fonts) -> FreeSpace:
    """Where names may go: at last over thin lines, never over the other marks: cut, rows, figures."""
    area = Box(0.0, 0.0, picture.width, picture.height)
    hard, pieces, inner = (Raster(area, cell=CELL) for _ in range(3))
    take_groups(hard, [Group(tuple(marks))])
    for part in (part for mark in marks for part in mark.parts if isinstance(part, Words)):
        box = _words_box(part, fonts)
        hard.take(box.left, box.bottom, box.right, box.top)
    busy = hard.copy()
    take_groups(busy, [Group(tuple(thin))])
    cut = picture.told.measured.cut.path.moved(picture.to_paper).flattened(sagitta=0.1)
    within = hard.inside(cut)
    pieces.take_cells(within)
    inner.take_all_but(within)
    regions = {
        LabelRegion.INSIDE: (busy, inner),
        LabelRegion.OUTSIDE: (busy, pieces),
        LabelRegion.OVER_LINES: (hard, inner),
    }
    return FreeSpace(area, busy, hard, regions, fonts, cut)


def _words_box(words: Words, fonts: Fonts) -> Box:
    (x, y), wide, size = words.at, fonts.width(words.text, words.size, bold=words.bold), words.size
    if words.degrees:
        return Box(x - size * 0.75, y, x + size * 0.25, y + wide)
    return Box(x, y - size * 0.25, x + wide, y + size * 0.75)
