"""Strap: a buckle folded in at one end, tongue holes for stated girths, a point at the other.

In: a part, its context. Out: the strap with its fold, rows, slot and holes, its lining, padding and keepers.

                 fold               y up; A is the butt's lower corner. The buckle's end is at the left and
    E┌──── ──── ──╪── ──── ────┐        D    turned back at the fold; a taper begins where the butt ends.
     │             =            │ o o o  >C  The middle hole is at the usual girth, and the point lies behind
    A└──── ──── ──╪── ──── ────┘        B    the last one.

Girth is measured on the inside of the strap, from the bar's inside face to the hole: that is what lies on the
body, and what a tape tells. The middle of the leather keeps its length (`inside_girth`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

import msgspec

from handkit.draft.parts.drafted import (
    DraftedFitting,
    DraftedOpening,
    DraftedPart,
    DraftedPiece,
    DraftedSeam,
    PartContext,
)
from handkit.draft.parts.outlines import corners_of
from handkit.draft.parts.strap_measures import Strap, keepers_of, strap_faults, strap_of
from handkit.geometry.affine import Point
from handkit.kinds.materials import MATERIALS
from handkit.read.project import Edges, FoldLine, InnerLine, Item, Part, Piece, Skive

FOLD = "buckle"

# A turned end is thinned so far in, in thicknesses, and to this share of one (common practice, no source).
SKIVED, LEFT = 7.0, 0.4


def draft_strap(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The strap for its girths; measures that leave no room for its holes and rows are refused."""
    strap = strap_of(part, context)
    _, faults = context.shared_inset(*(seam.name for seam in strap.rows))
    fault = next(chain(faults, strap_faults(strap)), None)
    if fault is not None:
        return DraftedPart(findings=(fault,))
    middle = strap.width / 2
    fixed = zip(keepers_of(part, context), strap.end.keepers, strict=False)
    slot = (2.0 * strap.end.slot, strap.hole)
    return DraftedPart(
        pieces=(
            _body(strap),
            *([_lining(strap, strap.lining)] if strap.lining else []),
            *_padding(strap),
            *_strips(strap, context),
        ),
        openings=(
            DraftedOpening(f"{part.name} slot", ((part.name, ((float(strap.end.butt), middle),)),), slot),
            DraftedOpening(f"{part.name} holes", tuple(_holes(strap))),
        ),
        seams=(DraftedSeam(f"{part.name} lining", ends=_lining_ends(strap)),) if strap.padding else (),
        fittings=tuple(DraftedFitting(name, from_fold=start) for name, start in fixed),
    )


def _strips(strap: Strap, context: PartContext) -> Iterator[DraftedPiece]:
    """The keepers' strips."""
    for k, (name, keeper) in enumerate(zip(keepers_of(strap.part, context), strap.keepers, strict=True)):
        near, far = (line.name for line in context.pieces[name].lines)
        yield keeper.strip(name, (near, far), at_fold=k < strap.part.count("keepers"))


def _body(strap: Strap) -> DraftedPiece:
    """The strap itself."""
    part, fold = strap.part, strap.end.butt
    taper = (strap.behind_butt,) if part.length("tip") is not None else ()
    near = strap.lined_in if strap.padding else strap.aside
    rounded = min(strap.width / 6, strap.aside, near)  # no hole stands beside the corner's arc
    outline = _outline(strap, 0.0, taper, rounded)
    corners = outline.corners
    line = ((float(fold), 0.0), (float(fold), strap.width))
    bend = FoldLine(FOLD, line, angle_degrees=180.0, radius=strap.end.bar / 2, stays=corners[1].letter)
    return msgspec.structs.replace(
        outline,
        lines=_rows(strap),
        folds=(bend,),
        grain_degrees=0.0,
        note="cut along the back of the hide, where it stretches least" if _hide(strap.piece) else "",
        skives=_skives(strap, Edges((corners[-1].letter, corners[0].letter))),
    )


def _hide(piece: Piece) -> bool:
    return MATERIALS[piece.material].is_leather


def _skives(strap: Strap, butt: Edges) -> tuple[Skive, ...]:
    """The butt of leather, thinned so that it makes no step; no farther than half the way to the fold."""
    thick = strap.piece.thickness
    wide = round(min(SKIVED * thick, strap.end.butt / 2))
    return (Skive(butt, float(wide), round(LEFT * thick, 1)),) if _hide(strap.piece) else ()


def _outline(
    strap: Strap, start: float, taper: Sequence[float], butt: float, wide: Sequence[Point] = ()
) -> DraftedPiece:
    """The outline from the lower corner at a start round the point; a `taper` begins there, `butt` is the
    radius of the corners at the start, `wide` are places further on its lower edge, alike on the upper one.
    """
    width, point = strap.width, strap.point
    lower = ((start, 0.0), *((x, 0.0) for x in taper), *wide, strap.shoulder)
    upper = tuple((x, width - y) for x, y in reversed(lower))
    places = (*lower, *([(strap.length, width / 2)] if point.tipped else []), *upper)
    shoulder = len(lower) - 1
    arcs = (shoulder, shoulder + 1) if point.tipped else ()
    shoulders = (shoulder, len(places) - len(upper))
    radii = [point.radius if k in shoulders else 0.0 for k in range(len(places))]
    return DraftedPiece(
        strap.part.name,
        corners_of(places, (butt, *radii[1:-1], butt)),
        tuple(point.sagitta if k in arcs else 0.0 for k in range(len(places))),
    )


def _lining(strap: Strap, lining: Piece) -> DraftedPiece:
    """From behind the butt round the point: mirrored, for its showing side is the far one."""
    start, pad = strap.behind_butt, strap.padding
    wide = pad.widened(strap.holes[0], (start, 0.0), strap.shoulder) if pad is not None else ()
    outline = _outline(strap, start, (), 0.0, wide)
    corners = tuple(
        msgspec.structs.replace(each, at=(strap.length - each.at[0], each.at[1])) for each in outline.corners
    )
    at = (strap.length, 0.0)
    return DraftedPiece(lining.name, corners, outline.sagittas, at=at, grain_degrees=180.0)


def _holes(strap: Strap) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """Where the tongue holes are, on a lining that a padding lifts too: that lies in no plan."""
    middle = strap.width / 2
    yield strap.part.name, tuple((x, middle) for x in strap.holes)
    if strap.padding is not None and strap.lining is not None:
        yield strap.lining.name, tuple((strap.length - x, middle) for x in strap.holes)


def _padding(strap: Strap) -> Iterator[DraftedPiece]:
    """Between strap and lining."""
    if strap.padding is not None:
        yield strap.padding.piece(f"{strap.part.name} padding", strap.width, strap.holes[0])


def _lining_ends(strap: Strap) -> tuple[tuple[float, float], ...]:
    """The lining's row on the lining, and on the strap: there it begins behind the butt."""
    return (0.0, 0.0), (strap.behind_butt, strap.behind_butt)


def _rows(strap: Strap) -> tuple[InnerLine, ...]:
    """The rows on both leaves, each from the fold on, so that they meet once it is folded."""
    fold, count = strap.end.butt, len(strap.end.rows)
    lines: list[InnerLine] = []
    for k, seam in enumerate(strap.rows):
        y = strap.aside if k < count else strap.width - strap.aside
        start, end = strap.end.rows[k % count]
        for layer, way in zip(seam.layers, (-1, 1), strict=False):
            lines.append(InnerLine(str(layer.run), ((fold + way * start, y), (fold + way * end, y))))
    return tuple(lines)
