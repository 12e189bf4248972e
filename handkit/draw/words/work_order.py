"""Work order: the steps of the work by number, with their cautions, and how to mark and cut before them.

In: the plan. Out: numbered steps; texts.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draw.words.cautions import AT_HOLE, AT_MARK, AT_SHEARS, AT_STEP
from handkit.draw.words.names import KitPlan
from handkit.grouping import grouped
from handkit.kinds.materials import Family
from handkit.read.project import Hold
from handkit.stitch.plan import Step, StepKind, cut_threads

# The steps that make a finish: listed again in their own place, with their number in the order.
FINISHING = (
    StepKind.SEAL,
    StepKind.SKIVE,
    StepKind.BEVEL,
    StepKind.DYE,
    StepKind.HEM,
    StepKind.EDGES,
    StepKind.GLUE,
    StepKind.TRIM,
    StepKind.BURNISH,
    StepKind.FINISH,
)

MARKING: tuple[str, ...] = (
    "Measure the squares and bars of the first sheet. A piece in portions: trim and tape its sheets at the "
    "joins, marks on marks, and check with a steel rule along the long line.",
    "Cut the paper roughly, outside the wide line. Lay it print up on the side of the material that it "
    "names, its double arrow along the {arrow}, clear of flaws. Fix it with tape on "
    "every side, so that it can't creep.",
    "On a scrap as thick as the seam, first test: mark {and_punch}five holes, stitch them, set one rivet "
    "or snap. Does the thread pass, does the hole hold, does the post fit? Only then go on.",
    "Prick through the paper: every point on a stitch line, every centre cross, square to the "
    "surface, just deep enough to be seen. {cloth}Prick corners of lines that are needed later (folds, "
    "{lines}, what lies on top). Before you lift the paper, count a seam's pricks against its last number.",
    "Cut along the middle of the wide line, through paper and material, straight edges along a steel "
    "rule. {shears}Write the piece's name on the side that will not show.",
    "{pierce}Openings with a punch of the size printed beside them. Hole 1 of a seam meets hole 1 of its "
    "mate.",
)
_PUNCH = "Punch or pierce each prick, the tool's middle on the prick; a slit as the template draws it. "
_NEVER = "Never punch stitch holes in cloth: awl and needle part the yarns at each mark, a punch cuts them. "
_SHEARS = "Cloth with sharp shears, the paper pinned or taped to it. "
_CHALK = "Chalk or a soft pencil through each prick marks cloth. "


def marking(families: Sequence[Family]) -> tuple[str, ...]:
    """How templates are used: what is of leather is pricked and punched, what is of cloth is marked."""
    leather, cloth = (family in families for family in (Family.LEATHER, Family.CLOTH))
    told = {
        "arrow": "way that must not stretch, in cloth the warp" if cloth else "way that must not stretch",
        "and_punch": "and punch " if leather else "",
        "cloth": _CHALK if cloth else "",
        "shears": _SHEARS if cloth else "",
        "lines": "hems, trims" if cloth else "trims",
        "pierce": (_PUNCH if leather else "") + (_NEVER if cloth else ""),
    }
    return tuple(text.format(**told) for text in MARKING)


class NumberedStep(msgspec.Struct, frozen=True):
    """A step with its place in the order, its short name and, where it is due, its caution."""

    number: int
    code: str
    step: Step
    threads: str  # the numbers of a seam's threads
    caution: str


def numbered_steps(kit: KitPlan) -> tuple[NumberedStep, ...]:
    """Steps with their codes; a caution goes to the first step that it is for."""
    pairs = [(seam.name, thread.code) for thread in cut_threads(kit.plan.seams) for seam, _ in thread.parts]
    threads = grouped(pairs, by=lambda pair: pair[0])
    given: set[str] = set()
    entries = []
    for number, step in enumerate(kit.plan.steps, start=1):
        own = ", ".join(code for _, code in threads[step.name]) if step.kind is StepKind.SEAM else ""
        due = [caution for caution in _cautions(step, kit) if caution and caution not in given]
        entries.append(NumberedStep(number, kit.code_of(step), step, own, " Also: ".join(due)))
        given.update(due)
    return tuple(entries)


def _cautions(step: Step, kit: KitPlan) -> tuple[str, ...]:
    """A seam that is cemented first has that of glue as well."""
    if step.kind is StepKind.SEAM and step.name in _cemented(kit):
        return AT_STEP[StepKind.GLUE], AT_STEP[StepKind.SEAM]
    return (_caution(step, kit),)


def _cemented(kit: KitPlan) -> set[str]:
    return {seam.name for seam in kit.plan.seams if seam.hold is Hold.CEMENT and seam.strips}


def _caution(step: Step, kit: KitPlan) -> str:
    """Cloth and felt are marked without a mallet, and finished without oil; a hole without hardware takes
    no setter."""
    families = kit.punched.pattern.families
    if step.kind is StepKind.FINISH and step.name != _leather_names(kit):
        return ""
    if step.kind is StepKind.CUT and Family.LEATHER not in families:
        return AT_SHEARS
    if step.kind is StepKind.MARK and Family.LEATHER not in families:
        return AT_MARK
    if step.kind is StepKind.OPENING and step.name in _plain_holes(kit):
        return AT_HOLE
    return AT_STEP.get(step.kind, "")


def _leather_names(kit: KitPlan) -> str:
    """Of whom the step tells that oils leather."""
    return ", ".join(piece.name for piece in kit.punched.pattern.pieces if piece.traits.is_leather)


def _plain_holes(kit: KitPlan) -> set[str]:
    """Openings that are cut and not set: tongue holes, slots."""
    return {each.name for each in kit.punched.pattern.openings if not each.opening.traits.hardware}
