"""Plan pages: the stitch itself, then each seam with its picture, in working order.

In: the products, the fonts, a width. Out: blocks. Each seam's picture stands above or beside its
lines, whichever makes it larger.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.draw.layout.flow import Block, beside, gap, kept_together, on_fresh_page, paragraph, stacked
from handkit.draw.model.fonts import CAPITAL, Fonts
from handkit.draw.model.lettering import BENCH, BODY, HEAD, LEADING, TITLE, right_aligned
from handkit.draw.model.marks import Group, Mark
from handkit.draw.pages.cut_list import hole_words
from handkit.draw.pages.seam_picture import Scene, seam_picture, seam_scale, seam_scene
from handkit.draw.pages.seam_way import shared_with
from handkit.draw.pages.stitch_diagram import stitch_diagram
from handkit.draw.words.method import method
from handkit.draw.words.names import Codes
from handkit.draw.words.needle_words import seam_lines
from handkit.draw.words.threads import CutThread
from handkit.ink import Tag
from handkit.kinds.stitches import STITCHES
from handkit.punch.punched import Punched
from handkit.stitch.plan import SeamPlan, StitchPlan

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
LOCK = "Lock"


class KeyedText(msgspec.Struct, frozen=True):
    """A key, its text, the size of both."""

    key: str
    text: str
    size: float


def method_blocks(plan: StitchPlan, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """The stitch itself, once, with its pictures; nothing where nothing is sewn."""
    if not plan.seams:
        return ()
    used = {seam.stitch for seam in plan.seams}
    kinds = [kind for kind in STITCHES if kind in used]
    title = STITCHES[kinds[0]].heading if len(kinds) == 1 else "How to stitch"
    head = paragraph(title, width, fonts, size=TITLE, bold=True, space=1.5)
    lines = (KeyedText(key, text, HEAD) for key, text in method(plan))
    texts = [block for line in lines for block in _line(line, METHOD_KEY, fonts, width)]
    diagrams = [block for kind in kinds for block in stitch_diagram(kind, fonts, width)]
    return on_fresh_page(kept_together((*head, *texts, *diagrams)))


def seam_blocks(  # noqa: PLR0913 - the products and the page
    punched: Punched,
    seam: SeamPlan,
    threads: Sequence[CutThread],
    codes: Codes,
    fonts: Fonts,
    *,
    width: float,
    height: float,
) -> tuple[Block, ...]:
    """One seam: its name and its threads, its picture, its lines; on one page where it has room."""
    rest = (*_prepared(seam), *_sewn(punched, seam, codes))
    head = _seam_head(seam, threads, codes, fonts, width)
    narrow = width * BESIDE_SHARE
    tall, low = (max(LEAST_ROOM, height * share) for share in (BESIDE_HEIGHT_SHARE, ABOVE_SHARE))
    scales = [seam_scale(punched, seam, width=w, height=h) for w, h in ((narrow, tall), (width, low))]
    level = width >= LEAST_LEVEL and scales[0] > scales[1]
    room = (narrow, tall) if level else (width, low)
    texts = _texts(rest, fonts, width - narrow - 5 if level else width)

    def arranged(picture: Block) -> tuple[Block, ...]:
        beside = _with_picture(texts, picture, width - narrow) if level else (picture, gap(1.5), *texts)
        return (*head, *beside, gap(5))

    def scene(share: float) -> Scene:
        return seam_scene(punched, seam, codes, fonts, width=room[0], height=room[1] * share)

    scenes = (scene(share) for share in SHARES)
    fitting = (s for s in scenes if sum(b.height for b in arranged(Block(s.height))) <= height / 2)
    return kept_together(arranged(seam_picture(punched, next(fitting, None) or scene(1.0), fonts)))


def _texts(lines: Sequence[KeyedText], fonts: Fonts, width: float) -> list[Block]:
    return [block for line in lines for block in _line(line, KEY, fonts, width)]


def _prepared(seam: SeamPlan) -> Iterator[KeyedText]:
    """What is read before the needles are in hand."""
    tool = hole_words(seam.punched.stitching.hole)
    for key, text in seam_lines(seam):
        if key not in (*AT_HAND, LOCK):
            yield KeyedText(key, f"{text}; {tool}" if key == "Holes" else text, BODY)


def _sewn(punched: Punched, seam: SeamPlan, codes: Codes) -> Iterator[KeyedText]:
    """What is read with thread in both hands; shared holes before the way through them."""
    for key, text in seam_lines(seam):
        if key == "Way":
            yield from _shared_lines(punched, seam, codes)
        if key in (*AT_HAND, LOCK):
            yield KeyedText(key, text, BODY if key == LOCK else BENCH)


def _seam_head(
    seam: SeamPlan, threads: Sequence[CutThread], codes: Codes, fonts: Fonts, width: float
) -> tuple[Block, ...]:
    """Its name on the left; its threads, as they were cut, on the right where there is room."""
    cut = ", ".join(f"{thread.code} {thread.cut:.0f} mm" for thread in threads)
    room = width - fonts.width(cut, TITLE, bold=True) - 6
    title = f"{codes.seams[seam.name]}  {seam.name}"
    if room < width / 2:
        names = paragraph(title, width, fonts, size=TITLE, bold=True)
        return (*names, *paragraph(cut, width, fonts, size=BENCH, bold=True, space=1.5))
    first, *rest = paragraph(title, room, fonts, size=TITLE, bold=True, space=1.0)
    base = -TITLE * LEADING / 2 - CAPITAL * TITLE / 2
    words = right_aligned(cut, (width, base), fonts, size=TITLE, bold=True)
    group = Group((Mark(Tag.PAGE, (), (words,)),))
    return (msgspec.structs.replace(first, groups=(*first.groups, group)), *rest)


def _shared_lines(punched: Punched, seam: SeamPlan, codes: Codes) -> tuple[KeyedText, ...]:
    shared = shared_with(punched, seam, codes)
    if not shared:
        return ()
    holes = ", ".join(f"{number} is also {' and '.join(others)}" for number, others in sorted(shared.items()))
    text = f"{holes}: where thread is in it already, open it with the awl beside the thread"
    return (KeyedText("Shared", text, BENCH),)


def _with_picture(texts: Sequence[Block], picture: Block, offset: float) -> tuple[Block, ...]:
    """As many lines as the picture is high beside it, as one block; the others below."""
    taken: list[Block] = []
    depth = 0.0
    rest = list(texts)
    while rest and depth < picture.height:
        depth += rest[0].height
        taken.append(rest.pop(0))
    return (beside(stacked(taken), picture, offset=offset), *rest)


def _line(line: KeyedText, indent: float, fonts: Fonts, width: float) -> tuple[Block, ...]:
    """A key and its text."""
    first, *rest = paragraph(line.text, width, fonts, size=line.size, indent=indent, space=0.9)
    words = paragraph(line.key, indent, fonts, size=line.size, bold=True)[0]
    return (msgspec.structs.replace(first, groups=(*first.groups, *words.groups)), *rest)
