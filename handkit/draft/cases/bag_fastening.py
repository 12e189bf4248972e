"""Bag fastening: what closes a bag's flap, on the flap and on the front.

In: the part, its context and sizes. Out: what a flap by itself would have of the same (`worn/fastening.py`),
or two snaps, and what leaves them no room.

Below its second bend the flap hangs straight down the front, on its face. So a place so far above the flap's
end stands on the front as far above where that end comes to: `down` below the mouth. Of a strap the flap
ends above the loop.

On a flap with a hem of its own all is clear of that, unless the file says where.

     mouth  ╭──╮       ╷ down
            │  │· cap  │
      front │  ╵ end   ╵ · on the front: down − tail below the mouth
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from handkit.draft.parts.drafted import DraftedOpening, DraftedPart, PartContext
from handkit.draft.sizes.bag_sizes import BagSizes, FlapSizes
from handkit.draft.worn.fastening import Ends, Fastening, fastened, fastening_of
from handkit.draft.worn.fastening import fastening_faults as own_faults
from handkit.draft.worn.flap_closing import narrower_straps
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine
from handkit.read.project import BAG_FLAPS, Part
from handkit.tolerances import SAME_POINT

# How a flap by itself is closed by the same.
SINGLE = {"snaps": "snap", "tab": "tab", "stud": "stud", "strap": "strap"}

# Beside which of its words keys of what closes a bag mean something.
CLOSING_KEYS: Mapping[str, tuple[str, ...]] = {
    "flap": BAG_FLAPS,
    "below": tuple(SINGLE),
    **dict.fromkeys(("snap_hole", "snap_cap"), ("snaps", "tab")),
    **dict.fromkeys(("rivet_hole", "rivet_cap"), ("tab", "strap")),
    **dict.fromkeys(("stud_hole", "stud_neck", "stud_head"), ("stud",)),
    "band": ("strap",),
}


def with_closing(given: DraftedPart, part: Part, context: PartContext, sizes: BagSizes) -> DraftedPart:
    """Two snaps at a quarter of the width from its sides, or in the middle what else closes it; a flap alone
    has none."""
    flap, fast = sizes.flap, _fastening(part, context)
    if flap is None or fast is None:
        return given
    box, front = sizes.box, f"{part.name} front"
    up, high = flap.end - fast.tail, box.height - flap.down + fast.tail
    if part.word("closed_by") == "snaps":
        across = (box.width / 4, 3 * box.width / 4)
        on_flap = tuple((x - flap.narrower, up) for x in across)
        halves = (
            DraftedOpening(f"{part.name} cap", ((flap.piece, on_flap),)),
            DraftedOpening(f"{part.name} stud", ((front, tuple((x, high) for x in across)),)),
        )
        return msgspec.structs.replace(given, openings=(*given.openings, *halves))
    middle, behind = box.width / 2, flap.piece == f"{part.name} back"
    place = (middle - flap.narrower, up)
    ends = Ends(flap.piece, place, front, (middle, high), Affine(), fast.tail, behind)
    return fastened(given, _single(part), context, ends)


def with_fitting_strap(part: Part, context: PartContext, sizes: BagSizes) -> Part:
    """With the widest strap in whole steps that has room, where the file leaves it open: the narrowest where
    none has."""
    if part.source.says("strap"):
        return part
    tried = part
    for tried in (part, *narrower_straps(part, context)):
        if next(fastening_faults(tried, context, with_fastening(sizes, tried, context)), None) is None:
            break
    return tried


def with_room(sizes: BagSizes, part: Part, context: PartContext) -> BagSizes:
    """The sizes with a front as large as what closes the flap needs, where the file does not say."""
    flap, fast = sizes.flap, _fastening(part, context)
    if flap is None or fast is None:
        return sizes
    if part.length("width") is None:
        width = max(sizes.box.width, _least_width(part, sizes, flap, fast))
        sizes = msgspec.structs.replace(sizes, box=msgspec.structs.replace(sizes.box, width=width))
    least, most = _reach(sizes, flap, fast)
    if part.length("height") is None and part.length("flap") is None and most < least:
        high = sizes.box.height + least - most
        on_back = f"{part.name} flap" not in context.pieces
        flap = msgspec.structs.replace(flap, height=high) if on_back else flap
        return msgspec.structs.replace(sizes, flap=flap, box=msgspec.structs.replace(sizes.box, height=high))
    return sizes


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
    least = fast.tail + max(fast.clear + rows, fast.towards + flap.radius + flap.half)
    return least, box.height + fast.tail - max(box.radius + rows + fast.clear, fast.under)


def _least_width(part: Part, sizes: BagSizes, flap: FlapSizes, fast: Fastening) -> float:
    """How wide a front is at the least for what closes the flap clear of rows and edges."""
    aside = max(fast.beside + 2 * sizes.inset, fast.wide / 2) + flap.narrower
    return (4 if part.word("closed_by") == "snaps" else 2) * aside


def fastening_faults(part: Part, context: PartContext, sizes: BagSizes) -> Iterator[Finding]:
    """On a flap too short or too long for it, on a front too narrow."""
    at, flap, fast = part.source.at, sizes.flap, _fastening(part, context)
    if flap is None or fast is None:
        return
    yield from own_faults(_single(part), context)
    box = sizes.box
    least, most = _reach(sizes, flap, fast)
    narrow = _least_width(part, sizes, flap, fast)
    if most < least - SAME_POINT:
        high = box.height + least - most
        yield finding("box-too-small", at("height"), measure="height", found=box.height, least=high)
    elif not least - SAME_POINT <= flap.down <= most + SAME_POINT:
        told_of = {"down": flap.down, "least": least, "most": most, "what": fast.called}
        yield finding("bag-flap-fastening", at("flap"), **told_of)
    elif box.width < narrow - SAME_POINT:
        yield finding("box-too-small", at("width"), measure="width", found=box.width, least=narrow)


def _single(part: Part) -> Part:
    """Closed as a flap by itself is."""
    return part.stating("closed_by", SINGLE.get(part.word("closed_by"), ""))


def _fastening(part: Part, context: PartContext) -> Fastening | None:
    word = SINGLE.get(part.word("closed_by"))
    if word is None:
        return None
    fast = fastening_of(_single(part), context)
    stated = part.source.says("below") and word != "tab"
    if word == "strap" or stated or f"{part.name} flap" not in context.pieces:
        return fast
    return msgspec.structs.replace(fast, tail=max(fast.tail, part.size("hem") + fast.clear))
