"""The longer search for fewer sheets: the cuts of an answer, laid on a page less.

In: an answer, the page's printable size and the gap in mm, a number of tries. Out: an answer that
takes fewer pages with the same cuts, or the one that came in: it is never worse.

A *try* lays one window anew (see `guided_search`); their number is stated, so that the same file
gives the same sheets.
"""

from __future__ import annotations

from handkit.sheets.nest.fewest import Answer, WindowPlacement
from handkit.sheets.nest.guided_search import laid_on
from handkit.sheets.nest.packing import Size


def with_longer_search(answer: Answer, *, page: Size, gap: float, tries: int) -> Answer:
    """The same cuts on a sheet less, and another, as long as tries are left and an answer is found."""
    windows = [
        (piece, index) for piece, one in enumerate(answer.choice) for index in range(len(one.cut.drawn))
    ]
    drawings = [answer.choice[piece].cut.drawn[index] for piece, index in windows]
    whole = (page.width + gap) * (page.height + gap)
    area = sum(one.area for one in answer.choice)
    while tries > 0 and answer.pages > 1 and area <= (answer.pages - 1) * whole:
        found, used = laid_on(drawings, page=page, gap=gap, pages=answer.pages - 1, tries=tries)
        if found is None:
            break
        placements: list[list[WindowPlacement]] = [[] for _ in answer.choice]
        taken = [0.0] * (answer.pages - 1)
        for (piece, _), drawing, laid in zip(windows, drawings, found, strict=True):
            placements[piece].append(WindowPlacement(*laid))
            taken[laid[0]] += drawing.paper(gap)
        each = tuple(tuple(some) for some in placements)
        answer = Answer(answer.choice, each, answer.pages - 1, round(min(taken) / whole, 3))
        tries -= used
    return answer
