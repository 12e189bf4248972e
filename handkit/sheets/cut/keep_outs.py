"""Keep-outs of a piece: its stitch holes and openings, each as a straight core with a radius.

In: a punched piece. Out: keep-outs in its frame: a point for what is round, the slit itself for a
slit, the middle line for a slot. All mm.
"""

from __future__ import annotations

from handkit.geometry.affine import Point
from handkit.geometry.capsule import Capsule
from handkit.punch.punched import Hole, Punched
from handkit.read.project import StitchHole
from handkit.sheets.joins.keep_out import DIGITS, rounded


def keep_outs_of(punched: Punched, piece: str) -> tuple[Capsule, ...]:
    """Stitch holes and openings of a piece, in its frame, in the order of seams and openings."""
    holes = [_of_hole(hole, seam.stitching.hole) for seam, _, hole in punched.holes_of(piece)]
    openings = []
    for opening in punched.pattern.openings:
        sizes = opening.opening
        openings += [
            _core(place.at, sizes.half_straight, place.degrees, sizes.diameter / 2)
            for place in opening.places
            if place.piece == piece
        ]
    return (*holes, *openings)


def _of_hole(hole: Hole, kind: StitchHole) -> Capsule:
    if hole.slit_degrees is None:
        return _core(hole.at, 0.0, 0.0, kind.width / 2)
    return _core(hole.at, kind.width / 2, hole.slit_degrees, 0.0)


def _core(at: Point, reach: float, degrees: float, radius: float) -> Capsule:
    return Capsule.about(rounded(at), half=reach, degrees=round(degrees, DIGITS), radius=radius)
