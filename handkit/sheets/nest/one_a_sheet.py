"""One a sheet: for those who tape first, then cut.

In: for each piece the ways it may be cut, the page's printable size and the gap, mm. Out: `Answer`:
one cut for each piece and a placement for each of its windows.

Every window that is joined to another has a sheet of its own, in a corner of it and never turned but
by a quarter, so that whole sheets can be laid edge along edge. What is whole fills what is free
there, to be cut out before the sheets are taped, and then sheets of its own.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.sheets.cut.candidates import Candidate
from handkit.sheets.nest.choices import Choice
from handkit.sheets.nest.fewest import Answer, answer_of
from handkit.sheets.nest.footprint import Footprint, page_grid
from handkit.sheets.nest.nest import Nest
from handkit.sheets.nest.packing import Size

RASTER = 2.0


def one_a_sheet(pieces: Sequence[Sequence[Candidate]], *, page: Size, gap: float) -> Answer:
    """The best answer found. Raises ValueError for a piece without a cut."""
    nest = Nest(page_grid(page, gap=gap, raster=RASTER))
    choice = tuple(min(ways, key=_price) for ways in pieces)
    best = _laid(choice, nest)
    for index, ways in enumerate(pieces):
        for way in ways:
            if way is choice[index] or len(way.cut.windows) > len(choice[index].cut.windows):
                continue
            other = _laid((*best.choice[:index], way, *best.choice[index + 1 :]), nest)
            if (other.pages, other.cost) < (best.pages, best.cost):
                best = other
    return best


def _price(way: Candidate) -> tuple[float, ...]:
    """Each window is a sheet: fewest, then as always."""
    return (len(way.cut.windows), *way.cost)


def _laid(choice: Choice, nest: Nest) -> Answer:
    """The windows of a choice put down: those that are joined first, then the others, largest first."""
    items = [
        (not one.cut.joins, piece, index, _footprints(one, index, nest))
        for piece, one in enumerate(choice)
        for index in range(len(one.cut.drawn))
    ]
    apart = sum(not single for single, *_ in items)
    items.sort(key=lambda item: (item[0], item[0] and -max(one.squares for one in item[3])))
    found = nest.put_down([footprints for *_, footprints in items], apart=apart)
    assert found is not None, "there is no limit of pages"
    return answer_of(choice, [(piece, index) for _, piece, index, _ in items], found, nest)


def _footprints(one: Candidate, index: int, nest: Nest) -> tuple[Footprint, ...]:
    """A window's footprints: as it lies in its piece where it is joined to others, else by a quarter."""
    every = one.cut.drawn[index].footprints(nest.grid)
    if not one.cut.joins:
        return every
    level = [footprint for footprint in every if round(footprint.onto.a, 6) == 1]
    return tuple(level or [footprint for footprint in every if round(abs(footprint.onto.a), 6) == 0][:1])
