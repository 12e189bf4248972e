"""Stencils: a drawing at one turn, as the squares of a page that it keeps others from.

In: what is drawn of a window, mm, and a canvas. Out: `Stencil`s, one for each turn worth trying.

A drawing is grown by half the gap; every square that the grown area touches is taken. Two stencils
that share no square are therefore at least a gap apart, exactly, whatever the size of squares:
coarse squares waste paper, they never cheat. The grown area begins at the corner of a square, so
an upright side wastes nothing.

Words: a *canvas* is a page as squares, in one whole number: square (column, row) is bit
row × stride + column. A *block* is a rectangle of squares: (row, rows, column, columns). The *rim*
is all squares right beside a stencil.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil, cos, floor, pi

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.region import Region
from handkit.sheets.cut.turns import turns_to_nest
from handkit.sheets.nest.packing import NOISE, Size

Block = tuple[int, int, int, int]

# Chords a quarter at a grown corner, and what makes up for arcs being cut short by them.
CORNER_STEPS = 4
MAKE_UP = 1 / cos(pi / (4 * CORNER_STEPS))

# How much a drawing is grown beyond that, so that its corners may be fewer.
PLAIN = 0.03

# Squares touched by less than this are not touched: rounding noise of turning.
GRAZE = 1e-7


class Canvas(msgspec.Struct, frozen=True):
    """A page's squares, half a gap beyond it on every side included. Positions of drawings are
    counted in squares from the lower left."""

    page: Size
    gap: float
    raster: float
    columns: int
    rows: int
    stride: int  # bits a row, whole bytes: a drawing that fits the page may touch two squares more

    def flat(self, rows: Sequence[int], *, column: int = 0, row: int = 0) -> int:
        """Rows of squares as one number, moved right and up."""
        size = self.stride // 8
        bits = int.from_bytes(b"".join([squares.to_bytes(size, "little") for squares in rows]), "little")
        return bits << (row * self.stride + column)


def canvas_of(page: Size, *, gap: float, raster: float) -> Canvas:
    """The squares of a page."""
    columns = ceil((page.width + gap) / raster - NOISE)
    rows = ceil((page.height + gap) / raster - NOISE)
    return Canvas(page, gap, raster, columns, rows, (columns + 4 + 7) // 8 * 8)


class Stencil(msgspec.Struct, frozen=True, eq=False):
    """A drawing at one turn. `size` is the drawing's own, `onto` leads from its frame to one whose
    origin is the drawing's lower left."""

    onto: Affine
    size: Size
    rows: int
    columns: int
    squares: int
    flat: int
    blocks: tuple[Block, ...]
    rim: int  # one square up and right of `flat`, so that what lies left and below has room
    rim_squares: int


class Silhouette(msgspec.Struct, frozen=True):
    """What is drawn of a window, ready to be turned: its convex hull, which tells its size, and the
    rings of all that it keeps others from."""

    hull: tuple[Point, ...]
    kept_off: tuple[tuple[Point, ...], ...]


def silhouette_of(drawn: Region, gap: float) -> Silhouette:
    """The silhouette of a drawing whose neighbours keep a gap."""
    grown = drawn.grown(gap / 2 * MAKE_UP + PLAIN, steps=CORNER_STEPS).simplified(PLAIN)
    return Silhouette(drawn.hull().rings()[0], grown.rings())


def stencil_of(drawn: Silhouette, degrees: float, canvas: Canvas) -> Stencil | None:
    """The stencil of a drawing turned by so much, or None where it does not fit the page."""
    turn = Affine.turn(degrees)
    left, bottom, right, top = _bounds(turn.apply_all(drawn.hull))
    size = Size(right - left, top - bottom)
    if size.width > canvas.page.width + NOISE or size.height > canvas.page.height + NOISE:
        return None
    rings = [turn.apply_all(ring) for ring in drawn.kept_off]
    x0, y0, _, y1 = _bounds([point for ring in rings for point in ring])
    to_squares = Affine(1 / canvas.raster, 0, 0, 1 / canvas.raster, -x0 / canvas.raster, -y0 / canvas.raster)
    count = ceil((y1 - y0) / canvas.raster - GRAZE)
    rows = touched([to_squares.apply_all(ring) for ring in rings], count=count)
    flat, stride = canvas.flat(rows), canvas.stride
    apart = flat << (stride + 1)
    rim = (apart << 1 | apart >> 1 | apart << stride | apart >> stride) & ~apart
    return Stencil(
        onto=Affine.shift(-left, -bottom) @ turn,
        size=size,
        rows=len(rows),
        columns=max(squares.bit_length() for squares in rows),
        squares=sum(squares.bit_count() for squares in rows),
        flat=flat,
        blocks=tuple(blocks_of(rows)),
        rim=rim,
        rim_squares=rim.bit_count(),
    )


def stencils_of(drawn: Region, canvas: Canvas) -> tuple[Stencil, ...]:
    """A drawing at all turns that are worth trying and at which it fits the page."""
    silhouette = silhouette_of(drawn, canvas.gap)
    found = (stencil_of(silhouette, turn, canvas) for turn in turns_to_nest(drawn))
    return tuple(stencil for stencil in found if stencil)


def _bounds(points: Sequence[Point]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def touched(rings: Iterable[Sequence[Point]], *, count: int) -> list[int]:
    """For each of `count` rows the squares that any of the areas within rings touches; rings are
    counted in squares.

    >>> [bin(row) for row in touched([((0, 0), (4, 0), (0, 2))], count=2)]
    ['0b1111', '0b11']
    """
    rows = [0] * count
    for ring in rings:
        middles: list[list[float]] = [[] for _ in rows]
        for a, b in pairwise((*ring, ring[0])):
            _touch(rows, middles, *((a, b) if a[1] <= b[1] else (b, a)))
        for row, crossed in enumerate(middles):
            crossed.sort()
            for low, high in zip(crossed[::2], crossed[1::2], strict=True):
                rows[row] |= _bits(low, high)
    return rows


def _touch(rows: list[int], middles: list[list[float]], start: Point, end: Point) -> None:
    """Take the squares an edge touches, and note where it crosses the middles of rows. It goes
    upwards; places are in squares."""
    (x0, y0), (x1, y1) = start, end
    slope = (x1 - x0) / (y1 - y0) if y1 > y0 else 0.0
    first = max(0, floor(y0 + GRAZE))
    last = min(len(rows), max(first + 1, ceil(y1 - GRAZE)))
    upright = _bits(x0, x1) if abs(x1 - x0) < GRAZE else 0
    x = x0
    for row in range(first, last):
        after = x0 + slope * (row + 1 - y0) if row + 1 < y1 else x1
        rows[row] |= upright or _bits(x, after)
        x = after
        if y0 <= row + 0.5 < y1:
            middles[row].append(x0 + slope * (row + 0.5 - y0))


def _bits(start: float, end: float) -> int:
    """The squares of a row from one place to another."""
    if start > end:
        start, end = end, start
    first = int(start + GRAZE)  # no place lies left of 0
    last = ceil(end - GRAZE)
    return ((1 << (last - first)) - 1) << first if last > first else 1 << first


def blocks_of(rows: Sequence[int]) -> Iterator[Block]:
    """Rectangles that together are all squares: rows that are alike go as one.

    >>> list(blocks_of([0b0110, 0b0110, 0b1001]))
    [(0, 2, 1, 2), (2, 1, 0, 1), (2, 1, 3, 1)]
    """
    first = 0
    for row in range(1, len(rows) + 1):
        if row < len(rows) and rows[row] == rows[first]:
            continue
        for column, columns in runs_of(rows[first]):
            yield (first, row - first, column, columns)
        first = row


def runs_of(squares: int) -> Iterator[tuple[int, int]]:
    """Where set bits begin and how many follow one another.

    >>> list(runs_of(0b1110_0110))
    [(1, 2), (5, 3)]
    """
    at = 0
    while squares:
        skip = (squares & -squares).bit_length() - 1
        squares >>= skip
        length = (~squares & (squares + 1)).bit_length() - 1
        at += skip
        yield (at, length)
        squares >>= length
        at += length
