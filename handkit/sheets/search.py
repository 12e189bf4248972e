"""The search: how a piece is turned, and where it is cut when no page holds it whole.

In: a shape, the page's printable size and the overlap, all mm. Out: `Cut`.

A piece that fits at any of the turns tried is one window. Otherwise of all grids tried the one is
taken with fewest windows, then fewest joins through holes and openings, fewest joins, least piece
on the cut lines, fewest slivers, then windows as unlike as can be, because a small rest shares its
sheet with other pieces. How many are tried depends on counts alone, never on the clock.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product
from math import atan2, degrees, isqrt

from handkit.geometry.affine import Affine
from handkit.geometry.path import distance
from handkit.sheets.box import Box, box_of
from handkit.sheets.grid import Axis, Cut, CutJoin, Grid, cells_of, cut_along, joins_of_cells, page_fits
from handkit.sheets.packing import Size
from handkit.sheets.shape import STROKE_ROOM, Shape
from handkit.sheets.void import runs_through

# A window that keeps less than this of a piece is awkward to tape.
SLIVER = 15.0

# Turns tried to fit a piece whole, beside those that lay an edge of it straight.
TURN_STEP = 15
EDGES_TRIED = 4

# Work for one turn of one piece, in units of about a microsecond: decides the offsets tried.
BUDGET = 20_000
MOST_OFFSETS = 25


def cut_for(shape: Shape, *, page: Size, overlap: float) -> Cut:
    """The piece whole at the first turn at which it fits the page, else in the best grid found."""
    return _whole(shape, page) or _best_grid(shape, page, overlap)


def least_windows(shape: Shape, *, page: Size, overlap: float) -> int:
    """Windows of the smaller upright grid, empty ones counted: how much work a piece will be."""
    boxes = [_box(shape, shape.base(degrees)) for degrees in (0.0, 90.0)]
    return min(
        Axis.least_count(box.width, page=page.width, overlap=overlap)
        * Axis.least_count(box.height, page=page.height, overlap=overlap)
        for box in boxes
    )


def _whole(shape: Shape, page: Size) -> Cut | None:
    turns = (0.0, *_edge_turns(shape), *(float(turn) for turn in range(TURN_STEP, 90, TURN_STEP)))
    for turn in turns:
        base = shape.base(turn)
        box = _box(shape, base)
        if page_fits(box, page):
            return Cut(base, (box,), (box,), ())
    return None


def _best_grid(shape: Shape, page: Size, overlap: float) -> Cut:
    """The best of all grids tried; what can be ruled out by a part of its rank is not worked out."""
    best: tuple[tuple[float, ...], Cut] | None = None
    for grid in _grids(shape, page, overlap):
        cells = cells_of(grid)
        if best and (len(cells),) > best[0][:1]:
            continue
        joins = joins_of_cells(grid, cells)
        rank = (len(cells), *_rank_of_joins(shape, grid.base, joins))
        if best and rank > best[0][: len(rank)]:
            continue
        cut = cut_along(grid, cells, joins)
        rank = (*rank, *_rank_of_windows(cut))
        if best is None or rank < best[0]:
            best = (rank, cut)
    assert best is not None, "at least one grid is always tried"
    return best[1]


def _grids(shape: Shape, page: Size, overlap: float) -> Iterator[Grid]:
    turns = (0.0, 90.0, *(turn + quarter for turn in _edge_turns(shape)[:2] for quarter in (0.0, 90.0)))
    for turn in turns:
        base = shape.base(turn)
        box, extent = _box(shape, base), shape.extent(base)
        columns = Axis.least_count(box.width, page=page.width, overlap=overlap)
        rows = Axis.least_count(box.height, page=page.height, overlap=overlap)
        work = columns * rows * (100 + len(shape.voids))
        tries = max(1, BUDGET // work)
        steps = min(MOST_OFFSETS, tries if 1 in (columns, rows) else isqrt(tries))
        sides = ((box.left, box.right), (box.bottom, box.top))
        across = _axes(sides[0], count=columns, page=page.width, overlap=overlap, steps=steps)
        up = _axes(sides[1], count=rows, page=page.height, overlap=overlap, steps=steps)
        yield from (Grid(base, extent, x, y) for x, y in product(across, up))


def _axes(side: tuple[float, float], *, count: int, page: float, overlap: float, steps: int) -> list[Axis]:
    """The grid along one direction at several offsets; in the middle where one window is enough."""
    low, high = side
    slack = count * (page - overlap) + overlap - (high - low)
    shares = [0.5] if count == 1 or steps == 1 else [step / (steps - 1) for step in range(steps)]
    return [Axis(round(low - slack * share, 3), count, page, overlap) for share in shares]


def _rank_of_joins(shape: Shape, base: Affine, joins: tuple[CutJoin, ...]) -> tuple[float, ...]:
    """What makes one grid's joins better than another's, most weighty first; less is better."""
    back = base.inverse()
    lines = [(back.apply(join.line[0]), back.apply(join.line[1])) for join in joins]
    return (
        sum(runs_through(line, shape.voids) for line in lines),
        len(joins),
        round(sum(join.inked[1] - join.inked[0] for join in joins)),
    )


def _rank_of_windows(cut: Cut) -> tuple[float, ...]:
    """The same for windows."""
    slivers = sum(min(box.width, box.height) < SLIVER for box in cut.contents)
    unlike = sum((box.width * box.height) ** 2 for box in cut.windows)
    return (slivers, -round(unlike / 1e4))


def _edge_turns(shape: Shape) -> tuple[float, ...]:
    """Turns, 0 to 90 degrees, that lay one of the longest edges straight, longest first."""
    ring = shape.base(0.0).apply_all(shape.coarse_ring)
    edges = []
    for a, b in pairwise((*ring, ring[0])):
        turn = round(-degrees(atan2(b[1] - a[1], b[0] - a[0])) % 90, 3)
        if 0 < turn < 90:
            edges.append((-round(distance(a, b), 3), turn))
    return tuple(dict.fromkeys(turn for _, turn in sorted(edges)))[:EDGES_TRIED]


def _box(shape: Shape, base: Affine) -> Box:
    return box_of(base.apply_all(shape.ring)).grown(STROKE_ROOM).rounded_out()
