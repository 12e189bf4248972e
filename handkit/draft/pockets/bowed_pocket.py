r"""Bowed pocket: a front that lies flat at its foot and stands off the base at its mouth.

In: a part, its items from left to right, its context. Out: the front with slanted sides, the lines of
the base, mouth rivets, and where the items lie.

       D ________________ C       Foot and base are equally wide. The mouth is as long as its bow over
        \                /        the items (see `bow.py`): half of what it is longer stands out on
         \              /         either side. The sides are a little longer than the base's lines;
        A `------------´ B        the seam tells by how much.

With a hem the front has letters A to H: the mouth is C-H, and the hem stands on it from D to G, clear of
the seams and rivets; it is folded behind at the mouth.

The part's `at` is the lower left corner of the pocket's place, `width` by `height`; the base's lines
lie the inset inside it. How far the drafting holds stands in `bow.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from math import ceil, floor

import msgspec

from handkit.draft.parts.drafted import (
    DraftedOpening,
    DraftedPart,
    DraftedPiece,
    DraftedSeam,
    PartContext,
    Standing,
)
from handkit.draft.parts.item_fit import ease_for, girth_fit, prolonged, standing_out
from handkit.draft.parts.outlines import foot_radius, item_outlines
from handkit.draft.parts.rooms import bowed, pocket_place
from handkit.draft.pattern import ItemFit, RoomProfile
from handkit.draft.pockets.bowed_front import Front
from handkit.draft.sizes.bow import bow_height, bow_length, mouth_dip, mouth_height
from handkit.draft.sizes.section import Section, section_of
from handkit.findings import Finding, finding
from handkit.kinds.materials import Material
from handkit.kinds.openings import Clearance
from handkit.read.project import FoldLine, InnerLine, Item, Part, Piece, Stitching
from handkit.tolerances import SAME_POINT
from handkit.wording.figures import Units

# Of a pocket without rivets.
NO_RIVET = Clearance(0.0, 0.0, 0.0)

# So far an item may lie below the mouth of a pocket that would else be too low, mm: common practice, no
# source.
_DEEPER = 10.0


class Wanted(msgspec.Struct, frozen=True):
    """What a front is drafted from; `rivet` is what a rivet at the mouth needs."""

    part: Part
    sections: tuple[Section, ...]
    longest: float
    thickness: float
    inset: float
    rivet: Clearance

    def place(self) -> Front:
        """The pocket's place as stated, or as its items need, with its inset and what a rivet needs; the
        mouth lies flat as yet.

        Where no width is stated the base is as wide as the items, the front's thickness, and once more
        the tallest item: near the least leather that holds them. Common practice, no source.
        """
        part, rivet, tallest = self.part, self.rivet, max(section.height for section in self.sections)
        wide = sum(section.width for section in self.sections) + self.thickness + tallest
        width = part.length("width") or wide + 2 * max(self.inset, rivet.edge)
        height = _height(part, self.longest, self.inset)
        place = Front(width=width, height=height, inset=self.inset, rivet=rivet.edge, clear=rivet.stitch)
        return place.with_mouth(place.mouth_base)

    def front(self) -> tuple[Front, float]:
        """The front with its bow, and how far the middle of its mouth stands off the base."""
        place, stated = self.place(), self.part.length("mouth")
        rise = stated or mouth_height(self.sections, base=place.mouth_base, thickness=self.thickness)
        return place.with_mouth(bow_length(place.mouth_base, rise)), rise

    def stating(self, key: str, size: float) -> Wanted:
        """The same of a part that states another size."""
        return msgspec.structs.replace(self, part=self.part.stating(key, float(size)))

    def first(
        self, key: str, radius: float, stitching: Stitching, *, after: float, to: float
    ) -> float | None:
        """The first size after one with which a side's stitches stand far enough apart on the base, in whole
        steps up, or down, to another."""
        step = self.part.source.units.whole
        first, last = (
            (floor(after / step) + 1, floor(to / step))
            if to > after
            else (ceil(after / step) - 1, ceil(to / step))
        )
        steps = range(first, last + 1) if to > after else range(first, last - 1, -1)
        return next((step * k for k in steps if self.stating(key, step * k).sews(radius, stitching)), None)

    def heights(self, radius: float, stitching: Stitching, *, above: float) -> Iterator[float]:
        """Heights with which they do, the least first; no deeper than an item may lie below the mouth."""
        highest, step = self.place().inset + self.longest + _DEEPER, self.part.source.units.part
        finer = (step * k for k in range(ceil(above / step - SAME_POINT), floor(highest / step) + 1))
        return (each for each in (above, *finer) if self.stating("height", each).sews(radius, stitching))

    def sews(self, radius: float, stitching: Stitching) -> bool:
        """Whether a side's stitches stand far enough apart on the base."""
        return self.front()[0].stitches_apart(stitching.pitch, radius) >= stitching.least_step - SAME_POINT


def _height(part: Part, longest: float, inset: float) -> float:
    """Of the place: stated, or by what the longest item shows."""
    return part.length("height") or inset + longest - part.size("shows")


def draft_bowed_pocket(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The front and its lines; a place that is too narrow or too low for it is refused."""
    piece = context.pieces[part.name]
    seams = [f"{part.name}, {side}" for side in ("foot", "left", "right")]
    inset, apart = context.shared_inset(*seams)
    stitching = context.seams[seams[1]].stitching
    longest = max(item.length for item in items)
    items = tuple(item.going_in(_height(part, longest, inset) - inset) for item in items)
    sections = tuple(
        section_of(item).eased(ease_for(part, piece.material, item.width, item.uncertainty).wanted)
        for item in items
    )
    needs = context.openings[f"{part.name} rivets"].clearance if part.flag("rivets") else NO_RIVET
    wanted = Wanted(part, sections, longest, piece.thickness, inset, needs)
    radius = foot_radius(part, piece)
    faults = (*apart, *_faults(wanted, piece, radius, stitching))
    steep = None if faults else _too_steep(wanted, radius, stitching)
    if faults or steep:
        return DraftedPart(findings=(*faults, *([steep] if steep else ())))
    front, height = wanted.front()
    hem = part.length("hem")
    if hem is not None and front.hem_length <= 0:
        return DraftedPart(findings=(_no_hem(part, front),))
    return DraftedPart(
        pieces=(
            DraftedPiece(
                part.name,
                front.corners(hem, radius),
                folds=() if hem is None else (FoldLine(f"{part.name} mouth", front.hem_ends()),),
                note=_note(front, hem, part.source.units),
            ),
        ),
        base_lines=tuple(
            InnerLine(f"{part.name} {side}", points)
            for side, points in zip(("left", "foot", "right"), front.base_lines(radius), strict=True)
        ),
        seams=_seams(part, front),
        openings=_rivets(part, front),
        items=item_outlines(items, width=front.width, foot=front.inset),
        fits=_fits(part, items, front, piece.material, piece.thickness),
        standing=_standing(part, front, height, radius),
        findings=tuple(
            told for item in items for told in standing_out(part, item, front.height - front.inset)
        ),
    )


def _standing(part: Part, front: Front, height: float, radius: float) -> Standing:
    """Flat at the foot's row, an arc at the mouth."""
    off = front.inset + front.beside
    flat, arc = (bowed(off, front.width - off, each) for each in (0.0, height))
    place = pocket_place(front.width, front.height, (radius, radius))
    return Standing(part.name, place, (RoomProfile(front.inset, flat), RoomProfile(front.height, arc)))


def _note(front: Front, hem: float | None, units: Units) -> str:
    """What the maker should know at the bench."""
    dip = mouth_dip(
        base=front.base, height=bow_height(front.base, front.mouth), depth=front.height - front.inset
    )
    folded = "" if hem is None else "fold the hem behind and glue it down before the sides are sewn; "
    return f"{folded}filled, the mouth's middle stands about {units.about.text(dip)} lower"


def _faults(wanted: Wanted, piece: Piece, radius: float, stitching: Stitching) -> Iterator[Finding]:
    """A place too narrow for its items, too low for a stitch at the sides, or with a foot too round
    for one; the foot's corners must be alike."""
    part, place = wanted.part, wanted.place()
    held = sum(section.width for section in wanted.sections) + piece.thickness
    narrowest = held + place.width - place.mouth_base
    lowest = 2 * place.inset + place.first_stitch + stitching.pitch
    narrow, low = place.width < narrowest - SAME_POINT, place.height < lowest - SAME_POINT
    if narrow:
        where = part.source.at("width")
        yield finding("part-too-narrow/bowed", where, width=place.width, least=narrowest)
    if low:
        where = part.source.at("height" if part.length("height") else "shows")
        least = lowest if narrow else next(wanted.heights(radius, stitching, above=lowest), lowest)
        yield finding("part-too-low/bowed", where, height=place.height, least=least)
    if narrow or low:
        return
    most = place.inset + min(place.base / 2, place.height - lowest)
    own = [corner.radius for corner in piece.corners[:2]] if "round" in piece.stated else []
    if radius > most + SAME_POINT or any(each != radius for each in own):
        key = "part-too-round" if radius > most else "part-too-round/unlike"
        where = (piece.source if own else part.source).at("round")
        radii = " and ".join(part.source.units.text(each) for each in own or [radius])
        yield finding(key, where, radii=radii, most=most)


def _too_steep(wanted: Wanted, radius: float, stitching: Stitching) -> Finding | None:
    """A bow so steep that a side's stitches, as many as the longer front takes at its pitch, stand too close
    on the base; with a size that mends it, which is tried. `radius` rounds the foot.
    """
    part, (front, _) = wanted.part, wanted.front()
    apart, least = front.stitches_apart(stitching.pitch, radius), stitching.least_step
    if apart >= least - SAME_POINT or stitching.pitch < least:
        return None
    on_front, on_base = front.side_lengths(radius)
    told: dict[str, object] = {"height": front.height, "ease": on_front / on_base - 1, "base": part.on}
    told |= {"apart": apart, "least": least}
    steps = partial(wanted.first, radius=radius, stitching=stitching)
    tight, mouth = wanted.stating("mouth", 0.0).front()[1], part.size("mouth")
    if mouth > tight and (size := steps("mouth", after=mouth, to=tight)):
        return finding("part-too-low/bow-mouth", part.source.at("mouth"), **told, size=size)
    shows = None if part.length("height") else steps("shows", after=part.size("shows"), to=0.0)
    if shows is not None:
        return finding("part-too-low/bow-shows", part.source.at("shows"), **told, size=shows)
    if size := next(wanted.heights(radius, stitching, above=front.height), None):
        return finding("part-too-low/bow-height", part.source.at("height"), **told, size=size)
    if size := steps("width", after=front.width, to=4 * front.width):
        return finding("part-too-low/bow-width", part.source.at("width"), **told, size=size)
    return finding("part-too-low/bow", part.source.at(), **told)


def _no_hem(part: Part, front: Front) -> Finding:
    taken = front.mouth - front.hem_length  # by seams and rivets at both ends
    return finding("hem-without-room", part.source.at("hem"), mouth=front.mouth, taken=taken)


def _seams(part: Part, front: Front) -> tuple[DraftedSeam, ...]:
    """The sides begin clear of the rivets, at the same share of their length on front and base."""
    off = front.first_stitch
    if not off:
        return ()
    slanted = off * front.side_share
    return (
        DraftedSeam(f"{part.name}, left", ends=((slanted, 0.0), (off, 0.0))),
        DraftedSeam(f"{part.name}, right", ends=((0.0, slanted), (0.0, off))),
    )


def _rivets(part: Part, front: Front) -> tuple[DraftedOpening, ...]:
    """One at each end of the mouth, on front and base."""
    if not front.rivet:
        return ()
    y, inside = front.height - front.rivet, front.rivet
    on_base = ((inside, y), (front.width - inside, y))
    places = ((part.name, front.rivets()), (part.on or "", on_base))
    return (DraftedOpening(f"{part.name} rivets", places),)


def _fits(
    part: Part, items: tuple[Item, ...], front: Front, material: Material, thickness: float
) -> tuple[ItemFit, ...]:
    """The room under the mouth: every item tells the same, in its own limits."""
    sections = [section_of(item) for item in items]
    most = (front.mouth_base - thickness - sum(section.width for section in sections)) / len(sections)

    def way(ease: float) -> float:
        eased = [section.eased(ease) for section in sections]
        return bow_length(front.mouth_base, mouth_height(eased, base=front.mouth_base, thickness=thickness))

    given, known = front.mouth - 2 * front.beside, prolonged(way, most)
    eases = [ease_for(part, material, item.width, item.uncertainty) for item in items]
    return tuple(
        girth_fit(part, item, ease, given=given, way=known) for item, ease in zip(items, eases, strict=True)
    )
