"""BoxSizes marks: where the middles of front, gusset and base meet, and the notches of turned flanges.

In: a box, its pitch. Out: marks, in the frames of front, gusset and base. Notches are drawn for evenly
spaced holes: each cuts into the flange half-way between two holes of a corner, and ends short of
the fold; together they take out what the free edge has too much.
"""

from __future__ import annotations

from itertools import pairwise
from math import floor, pi

from handkit.draft.pattern import MarkKind, PieceMark
from handkit.draft.sizes.box_sizes import BoxSizes
from handkit.geometry.affine import Point
from handkit.geometry.path import polyline

# How far a notch ends short of the fold: a cut that reaches it would tear on.
SHORT_OF_FOLD = 1.0


def meet_on_foot(box: BoxSizes) -> PieceMark:
    """Of front and base: across the middle of the foot's stitch line."""
    middle = box.width / 2
    return _line(MarkKind.MEET, (middle, 0.0), (middle, 2 * box.inset))


def meets_on_gusset(box: BoxSizes) -> tuple[PieceMark, PieceMark]:
    """Across the middle of both its stitch lines."""
    middle, high = box.gusset_length / 2, box.gusset_width
    return (
        _line(MarkKind.MEET, (middle, 0.0), (middle, 2 * box.inset)),
        _line(MarkKind.MEET, (middle, high - 2 * box.inset), (middle, high)),
    )


def notch_count(box: BoxSizes, pitch: float) -> int:
    """Notches at one corner of one flange: one between each two holes, as even spacing has them."""
    return max(1, floor(box.stitch_radius * pi / 2 / pitch + 0.5))


def notch_width(box: BoxSizes, pitch: float) -> float:
    """How wide each is at the free edge."""
    return box.excess(box.flange - box.thickness / 2) / notch_count(box, pitch)


def notches(box: BoxSizes, pitch: float) -> tuple[PieceMark, ...]:
    """All of a turned gusset's, on both flanges; a plain one has none."""
    if not box.turned:
        return ()
    deep, half = box.fold_at - SHORT_OF_FOLD, notch_width(box, pitch) / 2
    marks: list[PieceMark] = []
    for x in _between_holes(box, pitch):
        for edge, tip in ((0.0, deep), (box.gusset_width, box.gusset_width - deep)):
            marks.append(_line(MarkKind.NOTCH, (x - half, edge), (x, tip), (x + half, edge)))
    return tuple(marks)


def _between_holes(box: BoxSizes, pitch: float) -> tuple[float, ...]:
    """Half-way between the holes of both corners, along the gusset."""
    count = notch_count(box, pitch)
    places: list[float] = []
    for start, end in list(pairwise(box.corner_ends))[::2]:
        places.extend(start + (end - start) * (k + 0.5) / count for k in range(count))
    return tuple(places)


def _line(kind: MarkKind, *points: Point) -> PieceMark:
    return PieceMark(kind, polyline(points))
