"""Box marks: where the middles of front, gusset and base meet, and the notches of turned flanges.

In: a box, how it is stitched. Out: marks, in the frames of front, gusset and base. Notches are drawn
for evenly spaced holes: each cuts into the flange half-way between two holes of a corner, and ends
short of the fold; together they take out what the free edge has too much.
"""

from __future__ import annotations

from math import floor

from handkit.draft.pattern import PieceMark
from handkit.draft.pockets.box_fixings import corner_ways
from handkit.draft.sizes.box_sizes import BoxSizes
from handkit.geometry.affine import Point
from handkit.geometry.path import polyline
from handkit.read.project import MarkKind, Stitching

# How far a notch ends short of the fold: a cut that reaches it would tear on.
SHORT_OF_FOLD = 1.0

# Of a seam without an inset: how far in its marks reach, mm.
REACH = 6.0


def meet_on_foot(box: BoxSizes) -> PieceMark:
    """Of front and base: across the middle of the foot's stitch line."""
    middle = box.width / 2
    return _line(MarkKind.MEET, (middle, 0.0), (middle, _reach(box)))


def meets_on_gusset(box: BoxSizes) -> tuple[PieceMark, PieceMark]:
    """Across the middle of both its stitch lines."""
    middle, high, reach = box.gusset_length / 2, box.gusset_width, _reach(box)
    return (
        _line(MarkKind.MEET, (middle, 0.0), (middle, reach)),
        _line(MarkKind.MEET, (middle, high - reach), (middle, high)),
    )


def _reach(box: BoxSizes) -> float:
    return 2 * box.inset or REACH


def notch_count(box: BoxSizes, stitching: Stitching) -> int:
    """Notches at one corner of one flange: one between each two holes, as even spacing has them."""
    way, _ = corner_ways(box, stitching)
    return max(1, floor(way.on_u / stitching.pitch + 0.5))


def notch_width(box: BoxSizes, stitching: Stitching) -> float:
    """How wide each is at the free edge."""
    return box.excess(box.flange - box.thickness / 2) / notch_count(box, stitching)


def notches(box: BoxSizes, stitching: Stitching) -> tuple[PieceMark, ...]:
    """All of a turned gusset's, on both flanges; a plain one has none."""
    if not box.turned:
        return ()
    deep, half = box.fold_at - SHORT_OF_FOLD, notch_width(box, stitching) / 2
    marks: list[PieceMark] = []
    for x in _between_holes(box, stitching):
        for edge, tip in ((0.0, deep), (box.gusset_width, box.gusset_width - deep)):
            marks.append(_line(MarkKind.NOTCH, (x - half, edge), (x, tip), (x + half, edge)))
    return tuple(marks)


def _between_holes(box: BoxSizes, stitching: Stitching) -> tuple[float, ...]:
    """Half-way between the holes of both corners, along the gusset."""
    count = notch_count(box, stitching)
    return tuple(
        way.start + (way.end - way.start) * (k + 0.5) / count
        for way in corner_ways(box, stitching)
        for k in range(count)
    )


def _line(kind: MarkKind, *points: Point) -> PieceMark:
    return PieceMark(kind, polyline(points))
