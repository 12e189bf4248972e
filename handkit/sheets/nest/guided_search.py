"""A longer search: drawings on a stated number of pages, found by letting them overlap for a while.

In: the drawings, the page and the gap in mm, how many pages, how often a drawing may be laid anew.
Out: where each lies, or None where no such answer was found.

Every drawing is laid anywhere first. Then each one that overlaps others is laid anew where its
overlaps, each times the weight of the pair, are least: on any page, at any of its turns. After each
round the weights of pairs that still overlap grow, so that the drawings are pushed apart in the end
(guided local search). Squares tell what overlaps, too coarsely for the gap: the last tenths of a mm
are got by pushing what is too near apart along its shortest distance, and judged by exact distances.

All sums are of whole numbers and all chances come from one seed, so that the answer is the same
wherever it is looked for. How often drawings are laid anew is counted, never the clock.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import hypot
from random import Random

import msgspec
import numpy as np
import numpy.typing as npt

from handkit.geometry.affine import Affine
from handkit.geometry.region import Region
from handkit.sheets.nest.footprint import Drawing, Footprint, PageGrid, page_grid
from handkit.sheets.nest.packing import Size

Grid = npt.NDArray[np.int64]
Laid = tuple[int, Affine]  # page from 0, and the map from the drawing's frame to the printable area

# Squares of the search. Footprints are grown by so much less than the gap asks: they take every
# square that they touch.
RASTER = 1.0

# Whole numbers that a square root of common squares, and a weight of 1, are told by.
ROOT_UNITS = 16
WEIGHT_UNITS = 16

# What is aimed at beyond the gap when drawings are pushed apart, the share of a shortfall each goes,
# and how often all are pushed.
SPARE, SHARE, PUSHES = 0.01, 0.55, 400

# Of all chances.
SEED = 1

# Places are told to this many decimals of a mm.
DECIMALS = 3


class _Place(msgspec.Struct, frozen=True):
    """A page, a turn by number, and the square of the lower left."""

    page: int
    turn: int
    column: int
    row: int


def laid_on(
    drawings: Sequence[Drawing], *, page: Size, gap: float, pages: int, tries: int
) -> tuple[tuple[Laid, ...] | None, int]:
    """Where each drawing lies on so many pages, or None; and how many of the tries were used.

    Drawings that lie on one page are at least `gap` apart and within the page.
    """
    search = _Search(drawings, page_grid(page, gap=max(0.0, gap - RASTER), raster=RASTER), pages)
    while search.tries < tries and search.overlapping():
        search.go_round(tries)
        search.weigh()
    if search.overlapping():
        return None, search.tries
    return _pushed_apart(drawings, search.footprints, search.places, page=page, gap=gap), search.tries


class _Search:
    """Places of all drawings, their overlaps and the weights of these; changed by each round."""

    def __init__(self, drawings: Sequence[Drawing], grid: PageGrid, pages: int) -> None:
        self.grid, self.pages, self.tries = grid, pages, 0
        self.footprints = [drawing.footprints(grid) for drawing in drawings]
        self.chance = Random(SEED)
        order = sorted(range(len(drawings)), key=lambda k: (-self.footprints[k][0].squares, k))
        first = {k: self._anywhere(k, number % pages) for number, k in enumerate(order)}
        self.places = [first[k] for k in range(len(drawings))]
        self.weights = np.full((len(drawings), len(drawings)), WEIGHT_UNITS, dtype=np.int64)
        self._masks: dict[Footprint, npt.NDArray[np.float64]] = {}
        self._common: dict[tuple[Footprint, Footprint], Grid] = {}
        self.overlaps = np.zeros_like(self.weights)
        for a, b in combinations(range(len(drawings)), 2):
            self.overlaps[a, b] = self.overlaps[b, a] = self._overlap(a, b)

    def overlapping(self) -> list[int]:
        """Drawings that overlap others."""
        return [int(k) for k in np.flatnonzero(self.overlaps.any(axis=1))]

    def go_round(self, tries: int) -> None:
        """Lay each drawing that overlaps others anew, in a chance order."""
        order = self.overlapping()
        self.chance.shuffle(order)
        for k in order:
            if self.tries >= tries:
                return
            if self.overlaps[k].any():
                self.tries += 1
                self.places[k] = self._best(k)
                for other in range(len(self.places)):
                    if other != k:
                        self.overlaps[k, other] = self.overlaps[other, k] = self._overlap(k, other)

    def weigh(self) -> None:
        """Let the weights of pairs grow by their overlap's share of the largest."""
        most = int(self.overlaps.max())
        if most:
            self.weights += WEIGHT_UNITS * self.overlaps // most

    def _room(self, footprint: Footprint) -> tuple[int, int]:
        """Columns and rows at which its lower left may stand: one at least, for a drawing that just
        fits the page may touch a square more than there is."""
        columns, rows = self.grid.columns - footprint.columns, self.grid.rows - len(footprint.rows)
        return max(0, columns) + 1, max(0, rows) + 1

    def _anywhere(self, k: int, page: int) -> _Place:
        turn = self.chance.randrange(len(self.footprints[k]))
        columns, rows = self._room(self.footprints[k][turn])
        return _Place(page, turn, self.chance.randrange(columns), self.chance.randrange(rows))

    def _best(self, k: int) -> _Place:
        """The place of least weighted overlap; of equal ones the first."""
        least, best = -1, self.places[k]
        for page in range(self.pages):
            others = [j for j, one in enumerate(self.places) if j != k and one.page == page]
            for turn, footprint in enumerate(self.footprints[k]):
                costs = self._costs(k, footprint, others)
                at = int(costs.argmin())
                if least < 0 or costs.flat[at] < least:
                    least = int(costs.flat[at])
                    best = _Place(page, turn, at % costs.shape[1], at // costs.shape[1])
        return best

    def _costs(self, k: int, footprint: Footprint, others: Sequence[int]) -> Grid:
        """The weighted overlap of a drawing with others on one page, at every place there."""
        columns, rows = self._room(footprint)
        costs = np.zeros((rows, columns), dtype=np.int64)
        for j in others:
            place = self.places[j]
            common = self._common_of(self.footprints[j][place.turn], footprint)
            left, low = place.column - footprint.columns + 1, place.row - len(footprint.rows) + 1
            x0, y0 = max(0, left), max(0, low)
            x1, y1 = min(columns, left + common.shape[1]), min(rows, low + common.shape[0])
            if x1 > x0 and y1 > y0:
                shared = common[y0 - low : y1 - low, x0 - left : x1 - left]
                costs[y0:y1, x0:x1] += self.weights[k, j] * shared
        return costs

    def _overlap(self, a: int, b: int) -> int:
        """How much two drawings overlap as they lie."""
        one, other = self.places[a], self.places[b]
        if one.page != other.page:
            return 0
        footprint = self.footprints[b][other.turn]
        common = self._common_of(self.footprints[a][one.turn], footprint)
        column = other.column - one.column + footprint.columns - 1
        row = other.row - one.row + len(footprint.rows) - 1
        inside = 0 <= row < common.shape[0] and 0 <= column < common.shape[1]
        return int(common[row, column]) if inside else 0

    def _common_of(self, one: Footprint, other: Footprint) -> Grid:
        """The root of the squares two footprints share, at every shift of the other that may share
        any; the first is that at which its upper right square lies on the lower left of the one."""
        found = self._common.get((one, other))
        if found is None:
            a, b = self._mask(one), self._mask(other)
            shape = (a.shape[0] + b.shape[0] - 1, a.shape[1] + b.shape[1] - 1)
            product = np.fft.rfft2(a, shape) * np.fft.rfft2(b[::-1, ::-1], shape)
            squares = np.rint(np.fft.irfft2(product, shape)).clip(0)  # whole numbers, whatever the rounding
            found = np.rint(ROOT_UNITS * np.sqrt(squares)).astype(np.int64)
            self._common[one, other] = found
            self._common[other, one] = found[::-1, ::-1]
        return found

    def _mask(self, footprint: Footprint) -> npt.NDArray[np.float64]:
        found = self._masks.get(footprint)
        if found is None:
            rows = [[row >> column & 1 for column in range(footprint.columns)] for row in footprint.rows]
            found = self._masks[footprint] = np.array(rows, dtype=np.float64)
        return found


class _Free(msgspec.Struct):
    """A drawing that is pushed about: its region and size at its turn, and its lower left."""

    page: int
    turned: Affine
    region: Region
    size: Size
    x: float
    y: float

    def here(self) -> Region:
        return self.region.moved(Affine.shift(self.x, self.y))


def _pushed_apart(
    drawings: Sequence[Drawing],
    footprints: Sequence[Sequence[Footprint]],
    places: Sequence[_Place],
    *,
    page: Size,
    gap: float,
) -> tuple[Laid, ...] | None:
    """Drawings pushed apart until all keep the gap; None where they don't in the end."""
    free = []
    for drawing, turns, place in zip(drawings, footprints, places, strict=True):
        at = turns[place.turn]
        x = min(place.column * RASTER, page.width - at.size.width)
        y = min(place.row * RASTER, page.height - at.size.height)
        free.append(_Free(place.page, at.onto, drawing.region.moved(at.onto), at.size, x, y))
    for _ in range(PUSHES):
        pushes = _pushes(free, gap)
        if not pushes:
            return tuple((one.page, Affine.shift(one.x, one.y) @ one.turned) for one in free)
        for k, (dx, dy) in sorted(pushes.items()):
            one = free[k]
            one.x = round(min(max(one.x + dx, 0.0), page.width - one.size.width), DECIMALS)
            one.y = round(min(max(one.y + dy, 0.0), page.height - one.size.height), DECIMALS)
    return None


def _pushes(free: Sequence[_Free], gap: float) -> dict[int, tuple[float, float]]:
    """By how much drawings go away from those they are too near to; none where all keep the gap."""
    found: dict[int, tuple[float, float]] = {}
    regions = [one.here() for one in free]
    for a, b in combinations(range(len(free)), 2):
        one, other = free[a], free[b]
        if one.page != other.page or _boxes_apart(one, other, gap):
            continue
        apart = regions[a].distance(regions[b])
        if apart >= gap:
            continue
        (ax, ay), (bx, by) = regions[a].nearest(regions[b]) if apart > 0 else (_middle(one), _middle(other))
        by_how_much = SHARE * (gap + SPARE - apart) / (hypot(ax - bx, ay - by) or 1.0)
        dx, dy = (ax - bx) * by_how_much, (ay - by) * by_how_much
        found[a] = (found.get(a, (0.0, 0.0))[0] + dx, found.get(a, (0.0, 0.0))[1] + dy)
        found[b] = (found.get(b, (0.0, 0.0))[0] - dx, found.get(b, (0.0, 0.0))[1] - dy)
    return found


def _boxes_apart(one: _Free, other: _Free, gap: float) -> bool:
    across = one.x > other.x + other.size.width + gap or other.x > one.x + one.size.width + gap
    return across or one.y > other.y + other.size.height + gap or other.y > one.y + one.size.height + gap


def _middle(one: _Free) -> tuple[float, float]:
    return one.x + one.size.width / 2, one.y + one.size.height / 2
