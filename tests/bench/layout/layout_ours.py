"""handkit's own layout of a case, and whether it keeps its word.

In: a case. Out: `Laid`: plain windows and joins; `Count`; faults in words. All mm.

The check believes nothing but the windows' polygons, where they are placed, and the cut lines; the
geometry is shapely's.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

import shapely
from layout_bound import need
from layout_case import Case, Count, Drawing, Line, Point
from layout_holes import through
from shapely.affinity import affine_transform

from handkit.paper import Paper
from handkit.sheets.engine import Capsule, Placed, Shape, place

NEAR = 0.001  # mm: nothing leaves the page by more
SLACK = 0.01  # mm²: less of a piece is not missed


@dataclass(frozen=True)
class Seen:
    """One window: of which drawing (its place among all), what of the sheet it covers."""

    drawing: int
    number: int
    sheet: int
    polygon: tuple[Point, ...]  # in the piece's frame
    placed: tuple[float, ...]  # a, b, c, d, e, f as in the report

    def on_sheet(self, region: shapely.Geometry) -> shapely.Geometry:
        """A region of the piece's frame, on the sheet."""
        a, b, c, d, e, f = self.placed
        return affine_transform(region, [a, c, b, d, e, f])

    def ink(self, drawing: Drawing) -> shapely.Geometry:
        """What of the piece it shows, in the piece's frame."""
        return drawing.area.intersection(shapely.Polygon(self.polygon))


@dataclass(frozen=True)
class Laid:
    """A layout: its windows, and its joins as drawing, two windows, cut line."""

    case: Case
    windows: tuple[Seen, ...]
    joins: tuple[tuple[int, tuple[int, int], Line], ...]
    sheets: int
    told: int  # joins through holes, as the engine counts them

    @cached_property
    def count(self) -> Count:
        """What it costs; joins through holes are counted anew."""
        drawings = self.case.drawings
        lines = {d: [line for of, _, line in self.joins if of == d] for d in range(len(drawings))}
        hit = sum(through(some, drawings[d]) for d, some in lines.items())
        return Count(self.sheets, len(self.joins), hit)


def ours(case: Case) -> Laid:
    """What the engine makes of a case, every piece drawn."""
    shapes = [
        Shape(
            name=piece.name,
            ring=piece.ring,
            keep_outs=tuple(Capsule((x, y), (x, y), d / 2) for x, y, d in piece.holes),
            quantity=piece.quantity,
        )
        for piece in case.pieces
    ]
    placed = place(
        shapes,
        paper=Paper(case.paper, case.width, case.height),
        margin=case.margin,
        overlap=case.overlap,
        gap=case.gap,
        draw_each=True,
    )
    return _laid(case, placed)


def _laid(case: Case, placed: Placed) -> Laid:
    copies = [(piece.name, copy) for piece in case.pieces for copy in range(1, piece.quantity + 1)]
    index = {drawing: number for number, drawing in enumerate(copies)}
    windows = (
        Seen(index[w.piece, w.copy], w.number, sheet.number, w.polygon, w.placed.numbers())
        for sheet in placed.sheets
        for w in sheet.windows
    )
    joins = ((index[j.piece, j.copy], j.windows, j.cut_line) for j in placed.joins)
    return Laid(case, tuple(windows), tuple(joins), len(placed.sheets), placed.joins_through_holes)


def faults(laid: Laid) -> list[str]:
    """What is wrong with a layout; nothing is, where the list is empty."""
    return [*_missing(laid), *_split(laid), *_apart(laid), *_outside(laid), *_crowded(laid), *_beaten(laid)]


def _of(laid: Laid) -> Iterator[tuple[Drawing, list[Seen], list[tuple[int, int]]]]:
    for number, drawing in enumerate(laid.case.drawings):
        windows = [window for window in laid.windows if window.drawing == number]
        yield drawing, windows, [pair for of, pair, _ in laid.joins if of == number]


def _missing(laid: Laid) -> Iterator[str]:
    for drawing, windows, _ in _of(laid):
        shown = shapely.union_all([shapely.Polygon(window.polygon) for window in windows])
        if drawing.area.difference(shown).area > SLACK:
            yield f"{drawing.name}: not all of it is drawn"


def _split(laid: Laid) -> Iterator[str]:
    """Only upright and by quarters: that a piece fits at another turn is the engine's own to find."""
    w, h = laid.case.drawn
    for drawing, windows, _ in _of(laid):
        left, bottom, right, top = drawing.area.buffer(0.25).bounds  # the line's ink
        sides = sorted((right - left, top - bottom))
        if len(windows) > 1 and sides[0] <= min(w, h) and sides[1] <= max(w, h):
            yield f"{drawing.name}: split, though it fits"


def _apart(laid: Laid) -> Iterator[str]:
    """Windows that no chain of joins holds together, and joins of windows that don't overlap."""
    for drawing, windows, pairs in _of(laid):
        group = {window.number: window.number for window in windows}
        polygons = {window.number: shapely.Polygon(window.polygon) for window in windows}
        for a, b in pairs:
            if not {a, b} <= group.keys():
                yield f"{drawing.name}: a join with a window that is not there"
                continue
            group = {number: group[a] if of == group[b] else of for number, of in group.items()}
            if polygons[a].intersection(polygons[b]).area <= SLACK:
                yield f"{drawing.name}: windows {a} and {b} are joined and have nothing in common"
        if len(set(group.values())) > 1:
            yield f"{drawing.name}: falls apart"


def _outside(laid: Laid) -> Iterator[str]:
    (w, h), margin = laid.case.drawn, laid.case.margin
    page = shapely.box(margin - NEAR, margin - NEAR, margin + w + NEAR, margin + h + NEAR)
    for window in laid.windows:
        drawing = laid.case.drawings[window.drawing]
        if not page.contains(window.on_sheet(window.ink(drawing))):
            yield f"{drawing.name}, window {window.number}: leaves the page"


def _crowded(laid: Laid) -> Iterator[str]:
    drawings = laid.case.drawings
    for sheet in range(1, laid.sheets + 1):
        here = [w for w in laid.windows if w.sheet == sheet]
        inks = [(w, w.on_sheet(w.ink(drawings[w.drawing]))) for w in here]
        for (a, ink), (b, other) in combinations(inks, 2):
            if ink.distance(other) < laid.case.gap - NEAR:
                yield f"sheet {sheet}: {drawings[a.drawing].name} and {drawings[b.drawing].name} are too near"


def _beaten(laid: Laid) -> Iterator[str]:
    """Pieces whose windows take less paper than the bound says they must: the proof would be wrong."""
    (w, h), gap, overlap = (side + 0.002 for side in laid.case.drawn), laid.case.gap, laid.case.overlap
    for drawing, windows, _ in _of(laid):
        if len(windows) > 1:
            grown = sum(window.ink(drawing).buffer(gap / 2).area for window in windows)
            if grown < sum(need(drawing.area, w, h, gap=gap, overlap=overlap)) - 1:
                yield f"{drawing.name}: takes less paper than it can"
