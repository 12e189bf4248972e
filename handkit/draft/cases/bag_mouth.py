"""Bag mouth: zip, flap and handles of a bag.

In: the part and its sizes. Out: handles with the rows that hold their ends, lines for them on front and back,
a zip's length, a flap's folds.

A handle's ends are each held by a row down one edge, along its end and up the other. Its left end is the left
one as seen from outside: on the back, which is drawn as seen from inside, its place is mirrored.
"""

from __future__ import annotations

from math import floor

from handkit.draft.parts.drafted import DraftedFitting, DraftedPiece, PartContext
from handkit.draft.parts.outlines import rectangle_corners
from handkit.draft.sizes.bag_sizes import BagSizes, FlapSizes, HandleSizes
from handkit.draft.sizes.box_sizes import BoxSizes
from handkit.geometry.affine import Point
from handkit.read.project import FoldLine, InnerLine, Part, Side
from handkit.tolerances import SAME_POINT

# A handle's end is sewn along this many times its width, and its row ends this many pitches under what is
# sewn along the mouth (common practice, no source).
TAB, CLEAR = 1.5, 2.0

# How far a flap that is sewn on outside the back reaches down it, and keeps off its sides, mm (common
# practice, no source).
LAP, OFF_SIDE = 20.0, 3.0

# How far a zip's teeth keep off the gusset's walls, in which steps they are told, and the shortest that opens
# anything, mm (common practice, no source).
OFF_WALL, ZIP_STEP, LEAST_ZIP = 3.0, 5.0, 40.0


def handles_of(part: Part, inset: float, pitch: float) -> HandleSizes | None:
    """Handles as far as the part decides them; how far apart their ends are hangs on the front."""
    drop, width = part.length("drop"), part.size("strap")
    if drop is None:
        return None
    below = max(part.size("hem"), inset) + CLEAR * pitch
    return HandleSizes(width, 0.0, drop, below, max(TAB * width, 2 * inset + pitch))


def least_for_handles(handles: HandleSizes, box: BoxSizes, inset: float) -> tuple[float, float]:
    """How wide and how high a front is at the least: both ends of a handle clear of the rows beside them, and
    of the foot's."""
    return 4 * (handles.width / 2 + 2 * inset), handles.below + handles.tab + max(box.radius, 2 * inset)


def handle_pieces(part: Part, sizes: BagSizes) -> tuple[DraftedPiece, ...]:
    """Both handles, drawn along x, on their panels in plan."""
    handles = sizes.handles
    if handles is None:
        return ()
    long, wide = handles.length, handles.width
    outline = rectangle_corners(long, wide, foot=0.0, mouth=0.0)
    left = _row(handles.tab, wide, sizes.inset)
    right = tuple((long - x, y) for x, y in left)
    lines = (InnerLine("left", left), InnerLine("right", right))
    at = (sizes.box.width - long) / 2, sizes.box.height
    names = (f"{part.name} {panel} handle" for panel in ("front", "back"))
    return tuple(
        DraftedPiece(name, outline, lines=lines, at=(at[0] + over, at[1]), grain_degrees=0.0)
        for name, over in zip(names, (0.0, long), strict=True)
    )


def handle_lines(part: Part, sizes: BagSizes, panel: str) -> tuple[InnerLine, ...]:
    """The rows on a panel: an end of the strip hangs down from the mouth, its row as far from its edges."""
    handles, box = sizes.handles, sizes.box
    if handles is None:
        return ()
    end = box.height - handles.below - handles.tab
    row = _row(handles.tab, handles.width, sizes.inset)
    outside = tuple((box.width / 4 + handles.width / 2 - y, end + x) for x, y in row)
    mirrored = tuple((box.width - x, y) for x, y in outside)
    left, right = (outside, mirrored) if panel == "front" else (mirrored, outside)
    return (InnerLine("left handle", left), InnerLine("right handle", right))


def _row(tab: float, width: float, inset: float) -> tuple[Point, ...]:
    """Along the outer edge to a strip's end at x = 0, across and back along the inner one."""
    return ((tab, width - inset), (inset, width - inset), (inset, inset), (tab, inset))


def zip_length(part: Part, sizes: BagSizes) -> tuple[DraftedFitting, ...]:
    """The zip's teeth: from wall to wall, in whole steps. Its tapes go on from there to the panels' edges."""
    if part.word("closed_by") != "zip":
        return ()
    room = sizes.box.width - 2 * max(sizes.box.wall + OFF_WALL, sizes.inset)
    return (DraftedFitting(f"{part.name} zip", floor(room / ZIP_STEP + SAME_POINT) * ZIP_STEP),)


def least_for_zip(part: Part, box: BoxSizes, inset: float) -> float:
    """How wide a front with a zip is at the least."""
    return LEAST_ZIP + 2 * max(box.wall + OFF_WALL, inset) if part.word("closed_by") == "zip" else 0.0


def zip_seam_names(part: Part) -> tuple[str, ...]:
    """The rows that sew a zip in."""
    panels = ("front", "back") if part.word("closed_by") == "zip" else ()
    return tuple(f"{part.name} zip, {panel}" for panel in panels)


def flap_of(part: Part, context: PartContext, box: BoxSizes) -> FlapSizes | None:
    """The flap over what the bag is deep and the front thick, and over the back where it is sewn on outside;
    half of the front where nothing is stated."""
    if not part.has_flap:
        return None
    back, front = (context.pieces[f"{part.name} {panel}"] for panel in ("back", "front"))
    own = context.pieces.get(f"{part.name} flap")
    down, across = part.length("flap") or box.height / 2, box.depth + front.thickness
    if own is None:
        return FlapSizes(back.name, box.height, across, down, back.thickness)
    row = context.seams[own.name].stitching
    lap = max(LAP, part.size("hem") + row.pitch, 2 * row.inset)
    return FlapSizes(own.name, lap, across + back.thickness, down, own.thickness, OFF_SIDE)


def flap_folds(sizes: BagSizes, out: Side | None = None) -> tuple[FoldLine, ...]:
    """The bends over the mouth and down the front."""
    if sizes.flap is None:
        return ()
    wide, radius = sizes.box.width - 2 * sizes.flap.narrower, sizes.flap.radius
    return tuple(
        FoldLine(name, ((0.0, y), (wide, y)), out, 90.0, radius)
        for name, y in zip(("over", "down"), sizes.flap.folds, strict=True)
    )


def flap_pieces(part: Part, sizes: BagSizes) -> tuple[DraftedPiece, ...]:
    """A flap that is not one with the back: behind it, as seen from the front."""
    flap, box = sizes.flap, sizes.box
    if flap is None or flap.piece == f"{part.name} back":
        return ()
    outline = rectangle_corners(box.width - 2 * flap.narrower, flap.end, foot=0.0, mouth=0.0)
    at = (box.width - flap.narrower, box.height - flap.height)
    return (DraftedPiece(flap.piece, outline, folds=flap_folds(sizes), at=at),)
