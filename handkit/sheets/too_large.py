"""Notes on pieces that are a little too large for the page, and what that costs.

In: shapes that are split, the page, what another page would save. Out: a note for each piece
that would be drawn whole on a page a little larger, where that saves a sheet. All mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import ceil

from handkit.findings import Finding, Source, finding
from handkit.geometry.box import Box, box_of
from handkit.sheets.nest.packing import Size
from handkit.sheets.page import STRIP
from handkit.sheets.shape import STROKE_ROOM, Shape

# More than this and the piece is simply larger than the page.
NEAR = 3.0


def too_large_notes(
    split: Sequence[tuple[Shape, Source]],
    *,
    page: Size,
    edge: float,
    margin: float,
    sheets_saved: Callable[[float], int],
) -> Iterator[Finding]:
    """Notes on split shapes, in the order given. `sheets_saved` says how many sheets a page would save
    that is so much wider and higher."""
    known: dict[float, int] = {}
    for shape, source in split:
        too_wide, too_high = _excess(_upright_box(shape), page)
        excess = max(too_wide, too_high)
        if excess > NEAR:
            continue
        wider = ceil(excess * 10 - 1e-6) / 10
        if wider not in known:
            known[wider] = sheets_saved(wider)
        saved = known[wider]
        if saved > 0:
            narrower = margin - wider / 2
            yield finding(
                _key(too_wide, too_high, by_margin=narrower >= edge + STRIP - 1e-9),
                source.at(),
                wide=too_wide,
                high=too_high,
                margin=narrower,
                smaller=wider,
                saved=saved,
            )


def _upright_box(shape: Shape) -> Box:
    return box_of(shape.ring).grown(STROKE_ROOM)


def _excess(box: Box, page: Size) -> tuple[float, float]:
    """How much too wide and too high a piece is, turned by a quarter where it is less so."""
    ways = [
        (max(width - page.width, 0.0), max(height - page.height, 0.0))
        for width, height in ((box.width, box.height), (box.height, box.width))
    ]
    return min(ways, key=lambda way: round(max(way), 6))


def _key(too_wide: float, too_high: float, *, by_margin: bool) -> str:
    """The row of the table of messages: what is too large, and what would help."""
    wide, high = too_wide > 1e-6, too_high > 1e-6
    if wide and high:
        return "near-miss/both-margin" if by_margin else "near-miss/both-piece"
    if high:
        return "near-miss/higher-margin" if by_margin else "near-miss/higher-piece"
    return "near-miss/wider-margin" if by_margin else "near-miss/wider-piece"
