"""Fold cover: two leaves and a spine round a book, a pad, or what other parts hold on them.

In: the part, the thing it goes round if there is one, its context. Out: the cover as seen from inside, the
sleeves, the rows. Lengths across the spine are those of `cover_sizes.py`; along it a board lies between two
rows as in a flat pocket (`way_over`).

    ends = "sleeves": a piece on either leaf, its mouth towards the spine, sewn round its other sides
    ends = "turn-ins": the cover's own ends, turned in and sewn along head and foot
    ends = "open": nothing; other parts are laid on the leaves

A spine that is `level` runs across the cover, as of a pad that opens upwards: everything is drafted across
the spine, and turned last. Turned-in ends taper by half a millimetre, so that they don't show at the edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.draft.cases.panels import cover_panels
from handkit.draft.parts.drafted import DraftedPart, DraftedPiece, DraftedRoom, PartContext
from handkit.draft.parts.idle import idle_keys
from handkit.draft.parts.item_fit import ease_for
from handkit.draft.parts.outlines import corners_of
from handkit.draft.parts.rooms import pocket_place, section_path
from handkit.draft.pattern import HeldItem, ItemFit
from handkit.draft.sizes.cover_sizes import CoverSizes
from handkit.draft.sizes.half_way import way_over
from handkit.draft.sizes.section import rectangle_section
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import polyline
from handkit.read.project import Corner, FoldLine, InnerLine, Item, Part
from handkit.tolerances import SAME_POINT

# Of a leaf, a sleeve or a turn-in takes this share where nothing is stated (common practice, no source).
SHARE = 0.6

TAPER = 0.5


class _Cover(msgspec.Struct, frozen=True):
    """What is drafted: its sizes, how wide a sleeve is; inset, pitch and hole of its rows."""

    sizes: CoverSizes
    sleeve: float
    inset: float
    pitch: float
    hole: float
    level: bool
    round: float

    def turned(self, points: Sequence[Point]) -> tuple[Point, ...]:
        """Points (across, along) as the cover is drawn."""
        return tuple((v, u) if self.level else (u, v) for u, v in points)

    @property
    def sides(self) -> tuple[str, str]:
        """The words of its leaves, the first one first."""
        return ("low", "high") if self.level else ("left", "right")

    @property
    def ends(self) -> tuple[str, str]:
        """The words of the edges that cross the spine, the first one first."""
        return ("left", "right") if self.level else ("foot", "head")


def draft_fold_cover(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The cover, as its thing needs or as stated; what has no room is refused."""
    faults = tuple(_unstated(part, items))
    if faults:
        return DraftedPart(findings=faults)
    cover, apart = _cover(part, items, context)
    faults = apart[:1] or tuple(_faults(part, items, cover))[:1]
    if faults:
        return DraftedPart(findings=faults)
    return DraftedPart(
        pieces=(_outer(part, cover, context), *_sleeves(part, cover)),
        rooms=tuple(_rooms(part, items, cover)),
        fits=tuple(_fits(part, items[0], cover, context)) if items else (),
        panels=tuple(cover_panels(part, cover.sizes, cover.inset, cover.sleeve, held=bool(items))),
    )


def _unstated(part: Part, items: Sequence[Item]) -> Iterator[Finding]:
    """Without a thing the file has to say all measures."""
    lacking = [key for key in ("width", "height", "depth") if part.length(key) is None]
    if not items and lacking:
        yield finding("cover-without-size", part.source.at(), keys=lacking, part=part.name)


def _cover(part: Part, items: Sequence[Item], context: PartContext) -> tuple[_Cover, tuple[Finding, ...]]:
    """The clear lengths inside with their ease, and what rows take beyond them."""
    outer, inside, names = context.pieces[part.name], part.word("ends"), _seam_names(part, context)
    _, apart = context.shared_inset(*names) if names else (0.0, ())
    stitching = context.seams[names[0]].stitching if names else None
    inset, pitch, hole = (
        (stitching.inset, stitching.pitch, stitching.hole.width) if stitching else (0.0, 0.0, 0.0)
    )
    edge, board = inset if inside == "sleeves" else 0.0, _board(part, items)
    needs = _needs(part, items[0], context, board) if items else {}
    leaf = (part.length("width") or needs["width"] + edge) - edge
    other = (part.length("flap") or leaf + edge) - edge
    least = inset + 2 * pitch + (board + hole if inside == "turn-ins" else 0.0)
    held = part.length("sleeve") or max(SHARE * min(leaf, other), least)
    sizes = CoverSizes(
        outer.thickness,
        (part.length("depth") or needs["depth"]) + 2 * _inner(part, context),
        leaf,
        other,
        part.length("height") or needs["height"] + 2 * inset,
        edge,
        held if inside == "turn-ins" else 0.0,
        board,
    )
    sleeve, level = held + inset if inside == "sleeves" else 0.0, part.word("spine") == "level"
    return _Cover(sizes, sleeve, inset, pitch, hole, level, part.size("round")), apart


def _inner(part: Part, context: PartContext) -> float:
    """How thick the leather is that lies on either leaf inside."""
    if part.word("ends") == "turn-ins":
        return context.pieces[part.name].thickness
    return max((piece.thickness for name, piece in context.pieces.items() if name != part.name), default=0.0)


def _seam_names(part: Part, context: PartContext) -> tuple[str, ...]:
    """The rows of sleeves, or those of turn-ins."""
    return tuple(name for name in context.seams if name == part.name or name.startswith(f"{part.name}, "))


def _board(part: Part, items: Sequence[Item]) -> float:
    """How thick one board is: stated, or a millimetre, or half of what is thinner."""
    return part.length("board") or min([1.0, *(item.thickness / 2 for item in items)])


def _needs(part: Part, item: Item, context: PartContext, board: float) -> dict[str, float]:
    """The clear lengths with their ease: across a leaf, along the spine, between the leaves."""
    least, material = _least(part, item, context, board), context.pieces[part.name].material
    sizes = {"width": item.width, "height": item.length, "depth": item.thickness}
    return {
        key: needed
        + (ease_for(part, material, sizes[key], item.uncertainty).wanted if key != "depth" else 0.0)
        for key, needed in least.items()
    }


def _least(part: Part, item: Item, context: PartContext, board: float) -> dict[str, float]:
    """What a thing needs: a board bows the leather between two rows, and half as much at one."""
    if part.word("ends") == "open":
        return {"width": item.width, "height": item.length, "depth": item.thickness}
    leather = max(piece.thickness for piece in context.pieces.values())
    high = way_over(item.length, board, leather=leather)
    bow = (high - item.length) / 2 if part.word("ends") == "sleeves" else 0.0
    return {"width": item.width + bow, "height": high, "depth": item.thickness}


def _outer(part: Part, cover: _Cover, context: PartContext) -> DraftedPiece:
    """The cover with its folds; of turn-ins, the lines that they are sewn along."""
    sizes, outside = cover.sizes, context.pieces[part.name].shows.other
    wide, high, (first, last) = sizes.across, sizes.high, sizes.turn_ends
    points: tuple[Point, ...] = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    if sizes.turn_in:
        points = (
            *((0.0, TAPER), (first, 0.0), (last, 0.0), (wide, TAPER)),
            *((wide, high - TAPER), (last, high), (first, high), (0.0, high - TAPER)),
        )
    stays = ("H" if cover.level else "B") if sizes.turn_in else "A"  # on the first leaf
    spine, turns = (zip(cover.sides, lines, strict=False) for lines in (sizes.spine, sizes.turns))
    bends = [(f"spine, {side}", at, 90.0, sizes.radius) for side, at in spine]
    bends += [(f"{side} turn-in", at, 180.0, sizes.board / 2) for side, at in turns]

    def line(at: float) -> tuple[Point, ...]:
        into = TAPER * max(0.0, 1 - at / first, 1 - (wide - at) / first) if sizes.turn_in else 0.0
        return cover.turned(((at, into), (at, high - into)))

    folds = tuple(FoldLine(name, line(at), outside, angle, bend, stays) for name, at, angle, bend in bends)
    outline = _corners(cover, [(at, cover.round) for at in points])
    return DraftedPiece(part.name, outline, lines=_turn_lines(cover), folds=folds)


def _corners(cover: _Cover, points: Sequence[tuple[Point, float]]) -> tuple[Corner, ...]:
    """Corners and their radii, the first one A, counter-clockwise as the cover is drawn."""
    ordered = [points[0], *reversed(points[1:])] if cover.level else points
    return corners_of(cover.turned([at for at, _ in ordered]), [radius for _, radius in ordered])


def _turn_lines(cover: _Cover) -> tuple[InnerLine, ...]:
    """Along both ends of each turn-in, and as its mirror image in the fold on the leaf: from its free edge to
    where the leather is straight beside the bend."""
    sizes, lines = cover.sizes, []
    far = sizes.turn_in - sizes.board / 2 + sizes.turn_half - cover.inset
    near = sizes.turn_half + cover.hole
    for side, at, out in zip(cover.sides, sizes.turns, (-1, 1), strict=False):
        for end, v in zip(cover.ends, (cover.inset, sizes.high - cover.inset), strict=True):
            for word, way in (("in", out), ("out", -out)):
                row = cover.turned(((at + way * far, v), (at + way * near, v)))
                lines.append(InnerLine(f"{side} {end} {word}", row))
    return tuple(lines)


def _sleeves(part: Part, cover: _Cover) -> tuple[DraftedPiece, ...]:
    """A piece on either leaf, flush with the cover's edges."""
    if part.word("ends") != "sleeves":
        return ()
    wide, high = cover.sleeve, cover.sizes.high
    pieces: list[DraftedPiece] = []
    for side, left in zip(cover.sides, (0.0, cover.sizes.across - wide), strict=True):
        outer = 0.0 if left == 0 else wide  # the edge that is the cover's as well
        box = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
        corners = _corners(cover, [(at, cover.round if at[0] == outer else 0.0) for at in box])
        (at,) = cover.turned(((left, 0.0),))
        pieces.append(DraftedPiece(f"{part.name} {side}", corners, at=at))
    return tuple(pieces)


def _rooms(part: Part, items: Sequence[Item], cover: _Cover) -> Iterator[DraftedRoom]:
    """On the first leaf, its ends along the spine: in the sleeve, or between leaf and turn-in. Nothing holds
    it where the ends are open."""
    sizes, inside = cover.sizes, part.word("ends")
    for item in items if inside != "open" else ():
        left, low = (sizes.high - item.length) / 2, max(0.0, sizes.leaf - item.width) / 2
        right, top = left + item.length, low + item.width
        outline = polyline(((left, low), (right, low), (right, top), (left, top)), closed=True)
        section = section_path(rectangle_section(item.length, item.thickness), middle=sizes.high / 2)
        start = sizes.start
        yield DraftedRoom(
            f"{part.name} {cover.sides[0]}" if inside == "sleeves" else part.name,
            pocket_place(sizes.high, sizes.leaf),
            (HeldItem(item.name, outline, section),),
            base=part.name,
            lie=Affine.shift(0.0, start) if cover.level else Affine(0.0, -1.0, 1.0, 0.0, start, sizes.high),
        )


def _fits(part: Part, item: Item, cover: _Cover, context: PartContext) -> Iterator[ItemFit]:
    """The room in a leaf, along the spine and between the leaves."""
    least, material = _least(part, item, context, cover.sizes.board), context.pieces[part.name].material
    given = {
        "width": min(cover.sizes.leaf, cover.sizes.other),
        "height": cover.sizes.high - 2 * cover.inset,
        "depth": cover.sizes.between - 2 * _inner(part, context),
    }
    told = {
        "width": ("width", "from the spine's inside to the row or fold at the fore-edge"),
        "height": ("length", "between head and foot, or their rows"),
        "depth": ("thickness", "between the leaves when it is shut"),
    }
    for key, (measure, where) in told.items():
        ease = ease_for(part, material, least[key], item.uncertainty if key != "depth" else 0.0)
        few, many = (ease.least, ease.most) if key != "depth" else (0.0, ease.most)
        stated = key if part.length(key) else ""
        yield ItemFit(
            (item.name,), part.name, measure, least[key], given[key], few, many, stated, where=where
        )


# Beside which of its words keys of a cover's ends mean something.
END_KEYS = {
    **dict.fromkeys(("sleeve", "board"), ("sleeves", "turn-ins")),
    "round": ("sleeves", "open"),
}


def _faults(part: Part, items: Sequence[Item], cover: _Cover) -> Iterator[Finding]:
    """What can't be drafted, each with what can."""
    sizes, inside, least = cover.sizes, part.word("ends"), 2 * cover.inset + cover.pitch
    yield from idle_keys(part, "ends", END_KEYS)
    thick = min((item.thickness for item in items), default=sizes.between)
    if inside != "open" and 2 * sizes.board > thick + SAME_POINT:
        yield finding("boards-too-thick", part.source.at("board"), board=sizes.board, most=thick / 2)
    least = max(least, 2 * sizes.radius)
    room = (("width", sizes.leaf, sizes.edge), ("flap", sizes.other, sizes.edge), ("height", sizes.high, 0.0))
    for key, found, edge in room:
        if found < least - SAME_POINT:
            told = {"measure": key, "found": found + edge, "least": least + edge}
            yield finding("cover-too-small", part.source.at(key), **told)
    if inside != "open":
        yield from _sleeve_faults(part, cover)
    most = min(sizes.high / 2, cover.sleeve or min(sizes.leaf, sizes.other))
    if cover.round > most + SAME_POINT:
        yield finding("cover-too-round", part.source.at("round"), radius=cover.round, most=most)


def _sleeve_faults(part: Part, cover: _Cover) -> Iterator[Finding]:
    """A sleeve or a turn-in has room for stitches, and ends clear of the spine."""
    sizes, turned = cover.sizes, cover.sizes.turn_in > 0
    found = sizes.turn_in if turned else cover.sleeve - cover.inset
    least = cover.inset + 2 * cover.pitch + (sizes.board + cover.hole if turned else 0.0)
    narrow = min(sizes.leaf, sizes.other)
    most = narrow - sizes.radius - cover.pitch
    if least > most + SAME_POINT:
        key, wide = "flap" if sizes.other < sizes.leaf else "width", narrow + sizes.edge
        told = {"measure": key, "found": wide, "least": wide + least - most}
        yield finding("cover-too-small", part.source.at(key), **told)
    elif not least - SAME_POINT <= found <= most + SAME_POINT:
        yield finding("sleeve-without-room", part.source.at("sleeve"), sleeve=found, least=least, most=most)
