"""Estimates how many sheets a cut takes if it is laid out by itself.

In: a cut, a nest of coarse squares. Out: pages, as a fraction.

Used to rank cuts that are to share sheets with other pieces.
"""

from __future__ import annotations

from handkit.sheets.cut.cut import Cut
from handkit.sheets.nest.nest import Nest


def pages_alone(cut: Cut, nest: Nest) -> float:
    """Pages that the windows take, the emptiest by how full it is."""
    items = [drawn.footprints(nest.grid) for drawn in cut.drawn]
    items.sort(key=lambda footprints: -footprints[0].squares)
    found = nest.put_down(items)
    assert found is not None, "there is no limit of pages"
    return round(found.pages - 1 + min(found.fills) / (nest.grid.columns * nest.grid.rows), 3)
