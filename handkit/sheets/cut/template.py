"""Templates: what has to be on paper of each piece, and what must not be written over.

In: the punched pattern. Out: a `Shape` for each piece: its outermost line, the holes and openings
a join should keep clear of, the lines and letters a label should keep clear of. All mm, in the
piece's frame.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.draft.pattern import PatternPiece, SkivedEdge
from handkit.geometry.affine import Point
from handkit.geometry.capsule import Capsule
from handkit.geometry.path import Path
from handkit.geometry.region import region_of_points
from handkit.ink import NUMBERED_EVERY
from handkit.punch.punched import Hole, Punched
from handkit.read.project import StitchHole
from handkit.sheets.joins.keep_out import DIGITS, rounded
from handkit.sheets.shape import COARSE, Shape
from handkit.tolerances import SAGITTA

# Outlines of more corners than this are mostly traced from something round.
MANY_CORNERS = 300


def shapes_of(punched: Punched) -> tuple[Shape, ...]:
    """One shape for each piece, in the file's order."""
    return tuple(_shape(punched, piece) for piece in punched.pattern.pieces)


def _shape(punched: Punched, piece: PatternPiece) -> Shape:
    ring = piece.cut_outline.flattened(sagitta=SAGITTA)
    coarse = _coarse(piece.cut_outline)
    return Shape(
        name=piece.name,
        ring=ring,
        coarse=coarse if coarse != ring else (),
        keep_outs=keep_outs_of(punched, piece.name),
        letters=tuple(letter.at for letter in piece.letters),
        lines=(
            *(_points(path) for path in _lines(punched, piece)),
            *(line for skive in piece.skives for line in _skive_lines(skive)),
        ),
        texts=tuple(
            hole.at for *_, hole in punched.holes_of(piece.name) if hole.number % NUMBERED_EVERY == 0
        ),
        quantity=piece.quantity * punched.project.copies,
        turned_over=piece.template_mirrored,
    )


def _coarse(outline: Path) -> tuple[Point, ...]:
    """The outline by few points, no more than `COARSE` off: arcs in long bits, and of very many corners those
    that matter."""
    coarse = outline.flattened(sagitta=COARSE)
    if len(coarse) <= MANY_CORNERS:
        return coarse
    thinned = region_of_points(outline.flattened(sagitta=SAGITTA)).simplified(COARSE - SAGITTA).rings()
    return thinned[0] if len(thinned) == 1 else coarse


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


def _lines(punched: Punched, piece: PatternPiece) -> Iterator[Path]:
    """Every line drawn inside a piece: finished edge, inner, fold and stitch lines, what lies on top."""
    yield from piece.trims
    for work in piece.works:
        yield from (*((work.path,) if work.is_inside else ()), *work.folds)
    yield from (line.path for line in piece.lines)
    yield from (fold.path for fold in piece.folds)
    for seam in punched.pattern.seams:
        yield from (run.path for run in seam.runs if run.piece == piece.name and run.path is not None)
    yield from (other.outline.moved(lie) for other, lie in punched.pattern.tops_of(piece.name))


def _points(path: Path) -> tuple[Point, ...]:
    points = path.flattened(sagitta=COARSE)
    return (*points, points[0]) if path.closed else points


def _skive_lines(skive: SkivedEdge) -> Iterator[tuple[Point, ...]]:
    """Where the skive begins, `width` from the edge; the one that falls outside the piece is harmless."""
    for segment in skive.path.segments:
        for width in (skive.width, -skive.width):
            yield tuple(
                _beside(segment.point_at(along), segment.direction_at(along), width)
                for along in (segment.length * quarter / 4 for quarter in range(5))
            )


def _beside(point: Point, direction: Point, by: float) -> Point:
    """A point's neighbour to the left of a direction."""
    return (point[0] - direction[1] * by, point[1] + direction[0] * by)
