"""Plan pages: the order of work, then each seam with its picture, in working order.

In: the products, the fonts, a width. Out: blocks; which page a seam begins on is known by the
bookmark its first block carries.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from handkit.draw.cut_list import hole_words
from handkit.draw.flow import Block, Cell, beside, gap, paragraph, row_lines, stacked
from handkit.draw.fonts import Fonts
from handkit.draw.lettering import HEAD
from handkit.draw.names import Codes, figure
from handkit.draw.needle_words import SADDLE_STITCH, after_words, seam_lines
from handkit.draw.seam_picture import seam_picture
from handkit.punch.punched import Punched
from handkit.stitch.plan import OpeningPlan, SeamPlan, Step, StepKind, StitchPlan

KEY = 17.0
PICTURE_WIDTH = 78.0
PICTURE_HEIGHT = 62.0

# The steps that make a finish: told again in their own place, with their number in the order.
FINISHING = (
    StepKind.SKIVE,
    StepKind.DYE,
    StepKind.EDGES,
    StepKind.GLUE,
    StepKind.TRIM,
    StepKind.BURNISH,
    StepKind.FINISH,
)


def order_blocks(plan: StitchPlan, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """All steps, numbered."""
    head = paragraph("Order of work", width, fonts, size=HEAD, bold=True, kept=True, space=1)
    steps = [b for k, step in enumerate(plan.steps, start=1) for b in _step(k, step, codes, fonts, width)]
    return (*head, *steps, gap(5))


def finishing_blocks(plan: StitchPlan, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """The steps that are not cutting, punching or sewing, by their number in the order of work."""
    intro = "Each at its place in the order of work; the numbers are that order's."
    steps = [
        block
        for k, step in enumerate(plan.steps, start=1)
        if step.kind in FINISHING
        for block in _step(k, step, codes, fonts, width)
    ]
    head = paragraph("Finishing, in its place in the order", width, fonts, size=HEAD, bold=True, kept=True)
    return (*head, *paragraph(intro, width, fonts, space=1.5, kept=True), *steps) if steps else ()


def opening_blocks(plan: StitchPlan, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """Openings: what each goes through and what comes before it."""
    if not plan.openings:
        return ()
    head = paragraph("Openings and hardware", width, fonts, size=HEAD, bold=True, kept=True, space=1)
    return (*head, *(b for entry in plan.openings for b in _opening(entry, codes, fonts, width)), gap(5))


def method_blocks(fonts: Fonts, width: float) -> tuple[Block, ...]:
    """The stitch itself, once."""
    head = paragraph("The saddle stitch", width, fonts, size=HEAD, bold=True, kept=True, space=1)
    return (*head, *(b for text in SADDLE_STITCH for b in paragraph(text, width, fonts, space=0.8)), gap(5))


def seam_blocks(
    punched: Punched, seam: SeamPlan, codes: Codes, fonts: Fonts, width: float
) -> tuple[Block, ...]:
    """One seam: its name, its lines, its picture beside them where the page is wide enough."""
    title = f"{codes.seams[seam.name]}  {seam.name}"
    head = paragraph(title, width, fonts, size=HEAD, bold=True, kept=True, space=1)
    level = width >= 150
    text_width = width - PICTURE_WIDTH - 6 if level else width
    hole = ("Tool", hole_words(seam.punched.pattern.seam.stitching.hole))
    lines = [*seam_lines(seam)]
    lines.insert(2, hole)
    texts = [block for key, text in lines for block in _fact(key, text, fonts, text_width)]
    room = min(PICTURE_WIDTH, width)
    picture = seam_picture(punched, seam, fonts, width=room, height=PICTURE_HEIGHT)
    if not level:
        return (*head, *texts, gap(2), picture, gap(6))
    return (*head, *_with_picture(texts, picture, text_width + 6), gap(6))


def _with_picture(texts: Sequence[Block], picture: Block, offset: float) -> tuple[Block, ...]:
    """As many lines as the picture is high beside it, as one block; the others below."""
    taken: list[Block] = []
    depth = 0.0
    rest = list(texts)
    while rest and depth < picture.height:
        depth += rest[0].height
        taken.append(rest.pop(0))
    return (replace(beside(stacked(taken), picture, offset=offset), kept=bool(rest)), *rest)


def _fact(key: str, text: str, fonts: Fonts, width: float) -> tuple[Block, ...]:
    cells = (Cell(key, 0, KEY, bold=True), Cell(text, KEY, width - KEY))
    return row_lines(cells, fonts, space=0.5)


def _step(number: int, step: Step, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    code = codes.seams.get(step.name, "") if step.kind is StepKind.SEAM else ""
    if step.kind is StepKind.OPENING:
        code = codes.openings.get(step.name, "")
    what = f"{step.what} ({step.why})" if step.why else step.what
    cells = (
        Cell(f"{number}", 0, 7, right=True, bold=True),
        Cell(code, 10, 9, bold=True),
        Cell(what, 20, width - 20),
    )
    return row_lines(cells, fonts, space=0.9)


def _opening(entry: OpeningPlan, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    opening = entry.pattern.opening
    post = (
        f"; post {figure(entry.post, 1)} mm or the next longer, try on scrap"
        if entry.post is not None
        else ""
    )
    mate = f"; closes with {opening.mate}" if opening.mate else ""
    note = f"; {opening.note}" if opening.note else ""
    after = "".join(f"; after {text}" for text in after_words(entry.after))
    text = (
        f"{opening.name}: {opening.kind.value} through {', '.join(opening.through)}; "
        f"stack {figure(entry.stack, 1)} mm{post}{mate}{note}{after}"
    )
    cells = (Cell(codes.openings[entry.pattern.name], 0, 12, bold=True), Cell(text, 12, width - 12))
    return row_lines(cells, fonts, space=0.9)
