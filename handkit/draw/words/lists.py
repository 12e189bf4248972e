"""Lists: what to cut, what to buy, which tools lie ready.

In: the plan with what it was made from. Out: listings, for all copies. Thread has words of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from operator import attrgetter, itemgetter
from typing import Any

from msgspec.structs import replace

from handkit.draft.pattern import ItemFit
from handkit.draw.words.listing import Column, Listing, Row, figures, listing
from handkit.draw.words.names import KitPlan, span_words
from handkit.draw.words.needle_words import pierced_words, walk_words
from handkit.grouping import grouped
from handkit.read.project import Hold, Opening
from handkit.stitch.plan import MaterialRow, OpeningPlan, StitchPlan
from handkit.wording.figures import AREA, CUT_THREAD, MATERIAL, MATERIAL_FT, PITCH, TENTHS, counted, mm, plain


def _area(row: Any) -> str:
    return AREA.number(row.area_mm2)


def _thick(row: Any) -> str:
    return plain(row.thickness)


PIECES = (
    Column("piece", 5, attrgetter("piece")),
    figures("cut", 1.4, lambda row: str(row.quantity)),
    figures("size, mm", 3.4, lambda row: f"{plain(row.width, 1)} × {plain(row.height, 1)}"),
    figures("thick, mm", 2.4, _thick),
    figures(f"area, {AREA.unit}", 2.4, _area),
    Column("note", 9, attrgetter("note")),
)
MATERIALS = (
    Column(
        "material", 4, lambda row: f"{row.material} {mm(row.thickness)}" if row.thickness else row.material
    ),
    figures(f"net, {MATERIAL.unit}", 2, lambda row: MATERIAL.number(row.net_mm2)),
    figures(f"with waste, {MATERIAL.unit}", 2.6, lambda row: MATERIAL.number(row.gross_mm2)),
    figures(f"net, {MATERIAL_FT.unit}", 2, lambda row: MATERIAL_FT.number(row.net_mm2)),
    figures(f"with waste, {MATERIAL_FT.unit}", 2.8, lambda row: MATERIAL_FT.number(row.gross_mm2)),
)
FITS = (
    Column("item", 4, attrgetter("item")),
    Column("in", 5, lambda fit: f"{fit.part}, {fit.measure}"),
    figures("needs", 1.6, lambda fit: TENTHS.number(fit.needed)),
    figures("has", 1.6, lambda fit: TENTHS.number(fit.given)),
    figures("ease", 1.6, lambda fit: TENTHS.number(fit.ease)),
    Column("allowed", 2.2, lambda fit: f"{plain(fit.least, 1)} to {plain(fit.most, 1)}"),
    Column("fit", 2.4, attrgetter("told")),
)
HOLES = (
    Column("hole", 6.5, itemgetter(0)),
    figures("holes", 1.5, itemgetter(1)),
    Column("for, with the stack", 11, itemgetter(2)),
)
HARDWARE = (
    Column("what", 2, attrgetter("what")),
    figures("pieces", 1.5, lambda row: str(row.count)),
    figures("post, mm", 1.8, lambda row: _post(row.post)),
    figures("buy, mm", 1.8, lambda row: _post(row.at_hand or row.common)),
    Column("sizes", 14, attrgetter("sizes")),
)
TOOLS = (
    Column("tool", 1.6, itemgetter(0)),
    Column("size", 5.4, itemgetter(1)),
    Column("for", 7, itemgetter(2)),
)
SEAMS = (
    Column("seam", 5, lambda pair: pair[0].seam_title(pair[1])),
    figures("holes", 1.4, lambda pair: str(pair[1].punched.count)),
    figures("length, mm", 2, lambda pair: TENTHS.number(pair[1].length)),
    figures("pitch, mm", 2, lambda pair: PITCH.number(pair[1].pitch)),
    figures("stack, mm", 2, lambda pair: plain(pair[1].stack)),
    figures("thread, mm", 2, lambda pair: CUT_THREAD.number(pair[1].thread)),
    Column("way", 4, lambda pair: walk_words(pair[1].walk)),
)
GLUED = (
    Column("piece", 4, itemgetter(0)),
    Column("on", 7, itemgetter(1)),
    figures(f"of each face, {AREA.unit}", 2.6, lambda row: AREA.number(row[2])),
)


_POSTS = (
    "Post: the least that holds; buy: the common length nearest to the middle of what fits, or the one at "
    "hand; - where none fits. Try it on a scrap as thick as the stack.",
)


def cut_list(kit: KitPlan) -> tuple[Listing, ...]:
    """Pieces, items, material, punches, hardware, tools, glue."""
    plan, copies = kit.plan, kit.copies
    return (
        _pieces(kit),
        rooms(kit.punched.pattern.item_fits),
        _material(kit),
        listing("Holes", HOLES, (*_openings(kit), *_stitch_holes(kit)), *_counted_once(plan)),
        listing(
            "Hardware",
            HARDWARE,
            _times(copies, plan.hardware, "count"),
            *_together(plan, copies),
            *_POSTS * any(row.post is not None for row in plan.hardware),
        ),
        listing("Needles and tools", TOOLS, _tools(plan)),
        _glue(kit),
    )


def _pieces(kit: KitPlan) -> Listing:
    """What is cut; how all of them are marked is told once."""
    rows = _times(kit.copies, kit.plan.cut_list, "quantity")
    sides = {row.note.partition(",")[0].partition(";")[0] for row in rows}
    side = min(sides, default="")
    if len(rows) < 2 or len(sides) > 1 or not side.startswith("marked"):
        return listing("Pieces", PIECES, rows)
    bare = [replace(row, note=row.note.removeprefix(side).lstrip(",; ")) for row in rows]
    return listing("Pieces", PIECES, bare, f"All are {side}.")


def _together(plan: StitchPlan, copies: int) -> tuple[str, ...]:
    """How many of each article the rows make, where several rows make one."""
    if len(plan.hardware) == len(plan.hardware_totals):
        return ()
    each = (f"{one.count * copies} x {one.what}, {one.article}" for one in plan.hardware_totals)
    return (f"In all: {'; '.join(each)}.",)


def rooms(fits: Sequence[ItemFit]) -> Listing:
    """The room that each item has, and where it is measured."""
    places = dict.fromkeys((fit.part, fit.measure, fit.where) for fit in fits)
    measured = [f"{part}, {measure}: measured {where}." for part, measure, where in places]
    lay = "Lay each thing on its outline on the templates before anything is cut."
    return listing("Room for the items, mm", FITS, fits, " ".join((lay, *measured)))


def seam_table(kit: KitPlan) -> Listing:
    """A line a seam, in working order."""
    return listing("Seams", SEAMS, [(kit, seam) for seam in kit.plan.seams])


def _times(copies: int, rows: Iterable[Any], *keys: str) -> list[Any]:
    """The rows for all copies."""
    return [replace(row, **{key: getattr(row, key) * copies for key in keys}) for row in rows]


def _material(kit: KitPlan) -> Listing:
    """Net and with waste, in both units, each kind and thickness apart; the sum where they are several."""
    project, totals = kit.punched.project, kit.plan.totals
    total = MaterialRow("all together", 0.0, totals.leather_mm2, totals.leather_gross_mm2)
    rows = (*kit.plan.materials, total) if len(kit.plan.materials) > 1 else kit.plan.materials
    made = "" if kit.copies == 1 else f"For {kit.copies} made alike. "
    waste = plain(100 * (1 - project.yield_share), 1)
    text = (
        f"{made}With waste: what to buy where {waste} % of it ends up as scraps, "
        f"net ÷ {plain(project.yield_share, 3)}."
    )
    return listing("Material", MATERIALS, _times(kit.copies, rows, "net_mm2", "gross_mm2"), text)


def _openings(kit: KitPlan) -> Iterator[Row]:
    """Openings with their short names by diameter, since that is how punches are laid out."""
    codes = kit.codes.openings
    sizes = grouped(
        kit.plan.openings, by=lambda plan: (plan.pattern.opening.diameter, plan.pattern.opening.length)
    )
    for _, some in sorted(sizes.items()):
        named = (f"{codes[one.pattern.name]} {one.pattern.name} ({_through(one)})" for one in some)
        count = sum(len(one.pattern.places) for one in some)
        yield _punch(some[0].pattern.opening), str(count), "; ".join(named)


def _through(plan: OpeningPlan) -> str:
    """What it goes through, and how thick that is."""
    if plan.part_way:
        return plan.stretches(stack=True)
    return f"{', '.join(plan.pattern.opening.through)}: {mm(plan.stack)}"


def _punch(opening: Opening) -> str:
    if opening.length > opening.diameter:
        return f"slot {plain(opening.length)} × {mm(opening.diameter)}"
    return f"⌀{mm(opening.diameter)}"


def _stitch_holes(kit: KitPlan) -> Iterator[Row]:
    """Those of alike seams together, without those that two of them share."""
    for kind, seams in grouped(kit.plan.seams, by=pierced_words).items():
        count = sum(len(layer.holes) for seam in seams for layer in seam.punched.layers)
        codes = [kit.codes.seams[seam.name] for seam in seams]
        whole = len(seams) == len(kit.plan.seams)
        yield kind, str(count), f"stitches, {span_words(codes) if whole else ', '.join(codes)}"


def _counted_once(plan: StitchPlan) -> tuple[str, ...]:
    """The sum of stitch holes."""
    holes = plan.totals.holes
    return (f"{counted(holes, 'stitch hole')} in all layers together, a shared one counted once.",) * bool(
        holes
    )


def _tools(plan: StitchPlan) -> Iterator[Row]:
    """A row for all sizes of one tool."""
    for what, some in grouped(plan.tools, by=attrgetter("what")).items():
        yield what, "; ".join(row.size for row in some), "; ".join(dict.fromkeys(row.why for row in some))


def _post(length: float | None) -> str:
    return "-" if length is None else plain(length, 1)


def _glue(kit: KitPlan) -> Listing:
    """Where, and how much of one face: glue goes on both."""
    glued = [(piece, on, area * kit.copies) for piece, on, area in glue_rows(kit.plan)]
    return listing(
        "To be glued",
        GLUED,
        glued,
        f"In all {AREA.text(sum(area for _, _, area in glued))} of each face; keep these areas bare of "
        "finish, oil and wax until glued.",
    )


def glue_rows(plan: StitchPlan) -> list[tuple[str, str, float]]:
    """What is glued all over, then the strips of each seam: piece, on what, mm² of one face."""
    strips = [
        (strip.upper, f"{strip.lower}, {mm(strip.width)} along seam {seam.name}", strip.area_mm2)
        for seam in plan.seams
        if seam.hold is Hold.CEMENT
        for strip in seam.strips
    ]
    return [*plan.glue, *strips]
