"""Cut list: what to cut, what to buy, which punches lie ready.

In: the products, the fonts, a width. Out: blocks.
"""

from __future__ import annotations

from handkit.draw.flow import Block, gap, paragraph
from handkit.draw.fonts import Fonts
from handkit.draw.lettering import HEAD
from handkit.draw.names import Codes, count_of, figure
from handkit.draw.table import Column, table
from handkit.punch.punched import Punched
from handkit.read.project import RoundHole, StitchHole
from handkit.stitch.plan import StitchPlan
from handkit.units import MM2_PER_DM2, MM2_PER_FT2


def cut_list(
    punched: Punched, plan: StitchPlan, codes: Codes, fonts: Fonts, width: float
) -> tuple[Block, ...]:
    """Pieces, leather, punches, hardware, thread."""
    sections = (
        ("Pieces", _pieces(punched, plan, fonts, width)),
        ("Material", _material(punched, plan, fonts, width)),
        ("Openings to punch", _openings(plan, codes, fonts, width)),
        ("Stitch holes", _stitch_holes(plan, codes, fonts, width)),
        ("Hardware", _hardware(punched, plan, fonts, width)),
        ("Thread", _thread(plan, punched.pattern.project.copies, fonts, width)),
    )
    blocks: list[Block] = []
    for title, body in sections:
        if body:
            blocks.extend(paragraph(title, width, fonts, size=HEAD, bold=True, kept=True, space=0.8))
            blocks.extend((*body, gap(5)))
    return tuple(blocks)


def _pieces(punched: Punched, plan: StitchPlan, fonts: Fonts, width: float) -> tuple[Block, ...]:
    copies = punched.pattern.project.copies
    columns = (
        Column("piece", 5),
        Column("cut", 1.4, right=True),
        Column("size, mm", 3.4, right=True),
        Column("thick, mm", 2.4, right=True),
        Column("area, dm²", 2.4, right=True),
        Column("note", 5),
    )
    rows = [
        (
            line.piece,
            str(line.quantity * copies),
            f"{figure(line.width, 1)} × {figure(line.height, 1)}",
            figure(line.thickness),
            f"{line.area_mm2 / MM2_PER_DM2:.2f}",
            line.note,
        )
        for line in plan.cut_list
    ]
    return table(columns, rows, fonts, width)


def _material(punched: Punched, plan: StitchPlan, fonts: Fonts, width: float) -> tuple[Block, ...]:
    project = punched.pattern.project
    net, gross = (area * project.copies for area in (plan.totals.leather_mm2, plan.totals.leather_gross_mm2))
    waste = figure(100 * (1 - project.yield_share), 1)
    made = "" if project.copies == 1 else f"For {project.copies} made alike: "
    text = (
        f"{made}net {_area(net)}; with {waste} % waste of what is bought, {_area(gross)} "
        f"(net ÷ {figure(project.yield_share, 3)})."
    )
    return paragraph(text, width, fonts)


def _area(mm2: float) -> str:
    return f"{mm2 / MM2_PER_DM2:.1f} dm² ({mm2 / MM2_PER_FT2:.2f} sq ft)"


def _openings(plan: StitchPlan, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """By diameter, since that is how punches are laid out."""
    columns = (
        Column("punch", 3),
        Column("holes", 1.5, right=True),
        Column("for", 11),
    )
    sizes: dict[tuple[float, float], list[tuple[int, str]]] = {}
    for entry in plan.openings:
        opening = entry.pattern.opening
        named = f"{codes.openings[entry.pattern.name]} {opening.name} ({', '.join(opening.through)})"
        sizes.setdefault((opening.diameter, opening.length), []).append((len(entry.pattern.places), named))
    rows = [
        (_punch(*size), str(sum(count for count, _ in used)), "; ".join(name for _, name in used))
        for size, used in sorted(sizes.items())
    ]
    return table(columns, rows, fonts, width)


def _punch(diameter: float, length: float) -> str:
    if length > diameter:
        return f"slot {figure(length)} × {figure(diameter)} mm"
    return f"⌀{figure(diameter)} mm"


def _stitch_holes(plan: StitchPlan, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    kinds: dict[str, list[str]] = {}
    for seam in plan.seams:
        stitching = seam.punched.pattern.seam.stitching
        kinds.setdefault(hole_words(stitching.hole), []).append(codes.seams[seam.name])
    texts = [f"{kind}: {', '.join(names)}." for kind, names in kinds.items()]
    total = f"{count_of(plan.totals.holes, 'hole')} in all layers together, a shared one counted once."
    return (
        tuple(block for text in (*texts, total) for block in paragraph(text, width, fonts)) if texts else ()
    )


def hole_words(hole: StitchHole) -> str:
    """A stitch hole's tool and size."""
    if isinstance(hole, RoundHole):
        return f"round, ⌀{figure(hole.diameter)} mm"
    return f"slit, {figure(hole.width)} mm wide, {figure(hole.slant)}° to the line"


def _hardware(punched: Punched, plan: StitchPlan, fonts: Fonts, width: float) -> tuple[Block, ...]:
    columns = (Column("what", 3), Column("pieces", 1.5, right=True), Column("sizes", 11))
    copies = punched.pattern.project.copies
    rows = [(line.what, str(line.count * copies), line.sizes) for line in plan.hardware]
    return table(columns, rows, fonts, width)


def _thread(plan: StitchPlan, copies: int, fonts: Fonts, width: float) -> tuple[Block, ...]:
    lengths: dict[float, float] = {}
    for seam in plan.seams:
        thickness = seam.punched.pattern.seam.stitching.thread
        lengths[thickness] = lengths.get(thickness, 0.0) + seam.thread
    texts = [
        f"⌀{figure(thickness)} mm: {length * copies / 1000:.2f} m, cut as the plan says."
        for thickness, length in sorted(lengths.items())
    ]
    return tuple(block for text in texts for block in paragraph(text, width, fonts))
