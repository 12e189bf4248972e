"""Fittings where they lie: bars, rings, buckles and keepers at their folds, zips along their seams, magnets.

In: the pattern, one figure's bodies and rows. Out: a `PlacedFitting` for each that the file tells a place of.

          fold            A bar lies where half of the turn is used up, in from its fold; of what the
    ──────╮ │  turn ÷ 2   strap is laid on, one leaf is under it and one over it. It is as thick as the
    ─────( )│             file says, and reaches as far past the strap on either side. A keeper at a fold
    ──────╯ │             sits beside the bar, or so far from the fold as the file says.

How far it holds: of a ring or a buckle the file tells the bar alone, and the rest of it hangs free. A keeper
without a fold slides, and has no place; a zip's tape lies 4 mm short of its teeth's middle from the edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from handkit.assemble.article import Body, PlacedFitting, SewnRow
from handkit.assemble.section import offset_line
from handkit.draft.pattern import Pattern, PatternFitting, PatternFold
from handkit.geometry.affine import Point
from handkit.geometry.laid.heights import Heights
from handkit.geometry.path import Path, circle, polyline
from handkit.geometry.region import bands_of
from handkit.geometry.straight import distance, middle_of, unit
from handkit.kinds.fittings import TEETH_FREE, FittingKind
from handkit.read.project import Fitting, Side
from handkit.tolerances import SAGITTA

# Of the strap's thicknesses that pass a keeper at a fold: both leaves and the strap's end.
LEAVES_AT_FOLD = 3


def placed_fittings(
    pattern: Pattern, bodies: Mapping[str, Body], rows: Sequence[SewnRow], heights: Heights
) -> Iterator[PlacedFitting]:
    """All that have a place in a figure whose placed bodies are given."""
    for each in pattern.fittings:
        fitting, body = each.fitting, bodies.get(each.fitting.on or "")
        if fitting.kind is FittingKind.ZIP:
            yield from _tapes(pattern, fitting, bodies, [row for row in rows if row.seam in fitting.seams])
        elif body is not None and fitting.kind is FittingKind.MAGNET:
            yield from _magnets(fitting, body, heights)
        elif body is not None and each.line is not None:
            yield _bar(each, body, heights)
        elif body is not None and fitting.kind is FittingKind.KEEPER and fitting.fold:
            yield _keeper(pattern, each, body, heights)


def _magnets(fitting: Fitting, body: Body, heights: Heights) -> Iterator[PlacedFitting]:
    """Cemented on the side that shows, as thick as the file says."""
    to_eye, thick = not body.piece.turned, fitting.thickness or 0.0
    for at in fitting.at:
        place = body.lie.apply(at)
        low, high = heights.span(body.name, place)
        ends = (high, high + thick) if to_eye else (low - thick, low)
        yield PlacedFitting(
            fitting, body.name, circle(place, (fitting.diameter or 0.0) / 2), *ends, to_eye=to_eye
        )


def _bar(one: PatternFitting, body: Body, heights: Heights) -> PlacedFitting:
    """The bar a fold goes round."""
    fold, thick = body.piece.fold(one.fitting.fold), one.fitting.bar or 0.0
    half = (one.fitting.inside or 0.0) / 2 + thick
    outline = _across(body, fold, half, one.turn / 2 - thick / 2, one.turn / 2 + thick / 2)
    low, high, to_eye = _round(body, fold, heights, one.folded, thick + one.folded)
    return PlacedFitting(one.fitting, body.name, outline, low, high, to_eye)


def _keeper(pattern: Pattern, one: PatternFitting, body: Body, heights: Heights) -> PlacedFitting:
    """A keeper beside what its fold goes round."""
    fitting, fold = one.fitting, body.piece.fold(one.fitting.fold)
    bars = [
        each
        for each in pattern.fittings
        if each.line is not None and (each.fitting.on, each.fitting.fold) == (fitting.on, fitting.fold)
    ]
    beside = max((each.turn / 2 + (each.fitting.bar or 0.0) / 2 for each in bars), default=0.0)
    start = beside if fitting.from_fold is None else fitting.from_fold
    wall = fitting.traits.wall if fitting.piece is None else pattern.piece(fitting.piece).thickness
    width = fitting.inside if fitting.inside is not None else distance(*fold.ends)
    leaves = (fitting.leaves or LEAVES_AT_FOLD) * body.piece.thickness
    clear = fitting.thickness if fitting.thickness is not None else leaves
    outline = _across(body, fold, width / 2 + wall, start, start + one.band)
    over = body.piece.thickness + wall if body.level == 0 else 0.0  # the strap's end passes over its base
    low, high, to_eye = _round(body, fold, heights, -over, clear + 2 * wall)
    return PlacedFitting(fitting, body.name, outline, low, high, to_eye)


def _across(body: Body, fold: PatternFold, half: float, start: float, end: float) -> Path:
    """What lies along a fold, so far to both sides of its middle, from one distance to another in from it on
    the side that stays: of a line alone the longer one."""
    (x, y), (dx, dy) = middle_of(fold.ends), unit(*fold.ends)
    if fold.bend is not None:
        inwards = -1.0 if fold.bend.beyond((x - dy, y + dx)) > 0 else 1.0
    else:
        off = [(py - y) * dx - (px - x) * dy for px, py in body.piece.outline.flattened(sagitta=SAGITTA)]
        inwards = 1.0 if max(off) > -min(off) else -1.0
    corners = ((-half, start), (half, start), (half, end), (-half, end))
    ring = tuple((x + a * dx - b * inwards * dy, y + a * dy + b * inwards * dx) for a, b in corners)
    return polyline(body.lie.apply_all(ring), closed=True)


def _round(
    body: Body, fold: PatternFold, heights: Heights, under: float, tall: float
) -> tuple[float, float, bool]:
    """Between which heights what is so tall lies, so much of leather under it, and whether it lies in front:
    on what its piece is laid on, or of a base on the side that is folded over, the one that does not show."""
    low, high = heights.span(body.name, body.lie.apply(middle_of(fold.ends)))
    if body.level > 0:
        return low + under, low + under + tall, True
    if body.level < 0:
        return high - under - tall, high - under, False
    to_eye = fold.out is not None and fold.out is not body.up
    if to_eye:
        return low + under, low + under + tall, True
    return high - under - tall, high - under, False


def _tapes(
    pattern: Pattern, fitting: Fitting, bodies: Mapping[str, Body], rows: Sequence[SewnRow]
) -> Iterator[PlacedFitting]:
    """A zip's tapes along its rows, on the flesh side or back, where they lie on one piece; between two they
    stand out of neither."""
    tape, thick = fitting.tape or 0.0, fitting.tape_thickness
    for row in rows:
        runs = [run for seam in pattern.seams if seam.name == row.seam for run in seam.runs]
        run = next((each for each in runs if each.piece == row.pieces[0]), None)
        if len(row.pieces) > 1 or run is None or len(row.front) < 2:
            continue
        body = bodies[row.pieces[0]]
        to_eye, inset = body.up is Side.FLESH, _inset(pattern, row.seam)
        side = run.inside * (-1 if body.lie.turns_over else 1)
        line: list[Point] = [(x, y) for x, y, _ in row.front]
        middle = polyline(offset_line(line, side * (tape / 2 - TEETH_FREE - inset)))
        ring = bands_of([middle], tape / 2).rings()[0]
        face = row.front[0][2] if to_eye else row.back[0][2]
        low, high = (face, face + thick) if to_eye else (face - thick, face)
        yield PlacedFitting(fitting, body.name, polyline(ring, closed=True), low, high, to_eye)


def _inset(pattern: Pattern, seam: str) -> float:
    return next(each.stitching.inset for each in pattern.seams if each.name == seam)
