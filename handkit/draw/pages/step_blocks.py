"""Step blocks: the order of work as lines to tick, and how to mark and cut before it.

In: the plan, the typesetter. Out: blocks.

    ▢  12  S3   front, left side
                Tack the layers together …        what to do, large: read at arm's length
                before "flap rivets": …           why, smaller
                Caution: …                        at the first step of its kind
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draw.layout.flow import Block, kept_together
from handkit.draw.layout.typesetter import Typesetter, tick_box
from handkit.draw.model.fonts import CAPITAL
from handkit.draw.model.lettering import BENCH, HEAD, LEADING, right_aligned
from handkit.draw.model.marks import Words
from handkit.draw.words.cautions import AT_STEP, RULES
from handkit.draw.words.names import KitPlan
from handkit.draw.words.threads import cut_threads
from handkit.grouping import grouped
from handkit.stitch.plan import Step, StepKind

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


class NumberedStep(msgspec.Struct, frozen=True):
    """A step with its place in the order, its short name and, where it is due, its caution."""

    number: int
    code: str
    step: Step
    threads: str  # the numbers of a seam's threads
    caution: str


def marking_blocks(setter: Typesetter) -> tuple[Block, ...]:
    """How templates are used, spelled out."""
    lines = [block for k, text in enumerate(MARKING, start=1) for block in _listed(f"{k}", text, setter)]
    head = setter.title("Mark, punch and cut with the templates", kept=False, space=2)
    return kept_together((*head, *lines))


def order_blocks(kit: KitPlan, setter: Typesetter) -> tuple[Block, ...]:
    """All steps, numbered, each with a box to tick."""
    intro = f"Tick each step when it is done. {RULES}"
    return _ticked("Order of work", intro, _numbered(kit), setter)


def finishing_blocks(kit: KitPlan, setter: Typesetter) -> tuple[Block, ...]:
    """The steps that are not cutting, punching or sewing, by their number in the order of work."""
    steps = [entry for entry in _numbered(kit) if entry.step.kind in FINISHING]
    intro = f"Each at its place in the order of work; the numbers are that order's. {RULES}"
    return _ticked("Finishing, in its place in the order", intro, steps, setter) if steps else ()


def _numbered(kit: KitPlan) -> tuple[NumberedStep, ...]:
    """Steps with their codes; a caution goes to the first step that it is for."""
    threads = grouped(cut_threads(kit.plan), by=lambda thread: thread.seam.name)
    told: set[str] = set()
    entries = []
    for number, step in enumerate(kit.plan.steps, start=1):
        own = ", ".join(thread.code for thread in threads[step.name]) if step.kind is StepKind.SEAM else ""
        caution = _caution(step, kit)
        code = kit.code_of(step)
        entries.append(NumberedStep(number, code, step, own, "" if caution in told else caution))
        told.add(caution)
    return tuple(entries)


def _caution(step: Step, kit: KitPlan) -> str:
    """Cloth and felt are finished without oil."""
    if step.kind is StepKind.FINISH and not any("leather" in row.material for row in kit.plan.materials):
        return ""
    return AT_STEP.get(step.kind, "")


def _ticked(title: str, intro: str, entries: Iterable[NumberedStep], setter: Typesetter) -> tuple[Block, ...]:
    steps = (block for entry in entries for block in _step(entry, setter))
    return (*setter.title(title), *setter.text(intro, space=2.5, kept=True), *steps)


def _step(entry: NumberedStep, setter: Typesetter) -> tuple[Block, ...]:
    """A step's lines; the first carries box, number and code."""
    step = entry.step
    title = f"{step.name} (thread {entry.threads})" if entry.threads else step.name
    caution = f"Caution: {entry.caution}" if entry.caution else ""
    first, *rest = (
        *setter.text(title if entry.code else "", size=BENCH, bold=True, indent=TEXT),
        *setter.text(step.what, size=BENCH, indent=TEXT),
        *setter.text(step.why, indent=TEXT),
        *setter.text(caution, indent=TEXT, bold=True),
    )
    middle = -BENCH * LEADING / 2
    base = middle - CAPITAL * MARK_SIZE / 2
    number = right_aligned(str(entry.number), (NUMBER_END, base), setter.fonts, size=MARK_SIZE, bold=True)
    code = (Words(entry.code, (CODE, base), MARK_SIZE, bold=True),) if entry.code else ()
    return kept_together((first.drawn_over(tick_box(middle), number, *code), *rest, Block(3.0)))


def _listed(mark: str, text: str, setter: Typesetter) -> tuple[Block, ...]:
    first, *rest = setter.text(text, size=HEAD, indent=9, space=1.5)
    base = -HEAD * LEADING / 2 - CAPITAL * HEAD / 2
    return (first.drawn_over(Words(mark, (1.0, base), HEAD, bold=True)), *rest)
