"""Shopping: thread by the spool, tools, and what is glued.

In: seams as they are sewn, openings, everything punched. Out: rows of one article, threads of all
copies as well.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.region import region_of
from handkit.grouping import grouped
from handkit.kinds.fittings import FittingKind
from handkit.punch.punched import Punched
from handkit.read.project import Hold, RoundHole, SlitHole, Stitching
from handkit.stitch.lists.hardware import size_words
from handkit.stitch.order.edges import bare_edges
from handkit.stitch.order.tasks import is_glued
from handkit.stitch.plan import (
    DECIMALS,
    CutThread,
    OpeningPlan,
    Overcast,
    SeamPlan,
    ThreadRow,
    ToolRow,
    cut_threads,
)
from handkit.wording.figures import Units

CLIPS_APART = 50.0  # mm


class _Cut(msgspec.Struct, frozen=True):
    """A thread that is cut, and the seams it sews."""

    length: float
    settings: Stitching
    seams: tuple[str, ...] = ()


def thread_rows(
    seams: Sequence[SeamPlan], overcast: Sequence[Overcast] = (), *, copies: int
) -> tuple[ThreadRow, ...]:
    """One row for each diameter, fibre and size of spool, in working order: edges are overcast first.

    A thread is cut from one spool: what is left of one and shorter than the next thread is lost,
    so spools are filled in the order of the work, copy by copy.
    """
    by_name = {seam.name: seam.stitching for seam in seams}

    def from_spool(thread: CutThread) -> Stitching:
        """Seams of one row may be given unlike spools: that of the first counts."""
        return by_name[thread.seam.row.seams[0]]

    cuts = [
        *(_Cut(each.cut, each.stitching) for each in overcast for _ in range(each.count)),
        *(
            _Cut(thread.cut, from_spool(thread), tuple(seam.name for seam, _ in thread.parts))
            for thread in cut_threads(seams)
        ),
    ]
    groups = grouped(cuts, by=lambda one: (one.settings.thread, one.settings.fibre, one.settings.spool))
    return tuple(_thread_row(some, copies) for some in groups.values())


def _thread_row(threads: Sequence[_Cut], copies: int) -> ThreadRow:
    cuts, settings = [thread.length for thread in threads], threads[0].settings
    spools, left = spooled(cuts * copies, settings.spool) if settings.spool else (None, None)
    return ThreadRow(
        diameter=settings.thread,
        fibre=settings.fibre,
        count=len(cuts),
        length=round(sum(cuts), DECIMALS),
        all_copies=round(copies * sum(cuts), DECIMALS),
        spool=settings.spool,
        spools=spools,
        left=left,
        seams=tuple(dict.fromkeys(name for thread in threads for name in thread.seams)),
    )


def spooled(cuts: Sequence[float], spool: float) -> tuple[int | None, float | None]:
    """How many spools are needed, and what is left on the last; None where a thread is longer.

    >>> spooled([600, 600, 300], 1000)  # 400 of the first spool are too short for the second thread
    (2, 100.0)
    >>> spooled([1200], 1000)
    (None, None)
    """
    if max(cuts) > spool:
        return None, None
    count, left = 1, spool
    for cut in cuts:
        if cut > left:
            count, left = count + 1, spool
        left -= cut
    return count, round(float(left), DECIMALS)


def all_tools(
    seams: Sequence[SeamPlan], openings: Sequence[OpeningPlan], pattern: Pattern
) -> tuple[ToolRow, ...]:
    """What must lie ready."""
    return (
        *tool_rows(seams, openings),
        *hand_tools(seams, openings, pattern),
        *hold_tools(seams, pattern.project.units),
        *put_on_tools(pattern),
    )


def tool_rows(seams: Sequence[SeamPlan], openings: Sequence[OpeningPlan]) -> tuple[ToolRow, ...]:
    """What is needed: needles, punches or awl, iron, and setters; alike rows once."""
    rows = (*(row for seam in seams for row in _of_seam(seam)), *_of_openings(openings))
    return tuple(dict.fromkeys(rows))


def hand_tools(
    seams: Sequence[SeamPlan], openings: Sequence[OpeningPlan], pattern: Pattern
) -> Iterable[ToolRow]:
    """What the hand takes up for steps of any size: to prick and to open holes, to strike, for edges."""
    leather = [piece for piece in pattern.pieces if piece.traits.is_leather]
    punched = any(seam.is_punched for seam in seams)
    rows = (
        (punched, ToolRow("awl, mallet", "fine, round; plastic or rawhide", "to open full holes; to strike")),
        (openings and not punched, ToolRow("mallet", "plastic or rawhide", "to strike punches and setters")),
        (any(each.skives for each in leather), ToolRow("skiving knife", "sharp", "edges that are thinned")),
        (
            any(bare_edges(each) for each in leather),
            ToolRow("beveller", "and burnisher, sanding paper", "edges that end in a cut"),
        ),
    )
    return (row for needed, row in rows if needed)


def put_on_tools(pattern: Pattern) -> tuple[ToolRow, ...]:
    """What zips, turned, bound and sealed edges ask for."""
    zips = any(each.kind is FittingKind.ZIP for each in pattern.project.fittings)
    row = ToolRow("double-sided tape", "narrow, or clips", "to hold the zip until it is sewn in")
    return (*(row,) * zips, *_edge_tools(pattern.pieces, pattern.project.units))


def _edge_tools(pieces: Sequence[PatternPiece], units: Units) -> tuple[ToolRow, ...]:
    """What turned, bound and sealed edges ask for."""
    cloth = [piece for piece in pieces if not piece.traits.is_leather]
    turned = any(each.folds for piece in cloth for each in piece.works)
    held = any(each.work.traits.turned or each.work.traits.sewn for piece in pieces for each in piece.works)
    sealed = any(piece.raw for piece in cloth if piece.traits.sealed)
    rows = (
        (turned, ToolRow("flat iron", "its heat tried on a scrap", "to press what is turned")),
        (held, ToolRow("clips", _clips(units), "to hold what is turned or bound until it is sewn")),
        (sealed, ToolRow("small flame", "or a hot knife", "to seal the cut ends of webbing")),
    )
    return tuple(row for needed, row in rows if needed)


def hold_tools(seams: Iterable[SeamPlan], units: Units) -> tuple[ToolRow, ...]:
    """What holds the layers while they are sewn: cement and tape where there is a strip, else clips."""
    used = {
        seam.hold if seam.strips or seam.hold is Hold.NONE else Hold.CLIPS
        for seam in seams
        if len(seam.punched.layers) > 1
    }
    why = "to hold layers while they are sewn"
    rows = {
        Hold.CEMENT: ToolRow("cement", "and a spreader as wide as the strip", why),
        Hold.TAPE: ToolRow("double-sided tape", "as wide as the strip", why),
        Hold.CLIPS: ToolRow("clips", _clips(units), why),
    }
    return tuple(row for hold, row in rows.items() if hold in used)


def _clips(units: Units) -> str:
    return f"one every {units.hint.text(CLIPS_APART)}"


def _of_seam(seam: SeamPlan) -> Iterable[ToolRow]:
    settings, units = seam.stitching, seam.units
    of = f"for thread of {units.tool(settings.thread)}"
    point = "blunt" if seam.is_punched else "sharp"
    size = units.tool(settings.needle) if settings.needle is not None else f"as thick as the thread, {point}"
    yield ToolRow("needle", f"{seam.needles} of {size}" if settings.needle is not None else size, of)
    if seam.marked:
        yield ToolRow("marker", "chalk or soft pencil", "stitch holes in cloth")
        yield ToolRow("awl", "round, fine", "to part the yarns at each mark")
    if not seam.is_punched:
        return
    if isinstance(settings.hole, RoundHole):
        yield ToolRow("punch", units.tool(settings.hole.diameter), "stitch holes")
    elif seam.tooling and settings.iron is not None:
        yield ToolRow(
            "iron", f"{settings.iron.teeth} teeth, {units.tool(settings.iron.pitch)} apart", "stitch holes"
        )
    if isinstance(settings.hole, SlitHole):
        yield ToolRow(
            "awl", f"blade {units.tool(settings.hole.width)} wide", "stitch holes, and to clear them"
        )
    elif any(mouth.base for mouth in seam.mouths):
        yield ToolRow("awl", "fine", "the extra hole past a mouth")


def _of_openings(openings: Sequence[OpeningPlan]) -> Iterable[ToolRow]:
    for plan in openings:
        facts, told = plan.pattern.opening, plan.units.tool
        yield ToolRow("punch", told(facts.diameter), facts.traits.to_punch)
        if facts.traits.hardware:
            anvil = ", with its anvil" if facts.traits.setter == "setter" else ""
            yield ToolRow(facts.traits.setter, size_words(plan)[0], f"{facts.traits.noun}s{anvil}")


def glue_areas(punched: Punched) -> tuple[tuple[str, str, float], ...]:
    """What is glued down all over, on what, and the area of one face, mm²; glue goes on both."""
    pattern = punched.pattern
    return tuple(
        (piece.name, piece.on or "", _common_area(pattern, piece.name, piece.on or ""))
        for piece in pattern.pieces
        if is_glued(piece)
    )


def _common_area(pattern: Pattern, piece: str, on: str) -> float:
    first, second = (
        region_of(one.outline.moved(one.in_root)) for one in (pattern.piece(piece), pattern.piece(on))
    )
    return round(first.common(second).area, DECIMALS)
