"""Panels: where on a bag or a cover other parts may lie.

In: the part, its sizes. Out: `DraftedPanel`s, in the frame of the piece that they are of: leather within its
seams, hems and bends, with what is in the way there.

On a bag they are front and back, outside, and the back inside, where what is carried, and drawn out as far as
the mouth, lies over what stands no higher than it leaves of the depth. A cover whose ends are open has room
on its leaves, on both faces; where a thing goes in sleeves or turn-ins, outside on the second, and on the
sleeve there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.draft.parts.drafted import BarredPlace, DraftedPanel, DraftedPart, PartContext
from handkit.draft.sizes.bag_sizes import BagSizes
from handkit.draft.sizes.cover_sizes import CoverSizes
from handkit.geometry.affine import Affine
from handkit.geometry.box import Box, box_of
from handkit.read.project import Part

# How far things in a bag keep off what is sewn on inside, mm (common practice, no source).
BESIDE_THINGS = 3.0


def cover_panels(
    part: Part, sizes: CoverSizes, inset: float, sleeve: float, *, held: bool
) -> Iterator[DraftedPanel]:
    """The straight leather of both leaves; that of sleeves, `sleeve` wide. Where a thing is held it lies on
    the first leaf, and presses on all thread there."""
    level, is_open = part.word("spine") == "level", part.word("ends") == "open"
    off, edge = (0.0, 0.0) if is_open else (inset, sizes.edge)
    (first, last), (low, high) = sizes.spine, (off, sizes.high - off)
    start, end = sizes.turn_ends
    far = "width" if part.length("flap") is None else "flap"
    face = None if is_open else True
    leaves = (
        ("width", (start + edge, first - sizes.half), sizes.leaf),
        (far, (last + sizes.half, end - edge), sizes.other),
    )
    taken = 1 if held and not is_open else 0
    for key, (left, right), leaf in leaves[taken:]:
        values, box = (leaf + sizes.edge, sizes.high), Box(left, low, right, high)
        yield _turned(DraftedPanel(part.name, box, (key, "height"), values, face), level=level)
    if sleeve:
        wide, sides = sleeve - inset, ("low", "high") if level else ("left", "right")
        for side, (left, right) in [*zip(sides, ((inset, sleeve), (0.0, wide)), strict=True)][taken:]:
            keys, box = ("sleeve", "height"), Box(left, low, right, high)
            drawn = DraftedPanel(f"{part.name} {side}", box, keys, (wide, sizes.high), behind=False)
            yield _turned(drawn, level=level)


def _turned(panel: DraftedPanel, *, level: bool) -> DraftedPanel:
    """A panel across a spine and along it, as the cover is drawn."""
    if not level:
        return panel
    box = box_of((y, x) for x, y in panel.box.corners)
    return msgspec.structs.replace(panel, box=box, keys=panel.keys[::-1], values=panel.values[::-1])


def bag_panels(
    part: Part,
    sizes: BagSizes,
    things: Sequence[tuple[Box, float]],
    given: DraftedPart,
    context: PartContext,
) -> Iterator[DraftedPanel]:
    """Front and back, within their seams, and below what is at the mouth; `things` are what it carries, with
    how thick each is."""
    box, flap, name = sizes.box, sizes.flap, part.name
    keys, values, off = ("width", "height"), (box.width, box.height), max(box.inset, box.wall)
    mouth = max(part.size("hem"), sizes.leans, sizes.inset if part.word("closed_by") == "zip" else 0.0)
    front = box.height - max(mouth, flap.down if flap is not None else 0.0)  # under a flap nothing lies
    if flap is not None:
        mouth = max(mouth, flap.radius if flap.piece == f"{name} back" else flap.height)
    right, top = box.width - off, box.height - mouth
    sewn = [(*_handles(sizes), *_sewn_on(f"{name} {panel}", given, context)) for panel in ("front", "back")]
    yield DraftedPanel(f"{name} front", Box(off, off, right, front), keys, values, False, sewn[0])
    yield DraftedPanel(f"{name} back", Box(off, off, right, top), keys, values, True, sewn[1])
    ways = [(Box(at.left, at.bottom, at.right, max(at.top, top)), thick) for at, thick in things]
    inside = [BarredPlace(way.grown(BESIDE_THINGS), max(0.0, box.depth - thick)) for way, thick in ways]
    deep = (*keys, "depth"), (*values, box.depth)
    yield DraftedPanel(f"{name} back", Box(off, off, right, top), *deep, False, (*sewn[1], *inside))


def _handles(sizes: BagSizes) -> Iterator[BarredPlace]:
    """Where the ends of a handle are sewn down, and go up to the mouth."""
    handles, box = sizes.handles, sizes.box
    if handles is not None:
        low, half = box.height - handles.below - handles.tab, handles.width / 2
        for middle in (box.width / 4, 3 * box.width / 4):
            yield BarredPlace(Box(middle - half, low, middle + half, box.height))


def _sewn_on(panel: str, given: DraftedPart, context: PartContext) -> Iterator[BarredPlace]:
    """What the bag itself has on one of its panels: what closes its flap."""
    for opening in given.openings:
        own = context.openings[opening.name]
        for name, places in opening.places:
            if name == panel:
                yield from (BarredPlace(box_of([at]).grown(max(own.cap, own.diameter) / 2)) for at in places)
    for piece in given.pieces:
        promised = context.pieces[piece.name]
        if promised.on == panel and promised.flat:
            over = Affine.mirror() if promised.turned_over else Affine()
            lie = Affine.shift(*piece.at) @ Affine.turn(piece.turn_degrees) @ over
            yield BarredPlace(box_of(lie.apply_all(corner.at for corner in piece.corners)))
