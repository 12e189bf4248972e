"""Bag walls: the gusset of a bag, in one strip or three, and the seams along it.

In: a bag's sizes. Out: the strips as seen from outside, and which places and sides of them must meet.

    D ──── C   D ──── C      Left and right stand beside the front, the base lies under it; each as wide as
    │ left │   │right │      the bag is deep, an inset outside its stitch lines all round.
    A ──── B   A ──── B
     D ────────── C          back: left D-A, base A-B, right B-C
     │    base    │          front: left C-B, base D-C, right D-A
     A ────────── B
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.parts.drafted import DraftedPiece, DraftedSeam, PartContext
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.pattern import FacesMet, PieceMark
from handkit.draft.pockets.box_fixings import fixings
from handkit.draft.pockets.box_marks import meet_on_foot, meets_on_gusset
from handkit.draft.sizes.bag_sizes import ZIP_GAP, BagSizes, folded_inwards
from handkit.geometry.straight import Straight
from handkit.read.project import Edges, FoldLine, MatchPoint, Part, Piece, Seam, Side


def strip_names(part: Part) -> tuple[str, ...]:
    """The strips of the gusset."""
    words = ("gusset",) if part.word("strips") == "one" else ("left", "right", "base")
    return tuple(f"{part.name} {word}" for word in words)


def wall_seam_names(part: Part) -> tuple[str, ...]:
    """The seams along them, those to front and back first."""
    panels = tuple(f"{part.name}, {panel}" for panel in ("front", "back"))
    if part.word("strips") == "one":
        return panels
    sides = tuple(f"{panel} {side}" for panel in panels for side in ("left", "foot", "right"))
    return (*sides, f"{part.name}, left", f"{part.name}, right")


def wall_pieces(part: Part, sizes: BagSizes) -> tuple[DraftedPiece, ...]:
    """The strips, their grain along them; folded inwards along the middle of their ends under a zip."""
    box = sizes.box
    inwards = min(max(sizes.leans, ZIP_GAP), box.height - box.radius - box.inset)
    if sizes.strips == 1:
        long, y = box.gusset_length, box.gusset_width / 2
        strip = rectangle_corners(long, box.gusset_width, foot=0.0, mouth=0.0)
        folds = _folds(part, left=((0.0, y), (inwards, y)), right=((long, y), (long - inwards, y)))
        note = _folded(folds, box.depth, "ends")
        return (DraftedPiece(f"{part.name} gusset", strip, folds=folds, note=note, grain_degrees=0.0),)
    side = rectangle_corners(box.gusset_width, box.height, foot=0.0, mouth=0.0)
    x, top = box.gusset_width / 2, box.height
    folds = _folds(part, mouth=((x, top), (x, top - inwards)))
    base = rectangle_corners(box.width, box.gusset_width, foot=0.0, mouth=0.0)
    note = _folded(folds, box.depth, "end at the mouth")
    return (
        DraftedPiece(f"{part.name} left", side, folds=folds, note=note),
        DraftedPiece(f"{part.name} right", side, folds=folds, note=note),
        DraftedPiece(f"{part.name} base", base, grain_degrees=0.0),
    )


def _folds(part: Part, **ends: Straight) -> tuple[FoldLine, ...]:
    """Inwards at its ends, of a bag with a zip."""
    zipped = part.word("closed_by") == "zip"
    return tuple(FoldLine(f"{end}, inwards", line) for end, line in ends.items() if zipped)


def _folded(folds: Sequence[FoldLine], depth: float, ends: str) -> str:
    """How its ends are folded, which a line alone does not tell: less and less down that line."""
    if not folds:
        return ""
    return (
        f"fold its {ends} inwards along the middle, outside on outside over the edge of a rule: "
        f"{folded_inwards(depth):.0f}° at the mouth, less and less down the line, flat where that ends"
    )


def wall_seams(part: Part, sizes: BagSizes, context: PartContext) -> tuple[DraftedSeam, ...]:
    """Where the seams begin under the mouth, which sides meet, and of one strip the middles of the foot."""
    made = (context.seams[name] for name in wall_seam_names(part))
    return tuple(_wall_seam(part, sizes, context, seam) for seam in made)


def _wall_seam(part: Part, sizes: BagSizes, context: PartContext, seam: Seam) -> DraftedSeam:
    pieces = [context.pieces[layer.piece] for layer in seam.layers[:2]]
    (one, its), (other, others) = ((piece.name, _met(part, piece)) for piece in pieces)
    ends = tuple(
        _ends(part, sizes, piece, layer.run) for piece, layer in zip(pieces, seam.layers, strict=False)
    )
    matches: tuple[MatchPoint, ...] = ()
    if sizes.strips == 1:
        low, high = sizes.box.inset, sizes.box.gusset_width - sizes.box.inset
        y = low if one == f"{part.name} front" else high
        matches = tuple(MatchPoint((at, (x, y))) for x, at in fixings(sizes.box, seam.stitching))
    return DraftedSeam(seam.name, matches, ends, FacesMet(one, its, other, others))


def _met(part: Part, piece: Piece) -> Side:
    """The side on which others lie along a wall: inside the bag, for the gusset's edges turn outwards; sewn
    inside out, outside. The back shows its inside."""
    inside = piece.shows if piece.name == f"{part.name} back" else piece.shows.other
    return inside if part.length("allowance") is None else inside.other


def _ends(part: Part, sizes: BagSizes, piece: Piece, run: Edges | str | None) -> tuple[float, float]:
    """How far a run begins and ends under its mouth, and under its flap; of a strip, under its own end."""
    if not isinstance(run, Edges):
        return 0.0, 0.0
    if piece.name not in (f"{part.name} front", f"{part.name} back"):
        mouths = {"gusset": "ABCD", "base": ""}.get(piece.name.removeprefix(f"{part.name} "), "CD")
        first, last = (sizes.under if run.letters[k] in mouths else 0.0 for k in (0, -1))
        return first, last
    over = sizes.flap.end - sizes.box.height if sizes.flap and piece.name == sizes.flap.piece else 0.0
    below = sizes.under + over
    return (below if run.letters[0] == "D" else 0.0), (below if run.letters[-1] == "C" else 0.0)


def wall_marks(part: Part, sizes: BagSizes) -> tuple[tuple[str, PieceMark], ...]:
    """Where the middles of front, back and gusset meet."""
    if sizes.strips != 1:
        return ()
    panels = tuple((f"{part.name} {panel}", meet_on_foot(sizes.box)) for panel in ("front", "back"))
    return (*panels, *((f"{part.name} gusset", mark) for mark in meets_on_gusset(sizes.box)))
