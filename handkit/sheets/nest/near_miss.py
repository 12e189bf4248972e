"""Near misses: pieces a hair larger than the page, and what that hair costs.

In: shapes that are split, the page, what another page would save. Out: a note for each piece
that would be drawn whole on a page a little larger, where that saves a sheet. All mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import ceil

from handkit.findings import Finding, Source, note
from handkit.geometry.box import Box, box_of
from handkit.sheets.nest.packing import Size
from handkit.sheets.page import STRIP, mm
from handkit.sheets.shape import STROKE_ROOM, Shape

# More than this and the piece is simply larger than the page.
NEAR = 3.0


def near_misses(
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
            yield note(
                "near-miss",
                source.at(),
                found=f"a piece {_by(too_wide, too_high)} than the page allows, its line's width included",
                remedy=_remedy(wider, edge, margin, f"save {saved} sheet{'s' if saved > 1 else ''}"),
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


def _by(too_wide: float, too_high: float) -> str:
    parts = [f"{mm(too_wide)} wider"] * (too_wide > 1e-6) + [f"{mm(too_high)} higher"] * (too_high > 1e-6)
    return " and ".join(parts)


def _remedy(wider: float, edge: float, margin: float, gain: str) -> str:
    narrower = margin - wider / 2
    if narrower >= edge + STRIP - 1e-9:
        return f"a margin of {mm(narrower)} would {gain}"
    return f"a piece {mm(wider)} smaller would {gain}"
