"""The plan's document: everything that is told after the templates, in the order in which it is needed.

In: the plan with what it was made from. Out: the document: lists and threads; how to mark and to stitch, and
the order of work with its seams. It is worded here and below, once, for every form.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.draw.words.cautions import RULES
from handkit.draw.words.document import (
    Chapter,
    Heading,
    Illustration,
    Keyed,
    Numbered,
    Paragraph,
    Part,
    PlanDocument,
)
from handkit.draw.words.headed import headed_title
from handkit.draw.words.lists import cut_list
from handkit.draw.words.method import method
from handkit.draw.words.names import KitPlan
from handkit.draw.words.threads import thread_parts
from handkit.draw.words.work_order import marking, order_parts
from handkit.kinds.materials import Family
from handkit.kinds.stitches import STITCHES
from handkit.wording.figures import counted

# The chapters, in their order.
LISTS, WORK = "Lists and threads", "Order of work"
_PICTURES = (
    " Pictures: a seam's face layer, its showing side; ring start, square end, heavy back stitches, hatched "
    "glue, dashed below."
)


def plan_document(kit: KitPlan) -> PlanDocument:
    """The whole plan."""
    lists: tuple[Part, ...] = (Paragraph(sums(kit)), *cut_list(kit))
    work = (*_marking(kit), *_method(kit), *_order(kit))
    return PlanDocument(
        headed_title(kit.punched.project),
        (Chapter(LISTS, (*lists, *thread_parts(kit))), Chapter(WORK, work)),
    )


def sums(kit: KitPlan) -> str:
    """What one article comes to, in a sentence."""
    totals = kit.plan.totals
    copies = f", for one of {kit.copies} copies" if kit.copies > 1 else ""
    return (
        f"{counted(len(kit.plan.cut_list), 'piece')}, {counted(len(kit.plan.seams), 'seam')}, "
        f"{counted(totals.holes, 'stitch hole')}, {counted(totals.openings, 'opening')} (each layer "
        f"counts), {kit.units.thread.text(totals.thread)} of thread{copies}."
    )


def _marking(kit: KitPlan) -> Iterator[Part]:
    families = kit.punched.pattern.families
    title = "mark, cut and punch" if Family.LEATHER in families else "mark and cut"
    yield Heading(f"Steps 1 and 2: {title}")
    kinds = (one.pattern.opening.traits for one in kit.plan.openings)
    yield Numbered(marking(families, dict.fromkeys(each.noun for each in kinds if each.hardware)))


def _method(kit: KitPlan) -> Iterator[Part]:
    """The stitch itself, once, for the stitches there are."""
    used = {seam.stitch for seam in kit.plan.seams}
    kinds = [kind for kind in STITCHES if kind in used]
    if kinds:
        yield Heading(STITCHES[kinds[0]].heading if len(kinds) == 1 else "How to stitch")
        yield Keyed(method(kit.plan, kit.punched.pattern.families))
        yield from (
            Illustration(kind, f"{kind} stitch, seen from the top edge of the work") for kind in kinds
        )


def _order(kit: KitPlan) -> Iterator[Part]:
    yield Heading("Step by step")
    yield Paragraph(f"{RULES}{_PICTURES * bool(kit.plan.seams)}")
    yield from order_parts(kit)
