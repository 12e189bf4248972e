"""Thread page: every thread to cut, before stitching begins, on one page where it has room.

In: the plan, the fonts, a page's width and height. Out: blocks.

    ▢  T3   S3 front, left side                         1026 mm
            ⌀0.8 mm; from hole 1 to 34, back to 32
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draw.layout.flow import Block, kept_together, on_fresh_page, paragraph
from handkit.draw.model.fonts import CAPITAL, Fonts
from handkit.draw.model.lettering import BENCH, BODY, FAR, HEAD, LEADING, TITLE, right_aligned
from handkit.draw.model.marks import Group, Ink, Mark, Words, shifted
from handkit.draw.model.path_ops import box_ops, line_ops
from handkit.draw.words.names import Codes, count_of, figure
from handkit.draw.words.threads import CutThread, cut_threads, thread_words
from handkit.ink import HAIR, Stroke, Tag
from handkit.stitch.plan import SharedThread, StitchPlan, ThreadRow

BOX = 5.0
BOX_LINE = Stroke(0.35)
NUMBER = 8.5

# Sizes of number and length, of the seam's name, and of the line below (0: on the name's line): as
# large as one page holds.
SIZES = ((FAR, BENCH, BODY), (BENCH, BODY, BODY), (BENCH, BODY, 0.0))


def thread_blocks(  # noqa: PLR0913 - the products and the page
    plan: StitchPlan, codes: Codes, fonts: Fonts, *, width: float, height: float, copies: int
) -> tuple[Block, ...]:
    """Head, a row for each thread, totals; in the largest letters with which one page holds all."""
    threads = cut_threads(plan)
    if not threads:
        return ()
    for sizes in SIZES:
        blocks = _page(plan, threads, codes, fonts, sizes, width, copies)
        if sum(block.height for block in blocks) <= height:
            break
    return on_fresh_page(blocks)


def _page(  # noqa: PLR0913, PLR0917 - as above, with the sizes tried
    plan: StitchPlan,
    threads: Sequence[CutThread],
    codes: Codes,
    fonts: Fonts,
    sizes: tuple[float, float, float],
    width: float,
    copies: int,
) -> tuple[Block, ...]:
    alike = f" Each {copies} times: {copies} are made alike." if copies > 1 else ""
    intro = (
        "Cut these before stitching, and tie or clip each to a slip with its number. The length has tails "
        f"for both needles in it.{alike}"
    )
    head = (
        *paragraph("Threads to cut", width, fonts, size=TITLE, bold=True, kept=True, space=0.5),
        *paragraph(intro, width, fonts, space=2, kept=True),
    )
    rows = [block for thread in threads for block in _row(thread, codes, fonts, sizes, width)]
    return (*head, *rows, *_totals(plan, threads, copies, fonts, width), *_fewer(plan, codes, fonts, width))


def _row(
    thread: CutThread, codes: Codes, fonts: Fonts, sizes: tuple[float, float, float], width: float
) -> tuple[Block, ...]:
    """Number, seam and length side by side, the length as large as the number."""
    large, middle, small = sizes
    length = f"{thread.cut:.0f} mm"
    indent = NUMBER + fonts.width("T88", large, bold=True) + 3
    room = width - fonts.width(length, large, bold=True) - 4
    name = f"{codes.seams[thread.seam.name]}  {thread.seam.name}"
    if not small:
        name = f"{name}; {thread_words(thread)}"
    first, *more = paragraph(name, room, fonts, size=middle, indent=indent, bold=bool(small))
    below = paragraph(thread_words(thread), room, fonts, size=small, indent=indent) if small else ()
    depth = max(first.height, large * LEADING)
    down = -depth / 2
    base = down - CAPITAL * large / 2
    box = Ink(box_ops(0.2, down - BOX / 2, 0.2 + BOX, down + BOX / 2), BOX_LINE)
    parts = (
        box,
        Words(thread.code, (NUMBER, base), large, bold=True),
        right_aligned(length, (width, base), fonts, size=large, bold=True),
    )
    lowered = tuple(shifted(group, 0, (first.height - depth) / 2) for group in first.groups)
    groups = (*lowered, Group((Mark(Tag.PAGE, (), parts),)))
    rule = Group((Mark(Tag.PAGE, (), (Ink(line_ops((0, -0.7), (width, -0.7)), HAIR),)),))
    end = Block(1.6, (rule,))
    return kept_together((Block(depth, groups), *more, *below, end))


def _totals(
    plan: StitchPlan, threads: Sequence[CutThread], copies: int, fonts: Fonts, width: float
) -> tuple[Block, ...]:
    """By diameter: how many threads, how long together, what is left on the spool."""
    lines = [_total(row, copies) for row in plan.threads] or _summed(threads, copies)
    blocks = [b for line in lines for b in paragraph(line, width, fonts, size=BENCH, bold=True, space=0.5)]
    return kept_together((Block(1.5), *blocks))


def _total(row: ThreadRow, copies: int) -> str:
    text = _sum(f"{row.fibre.value} ⌀{figure(row.diameter)} mm", row.count * copies, row.all_copies)
    if row.spool is None or row.spools is None or row.left is None:
        return text
    spools = f"{count_of(row.spools, 'spool')} of {row.spool / 1000:.6g} m"
    return f"{text}: {spools}, {row.left / 1000:.2f} m left"


def _summed(threads: Sequence[CutThread], copies: int) -> list[str]:
    sums: dict[float, list[float]] = {}
    for thread in threads:
        sums.setdefault(thread.diameter, []).append(thread.cut)
    return [
        _sum(f"⌀{figure(diameter)} mm", len(cuts) * copies, sum(cuts) * copies)
        for diameter, cuts in sorted(sums.items())
    ]


def _sum(what: str, count: int, length: float) -> str:
    return f"In all {what}: {count_of(count, 'thread')}, {length / 1000:.2f} m"


def _fewer(plan: StitchPlan, codes: Codes, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """Where seams meet or run on: one thread for several of them, in place of their own."""
    if not plan.shared:
        return ()
    head = paragraph("Or with fewer ends", width, fonts, size=BENCH, bold=True, kept=True, space=0.5)
    texts = [
        b
        for shared in plan.shared
        for b in paragraph(_instead(shared, codes), width, fonts, size=HEAD, space=0.8)
    ]
    return kept_together((Block(2.0), *head, *texts))


def _instead(shared: SharedThread, codes: Codes) -> str:
    seams = ", then ".join(
        f"{codes.seams[name]} from its last hole to its first" if backwards else codes.seams[name]
        for name, backwards in shared.seams
    )
    lengths = " and ".join(f"{cut:.0f} mm" for cut in shared.cuts)
    count = "one thread" if len(shared.cuts) == 1 else f"{len(shared.cuts)} threads"
    return (
        f"{seams}: {count}, {lengths}, in place of their own, {shared.apart:.0f} mm together; back stitches "
        "at its two ends only."
    )
