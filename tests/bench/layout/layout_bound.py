"""A number of sheets that no layout can beat.

In: a case. Out: whole sheets, and the areas they come from. All mm, mm².

What every layout has to keep, whatever its windows are:

1. A piece P is shared out among its windows: each keeps one *cell*, and cells have no area in
   common. A cell lies in a convex figure Q (here a rectangle), and what parts it from other cells
   within P is Q's edge: a *cut line*.
2. A window shows, beside its cell, whatever of P can be reached from the cell straight within P, up
   to half the overlap o: that is what overlapping means. All it shows of P, its ink F, lies on a
   sheet in the drawn rectangle R, w × h, turned anyhow.
3. Inks of two windows or pieces on one sheet are the gap g or more apart, and g < o.

**Sheets from area.** Write F⁺ for F grown by g/2. By 3 the F⁺ on one sheet have no area in common,
and they lie in R⁺, whose area is wh + g(w + h) + πg²/4. So

    sheets ≥ Σ |F⁺| / |R⁺|        (a piece that is not cut has one window, F = P).

**What cutting adds.** Let K be any part of P that is o/2 or more away from P's edge, and ℓ the
length of the cut lines within K. Then, over the windows of one piece,

    Σ |F⁺| ≥ |P⁺| + (o + g)·ℓ.

Proof. Give each point of P⁺ to the cell that has the nearest point of P. That shares P⁺ out, each
share within its own F⁺. Now take a cell in its Q, and the strip outside Q of all points up to
(o + g)/2 straight off those stretches of its cut lines that are in K. Up to o/2 off, the strip is in
P, because K is so far from P's edge, and then in F by 2; what is further off is within g/2 of that;
so the strip is in F⁺. It has nothing in common with the cell's own share: points of P in that share
are in Q, other points of it are up to g/2 off Q, and the strip's points outside P are more than o/2
off. Strips on two sides of a convex Q have no area in common. Every cut line has a strip for the
cell on either side, so that each mm of it adds 2·(o + g)/2. ∎

**How much must be cut.** By 2, what a cell has of K lies in R even when it is grown by o/2, so it
lies in the smaller rectangle R⁻ = (w − o) × (h − o), turned anyhow. Three bounds of ℓ; the best counts.

*By perimeter.* Let t be the smaller root of (w − o − 2t)(h − o − 2t) = πt². Every figure E in R⁻ has
perimeter L ≥ |E|/t. Proof: take what hangs together by itself, fill its holes, take its hull: the
perimeter sinks and the area grows. So let E be convex, r its inradius, E₋ₛ its inner parallel at
depth s. A disc rolled round E₋ₛ stays within E, so E₋ₛ has perimeter ≤ L − 2πs; and area sinks by
perimeter times depth. If r ≤ t, then |E| = ∫₀ʳ perimeter of E₋ₛ ds ≤ rL ≤ tL. If r > t, then
|E₋ₜ| ≥ |E| − tL + πt², but E₋ₜ lies in R⁻'s own inner parallel, whose area is πt²; so tL ≥ |E|. ∎
The perimeters of what the cells have of K come to K's own and twice ℓ: 2ℓ ≥ |K|/t − perimeter of K.

*Along one direction.* A straight stretch in K of length λ crosses ⌈λ/D⌉ − 1 cut lines or more, D
being R⁻'s diagonal: no cell has more than D of it. Summed over all straights along the direction, v
across it: I = ∫ Σ(⌈λ/D⌉ − 1) dv ≤ ℓ, since a cut line of length 1 is met by a width of 1 at most.
λ is linear in v from one corner of K to the next, so that I is exact.

*Along m directions* at equal angles: a cut line of length 1 is met by widths that sum up to
1/sin(π/2m) at most (m unit vectors π/m apart, added), so ℓ ≥ sin(π/2m)·ΣI.

K may be any such part, and several parts that share no area add up. Tried are P worn off by o/2, its
outside corners rounded by several radii, and what straight lines through its inside corners or its
middle part it into. Where curves become polygons it is on the safe side: grown ones by chords, worn
ones 0.01 mm smaller.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import ceil, cos, hypot, pi, sin, sqrt

import numpy as np
import shapely
from layout_case import Case, Point
from shapely.ops import split

DIRECTIONS = 18
MIDDLES = 4  # straights tried through a part's middle
MOST_CORNERS = 12  # inside corners tried to part a piece at
SAFE = 0.01
ROUNDED_BY = (10.0, 20.0, 40.0, 60.0)
NOISE = 1e-6  # sheets


@dataclass(frozen=True)
class Bound:
    """Sheets, and what they come from; `page` is |R⁺|, `pieces` Σ|P⁺|, `cutting` Σ(o + g)·ℓ."""

    page: float
    pieces: float
    cutting: float

    @property
    def exact(self) -> float:
        """Sheets before they are made whole."""
        return (self.pieces + self.cutting) / self.page

    @property
    def sheets(self) -> int:
        """The least whole number of sheets."""
        return ceil(self.exact - NOISE)


def bound(case: Case) -> Bound:
    """The case's bound; a sheet is taken a thousandth wider each way than asked, as layouts may be."""
    (w, h), g, o = (side + 0.002 for side in case.drawn), case.gap, case.overlap
    assert g < o
    needed = [need(drawing.area, w, h, gap=g, overlap=o) for drawing in case.drawings]
    return Bound(
        page=w * h + g * (w + h) + pi * g * g / 4,
        pieces=sum(grown for grown, _ in needed),
        cutting=sum(cutting for _, cutting in needed),
    )


@cache
def need(piece: shapely.Polygon, w: float, h: float, *, gap: float, overlap: float) -> tuple[float, float]:
    """|P⁺| and what cutting adds to it, for a piece on drawn rectangles of w × h."""
    grown = piece.buffer(gap / 2, quad_segs=32).area
    worn = piece.buffer(-overlap / 2 - SAFE, quad_segs=16)
    return grown, (overlap + gap) * parted(worn, inside_corners(piece), w - overlap, h - overlap)


def parted(part: shapely.Geometry, corners: list[tuple[Point, Point]], w: float, h: float) -> float:
    """A length that cut lines must have in a part: by itself, or parted further where that says more."""
    whole = least_cut(part, w, h)
    best, pieces = whole, []
    left, bottom, right, top = part.bounds if not part.is_empty else (0, 0, 0, 0)
    if hypot(right - left, top - bottom) <= hypot(w, h):
        return whole
    middle = (part.centroid.x, part.centroid.y)
    turns = [pi * k / MIDDLES for k in range(MIDDLES)]
    for (x, y), (dx, dy) in [*corners, *((middle, (cos(turn), sin(turn))) for turn in turns)]:
        far = 10 * hypot(right - left, top - bottom)
        line = shapely.LineString([(x - far * dx, y - far * dy), (x + far * dx, y + far * dy)])
        found = [p for polygon in _polygons(part) for p in split(polygon, line).geoms]
        total = sum(least_cut(p, w, h) for p in found)
        if total > best + 1e-6:
            best, pieces = total, found
    return sum(parted(p, corners, w, h) for p in pieces) if pieces else whole


def least_cut(part: shapely.Geometry, w: float, h: float) -> float:
    """A length that the cut lines in a part must have in all, for cells in rectangles of w × h."""
    left, bottom, right, top = part.bounds if not part.is_empty else (0, 0, 0, 0)
    if hypot(right - left, top - bottom) <= hypot(w, h):
        return max(0.0, _by_perimeter(part, w, h))
    ends = edges_of(part)
    met = [crossed(_turned(ends, pi * k / DIRECTIONS), hypot(w, h)) for k in range(DIRECTIONS)]
    return max(0.0, _by_perimeter(part, w, h), *met, sin(pi / 2 / DIRECTIONS) * sum(met))


def _by_perimeter(part: shapely.Geometry, w: float, h: float) -> float:
    t = cheeger(w, h)
    softer = (part.buffer(-r - SAFE, quad_segs=16).buffer(r, quad_segs=16) for r in ROUNDED_BY)
    return max((k.area / t - k.length) / 2 for k in (part, *softer))


def cheeger(w: float, h: float) -> float:
    """The t of the proof: area over perimeter is at most this for any figure in a rectangle.

    >>> round(cheeger(100, 100), 4)  # a square: side / (2 + √π)
    26.5079
    """
    return ((w + h) - sqrt((w - h) ** 2 + pi * w * h)) / (4 - pi)


def inside_corners(piece: shapely.Polygon) -> list[tuple[Point, Point]]:
    """Where a piece's edge turns outwards, with the directions of both edges; none of a curve's many."""
    ring = np.array(shapely.geometry.polygon.orient(piece.simplify(0)).exterior.coords[:-1])
    ways = np.roll(ring, -1, axis=0) - ring
    ways = ways / np.hypot(ways[:, 0], ways[:, 1])[:, None]
    before = np.roll(ways, 1, axis=0)
    inward = before[:, 0] * ways[:, 1] - before[:, 1] * ways[:, 0] < -0.3
    if inward.sum() > MOST_CORNERS:
        return []
    return [
        ((float(at[0]), float(at[1])), (float(way[0]), float(way[1])))
        for at, a, b in zip(ring[inward], before[inward], ways[inward], strict=True)
        for way in (a, b)
    ]


def crossed(ends: np.ndarray, most: float) -> float:
    """∫ Σ(⌈λ/most⌉ − 1) dv over all level straights through a figure, given by its edges.

    >>> crossed(edges_of(shapely.box(0, 0, 25, 3)), 10)  # two cuts, 3 high
    6.0
    >>> round(crossed(edges_of(shapely.Polygon([(0, 0), (40, 0), (0, 8)])), 10), 6)  # 40 − 5v: 6 + 4 + 2
    12.0
    """
    (x0, y0), (x1, y1) = ends[:, 0].T, ends[:, 1].T
    levels = np.unique(np.concatenate([y0, y1]))
    levels = levels[np.concatenate([[True], np.diff(levels) > 1e-9])]
    low, high = levels[:-1, None], levels[1:, None]
    middle = (low + high) / 2
    here = (np.minimum(y0, y1) < middle) & (middle < np.maximum(y0, y1))
    slope = np.divide(x1 - x0, y1 - y0, out=np.zeros_like(x0), where=y0 != y1)
    at = np.where(here, x0 + slope * (middle - y0), np.inf)
    order = np.argsort(at, axis=1)[:, : int(here.sum(axis=1).max())]
    rows = np.arange(len(at))[:, None]
    first = np.where(here, x0 + slope * (low - y0), np.inf)[rows, order]
    last = np.where(here, x0 + slope * (high - y0), np.inf)[rows, order]
    with np.errstate(invalid="ignore"):  # beyond a slab's last edge there is nothing to measure
        spans = np.stack([first[:, 1::2] - first[:, ::2], last[:, 1::2] - last[:, ::2]])
    short, long = np.nan_to_num(spans.min(axis=0)), np.nan_to_num(spans.max(axis=0))
    total = 0.0
    for cut in range(1, ceil(long.max() / most)):
        over, under = long - cut * most, cut * most - short  # λ runs from short to long
        share = np.divide(over, over + under, out=np.ones_like(over), where=(over > 0) & (under > 0))
        total += float((np.where(over > 1e-9, share, 0.0) * (high - low)).sum())
    return total


def edges_of(part: shapely.Geometry) -> np.ndarray:
    """A figure's edges: edge, end, x or y."""
    rings = [r for polygon in _polygons(part) for r in (polygon.exterior, *polygon.interiors)]
    return np.array([pair for ring in rings for pair in pairwise(ring.coords)])


def _turned(ends: np.ndarray, angle: float) -> np.ndarray:
    turn = np.array([[cos(angle), -sin(angle)], [sin(angle), cos(angle)]])
    return ends @ turn


def _polygons(part: shapely.Geometry) -> Iterator[shapely.Polygon]:
    yield from (p for p in getattr(part, "geoms", [part]) if not p.is_empty)
