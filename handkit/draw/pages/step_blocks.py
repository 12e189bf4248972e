"""Step blocks: the order of work as lines to tick, and how to mark and cut before it.

In: the plan, the typesetter. Out: blocks.

    ▢  12  S3   front, left side
                Spread cement 2.2 mm wide …       what to do, large: read at arm's length
                before "flap rivets": …           why, smaller
                Caution: …                        at the first step of its kind
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draw.layout.flow import Block, kept_together
from handkit.draw.layout.typesetter import Typesetter, tick_box
from handkit.draw.model.fonts import CAPITAL
from handkit.draw.model.lettering import BENCH, HEAD, LEADING, right_aligned
from handkit.draw.model.marks import Words
from handkit.draw.pages.cut_list import listing_blocks
from handkit.draw.words.cautions import RULES
from handkit.draw.words.lists import edge_list
from handkit.draw.words.names import KitPlan
from handkit.draw.words.work_order import FINISHING, NumberedStep, marking, numbered_steps
from handkit.kinds.materials import Family

# Size of a step's number and code, and where these and the text begin.
MARK_SIZE = 6.0
NUMBER_END = 18.0
CODE = 20.5
TEXT = 36.0


def marking_blocks(setter: Typesetter, families: Sequence[Family]) -> tuple[Block, ...]:
    """How templates are used, spelled out."""
    lines = [
        block for k, text in enumerate(marking(families), start=1) for block in _listed(f"{k}", text, setter)
    ]
    title = "Mark, punch and cut" if Family.LEATHER in families else "Mark and cut"
    head = setter.title(f"{title} with the templates", kept=False, space=2)
    return kept_together((*head, *lines))


def order_blocks(kit: KitPlan, setter: Typesetter) -> tuple[Block, ...]:
    """All steps, numbered, each with a box to tick."""
    intro = f"Tick each step when it is done. {RULES}"
    return _ticked("Order of work", intro, numbered_steps(kit), setter)


def finishing_blocks(kit: KitPlan, setter: Typesetter) -> tuple[Block, ...]:
    """The steps that are not cutting, punching or sewing, by their number in the order of work."""
    steps = [entry for entry in numbered_steps(kit) if entry.step.kind in FINISHING]
    intro = f"Each at its place in the order of work; the numbers are that order's. {RULES}"
    table = listing_blocks(edge_list(kit.plan), setter)
    return (*_ticked("Finishing, in its place in the order", intro, steps, setter), *table) if steps else ()


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
