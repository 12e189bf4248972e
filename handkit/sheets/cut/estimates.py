"""Estimates of how many pages a piece takes that is cut in a certain way, before it is laid out.

In: rows, a plan or a cut, the page, mm. Out: pages, as a fraction; the boxes of a plan's windows.

Used to rank ways to cut that are to share pages with other pieces, the cheapest estimate first: by
widths alone; by the windows' area, the area of their boxes and the pages that the boxes take when
they are packed; by nesting the cut's windows on coarse squares.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.sheets.cut.chain import Cell
from handkit.sheets.cut.cut import Cut
from handkit.sheets.cut.lattice import Stack
from handkit.sheets.cut.plan import Plan, Views, cells_of
from handkit.sheets.nest.nest import Nest
from handkit.sheets.nest.packing import PackingRule, Size, packed


def rough_pages(stack: Stack, page: Size) -> float:
    """Pages that the windows of a stack of rows take together, by their widths alone."""
    total = 0.0
    for row in stack:
        over = row.reach.overlap
        for cell in row.from_left:
            total += (cell.right - cell.left + over) * (row.top - row.bottom + over)
    return round(total / (page.width * page.height), 3)


def pages_of_boxes(  # noqa: PLR0913 - the page and its figures, each by name
    boxes: Sequence[Size], line: float, *, area: float, overlap: float, gap: float, page: Size
) -> float:
    """Pages that windows take which share out an `area` and meet on so much `line`."""
    whole = (page.width + gap) * (page.height + gap)
    shares = [(size.width + gap) * (size.height + gap) / whole for size in boxes]
    order = sorted(range(len(boxes)), key=lambda k: (-shares[k], k))
    placements = packed([boxes[k] for k in order], page=page, gap=gap, rule=PackingRule.SNUG)
    fills = [0.0] * (1 + max(placement.page for placement in placements))
    for placement, k in zip(placements, order, strict=True):
        fills[placement.page] += shares[k]
    total = (area + overlap * line) / whole + sum(shares) + len(fills) - 1 + min(fills)
    return round(total / 3, 4)


def boxes_of(plan: Plan, views: Views) -> tuple[Size, ...]:
    """The boxes of a plan's windows, strips beyond cut lines included."""
    return tuple(_box(plan, row, cell, views) for (row, _), cell in cells_of(plan))


def _box(plan: Plan, row: int, cell: Cell, views: Views) -> Size:
    half = plan.stack[row].reach.overlap / 2
    bottom = plan.stack[row].bottom - half * (row > 0)
    top = plan.stack[row].top + half * (row < len(plan.stack) - 1)
    spans = [
        (max(low, bottom), min(high, top))
        for low, high in views.sideways.spans(cell.left, cell.right)
        if high > bottom and low < top
    ]
    width = cell.right - cell.left + half * (cell.cut_left + cell.cut_right)
    return Size(width, spans[-1][1] - spans[0][0] if spans else top - bottom)


def nested_pages(cut: Cut, nest: Nest) -> float:
    """Pages that a cut's windows take by themselves, the emptiest by how full it is."""
    items = [drawn.footprints(nest.grid) for drawn in cut.drawn]
    items.sort(key=lambda footprints: -footprints[0].squares)
    found = nest.put_down(items)
    assert found is not None, "there is no limit of pages"
    return round(found.pages - 1 + min(found.fills) / (nest.grid.columns * nest.grid.rows), 3)
