"""Plan pages: the stitch itself, then each seam with its picture, in working order.

In: the plan, the typesetter. Out: blocks. Each seam's picture stands above or beside its
lines, whichever makes it larger.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import msgspec

from handkit.draw.layout.flow import Block, beside, gap, kept_together, on_fresh_page, stacked
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import CAPITAL
from handkit.draw.model.lettering import BENCH, BODY, HEAD, LEADING, TITLE, right_aligned
from handkit.draw.pages.seam_picture import seam_picture, seam_scale, seam_scene
from handkit.draw.pages.seam_way import shared_with
from handkit.draw.pages.step_blocks import marking_blocks, order_blocks
from handkit.draw.pages.stitch_diagram import stitch_diagram
from handkit.draw.pages.thread_page import thread_blocks
from handkit.draw.words.method import method
from handkit.draw.words.names import KitPlan
from handkit.draw.words.needle_words import pierced_words, seam_lines
from handkit.kinds.materials import Family
from handkit.kinds.stitches import STITCHES
from handkit.stitch.plan import SeamPlan, StitchPlan, cut_threads
from handkit.wording.figures import CUT_THREAD

KEY = 23.0
METHOD_KEY = 33.0

# Rooms for a picture: shares of the page above a seam's lines, and beside them, so that two seams
# have room on most pages; and the least, in mm.
ABOVE_SHARE = 0.24
BESIDE_SHARE = 0.42
BESIDE_HEIGHT_SHARE = 0.38
LEAST_LEVEL = 150.0

# A picture gives way so far where two seams then go on one page.
SHARES = (1.0, 0.92, 0.84, 0.76)

LEAST_ROOM = 60.0

# The lines that are read with thread in both hands; they are set large.
AT_HAND = ("Start", "Way", "Join", "End")


class KeyedText(msgspec.Struct, frozen=True):
    """A key, its text, the size of both."""

    key: str
    text: str
    size: float


def plan_blocks(kit: KitPlan, setter: Typesetter) -> tuple[Block, ...]:
    """Marking, the steps to tick, openings; the page of threads; the stitch, and each seam."""
    seams = (block for seam in kit.plan.seams for block in seam_blocks(kit, seam, setter))
    return (
        *marking_blocks(setter, kit.punched.pattern.families),
        gap(6),
        *order_blocks(kit, setter),
        *thread_blocks(kit, setter),
        *method_blocks(kit.plan, setter, kit.punched.pattern.families),
        *on_fresh_page(tuple(seams)),
    )


def method_blocks(plan: StitchPlan, setter: Typesetter, families: Sequence[Family]) -> tuple[Block, ...]:
    """The stitch itself, once, with its pictures; nothing where nothing is sewn."""
    if not plan.seams:
        return ()
    used = {seam.stitch for seam in plan.seams}
    kinds = [kind for kind in STITCHES if kind in used]
    head = setter.title(
        STITCHES[kinds[0]].heading if len(kinds) == 1 else "How to stitch", kept=False, space=1.5
    )
    texts = _set((KeyedText(key, text, HEAD) for key, text in method(plan, families)), METHOD_KEY, setter)
    diagrams = [block for kind in kinds for block in stitch_diagram(kind, setter)]
    return on_fresh_page(kept_together((*head, *texts, *diagrams)))


def seam_blocks(kit: KitPlan, seam: SeamPlan, setter: Typesetter) -> tuple[Block, ...]:
    """One seam: its name and its threads, its picture, its lines; on one page where it has room."""
    head, lines = _seam_head(kit, seam, setter), tuple(_lines(kit, seam))
    narrow = setter.width * BESIDE_SHARE
    tall, low = (max(LEAST_ROOM, setter.height * share) for share in (BESIDE_HEIGHT_SHARE, ABOVE_SHARE))
    at_side, above = (Typesetter(setter.fonts, *room) for room in ((narrow, tall), (setter.width, low)))
    level = setter.width >= LEAST_LEVEL and seam_scale(kit, seam, at_side) > seam_scale(kit, seam, above)
    room = at_side if level else above
    texts = _set(lines, KEY, setter.narrowed(setter.width - narrow - 5) if level else setter)

    def arranged(picture: Block) -> tuple[Block, ...]:
        body = _beside(texts, picture, setter.width - narrow) if level else (picture, gap(1.5), *texts)
        return (*head, *body, gap(5))

    scenes = (seam_scene(kit, seam, room.lowered(room.height * share)) for share in SHARES)
    fitting = (s for s in scenes if sum(b.height for b in arranged(Block(s.height))) <= setter.height / 2)
    scene = next(fitting, None) or seam_scene(kit, seam, room)
    return kept_together(arranged(seam_picture(kit, scene, setter)))


def _set(lines: Iterable[KeyedText], indent: float, setter: Typesetter) -> list[Block]:
    return [
        block for line in lines for block in setter.keyed(line.key, line.text, size=line.size, indent=indent)
    ]


def _lines(kit: KitPlan, seam: SeamPlan) -> Iterator[KeyedText]:
    """A seam's lines; its tool with the holes, shared holes before the way through them."""
    for (before, _), (key, text) in pairwise((("", ""), *seam_lines(seam))):
        if key == "Way":
            yield from _shared(kit, seam)
        tool = f"; {pierced_words(seam)}" if key == "Holes" else ""
        yield KeyedText(key if key != before else "", text + tool, BENCH if key in AT_HAND else BODY)


def _seam_head(kit: KitPlan, seam: SeamPlan, setter: Typesetter) -> tuple[Block, ...]:
    """Its name on the left; its threads, as they were cut, on the right where there is room."""
    cut = ", ".join(
        f"{thread.code} {CUT_THREAD.text(thread.cut) if part.begins(seam.name) else 'goes on'}"
        for thread in cut_threads(kit.plan.seams)
        for one, part in thread.parts
        if one.name == seam.name
    )
    room = setter.width - setter.fonts.width(cut, TITLE, bold=True) - 6
    title = kit.seam_title(seam)
    if room < setter.width / 2:
        names = setter.title(title, kept=False, space=0.0)
        return (*names, *setter.text(cut, size=BENCH, bold=True, space=1.5))
    first, *rest = setter.narrowed(room).title(title, kept=False, space=1.0)
    base = -TITLE * LEADING / 2 - CAPITAL * TITLE / 2
    words = right_aligned(cut, (setter.width, base), setter.fonts, size=TITLE, bold=True)
    return (first.drawn_over(words), *rest)


def _shared(kit: KitPlan, seam: SeamPlan) -> Iterator[KeyedText]:
    shared = shared_with(kit, seam)
    if shared:
        holes = ", ".join(
            f"{number} is also {' and '.join(others)}" for number, others in sorted(shared.items())
        )
        text = f"{holes}: where thread is in it already, open it with the awl beside the thread"
        yield KeyedText("Shared", text, BENCH)


def _beside(texts: Sequence[Block], picture: Block, offset: float) -> tuple[Block, ...]:
    """As many lines as the picture is high beside it, as one block; the others below."""
    count, depth = 0, 0.0
    while count < len(texts) and depth < picture.height:
        depth += texts[count].height
        count += 1
    return (beside(stacked(texts[:count]), picture, offset=offset), *texts[count:])
