"""Document blocks: the plan's document on paper.

In: the plan, parts of its document, the typesetter. Out: blocks, one way for each kind of part.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

import msgspec

from handkit.draw.layout.flow import Block, gap, kept_together
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.lettering import BODY, HEAD
from handkit.draw.pages.stitch_diagram import stitch_diagram
from handkit.draw.pages.ticked_blocks import ticked_blocks
from handkit.draw.words.document import (
    Heading,
    Illustration,
    Keyed,
    Numbered,
    Paragraph,
    Part,
    Ticked,
)
from handkit.draw.words.listing import Listing
from handkit.draw.words.names import KitPlan
from handkit.kept.kept import NOTHING, KeptOf
from handkit.kinds.stitches import StitchKind

# Where the text of a numbered line and of one with a key begins.
NUMBERED, KEYED = 8.0, 26.0

# Size of what stands over a part.
OVER = 5.6


def part_blocks(
    kit: KitPlan, parts: Iterable[Part], setter: Typesetter, kept: KeptOf = NOTHING
) -> tuple[Block, ...]:
    """The parts one under the other; a heading stays with what it stands over, and so does a paragraph right
    under it. Each is `kept` by itself, and the pictures of steps."""
    found: list[Block] = []
    before: Part | None = None
    for part in parts:
        blocks = tuple(_blocks(kit, part, setter, kept))
        if isinstance(part, Paragraph) and isinstance(before, Heading):
            blocks = tuple(msgspec.structs.replace(block, kept=True) for block in blocks)
        found += blocks
        before = part
    return tuple(found)


def _blocks(kit: KitPlan, part: Part, setter: Typesetter, kept: KeptOf) -> Iterable[Block]:
    if isinstance(part, Ticked) and part.figures:
        return ticked_blocks(kit, part, setter, kept)
    alike = part.alike() if isinstance(part, Listing) else part
    known = (type(part).__name__, alike, setter.width, setter.height)
    return kept.of_these("part", known, lambda: tuple(BLOCKS[type(part)](kit, part, setter)))


def _heading(_: KitPlan, part: Heading, setter: Typesetter) -> Iterable[Block]:
    return (gap(2.5), *setter.text(part.text, size=OVER, bold=True, space=1.0, kept=True))


def _paragraph(_: KitPlan, part: Paragraph, setter: Typesetter) -> Iterable[Block]:
    return setter.text(part.text, size=HEAD if part.at_hand else BODY, space=1.5)


def _numbered(_: KitPlan, part: Numbered, setter: Typesetter) -> Iterable[Block]:
    for number, text in enumerate(part.texts, start=1):
        yield from kept_together(setter.keyed(str(number), text, size=BODY, indent=NUMBERED))


def _keyed(_: KitPlan, part: Keyed, setter: Typesetter) -> Iterable[Block]:
    for key, text in part.lines:
        yield from kept_together(setter.keyed(key, text, size=BODY, indent=KEYED))


def _listing(_: KitPlan, part: Listing, setter: Typesetter) -> Iterable[Block]:
    """Heading, table and texts; nothing where it is empty."""
    body = (
        *setter.table(part.columns, part.rows),
        *setter.texts(part.texts, space=0.0),
    )
    return (*setter.heading(part.title, space=0.8), *body, gap(3)) if body else ()


def _figure(_: KitPlan, part: Illustration, setter: Typesetter) -> Iterable[Block]:
    """How a stitch is made; a seam's picture stands with its step."""
    return stitch_diagram(part.of, setter) if isinstance(part.of, StitchKind) else ()


BLOCKS: Mapping[type, Callable[[KitPlan, Any, Typesetter], Iterable[Block]]] = {
    Heading: _heading,
    Paragraph: _paragraph,
    Numbered: _numbered,
    Keyed: _keyed,
    Listing: _listing,
    Ticked: ticked_blocks,
    Illustration: _figure,
}
