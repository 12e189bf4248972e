"""Alone: how much paper a cut piece takes by itself.

In: a cut, a nest of coarse squares. Out: pages, as a fraction, and mm² of paper.

What takes least alone does best in company: of all foretellings tried this one failed least.
"""

from __future__ import annotations

from handkit.sheets.cut.cut import Cut
from handkit.sheets.nest.nest import Nest
from handkit.sheets.nest.stencil import CORNER_STEPS, stencils_of


def pages_alone(cut: Cut, nest: Nest) -> float:
    """Pages that the windows take, the emptiest by how full it is."""
    items = [stencils_of(drawn, nest.canvas) for drawn in cut.drawn]
    items.sort(key=lambda stencils: -stencils[0].squares)
    found = nest.put_down(items)
    assert found is not None, "there is no limit of pages"
    return round(found.pages - 1 + min(found.fills) / (nest.canvas.columns * nest.canvas.rows), 3)


def grown_area(cut: Cut, gap: float) -> float:
    """Mm² of paper that the windows keep others from, half a gap all round each."""
    return sum(drawn.grown(gap / 2, steps=CORNER_STEPS).area for drawn in cut.drawn)
