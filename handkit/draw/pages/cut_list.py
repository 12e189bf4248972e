"""Cut list: what to cut, what to buy, which punches lie ready.

In: the products, the fonts, a width. Out: blocks.
"""

from __future__ import annotations

from handkit.draw.layout.flow import Block, gap, paragraph
from handkit.draw.layout.table import Column, table
from handkit.draw.model.fonts import Fonts
from handkit.draw.model.lettering import HEAD
from handkit.draw.words.cautions import AT_STEP
from handkit.draw.words.fit_text import HEADS, fit_rows
from handkit.draw.words.names import Codes, count_of, figure
from handkit.punch.punched import Punched
from handkit.read.project import RoundHole, StitchHole
from handkit.stitch.plan import StepKind, StitchPlan
from handkit.units import MM2_PER_DM2, MM2_PER_FT2


def cut_list(
    punched: Punched, plan: StitchPlan, codes: Codes, fonts: Fonts, width: float
) -> tuple[Block, ...]:
    """Pieces, material, punches, hardware, tools, glue; thread has a page of its own."""
    sections = (
        ("Pieces", _pieces(punched, plan, fonts, width)),
        ("Room for the items, mm", _fits(punched, fonts, width)),
        ("Material", _material(punched, plan, fonts, width)),
        ("Openings to punch", _openings(plan, codes, fonts, width)),
        ("Stitch holes", _stitch_holes(plan, codes, fonts, width)),
        ("Hardware", _hardware(punched, plan, fonts, width)),
        ("Needles and tools", _tools(plan, fonts, width)),
        ("To be glued", _glue(plan, punched.pattern.project.copies, fonts, width)),
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


def _fits(punched: Punched, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """Of each thing carried; its outline stands on the templates."""
    rows = fit_rows(punched.pattern.item_fits)
    if not rows:
        return ()
    shares = (4.0, 5.0, 1.6, 1.6, 1.6, 2.2, 2.4)
    columns = tuple(
        Column(head, share, right=2 <= k <= 4)
        for k, (head, share) in enumerate(zip(HEADS, shares, strict=True))
    )
    text = "Lay each thing on its outline on the templates before anything is cut."
    return (*table(columns, rows, fonts, width), *paragraph(text, width, fonts))


def _material(punched: Punched, plan: StitchPlan, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """Net and with waste, in both units, each kind and thickness apart; the sum where they are several."""
    project, totals = punched.pattern.project, plan.totals
    columns = (
        Column("material", 4),
        Column("net, dm²", 2, right=True),
        Column("with waste, dm²", 2.6, right=True),
        Column("net, sq ft", 2, right=True),
        Column("with waste, sq ft", 2.8, right=True),
    )
    rows = [
        (f"{row.material} {figure(row.thickness)} mm", *_areas(row.net_mm2, row.gross_mm2, project.copies))
        for row in plan.materials
    ]
    if len(rows) > 1:
        rows.append(("all together", *_areas(totals.leather_mm2, totals.leather_gross_mm2, project.copies)))
    waste = figure(100 * (1 - project.yield_share), 1)
    made = "" if project.copies == 1 else f"For {project.copies} made alike. "
    text = (
        f"{made}With waste: what to buy where {waste} % of it ends up as scraps, "
        f"net ÷ {figure(project.yield_share, 3)}."
    )
    return (*table(columns, rows, fonts, width), *paragraph(text, width, fonts))


def _areas(net: float, gross: float, copies: int) -> tuple[str, str, str, str]:
    """As the columns stand: net and gross in dm², then in square feet."""
    net, gross = net * copies, gross * copies
    return (
        f"{net / MM2_PER_DM2:.1f}",
        f"{gross / MM2_PER_DM2:.1f}",
        f"{net / MM2_PER_FT2:.2f}",
        f"{gross / MM2_PER_FT2:.2f}",
    )


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
        stitching = seam.punched.stitching
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
    """Posts in mm, and the next length that is commonly sold."""
    copies = punched.pattern.project.copies
    columns = (
        Column("what", 2),
        Column("pieces", 1.5, right=True),
        Column("post, mm", 1.8, right=True),
        Column("buy, mm", 1.8, right=True),
        Column("sizes", 9),
    )
    rows = [
        (line.what, str(line.count * copies), _length(line.post), _length(line.common), line.sizes)
        for line in plan.hardware
    ]
    if not rows:
        return ()
    text = (
        "Post: the least that holds; buy: the next common length, - where none fits. "
        "Try it on a scrap as thick as the stack."
    )
    return (*table(columns, rows, fonts, width), *paragraph(text, width, fonts))


def _length(value: float | None) -> str:
    return "-" if value is None else figure(value, 1)


def _tools(plan: StitchPlan, fonts: Fonts, width: float) -> tuple[Block, ...]:
    columns = (Column("tool", 2.4), Column("size", 4), Column("for", 7))
    return table(columns, [(tool.what, tool.size, tool.why) for tool in plan.tools], fonts, width)


def _glue(plan: StitchPlan, copies: int, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """Where, and how much of one face: glue goes on both."""
    if not plan.glue:
        return ()
    columns = (Column("piece", 4), Column("on", 4), Column("of each face, dm²", 3, right=True))
    rows = [(piece, on, f"{area * copies / MM2_PER_DM2:.2f}") for piece, on, area in plan.glue]
    total = sum(area for _, _, area in plan.glue) * copies / MM2_PER_DM2
    text = f"In all {total:.2f} dm² of each face; keep these areas bare of finish, oil and wax until glued."
    caution = f"Caution: {AT_STEP[StepKind.GLUE]} Local rules and trained advice first."
    return (
        *table(columns, rows, fonts, width),
        *paragraph(text, width, fonts),
        *paragraph(caution, width, fonts, bold=True),
    )
