"""Step 5, sheets: what lies where on which sheet of paper.

In: the punched pattern, the paper, edge, margin and overlap in mm. Out: `Sheets`.

The way: look at the page (`page.py`), see each piece as a shape (`template.py`), place all shapes
on the fewest sheets (`engine.py`), tell what is remarkable about the answer (`too_large.py` and
here). Every page has the paper's own orientation.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Sequence
from math import ceil

from handkit.counting import OnProgress, no_progress
from handkit.errors import refuse_errors
from handkit.findings import Finding, Source, finding, in_order
from handkit.geometry.polygon import signed_area
from handkit.kept.kept import Kept, KeptOf
from handkit.kinds.pages import Drawn, Straights
from handkit.paper import AS_USUAL, Layout, Paper
from handkit.printers.correction import Printer
from handkit.punch.punched import Punched
from handkit.sheets.cut.chain import Reach, count_of
from handkit.sheets.cut.template import shapes_of
from handkit.sheets.engine import Placed, place
from handkit.sheets.laid import MeasuredPiece, Sheets
from handkit.sheets.measured.choice import measured_of, saving_notes
from handkit.sheets.nest.packing import Size
from handkit.sheets.page import drawn_size, settled_page
from handkit.sheets.shape import STROKE_ROOM, Shape
from handkit.sheets.too_large import too_large_notes

# More sheets than this for one piece are surely not meant; more than that are not worked out.
MANY_WINDOWS = 60
MOST_WINDOWS = 500

# Nor is a kit of more sheets.
MOST_SHEETS = 500


def lay_out(  # noqa: PLR0913 - the page's figures, each by name
    punched: Punched,
    *,
    paper: Paper,
    edge: float,
    margin: float,
    overlap: float,
    layout: Layout = AS_USUAL,
    printer: Printer | None = None,
    on_progress: OnProgress = no_progress,
    kept: Kept | None = None,
) -> Sheets:
    """Lay every piece's template on sheets, in the maker's way; for a printer, clear of what it would lose.
    What was laid out of the same shapes before is `kept`.
    Raises ProjectError where the page leaves no room, or a piece or the kit would take over 500 sheets."""
    edge, margin, lost = settled_page(
        punched.project.page.source, paper, edge=edge, margin=margin, overlap=overlap, printer=printer
    )
    page = drawn_size(paper, margin=margin)
    measured, listed = _tiled(punched, page, overlap, layout)
    shapes = [shape for shape, _ in listed]
    kept = kept or Kept()
    placed = _placed(shapes, paper, margin, overlap, layout, kept, on_progress=on_progress)
    refuse_errors(_too_many(len(placed.sheets), punched, layout))
    split = _split(placed, listed)
    on_progress("laying out sheets: what would save one")
    without = _sheets_less(placed, shapes, paper, margin, overlap, layout, kept)
    near = too_large_notes([s[:2] for s in split], page=page, edge=edge, margin=margin, sheets_saved=without)
    counts = {shape.name: count for shape, _, count in split if count <= MANY_WINDOWS}
    saving = saving_notes(punched, counts, len(placed.sheets), lambda left_out: without(0.0, left_out))
    return Sheets(
        paper=paper,
        edge=edge,
        margin=margin,
        overlap=overlap,
        sheets=placed.sheets,
        joins=placed.joins,
        joins_through_holes=placed.joins_through_holes,
        findings=in_order((*lost, *_many(placed, split), *near, *saving)),
        breaks=placed.breaks,
        layout=layout,
        measured=measured,
        correction=printer.needed if printer else None,
    )


def _tiled(
    punched: Punched, page: Size, overlap: float, layout: Layout
) -> tuple[tuple[MeasuredPiece, ...], list[tuple[Shape, Source]]]:
    """The pieces that are given by their measures, and the shapes of the others."""
    shapes = shapes_of(punched)
    large = {shape.name for shape in shapes if _windows_upright(shape, page, overlap) > 1}
    measured = measured_of(punched, large if layout.measured else set())
    off = {one.piece for one in measured}
    listed = zip(shapes, punched.pattern.pieces, strict=True)
    tiled = [(shape, piece.source) for shape, piece in listed if shape.name not in off]
    refuse_errors(_too_big(tiled, page, overlap))
    refuse_errors(_too_many(_fewest([shape for shape, _ in tiled], page, layout), punched, layout))
    return measured, tiled


def _sheets_less(  # noqa: PLR0913, PLR0917 - the page's figures
    placed: Placed,
    shapes: Sequence[Shape],
    paper: Paper,
    margin: float,
    overlap: float,
    layout: Layout,
    kept: Kept,
) -> Callable[..., int]:
    """How many sheets less it takes on paper so much wider and higher, or with some pieces left out."""

    def without(wider: float, left_out: Collection[str] = ()) -> int:
        rest = [shape for shape in shapes if shape.name not in left_out]
        larger = Paper(paper.name, paper.width + wider, paper.height + wider)
        return len(placed.sheets) - len(_placed(rest, larger, margin, overlap, layout, kept).sheets)

    return without


def _placed(  # noqa: PLR0913, PLR0917 - the page's figures
    shapes: Sequence[Shape],
    paper: Paper,
    margin: float,
    overlap: float,
    layout: Layout,
    kept: Kept,
    *,
    on_progress: OnProgress = no_progress,
) -> Placed:
    """All shapes in the maker's way."""
    return kept.of(
        "layout",
        (tuple(shapes), paper, margin, overlap, layout),
        lambda: place(
            shapes,
            paper=paper,
            margin=margin,
            overlap=overlap,
            windows=layout.windows,
            draw_each=layout.draw is Drawn.EACH,
            straights=layout.straights,
            tries=layout.tries,
            on_progress=on_progress,
            kept=KeptOf(kept),
        ),
    )


def _too_big(shapes: Sequence[tuple[Shape, Source]], page: Size, overlap: float) -> Iterator[Finding]:
    for shape, source in shapes:
        count = _windows_upright(shape, page, overlap)
        if count > MOST_WINDOWS:
            yield finding("piece-too-big", source.at(), windows=count, most=MOST_WINDOWS)


def _fewest(shapes: Sequence[Shape], page: Size, layout: Layout) -> int:
    """Sheets below which the pieces' areas alone do not fit; 0 where straight parts are left out of them."""
    if layout.straights is Straights.SHORTENED:
        return 0
    each = layout.draw is Drawn.EACH
    area = sum(abs(signed_area(shape.ring)) * (shape.quantity if each else 1) for shape in shapes)
    return ceil(area / (page.width * page.height))


def _too_many(sheets: int, punched: Punched, layout: Layout) -> Iterator[Finding]:
    if sheets > MOST_SHEETS:
        key = "too-many-sheets/each" if layout.draw is Drawn.EACH else "too-many-sheets"
        yield finding(key, punched.project.page.source.at(), sheets=sheets, most=MOST_SHEETS)


def _windows_upright(shape: Shape, page: Size, overlap: float) -> int:
    """Windows of a plain grid over a shape's box, the better way round: how much work it will be."""
    xs, ys = zip(*shape.ring, strict=True)
    size = (max(xs) - min(xs) + 2 * STROKE_ROOM, max(ys) - min(ys) + 2 * STROKE_ROOM)
    return min(
        count_of([(0.0, width)], Reach(page.width, overlap))
        * count_of([(0.0, height)], Reach(page.height, overlap))
        for width, height in (size, size[::-1])
    )


_Split = tuple[Shape, Source, int]  # a shape of so many windows


def _split(placed: Placed, shapes: Sequence[tuple[Shape, Source]]) -> list[_Split]:
    """The shapes that do not lie in one window."""
    windows = Counter(w.piece for sheet in placed.sheets for w in sheet.windows if w.copy == 1)
    return [(shape, at, windows[shape.name]) for shape, at in shapes if windows[shape.name] > 1]


def _many(placed: Placed, split: Sequence[_Split]) -> Iterator[Finding]:
    for shape, source, count in split:
        if count > MANY_WINDOWS:
            joins = sum(join.piece == shape.name and join.copy == 1 for join in placed.joins)
            yield finding("many-windows", source.at(), windows=count, joins=joins, most=MANY_WINDOWS)
