"""Lists: what to cut, what to buy, which tools lie ready; for the kit's pages and for a terminal.

In: the plan with what it was made from. Out: listings for the pages; titles, tables and texts for a
terminal. Pages count all copies, the terminal one article. Thread has words of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from operator import attrgetter, itemgetter
from typing import Any

from msgspec.structs import replace

from handkit.draft.pattern import ItemFit, PatternOpening
from handkit.draw.words.cautions import AT_STEP
from handkit.draw.words.listing import Column, Listing, figures, listing
from handkit.draw.words.names import KitPlan
from handkit.draw.words.needle_words import pierced_words
from handkit.grouping import grouped
from handkit.read.project import Hold, Opening
from handkit.stitch.plan import EdgeRow, MaterialRow, StepKind, StitchPlan
from handkit.wording.edge_names import edge_words
from handkit.wording.figures import AREA, MATERIAL, MATERIAL_FT, TENTHS, counted, mm, plain


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
    Column("note", 5, attrgetter("note")),
)
PIECES_AT_TERMINAL = (
    Column("piece", 5, attrgetter("piece")),
    figures("number", 1, lambda row: str(row.quantity)),
    figures("width", 1, lambda row: TENTHS.number(row.width)),
    figures("height", 1, lambda row: TENTHS.number(row.height)),
    figures("thick", 1, _thick),
    figures(AREA.unit, 1, _area),
    Column("note", 5, attrgetter("note")),
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
OPENINGS = (
    Column("punch", 3, lambda used: _punch(used[0][0].opening)),
    figures("holes", 1.5, lambda used: str(sum(len(one.places) for one, _ in used))),
    Column(
        "for",
        11,
        lambda used: "; ".join(f"{code} {one.name} ({', '.join(one.opening.through)})" for one, code in used),
    ),
)
HARDWARE = (
    Column("what", 2, attrgetter("what")),
    figures("pieces", 1.5, lambda row: str(row.count)),
    figures("post, mm", 1.8, lambda row: _post(row.post)),
    figures("buy, mm", 1.8, lambda row: _post(row.at_hand or row.common)),
    Column("sizes", 9, attrgetter("sizes")),
)
TOOLS = (
    Column("tool", 2.4, attrgetter("what")),
    Column("size", 4, attrgetter("size")),
    Column("for", 7, attrgetter("why")),
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
        listing("Pieces", PIECES, _times(copies, plan.cut_list, "quantity")),
        listing(
            "Room for the items, mm",
            FITS,
            kit.punched.pattern.item_fits,
            " ".join(
                (
                    "Lay each thing on its outline on the templates before anything is cut.",
                    *measured_words(kit.punched.pattern.item_fits),
                )
            ),
        ),
        _material(kit),
        listing("Openings to punch", OPENINGS, _by_size(kit)),
        _stitch_holes(kit),
        listing(
            "Hardware",
            HARDWARE,
            _times(copies, plan.hardware, "count"),
            *_together(plan, copies),
            *_POSTS * any(row.post is not None for row in plan.hardware),
        ),
        listing("Needles and tools", TOOLS, plan.tools),
        _glue(kit),
    )


def _together(plan: StitchPlan, copies: int) -> tuple[str, ...]:
    """How many of each article the rows make, where several rows make one."""
    if len(plan.hardware) == len(plan.hardware_totals):
        return ()
    each = (f"{one.count * copies} x {one.what}, {one.article}" for one in plan.hardware_totals)
    return (f"In all: {'; '.join(each)}.",)


def measured_words(fits: Iterable[ItemFit]) -> list[str]:
    """Where what a place has is measured, a sentence for each part and measure."""
    places = dict.fromkeys((fit.part, fit.measure, fit.where) for fit in fits)
    return [f"{part}, {measure}: measured {where}." for part, measure, where in places]


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


def _by_size(kit: KitPlan) -> list[list[tuple[PatternOpening, str]]]:
    """Openings and their short names by diameter, since that is how punches are laid out."""
    openings = [(entry.pattern, kit.codes.openings[entry.pattern.name]) for entry in kit.plan.openings]
    sizes = grouped(openings, by=lambda used: (used[0].opening.diameter, used[0].opening.length))
    return [used for _, used in sorted(sizes.items())]


def _punch(opening: Opening) -> str:
    if opening.length > opening.diameter:
        return f"slot {plain(opening.length)} × {mm(opening.diameter)}"
    return f"⌀{mm(opening.diameter)}"


def _stitch_holes(kit: KitPlan) -> Listing:
    kinds = grouped(kit.plan.seams, by=pierced_words)
    texts = [
        f"{kind}: {', '.join(kit.codes.seams[seam.name] for seam in seams)}." for kind, seams in kinds.items()
    ]
    total = f"{counted(kit.plan.totals.holes, 'hole')} in all layers together, a shared one counted once."
    return Listing("Stitch holes", texts=(*texts, total) if texts else ())


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
        caution=f"{AT_STEP[StepKind.GLUE]} Local rules and trained advice first.",
    )


def edge_state(row: EdgeRow) -> str:
    """What becomes of an edge, with whom it is made one."""
    mates = [mate if mate != row.piece else "itself, folded" for mate in row.mates]
    one = f" with {', '.join(mates)}" if mates else ""
    return f"{row.state}{one}" + ("" if row.whole else ", the rest single")


def edge_works(row: EdgeRow) -> str:
    """Each work with its step's number: those of one step together."""
    by_step = grouped(row.actions, by=lambda action: action.step)
    return "; ".join(f"{step} {', '.join(one.work for one in some)}" for step, some in by_step.items())


EDGES = (
    Column("piece", 4, attrgetter("piece")),
    Column("edges", 4, lambda row: edge_words(row.edges)),
    Column("state", 5, edge_state),
    Column("in step", 6, edge_works),
)


def edge_list(plan: StitchPlan) -> Listing:
    """Every edge of leather: what becomes of it, and the steps in which it is finished."""
    text = (
        "Each edge is bevelled before it is dyed, and finished once. What is turned or bound is not listed."
    )
    return listing("Edges of leather", EDGES, plan.edges, text)


def material_lines(rows: Iterable[MaterialRow]) -> Iterator[str]:
    """What one article takes of each material."""
    for row in rows:
        net, gross = (
            f"{AREA.text(area)} ({MATERIAL_FT.text(area)})" for area in (row.net_mm2, row.gross_mm2)
        )
        yield f"{row.material} {mm(row.thickness)}: {net} net, {gross} with waste"


def hardware_lines(plan: StitchPlan) -> Iterator[str]:
    """What to buy for one article, and how many that makes."""
    for row in plan.hardware:
        common = f"; commonly sold: {mm(row.common)}" if row.common else ""
        if row.at_hand is not None:
            common = f"; at hand: post {mm(row.at_hand)}"
        yield f"{row.count} x {row.what}: {row.sizes}{common}"
    yield from _together(plan, 1)


def tool_lines(plan: StitchPlan) -> list[str]:
    """What lies ready."""
    return [f"{row.what}, {row.size}: {row.why}" for row in plan.tools]


def glue_lines(plan: StitchPlan) -> list[str]:
    """What is glued on what, and the area of one face."""
    return [f"{piece} on {on}: {AREA.text(area)}" for piece, on, area in glue_rows(plan)]


def glue_rows(plan: StitchPlan) -> list[tuple[str, str, float]]:
    """What is glued all over, then the strips of each seam: piece, on what, mm² of one face."""
    strips = [
        (strip.upper, f"{strip.lower}, {mm(strip.width)} along seam {seam.name}", strip.area_mm2)
        for seam in plan.seams
        if seam.hold is Hold.CEMENT
        for strip in seam.strips
    ]
    return [*plan.glue, *strips]
