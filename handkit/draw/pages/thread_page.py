"""Thread page: every thread to cut, before stitching begins, on one page where it has room.

In: the plan, the typesetter with the page's height. Out: blocks.

    ▢  T3   S3 front, left side                         1026 mm
            ⌀0.8 mm; from hole 1 to 34, back to 32
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.draw.layout.flow import Block, kept_together, on_fresh_page, picture
from handkit.draw.layout.typesetter import Typesetter, tick_box
from handkit.draw.model.fonts import CAPITAL
from handkit.draw.model.lettering import BENCH, BODY, FAR, HEAD, LEADING, right_aligned
from handkit.draw.model.marks import Ink, Words
from handkit.draw.model.path_ops import line_ops
from handkit.draw.words.names import KitPlan
from handkit.draw.words.threads import shared_words, thread_words, total_words
from handkit.ink import HAIR
from handkit.stitch.plan import CutThread, cut_threads
from handkit.wording.figures import CUT_THREAD

NUMBER = 8.5

# Sizes of number and length, of the seam's name, and of the line below (0: on the name's line): as
# large as one page holds.
SIZES = ((FAR, BENCH, BODY), (BENCH, BODY, BODY), (BENCH, BODY, 0.0))


def thread_blocks(kit: KitPlan, setter: Typesetter) -> tuple[Block, ...]:
    """Head, a row for each thread, totals; in the largest letters with which one page holds all."""
    if not kit.plan.seams:
        return ()
    head, ends = tuple(_head(kit.copies, setter)), (*_totals(kit, setter), *_fewer(kit, setter))
    for sizes in SIZES:
        rows = [block for thread in cut_threads(kit.plan.seams) for block in _row(thread, kit, sizes, setter)]
        blocks = (*head, *rows, *ends)
        if sum(block.height for block in blocks) <= setter.height:
            break
    return on_fresh_page(blocks)


def _head(copies: int, setter: Typesetter) -> Iterator[Block]:
    alike = f" Each {copies} times: {copies} are made alike." if copies > 1 else ""
    intro = (
        "Cut these before stitching, and tie or clip each to a slip with its number. The length has tails "
        f"for both needles in it.{alike}"
    )
    yield from setter.title("Threads to cut")
    yield from setter.text(intro, space=2, kept=True)


def _row(
    thread: CutThread, kit: KitPlan, sizes: tuple[float, float, float], setter: Typesetter
) -> tuple[Block, ...]:
    """Number, seam and length side by side, the length as large as the number."""
    large, middle, small = sizes
    fonts, length, sewn = setter.fonts, CUT_THREAD.text(thread.cut), thread_words(thread)
    indent = NUMBER + fonts.width("T88", large, bold=True) + 3
    room = setter.narrowed(setter.width - fonts.width(length, large, bold=True) - 4)
    going = ", ".join(kit.codes.seams[seam.name] for seam in thread.more)
    name = kit.seam_title(thread.seam) + (f", on in {going}" if going else "")
    first, *more = room.text(
        name if small else f"{name}; {sewn}", size=middle, indent=indent, bold=bool(small)
    )
    below = room.text(sewn, size=small, indent=indent) if small else ()
    depth = max(first.height, large * LEADING)
    base = -depth / 2 - CAPITAL * large / 2
    row = Block(depth, first.shifted(0, (first.height - depth) / 2).groups).drawn_over(
        tick_box(-depth / 2),
        Words(thread.code, (NUMBER, base), large, bold=True),
        right_aligned(length, (setter.width, base), fonts, size=large, bold=True),
    )
    rule = picture(1.6, Ink(line_ops((0, -0.7), (setter.width, -0.7)), HAIR))
    return kept_together((row, *more, *below, rule))


def _totals(kit: KitPlan, setter: Typesetter) -> tuple[Block, ...]:
    """By diameter: how many threads, how long together, what is left on the spool."""
    texts = (total_words(row, kit.copies) for row in kit.plan.threads)
    blocks = [block for text in texts for block in setter.text(text, size=BENCH, bold=True, space=0.5)]
    return kept_together((Block(1.5), *blocks))


def _fewer(kit: KitPlan, setter: Typesetter) -> tuple[Block, ...]:
    """Where seams meet or run on: one thread for several of them, in place of their own."""
    offered = [shared for shared in kit.plan.shared if not shared.adopted]
    if not offered:
        return ()
    head = setter.text("Or with fewer ends", size=BENCH, bold=True, kept=True, space=0.5)
    texts = (shared_words(shared, kit.codes) for shared in offered)
    return kept_together((Block(2.0), *head, *setter.texts(texts, size=HEAD)))
