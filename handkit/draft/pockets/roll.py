"""Roll: tools side by side in one pocket, or under one strap, on a base that is rolled up, with a flap, tied.

In: a part, its items from left to right, its context. Out: base and pocket, the lines between the tools,
where the tools lie, eyelet and tie, or a strap with a buckle.

    D┌───────────────────┐C   The base is seen from inside. Its pocket is a flat pocket's, and beside the
     │ · · · fold  · · · │    last tool a margin is left, which lies outside when it is rolled from the left:
     │  ∩  ∩  ∩      (o) │    there is the eyelet. The flap folds down where nothing stands in its way, and
     ├──┊──┊──┊──────────┤    reaches past the pocket's mouth.
    A└──┴──┴──┴──────────┘B
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil

import msgspec

from handkit.draft.parts.drafted import (
    DraftedFitting,
    DraftedOpening,
    DraftedPart,
    DraftedPiece,
    DraftedSeam,
    PartContext,
)
from handkit.draft.parts.idle import idle_keys
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.pattern import ItemOutline
from handkit.draft.pockets.flat_pocket import draft_flat_pocket
from handkit.draft.pockets.roll_holders import draft_holders
from handkit.draft.pockets.roll_strap import StrapPlace, draft_closing, fixed_strap
from handkit.draft.sizes.coil import Rolled, coil_girth, tightest
from handkit.findings import Finding, finding
from handkit.kinds.materials import MATERIALS
from handkit.messages.message import Severity
from handkit.read.project import FoldLine, Item, Part, Side
from handkit.tolerances import SAME_POINT
from handkit.units import tenth_above, tenth_below

# Beyond the longest tool to the flap's fold, beside as much as the thickest is thick; how far the flap
# reaches past the mouth; what of the tie's two ends is left for the bow. All mm (common practice, no source).
OVER_TOOLS, PAST_MOUTH, BOW = 10.0, 20.0, 400.0

# How far a hem's row keeps off the ends of its edge: they lie under the rows at the sides.
HEM_ENDS = (2.0, 2.0)

HEM_APART = 2.0  # half of what is left between a hem and what is turned opposite

BESIDE_EYE = 2.0  # leather or cloth round an eyelet's rim, to stitches and to what is turned in

# Beside which of its words keys of what closes a roll, and of what holds its tools, mean something.
CLOSING_KEYS: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(("eye_hole", "eye_cap"), ("tie",)),
    **dict.fromkeys(("inside", "bar", "girth"), ("buckle",)),
}
HOLDING_KEYS: Mapping[str, tuple[str, ...]] = {
    "height": ("slots",),
    **dict.fromkeys(("strap", "gap"), ("holders",)),
}


class RollSizes(msgspec.Struct, frozen=True):
    """Where all is on the base, mm: heights from the foot, x from the left."""

    width: float
    mouth: float
    fold: float
    flap: float  # how long
    least_flap: float  # so that it covers each tool's end
    eye: tuple[float, float]
    rolled: float  # how far it is round it when it is rolled up
    tight: float  # the least that could be

    @property
    def height(self) -> float:
        """Of the base."""
        return self.fold + self.flap

    @property
    def tie(self) -> float:
        """Twice round, with ends for a bow, in whole 50 mm."""
        return ceil((2 * self.rolled + BOW) / 50) * 50.0


def draft_roll(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The roll for its tools; a flap that leaves one uncovered and a margin without room are refused."""
    base = context.pieces[part.name]
    if part.length("hem") is not None and MATERIALS[base.material].is_leather:
        told = finding("roll-hem/leather", part.source.at("hem"), material=base.material)
        return DraftedPart(findings=(told,))
    idle = (*idle_keys(part, "closed_by", CLOSING_KEYS), *idle_keys(part, "holds", HOLDING_KEYS))
    if idle:
        return DraftedPart(findings=idle)
    held = part.word("holds") == "holders"
    closing = _closing_room(part, context)
    if not part.source.says("margin"):
        part = part.stating("margin", max(part.size("margin"), closing.margin))
    given = draft_holders(part, items, context) if held else _pocket(part, items, context)
    if any(each.severity is Severity.ERROR for each in given.findings):
        return DraftedPart(findings=given.findings)
    sizes = _sizes(part, items, given, context, closing)
    fault = next(_faults(part, sizes, closing), None)
    if fault is not None:
        return DraftedPart(findings=(fault,))
    closed = _closed(part, sizes, context, closing)
    if closed.findings:
        return DraftedPart(findings=closed.findings)
    return msgspec.structs.replace(
        given,
        pieces=(_body(part, items, sizes, given, closed), *given.pieces, *closed.pieces),
        base_lines=(),
        seams=(*(() if held else _row_round(part, sizes, given)), *_hems(part), *closed.seams),
        openings=closed.openings,
        fittings=closed.fittings,
        items_on=(part.name, *given.items_on),
    )


class _ClosingRoom(msgspec.Struct, frozen=True):
    """What closes a roll takes of its base, mm: between mouth and fold, of its margin; how far in from the
    edge something is turned or sewn, and of that the pocket's own row, none beside holders."""

    height: float
    margin: float
    off: float
    inset: float


def _closing_room(part: Part, context: PartContext) -> _ClosingRoom:
    """The eyelet with its rim clear of all, or the strap with its row; nothing where neither is asked for."""
    held = part.word("holds") == "holders"
    inset = 0.0 if held else context.seams[part.name].stitching.inset
    off = max(part.size("hem"), inset)
    match part.word("closed_by"):
        case "tie":
            rim = _rim(part)
            return _ClosingRoom(2 * rim, off + 2 * rim - inset, off, inset)
        case "buckle":
            fixed = fixed_strap(part, context, off)
            return _ClosingRoom(fixed.room, fixed.margin - inset, off, inset)
        case _:
            return _ClosingRoom(0.0, 0.0, off, inset)


def _rim(part: Part) -> float:
    """From the eyelet's middle to what lies beside it."""
    return max(part.size("eye_cap"), part.size("eye_hole")) / 2 + BESIDE_EYE


def _closed(part: Part, sizes: RollSizes, context: PartContext, closing: _ClosingRoom) -> DraftedPart:
    """What closes it: a strap with a buckle, or an eyelet and a tie, or nothing of its own."""
    if part.word("closed_by") == "buckle":
        place = StrapPlace(
            sizes.width, sizes.mouth, sizes.fold, closing.off, closing.inset, sizes.tight, sizes.rolled
        )
        return draft_closing(part, context, place)
    if part.word("closed_by") == "none":
        return DraftedPart()
    return DraftedPart(
        openings=(DraftedOpening(f"{part.name} eye", ((part.name, (sizes.eye,)),)),),
        fittings=(DraftedFitting(f"{part.name} tie", length=sizes.tie),),
    )


def _pocket(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """A flat pocket on the roll's base."""
    base, pocket = context.pieces[part.name], context.pieces[f"{part.name} pocket"]
    inner = PartContext(base, {part.name: pocket}, context.seams, context.openings)
    given = draft_flat_pocket(part.stating("dividers", True), items, inner)
    if given.standing is None:
        return given
    return msgspec.structs.replace(given, standing=msgspec.structs.replace(given.standing, base=part.name))


def _body(
    part: Part, items: Sequence[Item], sizes: RollSizes, given: DraftedPart, closed: DraftedPart
) -> DraftedPiece:
    text = part.source.units.text
    note = f"the upper {text(sizes.flap)} fold down over the tools as a flap"
    if part.word("closed_by") != "tie":
        note += f"; rolled up it is about {text(float(round(sizes.rolled)))} round"
        note += ": the girth for its strap" if part.word("closed_by") == "none" else ""
    outline = rectangle_corners(sizes.width, sizes.height, foot=0.0, mouth=0.0)
    folds = (_flap_fold(sizes, items),)
    lines = (*given.base_lines, *closed.base_lines)
    return DraftedPiece(part.name, outline, lines=lines, folds=folds, note=note)


def _row_round(part: Part, sizes: RollSizes, given: DraftedPart) -> tuple[DraftedSeam, ...]:
    """Round the pocket, and the flap, where it holds what is turned there; else it ends at the mouth."""
    over = 0.0 if part.length("hem") is not None else sizes.height - sizes.mouth
    return tuple(
        msgspec.structs.replace(seam, ends=((over, over),)) if seam.name == part.name else seam
        for seam in given.seams
    )


def _hems(part: Part) -> tuple[DraftedSeam, ...]:
    """The rows that hold hems."""
    if part.length("hem") is None:
        return ()
    hems = ("top",) if part.word("holds") == "holders" else ("mouth", "top")
    return tuple(DraftedSeam(f"{part.name} {hem}", ends=(HEM_ENDS,)) for hem in hems)


def _flap_fold(sizes: RollSizes, items: Sequence[Item]) -> FoldLine:
    """The flap comes forward over what stands highest: the side that does not show is outside."""
    line = ((0.0, sizes.fold), (sizes.width, sizes.fold))
    radius = max(item.thickness for item in items) / 2
    return FoldLine("flap", line, out=Side.GRAIN, angle_degrees=180.0, radius=radius)


def _sizes(
    part: Part, items: Sequence[Item], given: DraftedPart, context: PartContext, closing: _ClosingRoom
) -> RollSizes:
    """The base round a pocket, or a row of holders, that is drafted."""
    assert given.standing is not None, "what is drafted stands"
    (cover,) = given.pieces
    _, _, width, mouth = given.standing.place.bounds()
    if part.word("holds") == "holders":  # a pocket has its margin in itself
        width += part.size("margin")
    tops = [each.path.bounds()[3] for each in given.items]
    thick = [item.thickness for item in items]
    fold = max(max(mouth, *tops) + max(thick) + OVER_TOOLS, mouth + closing.height)
    cloth = 2 * context.pieces[part.name].thickness + context.pieces[cover.name].thickness
    rolled = [
        Rolled(_middle(each), item.width, item.thickness, item.diameter is not None)
        for each, item in zip(given.items, items, strict=True)
    ]
    tight = tightest(rolled, width, cloth)
    return RollSizes(
        width,
        mouth,
        fold,
        part.length("flap") or min(fold - min(mouth - PAST_MOUTH, *tops), fold),
        fold - min(tops),
        (width - closing.off - _rim(part), (mouth + fold) / 2),
        max(tight, coil_girth(rolled, width, cloth)),
        tight,
    )


def _middle(item: ItemOutline) -> float:
    left, _, right, _ = item.path.bounds()
    return (left + right) / 2


def _faults(part: Part, sizes: RollSizes, closing: _ClosingRoom) -> Iterator[Finding]:
    """Measures that are too small, or a flap that is folded down past the foot."""
    flap, where = sizes.flap, part.source.at
    widest = min(sizes.mouth, sizes.width) / 2 - HEM_APART
    if part.size("hem") > widest + SAME_POINT:
        yield finding("roll-hem", where("hem"), hem=part.size("hem"), most=tenth_below(widest))
    if not sizes.least_flap - SAME_POINT <= flap <= sizes.fold + SAME_POINT:
        told = {"flap": flap, "least": tenth_above(sizes.least_flap), "most": sizes.fold}
        yield finding("roll-flap", where("flap"), **told)
    if part.word("closed_by") == "tie" and part.size("margin") < closing.margin - SAME_POINT:
        least = tenth_above(closing.margin)
        yield finding("roll-margin", where("margin"), margin=part.size("margin"), least=least)
