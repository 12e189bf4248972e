"""Ticked blocks: a step to tick on paper, with its picture where it has one.

In: the plan, a step, the typesetter. Out: blocks that stay together.

    ▢ 12   S3 front, left       T3 1026 mm  ┌──────────────┐
           Layers …  Holes …                │ its picture  │
           Spread cement 2.2 mm wide …      └──────────────┘     what to do, large: read at arm's length
           Way  3 → 1, on to 30 …
           before "flap rivets": …                               why, smaller
           Caution: …                                            at the first step of its kind

The picture stands beside the texts, or above them where it would be too small to follow beside them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from math import ceil

from handkit.draw.layout.flow import Block, beside, gap, kept_together, side_by_side, stacked
from handkit.draw.layout.typesetter import Typesetter, tick_box
from handkit.draw.model.fonts import CAPITAL
from handkit.draw.model.lettering import BENCH, BODY, LEADING, right_aligned
from handkit.draw.model.marks import Ink, Page, Words, words_of
from handkit.draw.pages.seam_picture import seam_picture, seam_scale, seam_scene
from handkit.draw.words.document import Line, Ticked
from handkit.draw.words.names import KitPlan
from handkit.kept.kept import NOTHING, KeptOf
from handkit.stitch.plan import SeamPlan

# Size of a step's number and of what is laid ready for it; where numbers end and the text begins; how far
# keys reach.
MARK = 6.0
NUMBER_END, TEXT = 19.2, 21.5
SIGN = 23.4  # from box to box, where several stand side by side
ROW = BENCH * LEADING  # from one row of boxes to the next
KEY, KEY_AT_HAND = 15.0, 21.0

# Rooms for a picture, mm: beside the texts, where these keep room enough, and above them.
NARROW, SHORT, TALL = 62.0, 34.0, 60.0
LEAST_TEXT = 80.0
LOW, PAIRED = 36.0, 30.0

# Pictures of seams side by side, each 52 mm wide: in one of 38 mm the words for the start found no room
# beside a ring, and their line crossed the row.
MOST_ABREAST = 3

# A picture stands beside the texts if it is no smaller there than this share of what it would be above them.
CLEAR = 0.6

# A text that is still to be set over a width.
Setting = Callable[[Typesetter], tuple[Block, ...]]


def ticked_blocks(
    kit: KitPlan, step: Ticked, setter: Typesetter, kept: KeptOf = NOTHING
) -> tuple[Block, ...]:
    """All of a step, on one page where it has room there; its pictures are `kept`."""
    narrow = setter.narrowed(setter.width - TEXT)
    seams = [(figure.of, figure.caption) for figure in step.figures if isinstance(figure.of, tuple)]
    if len(seams) > 1:
        body = _under_pictures(kit, step, seams, narrow, kept)
    else:
        body = _with_picture(kit, step, seams[0][0], narrow, kept) if seams else _set(_texts(step), narrow)
    caution = f"Caution: {step.caution}" if step.caution else ""
    first, *rest = [block.shifted(TEXT, 0) for block in (*body, *narrow.text(caution, bold=True))]
    return kept_together((beside(_marks(step.marks, setter), first, offset=0), *rest, gap(1.8)))


def _marks(marks: Sequence[str], setter: Typesetter) -> Block:
    """The boxes with their numbers, in as many rows as they take; no higher than nothing."""
    signs, row = [_sign(mark, setter) for mark in marks], _in_a_row(setter.width)
    rows = [
        side_by_side([Block(0.0).drawn_over(*sign) for sign in signs[k : k + row]], apart=SIGN)
        for k in range(0, len(signs), row)
    ]
    return Block(0.0, tuple(each for k, one in enumerate(rows) for each in one.shifted(0, -k * ROW).groups))


def _in_a_row(width: float) -> int:
    """How many boxes with their numbers stand side by side on a page."""
    return 1 + int((width - NUMBER_END) / SIGN)


def _texts(step: Ticked) -> tuple[Setting, ...]:
    """Title, what is read before the work, what is done, why: each to be set over any width."""
    first, at_hand = ([line for line in step.lines if line.at_hand is which] for which in (False, True))
    parts = (
        *(partial(_head, step) for _ in range(bool(step.title))),
        *(partial(_line, line) for line in first),
        *(partial(_said, text) for text in step.said),
        *(partial(_line, line) for line in at_hand),
    )
    for text in step.notes:
        parts = (*parts[:-1], partial(_then_note, parts[-1], text))
    if len(step.marks) > 1:
        return (partial(_beside_marks, parts[0], len(step.marks) - 1), *parts[1:])
    return parts


def _beside_marks(text: Setting, more: int, setter: Typesetter) -> tuple[Block, ...]:
    """A text beside so many marks more than one, or below them where they are many."""
    if more * SIGN > setter.width / 3:
        return (Block(ROW * ceil((1 + more) / _in_a_row(setter.width + TEXT))), *text(setter))
    return tuple(block.shifted(more * SIGN, 0) for block in text(setter.narrowed(setter.width - more * SIGN)))


def _set(texts: Iterable[Setting], setter: Typesetter) -> tuple[Block, ...]:
    return tuple(block for text in texts for block in text(setter))


def _said(text: str, setter: Typesetter) -> tuple[Block, ...]:
    return setter.text(text, size=BENCH, space=0.5)


def _then_note(before: Setting, text: str, setter: Typesetter) -> tuple[Block, ...]:
    """A note, smaller, on what is left of the line before it, or below that."""
    blocks = before(setter)
    words = words_of((Page("", (), blocks[-1].groups),)) if blocks else ()
    end = max(
        (one.at[0] + setter.fonts.width(one.text, one.size, bold=one.bold) for one in words), default=0.0
    )
    if not words or end + 4 + setter.fonts.width(text, BODY) > setter.width:
        return (*blocks, *setter.text(text, space=0.3))
    return (*blocks[:-1], blocks[-1].drawn_over(Words(text, (end + 3, words[-1].at[1]), BODY)))


def _head(step: Ticked, setter: Typesetter) -> tuple[Block, ...]:
    """The title, and on its right what is laid ready, below it where that is long."""
    width = setter.fonts.width(step.aside, MARK, bold=True) + 5 if step.aside else 0.0
    if width > setter.width / 2:
        aside = setter.text(step.aside, size=MARK, bold=True)
        return (*setter.text(step.title, size=BENCH, bold=True), *aside)
    first, *rest = setter.narrowed(setter.width - width).text(step.title, size=BENCH, bold=True, space=0.5)
    base = -BENCH * LEADING / 2 - CAPITAL * MARK / 2
    words = right_aligned(step.aside, (setter.width, base), setter.fonts, size=MARK, bold=True)
    return (beside(Block(0.0).drawn_over(words), first, offset=0) if step.aside else first, *rest)


def _line(line: Line, setter: Typesetter) -> tuple[Block, ...]:
    size, indent = (BENCH, KEY_AT_HAND) if line.at_hand else (BODY, KEY)
    return setter.keyed(line.key, line.text, size=size, indent=indent)


def _with_picture(
    kit: KitPlan, step: Ticked, seams: Sequence[SeamPlan], setter: Typesetter, kept: KeptOf
) -> tuple[Block, ...]:
    """The texts with the picture of the seams beside them where it is clear there, else above them."""
    title, *rest = _texts(step)
    offset = setter.width - NARROW
    narrow = [text(setter.narrowed(offset - 4)) for text in rest]
    high = sum(block.height for blocks in narrow for block in blocks)
    room = setter.narrowed(NARROW).lowered(max(SHORT, min(TALL, high)))
    over = setter.lowered(LOW)
    clear = seam_scale(kit, seams, room) >= CLEAR * seam_scale(kit, seams, over)
    if clear and offset - 4 >= LEAST_TEXT:
        picture = seam_picture(kit, seam_scene(kit, seams, room), setter, kept)
        count = _reaching(narrow, picture.height - BODY * LEADING)
        left = stacked([block for blocks in narrow[:count] for block in blocks])
        return (*title(setter), beside(left, picture, offset=offset), *_set(rest[count:], setter))
    above = seam_picture(kit, seam_scene(kit, seams, over), setter, kept)
    return (*title(setter), above, gap(1), *_set(rest, setter))


def _under_pictures(
    kit: KitPlan,
    step: Ticked,
    pictures: Sequence[tuple[Sequence[SeamPlan], str]],
    setter: Typesetter,
    kept: KeptOf,
) -> tuple[Block, ...]:
    """The texts under pictures of seams that are alike and lie unlike, side by side, each with its name."""
    title, *rest = _texts(step)
    row = _in_each_row(len(pictures))
    apart = setter.width / row
    room = setter.narrowed(apart - 4).lowered(PAIRED)
    drawn = [
        stacked((*room.text(name, bold=True), seam_picture(kit, seam_scene(kit, seams, room), setter, kept)))
        for seams, name in pictures
    ]
    rows = [side_by_side(drawn[k : k + row], apart=apart) for k in range(0, len(drawn), row)]
    return (*title(setter), *rows, gap(1), *_set(rest, setter))


def _in_each_row(count: int) -> int:
    """How many of the pictures of one step stand side by side: as many in each row, and no more than leave
    the words at start and end room beside their holes.

    >>> [_in_each_row(count) for count in (1, 2, 3, 4, 5, 6, 7)]
    [1, 2, 3, 2, 3, 3, 3]
    """
    return ceil(count / ceil(count / MOST_ABREAST))


def _reaching(texts: Sequence[Sequence[Block]], depth: float) -> int:
    """How many texts it takes to reach so far down."""
    reached = 0.0
    for count, blocks in enumerate(texts):
        if reached >= depth:
            return count
        reached += sum(block.height for block in blocks)
    return len(texts)


def _sign(mark: str, setter: Typesetter) -> tuple[Ink | Words, ...]:
    middle = -BENCH * LEADING / 2
    at = (NUMBER_END, middle - CAPITAL * MARK / 2)
    return tick_box(middle), right_aligned(mark, at, setter.fonts, size=MARK, bold=True)
