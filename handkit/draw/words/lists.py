"""Lists: what to cut, what to buy, which tools lie ready.

In: the plan with what it was made from. Out: listings, for all copies. Thread has words of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from operator import attrgetter
from typing import Any

from msgspec.structs import replace

from handkit.draft.pattern import ItemFit
from handkit.draw.words.columns import (
    HOLES,
    TOOLS,
    fit_columns,
    glue_columns,
    hardware_columns,
    material_columns,
    piece_columns,
    seam_columns,
)
from handkit.draw.words.listing import Listing, Row, listing
from handkit.draw.words.names import KitPlan, span_words
from handkit.draw.words.needle_words import pierced_words
from handkit.grouping import grouped
from handkit.read.project import Hold, Opening
from handkit.stitch.plan import MaterialRow, OpeningPlan, StitchPlan
from handkit.wording.figures import Units, counted, plain

_POSTS = (
    "Post: the least that holds; buy: a common length amid what fits, or the one at hand; - where none is.",
)


def cut_list(kit: KitPlan) -> tuple[Listing, ...]:
    """Pieces, items, material, punches, hardware, tools, glue."""
    plan, copies = kit.plan, kit.copies
    return (
        _pieces(kit),
        rooms(kit.punched.pattern.item_fits, kit.units),
        _material(kit),
        listing("Holes", HOLES, (*_openings(kit), *_stitch_holes(kit)), *_counted_once(plan)),
        listing(
            "Hardware",
            hardware_columns(kit.units),
            _times(copies, plan.hardware, "count"),
            *_together(plan, copies),
            *_POSTS * any(row.post is not None for row in plan.hardware),
        ),
        listing("Needles and tools", TOOLS, _tools(plan)),
        _glue(kit),
    )


def _pieces(kit: KitPlan) -> Listing:
    """What is cut; how all of them are marked is told once."""
    rows, columns = _times(kit.copies, kit.plan.cut_list, "quantity"), piece_columns(kit.units)
    sides = {row.note.partition(",")[0].partition(";")[0] for row in rows}
    side = min(sides, default="")
    if len(rows) < 2 or len(sides) > 1 or not side.startswith("marked"):
        return listing("Pieces", columns, rows)
    bare = [replace(row, note=row.note.removeprefix(side).lstrip(",; ")) for row in rows]
    return listing("Pieces", columns, bare, f"All are {side}.")


def _together(plan: StitchPlan, copies: int) -> tuple[str, ...]:
    """How many of each article the rows make, where several rows make one."""
    if len(plan.hardware) == len(plan.hardware_totals):
        return ()
    each = (f"{one.count * copies} x {one.what}, {one.article}" for one in plan.hardware_totals)
    return (f"In all: {'; '.join(each)}.",)


def rooms(fits: Sequence[ItemFit], units: Units) -> Listing:
    """The room that each item has, and where it is measured."""
    places = dict.fromkeys((fit.part, fit.measure, fit.where) for fit in fits)
    measured = [f"{part}, {measure}: measured {where}." for part, measure, where in places]
    lay = "Lay each thing on its outline on the templates before anything is cut."
    return listing(f"Room for the items, {units.unit}", fit_columns(units), fits, " ".join((lay, *measured)))


def seam_table(kit: KitPlan) -> Listing:
    """A line a seam, in working order."""
    return listing("Seams", seam_columns(kit.units), [(kit, seam) for seam in kit.plan.seams])


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
    for_all = _times(kit.copies, rows, "net_mm2", "gross_mm2")
    return listing("Material", material_columns(kit.units), for_all, text)


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
    return f"{', '.join(plan.pattern.opening.through)}: {plan.units.text(plan.stack)}"


def _punch(opening: Opening) -> str:
    if opening.length > opening.diameter:
        return f"{opening.traits.noun} {opening.source.units.size(opening.length, opening.diameter)}"
    return f"⌀{opening.source.units.tool(opening.diameter)}"


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


def _glue(kit: KitPlan) -> Listing:
    """Where, and how much of one face: glue goes on both."""
    glued = [(piece, on, area * kit.copies) for piece, on, area in glue_rows(kit.plan)]
    return listing(
        "To be glued",
        glue_columns(kit.units),
        glued,
        f"In all {kit.units.area.text(sum(area for _, _, area in glued))} of each face; keep these areas "
        "bare of finish, oil and wax until glued.",
    )


def glue_rows(plan: StitchPlan) -> list[tuple[str, str, float]]:
    """What is glued all over, then the strips of each seam: piece, on what, mm² of one face."""
    strips = [
        (strip.upper, f"{strip.lower}, {seam.units.text(strip.width)} along seam {seam.name}", strip.area_mm2)
        for seam in plan.seams
        if seam.hold is Hold.CEMENT
        for strip in seam.strips
    ]
    return [*plan.glue, *strips]
