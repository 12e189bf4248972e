"""Step blocks: the order of work as lines to tick, and how to mark and cut before it.

In: the plan, the fonts, a width. Out: blocks.

    ▢  12  S3   front, left side
                Tack the layers together …        what to do, large: read at arm's length
                before "flap rivets": …           why, smaller
                Caution: …                        at the first step of its kind
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draw.layout.flow import Block, kept_together, paragraph
from handkit.draw.model.fonts import CAPITAL, Fonts
from handkit.draw.model.lettering import BENCH, HEAD, LEADING, TITLE, right_aligned
from handkit.draw.model.marks import Group, Ink, Mark, Words
from handkit.draw.model.path_ops import box_ops
from handkit.draw.words.cautions import AT_STEP, RULES
from handkit.draw.words.names import Codes
from handkit.draw.words.threads import cut_threads
from handkit.ink import Stroke, Tag
from handkit.stitch.plan import Step, StepKind, StitchPlan

BOX = 5.0
BOX_LINE = Stroke(0.35)

# Size of a step's number and code, and where these and the text begin.
MARK_SIZE = 6.0
NUMBER_END = 18.0
CODE = 20.5
TEXT = 36.0

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

MARKING: tuple[str, ...] = (
    "Measure the squares and bars of the first sheet. A piece in parts: trim and tape its sheets at the "
    "joins, marks on marks, and check with a steel rule along the long line.",
    "Cut the paper roughly, outside the wide line. Lay it print up on the side of the material that it "
    "names, its double arrow along the way that must not stretch, clear of flaws. Fix it with tape on "
    "every side, so that it can't creep.",
    "On a scrap as thick as the seam, first test: mark and punch five holes, stitch them, set one rivet "
    "or snap. Does the thread pass, does the hole hold, does the post fit? Only then go on.",
    "Prick through the paper: every point on a stitch line, every centre cross, square to the surface, "
    "just deep enough to be seen. Prick corners of lines that are needed later (folds, trims, what lies on "
    "top). Before you lift the paper, count a seam's pricks against its last number.",
    "Cut along the middle of the wide line, through paper and material, straight edges along a steel "
    "rule. Write the piece's name on the side that will not show.",
    "Punch or pierce each prick, the tool's middle on the prick; a slit as the template draws it. "
    "Openings with a punch of the size printed beside them. Hole 1 of a seam meets hole 1 of its mate.",
)


class Numbered(msgspec.Struct, frozen=True):
    """A step with its place in the order, its short name and, where it is due, its caution."""

    number: int
    code: str
    step: Step
    threads: str  # the numbers of a seam's threads
    caution: str


def marking_blocks(fonts: Fonts, width: float) -> tuple[Block, ...]:
    """How templates are used, spelled out."""
    head = paragraph("Mark, punch and cut with the templates", width, fonts, size=TITLE, bold=True, space=2)
    lines = [
        block
        for number, text in enumerate(MARKING, start=1)
        for block in _listed(f"{number}", text, fonts, width)
    ]
    return kept_together((*head, *lines))


def order_blocks(plan: StitchPlan, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """All steps, numbered, each with a box to tick."""
    intro = f"Tick each step when it is done. {RULES}"
    return (*_head("Order of work", intro, fonts, width), *_ticked(_numbered(plan, codes), fonts, width))


def finishing_blocks(plan: StitchPlan, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """The steps that are not cutting, punching or sewing, by their number in the order of work."""
    steps = [entry for entry in _numbered(plan, codes) if entry.step.kind in FINISHING]
    intro = f"Each at its place in the order of work; the numbers are that order's. {RULES}"
    head = _head("Finishing, in its place in the order", intro, fonts, width)
    return (*head, *_ticked(steps, fonts, width)) if steps else ()


def _head(title: str, intro: str, fonts: Fonts, width: float) -> tuple[Block, ...]:
    head = paragraph(title, width, fonts, size=TITLE, bold=True, kept=True, space=0.5)
    return (*head, *paragraph(intro, width, fonts, space=2.5, kept=True))


def _numbered(plan: StitchPlan, codes: Codes) -> tuple[Numbered, ...]:
    """PathOps with their codes; a caution goes to the first step that it is for."""
    threads: dict[str, str] = {}
    for thread in cut_threads(plan):
        before = threads.get(thread.seam.name)
        threads[thread.seam.name] = f"{before}, {thread.code}" if before else thread.code
    told: set[str] = set()
    entries = []
    for number, step in enumerate(plan.steps, start=1):
        names = {StepKind.SEAM: codes.seams, StepKind.OPENING: codes.openings}.get(step.kind, {})
        own = threads.get(step.name, "") if step.kind is StepKind.SEAM else ""
        caution = _caution(step, plan)
        entries.append(
            Numbered(number, names.get(step.name, ""), step, own, "" if caution in told else caution)
        )
        told.add(caution)
    return tuple(entries)


def _caution(step: Step, plan: StitchPlan) -> str:
    """Cloth and felt are finished without oil."""
    if step.kind is StepKind.FINISH and not any("leather" in row.material for row in plan.materials):
        return ""
    return AT_STEP.get(step.kind, "")


def _ticked(entries: Iterable[Numbered], fonts: Fonts, width: float) -> tuple[Block, ...]:
    return tuple(block for entry in entries for block in _step(entry, fonts, width))


def _step(entry: Numbered, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """A step's lines; the first carries box, number and code."""
    step = entry.step
    title = f"{step.name} (thread {entry.threads})" if entry.threads else step.name
    name = paragraph(title, width, fonts, size=BENCH, bold=True, indent=TEXT) if entry.code else ()
    what = paragraph(step.what, width, fonts, size=BENCH, indent=TEXT)
    why = paragraph(step.why, width, fonts, indent=TEXT)
    caution = (
        paragraph(f"Caution: {entry.caution}", width, fonts, indent=TEXT, bold=True) if entry.caution else ()
    )
    first, *rest, last = (*name, *what, *why, *caution, Block(0.0))
    marked = msgspec.structs.replace(first, groups=(*first.groups, _mark(entry, fonts)))
    return kept_together((marked, *rest, msgspec.structs.replace(last, height=3.0)))


def _mark(entry: Numbered, fonts: Fonts) -> Group:
    middle = -BENCH * LEADING / 2
    base = middle - CAPITAL * MARK_SIZE / 2
    box = Ink(box_ops(0.2, middle - BOX / 2, 0.2 + BOX, middle + BOX / 2), BOX_LINE)
    number = right_aligned(str(entry.number), (NUMBER_END, base), fonts, size=MARK_SIZE, bold=True)
    code = (Words(entry.code, (CODE, base), MARK_SIZE, bold=True),) if entry.code else ()
    return Group((Mark(Tag.PAGE, (), (box, number, *code)),))


def _listed(mark: str, text: str, fonts: Fonts, width: float) -> tuple[Block, ...]:
    first, *rest = paragraph(text, width, fonts, size=HEAD, indent=9, space=1.5)
    middle = -HEAD * LEADING / 2
    words = Words(mark, (1.0, middle - CAPITAL * HEAD / 2), HEAD, bold=True)
    marked = Group((Mark(Tag.PAGE, (), (words,)),))
    return (msgspec.structs.replace(first, groups=(*first.groups, marked)), *rest)
