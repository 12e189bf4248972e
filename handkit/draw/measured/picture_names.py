"""Names in the picture of a measured piece: what the tables call its corners, rows, openings and folds.

In: a piece at a scale, the picture's free space. Out: words and thin lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from handkit.draw.measured.scaled import ScaledPiece
from handkit.draw.model.fonts import LEAST_SIZE
from handkit.draw.model.free_space import FreeSpace, LabelRegion
from handkit.draw.model.label_search import across, circles, first_free, led, put
from handkit.draw.model.lettering import BENCH, MeasuredLine, TextLine
from handkit.draw.model.marks import Ink, Words
from handkit.draw.templates.grain import grain_arrow
from handkit.geometry.affine import Affine, Point
from handkit.geometry.straight import Straight, distance, point_to_line, unit
from handkit.sheets.laid import LineKind

# How far a name may stand from what it names.
NEAR = (2.6, 3.2, 4.0, 5.0, 6.5, 8.0)

# Where along a line its name may stand; how far off, mm, without a slip along it.
SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
BESIDE_LINE = ((1.0, 0.0), (1.3, 0.0), (1.6, 0.0), (2.5, 0.0), (3.5, 0.0))

# How far off a name of a line stands that has a leader.
LED = (5.0, 6.5, 8.0, 9.5, 12.0, 17.0, 23.0)

# The arrow of the grain, mm.
ARROWS = (24.0, 16.0, 10.0)


def names_of(picture: ScaledPiece, space: FreeSpace) -> Iterator[Ink | Words]:
    """Corners first, then openings, rows with their first and last numbers, folds, edges, the grain."""
    told, to = picture.told, picture.to_paper
    for name, corner in told.named:
        yield from _put(space, name, to.apply(corner.at), bold=True)
    known = {name for name, _ in told.named}
    for line in told.measured.lines[1:]:
        for corner in [one for one in line.corners if line.path.closed and one.letter not in known]:
            yield from _put(space, corner.letter, to.apply(corner.at), bold=True)
    for row in (row for row in told.measured.rows if not row.run):
        yield from _put(space, told.single(row) if not row.steps else told.code(row), to.apply(row.start))
    rows = [row for row in told.measured.rows if row.run and row.steps]
    ways = [(to.apply(row.start), to.apply(row.end)) for row in rows]
    for row, way in zip(rows, ways, strict=True):
        yield from _along(space, told.code(row), way, ways)
    numbered: set[tuple[str, int]] = set()  # a hole in which two rows meet has its number once
    for row, way in zip(rows, ways, strict=True):
        for number, at in zip((row.first, row.last), way, strict=True):
            near = [spot for spot in circles(at, NEAR[:4]) if _is_nearest(spot, way, ways)]
            if (told.code(row), number) not in numbered and (set_there := put(space, f"{number}", near)):
                numbered.add((told.code(row), number))
                yield from set_there
    for row in (row for row in told.measured.rows if row.run and not row.steps):
        yield from put(space, f"{row.first}", circles(to.apply(row.start), NEAR[:3]))
    for line in told.measured.lines:
        if line.kind is LineKind.FOLD:
            way = (to.apply(line.path.start), to.apply(line.path.end))
            yield from _along(space, line.name, way, ways)
    yield from _edge_lengths(picture, space)
    yield from _grain(picture, space)


def _put(space: FreeSpace, text: str, at: Point, *, bold: bool = False) -> Iterator[Ink | Words]:
    """A name near a place: inside the piece, beside it, over thin lines; at last with a leader."""
    if not text:
        return
    line = TextLine(text, BENCH, bold).measured(space.fonts)
    wide = max(line.width / 2 - BENCH * 0.3, 0.0)
    found = _anywhere(space, line, list(circles(at, NEAR, wide=wide)))
    yield from found or led(space, text, at, end=1.2, bold=bold)


def _anywhere(space: FreeSpace, line: MeasuredLine, places: Sequence[Point]) -> tuple[Words, ...]:
    """A line at the first of its places that is free in the piece, else beside it, else over thin lines."""
    for region in (LabelRegion.INSIDE, LabelRegion.OUTSIDE, LabelRegion.OVER_LINES):
        found = first_free(space, line, places, region)
        if found is not None:
            return line.words_at(found.place)
    return ()


def _along(
    space: FreeSpace, text: str, way: Straight, others: Sequence[Straight] = ()
) -> Iterator[Ink | Words]:
    """A name beside a line and nearer to it than to the others, at its middle or as near to that as there is
    room, level or upright; where there is none, further off with a leader."""
    (x0, y0), (x1, y1) = way
    ux, uy = unit(*way)
    along = [(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share) for share in SHARES]
    for size, upright in product((BENCH, LEAST_SIZE), (False, True)):
        line = TextLine(text, size).measured(space.fonts, upright=upright)
        box = line.box_at((0.0, 0.0))
        places = (
            place
            for at in along
            for place in across(at, (ux, uy), (-uy, ux), box.width, box.height, BESIDE_LINE)
        )
        own = [place for place in places if _is_nearest(place, way, others)]
        if found := _anywhere(space, line, own):
            yield from found
            return
    for region, at in product((LabelRegion.INSIDE, LabelRegion.OUTSIDE), along if others else ()):
        if words := led(space, text, at, end=0.6, region=region, reaches=LED):
            yield from words
            return


def _is_nearest(at: Point, way: Straight, others: Sequence[Straight]) -> bool:
    """Whether a place is nearer to a line than to each of the others."""
    own = point_to_line(at, way)
    return all(other == way or point_to_line(at, other) > own for other in others)


def _edge_lengths(picture: ScaledPiece, space: FreeSpace) -> Iterator[Ink | Words]:
    """Of the edges of the cut that the overall sizes do not tell."""
    told, corners = picture.told, picture.told.measured.cut.corners
    known = {told.measure.number(told.measured.width), told.measure.number(told.measured.height)}
    for index, corner in enumerate(corners):
        following = corners[(index + 1) % len(corners)]
        text = told.measure.number(distance(corner.at, following.at))
        start, end = (picture.to_paper.apply(at) for at in (corner.at, following.at))
        if text not in known and distance(start, end) > LEAST_SIZE:
            yield from _along(space, text, (start, end))


def _grain(picture: ScaledPiece, space: FreeSpace) -> Iterator[Ink]:
    """An arrow with a head at either end, where it has room."""
    told = picture.told
    if told.piece.traits.grained:
        way = Affine.turn(told.measured.lie.way(told.piece.grain_degrees)).apply((1.0, 0.0))
        yield from grain_arrow(space, picture.body, way, ARROWS)
