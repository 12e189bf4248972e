"""The layout engine: shapes and paper in; what lies where on the fewest sheets out.

The door for anyone who has outlines and no project file. All mm. A sheet's frame has its origin at
the lower left of the paper, y up; nothing is drawn nearer to its edges than `margin`. Words as in
`laid.py`.

>>> strap = Shape("strap", ((0, 0), (400, 0), (400, 38), (0, 38)))
>>> placed = place([strap], paper=PAPERS[0], margin=10)
>>> [(w.piece, w.number, w.count) for sheet in placed.sheets for w in sheet.windows]
[('strap', 1, 2), ('strap', 2, 2)]
>>> len(placed.sheets), [join.windows for join in placed.joins], placed.joins_through_holes
(1, [(1, 2)], 0)

A strap's straight middle can be left out, and holes be kept off the joins:

>>> holes = tuple(Capsule((x, 19), (x, 19), 2) for x in range(20, 100, 10))
>>> placed = place([Shape("strap", strap.ring, keep_outs=holes)], paper=PAPERS[0], margin=10,
...     straights=Straights.SHORTENED)
>>> [(one.lines[0][0], one.length, one.windows) for one in placed.breaks], placed.joins
([((117.0, 0.0), 258.0, ((1,), (2,)))], ())

What it promises: a shape that fits the page is not split; every place of a shape lies in one of
its windows; a shape's windows hang together over its joins; what is drawn in two windows of a
sheet keeps the gap; nothing leaves the page; the same shapes give the same answer on any machine.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import isfinite

import msgspec

from handkit.counting import OnProgress, counted, no_progress
from handkit.geometry.box import Box
from handkit.geometry.capsule import Capsule
from handkit.geometry.region import crosses_itself
from handkit.ink import LEAST_OVERLAP
from handkit.kept.kept import NOTHING, KeptOf
from handkit.kinds.pages import Straights, Windows
from handkit.paper import PAPERS, Paper
from handkit.sheets.cut.candidates import Candidate, candidates_for
from handkit.sheets.cut.cut import Cut
from handkit.sheets.cut.straights import Parted, shortened, whole
from handkit.sheets.joins.breaks import breaks_of
from handkit.sheets.joins.joining import count_through, joins_of
from handkit.sheets.labels.on_sheet import CutPiece, PlacedWindow, sheets_of
from handkit.sheets.laid import Break, Join, Sheet
from handkit.sheets.nest.fewest import Answer, fewest_sheets
from handkit.sheets.nest.longer_search import with_longer_search
from handkit.sheets.nest.one_a_sheet import one_a_sheet
from handkit.sheets.nest.packing import Size
from handkit.sheets.page import LEAST_DRAWN
from handkit.sheets.shape import Shape

__all__ = [
    "GAP",
    "OVERLAP",
    "PAPERS",
    "Capsule",
    "Paper",
    "Placed",
    "Shape",
    "Straights",
    "Windows",
    "place",
]

# Between the ink of two pieces: room for a knife's first cut.
GAP = 2.0
OVERLAP = 10.0


class Placed(msgspec.Struct, frozen=True):
    """The answer. Windows name their shape, and which copy of it where each is drawn."""

    sheets: tuple[Sheet, ...]
    joins: tuple[Join, ...]
    joins_through_holes: int  # cut lines nearer than 3 mm to a keep-out's edge
    breaks: tuple[Break, ...] = ()  # straight parts left out


def place(  # noqa: PLR0913 - the page and its options, each by name
    shapes: Sequence[Shape],
    *,
    paper: Paper,
    margin: float,
    overlap: float = OVERLAP,
    gap: float = GAP,
    windows: Windows = Windows.SHARED,
    draw_each: bool = False,
    straights: Straights = Straights.WHOLE,
    tries: int = 0,
    on_progress: OnProgress = no_progress,
    kept: KeptOf = NOTHING,
) -> Placed:
    """Lay shapes on sheets; each once, or with `draw_each` as many times as its quantity.

    With `tries` windows that share sheets are laid anew so often, to find a way with a sheet less. What is
    cut and named alike was `kept` before.

    Raises ValueError where two shapes have one name, where a ring crosses itself or bounds nothing,
    and where margin and overlap leave too little to draw on.
    """
    page = _page_of(shapes, paper, margin=margin, overlap=overlap)
    if not shapes:
        return Placed((), (), 0)
    part = shortened if straights is Straights.SHORTENED else whole
    parted = [part(shape, page) for shape in shapes]
    drawn = _drawn(shapes, parted, draw_each=draw_each)
    cuts = _cuts(drawn, parted, page=page, overlap=overlap, gap=gap, on_progress=on_progress, kept=kept)
    answer = _SEARCHES[windows](cuts, page=page, gap=gap, tries=tries, on_progress=on_progress)
    by_file = sorted(range(len(drawn)), key=lambda number: drawn[number])
    pieces = _pieces(parted, [(drawn[n], answer.choice[n].cut) for n in by_file])
    joins = [joins_of(piece.shape, piece.cut, copy=piece.copy, before=piece.before) for piece in pieces]
    printable = Box(0.0, 0.0, paper.width, paper.height).grown(-margin)
    sheets = sheets_of(pieces, joins, _placed_windows(answer, by_file), printable, kept)
    return Placed(
        sheets=sheets,
        joins=tuple(join for some in joins for join in some),
        joins_through_holes=sum(
            count_through(some, piece.shape.keep_outs) for piece, some in zip(pieces, joins, strict=True)
        ),
        breaks=breaks_of({shape.name: one.gaps for shape, one in zip(shapes, parted, strict=True)}, sheets),
    )


def _page_of(shapes: Sequence[Shape], paper: Paper, *, margin: float, overlap: float) -> Size:
    """What is drawn on. Raises ValueError as `place` says."""
    names = Counter(shape.name for shape in shapes)
    for shape in shapes:
        ring = shape.ring
        if names[shape.name] > 1:
            raise ValueError(f"found two shapes named {shape.name!r}; allowed: a name for each")
        if not all(isfinite(x) and isfinite(y) for x, y in ring):
            raise ValueError(f"found a place of {shape.name!r} that is no number")
        if len(ring) < 3 or crosses_itself(ring, closed=True):
            raise ValueError(f"found a ring of {shape.name!r} that crosses itself or bounds nothing")
    page = Size(paper.width - 2 * margin, paper.height - 2 * margin)
    if not (margin >= 0 and min(page.width, page.height) >= max(LEAST_DRAWN, 2 * overlap)):
        raise ValueError(f"found margins of {margin} mm on {paper}, which leave too little to draw on")
    if not overlap >= LEAST_OVERLAP:
        raise ValueError(f"found an overlap of {overlap} mm; allowed: at least {LEAST_OVERLAP} mm")
    return page


def _cuts(  # noqa: PLR0913 - the page and its options, each by name
    drawn: Sequence[_Drawn],
    parted: Sequence[Parted],
    *,
    page: Size,
    overlap: float,
    gap: float,
    on_progress: OnProgress,
    kept: KeptOf,
) -> list[Sequence[Candidate]]:
    """The ways in which each drawing may be cut; alike ones are cut once."""
    plain = {
        (k, part): msgspec.structs.replace(parted[k].parts[part].shape, name="", quantity=1)
        for k, part in dict.fromkeys((one.shape, one.part) for one in drawn)
    }
    unlike = tuple(dict.fromkeys(plain.values()))
    ways = {
        shape: candidates_for(shape, page=page, overlap=overlap, gap=gap, kept=kept)
        for shape in counted(unlike, on_progress, "laying out sheets: ways to cut piece")
    }
    found = {part: ways[shape] for part, shape in plain.items()}
    return [found[one.shape, one.part] for one in drawn]


def _shared(
    cuts: Sequence[Sequence[Candidate]], *, page: Size, gap: float, tries: int, on_progress: OnProgress
) -> Answer:
    answer = fewest_sheets(cuts, page=page, gap=gap, on_progress=on_progress)
    if tries:
        on_progress(f"laying out sheets: {answer.pages}, tried {tries} times for one less")
    return with_longer_search(answer, page=page, gap=gap, tries=tries)


def _one_a_sheet(
    cuts: Sequence[Sequence[Candidate]], *, page: Size, gap: float, tries: int, on_progress: OnProgress
) -> Answer:
    """Windows that are joined have sheets of their own: there is nothing to try."""
    return one_a_sheet(cuts, page=page, gap=gap)


_SEARCHES = {Windows.SHARED: _shared, Windows.ONE_A_SHEET: _one_a_sheet}


class _Drawn(msgspec.Struct, frozen=True, order=True):
    """One drawing of a part of a shape: all by number, the copy from 1."""

    shape: int
    copy: int
    part: int


def _drawn(shapes: Sequence[Shape], parted: Sequence[Parted], *, draw_each: bool) -> list[_Drawn]:
    """All drawings in the order in which they are worked on."""
    order = sorted(range(len(shapes)), key=lambda k: (_likeness(shapes[k]), k))
    return [
        _Drawn(k, copy, part)
        for k in order
        for copy in range(1, (shapes[k].quantity if draw_each else 1) + 1)
        for part in range(len(parted[k].parts))
    ]


def _pieces(parted: Sequence[Parted], cuts: Sequence[tuple[_Drawn, Cut]]) -> list[CutPiece]:
    """Pieces with their windows numbered through their parts."""
    counts: Counter[tuple[int, int]] = Counter()
    copies = Counter(shape for shape, _ in dict.fromkeys((one.shape, one.copy) for one, _ in cuts))
    before = []
    for one, cut in cuts:
        before.append(counts[one.shape, one.copy])
        counts[one.shape, one.copy] += len(cut.windows)
    return [
        CutPiece(part.shape, one.copy, copies[one.shape], cut, first, counts[one.shape, one.copy], part.sides)
        for (one, cut), first in zip(cuts, before, strict=True)
        for part in (parted[one.shape].parts[one.part],)
    ]


def _placed_windows(answer: Answer, by_file: Sequence[int]) -> list[PlacedWindow]:
    """All windows where they lie, by the order of pieces."""
    return [
        PlacedWindow(piece, index, placement)
        for piece, number in enumerate(by_file)
        for index, placement in enumerate(answer.placements[number])
    ]


def _likeness(shape: Shape) -> tuple[object, ...]:
    """The order in which shapes are worked on, the same wherever they stand in the file."""
    xs, ys = zip(*shape.ring, strict=True)
    size = (max(xs) - min(xs), max(ys) - min(ys))
    return (
        -round(size[0] * size[1]),
        shape.ring,
        shape.turned_over,
        tuple((v.start, v.end, v.radius) for v in shape.keep_outs),
    )
