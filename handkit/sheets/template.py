"""Templates: what has to be on paper of one piece, and what must not be written over.

In: a punched piece. Out: `Template`: its outermost line, the holes and openings a join should
keep clear of, the lines and letters a label should keep clear of. All mm, in the piece's frame.

Words: the *extent* is all that the outline's ink covers; the *base* is how the piece's frame is
turned to lie on paper, and turned over where the template is laid on the flesh side.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from handkit.draft.pattern import PatternPiece, SkivedEdge
from handkit.findings import Source
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.region import Region, region_of_points
from handkit.ink import NUMBERED_EVERY, WIDE
from handkit.punch.punched import Punched
from handkit.read.project import Side
from handkit.sheets.voids import Void, voids_of
from handkit.tolerances import SAGITTA

# Half the outline's stroke lies outside the line itself.
STROKE_ROOM = WIDE.width / 2

# Flattening of lines that only decide what is where.
COARSE = 0.1


@dataclass(frozen=True, slots=True)
class Template:
    """One piece as the layout sees it; `ring` is the cut outline, `lines` all else that is drawn."""

    source: Source
    name: str
    ring: tuple[Point, ...]
    coarse_ring: tuple[Point, ...]
    voids: tuple[Void, ...]
    lines: tuple[tuple[Point, ...], ...]
    texts: tuple[Point, ...]  # where letters and the holes' numbers are written
    turned_over: bool

    def base(self, degrees: float) -> Affine:
        """The map from the piece's frame to the laid frame at a turn."""
        turn = Affine.turn(degrees)
        return turn @ Affine.mirror() if self.turned_over else turn

    def extent(self, base: Affine) -> Region:
        """All that the outline's ink covers, in the laid frame, and up to 0.2 mm more at arcs.

        The coarse ring is enough to know what lies in which window and ten times as quick.
        """
        return region_of_points(base.apply_all(self.coarse_ring)).grown(STROKE_ROOM + COARSE)


def templates_of(punched: Punched) -> tuple[Template, ...]:
    """One template for each piece, in the file's order."""
    return tuple(_template(punched, piece) for piece in punched.pattern.pieces)


def _template(punched: Punched, piece: PatternPiece) -> Template:
    return Template(
        source=piece.source,
        name=piece.name,
        ring=piece.cut_outline.flattened(sagitta=SAGITTA),
        coarse_ring=piece.cut_outline.flattened(sagitta=COARSE),
        voids=voids_of(punched, piece.name),
        lines=(
            *(_points(path) for path in _lines(punched, piece)),
            *(line for skive in piece.skives for line in _skive_lines(skive)),
        ),
        texts=(
            *(letter.at for letter in piece.letters),
            *(hole.at for *_, hole in punched.holes_of(piece.name) if hole.number % NUMBERED_EVERY == 0),
        ),
        turned_over=piece.mark is Side.FLESH,
    )


def _lines(punched: Punched, piece: PatternPiece) -> Iterator[Path]:
    """Every line drawn inside a piece: finished edge, inner, fold and stitch lines, what lies on top."""
    yield from piece.trims
    yield from (line.path for line in (*piece.lines, *piece.folds))
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
