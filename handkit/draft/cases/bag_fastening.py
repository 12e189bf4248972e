"""Bag fastening: what closes a bag's flap, on the flap and on the front.

In: the part, its context and sizes. Out: openings, and what leaves them no room.

Below its second bend the flap hangs straight down the front, on its face. So a place so far above the flap's
end stands on the front as far above where that end comes to: `down` below the mouth.

On a flap with a hem of its own it is clear of that, unless the file says where.

     mouth  ╭──╮       ╷ down
            │  │· cap  │
      front │  ╵ end   ╵ · on the front: down − tail below the mouth
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.draft.parts.drafted import DraftedOpening, PartContext
from handkit.draft.sizes.bag_sizes import BagSizes, FlapSizes
from handkit.draft.worn.fastening import Fastening, fastening_of, stud_faults
from handkit.findings import Finding, finding
from handkit.read.project import Part
from handkit.tolerances import SAME_POINT

# How a flap by itself is closed by the same.
SINGLE = {"snaps": "snap", "stud": "stud"}


def fastened_flap(part: Part, context: PartContext, sizes: BagSizes) -> tuple[DraftedOpening, ...]:
    """Two snaps at a quarter of the width from its sides, or one button stud in the middle; none without."""
    flap, fast = sizes.flap, _fastening(part, context)
    if flap is None or fast is None:
        return ()
    wide, name = sizes.box.width, part.name
    across = (wide / 2,) if fast.cut else (wide / 4, 3 * wide / 4)
    on_flap = tuple((x - flap.narrower, flap.end - fast.tail - fast.cut / 2) for x in across)
    on_front = tuple((x, sizes.box.height - flap.down + fast.tail) for x in across)
    half = "hole" if fast.cut else "cap"
    return (
        DraftedOpening(f"{name} {half}", ((flap.piece, on_flap),)),
        DraftedOpening(f"{name} stud", ((f"{name} front", on_front),)),
    )


def with_fastening(sizes: BagSizes, part: Part, context: PartContext) -> BagSizes:
    """The sizes with a flap that comes down as far as what closes it needs, where the file does not say."""
    flap, fast = sizes.flap, _fastening(part, context)
    if flap is None or fast is None or part.length("flap") is not None:
        return sizes
    least, most = _reach(sizes, flap, fast)
    down = max(least, min(flap.down, most))
    return msgspec.structs.replace(sizes, flap=msgspec.structs.replace(flap, down=down))


def _reach(sizes: BagSizes, flap: FlapSizes, fast: Fastening) -> tuple[float, float]:
    """How far a flap comes down at the least and at the most, what closes it clear of bend and edges."""
    box, rows = sizes.box, 2 * sizes.inset
    least = fast.tail + max(fast.clear, fast.cut + 2 * flap.half + flap.radius) + rows
    return least, box.height - box.radius - rows - fast.clear + fast.tail


def fastening_faults(part: Part, context: PartContext, sizes: BagSizes) -> Iterator[Finding]:
    """On a flap too short or too long for it, on a front too narrow."""
    word, at = part.word("closed_by"), part.source.at
    flap, fast = sizes.flap, _fastening(part, context)
    if flap is None or fast is None:
        return
    if word == "stud":
        yield from stud_faults(part)
    box, rows = sizes.box, 2 * sizes.inset
    least, most = _reach(sizes, flap, fast)
    narrow = (2 if fast.cut else 4) * (fast.beside + rows + flap.narrower)
    if most < least - SAME_POINT:
        high = box.height + least - most
        yield finding("box-too-small", at("height"), measure="height", found=box.height, least=high)
    elif not least - SAME_POINT <= flap.down <= most + SAME_POINT:
        told_of = {"down": flap.down, "least": least, "most": most, "what": fast.called}
        yield finding("bag-flap-fastening", at("flap"), **told_of)
    elif box.width < narrow - SAME_POINT:
        yield finding("box-too-small", at("width"), measure="width", found=box.width, least=narrow)


def _fastening(part: Part, context: PartContext) -> Fastening | None:
    word = SINGLE.get(part.word("closed_by"))
    if word is None or f"{part.name} stud" not in context.openings:
        return None
    fast = fastening_of(part.stating("closed_by", word), context)
    if f"{part.name} flap" not in context.pieces or part.source.says("below"):
        return fast
    return msgspec.structs.replace(fast, tail=max(fast.tail, part.size("hem") + fast.clear))
