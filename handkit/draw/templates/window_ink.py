"""Window ink: the lines of a piece in a window: what is cut, trimmed, folded, skived, sewn along,
and what comes to lie on it or is carried there.

In: a view and the products before. Out: groups, under the window's clip.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType

from handkit.draft.pattern import PatternPiece, SkivedEdge
from handkit.draw.model.marks import Group, Ink, Mark
from handkit.draw.model.path_ops import path_ops
from handkit.draw.model.view import View
from handkit.geometry.affine import Point
from handkit.geometry.path import Path, polyline
from handkit.geometry.straight import distance
from handkit.ink import STROKES, Tag
from handkit.punch.punched import Hole, Punched, PunchedLayer, PunchedSeam
from handkit.read.project import MarkKind

# How finely the inner limit of a skive is followed.
SKIVE_STEP = 1.0

# The line at a single hole.
HAIR_LENGTH = 0.01

# What the marks of a piece are tagged as, and drawn like.
MARK_TAGS: Mapping[MarkKind, Tag] = MappingProxyType(
    {MarkKind.MEET: Tag.MEET, MarkKind.NOTCH: Tag.NOTCH, MarkKind.TAPE: Tag.TAPE}
)


# A line of a piece, in its frame, and what it is tagged as.
TaggedPath = tuple[Tag, Path]


def line_groups(view: View, punched: Punched) -> tuple[Group, ...]:
    """All lines of a piece in a window, the cut outline last, over the others."""
    tops, carried = tops_on(punched, view.piece), items_on(view.piece)
    own = _lines(view, own_lines(punched, view.piece))
    return (*_inside(view, tops), *_inside(view, carried), Group(own, view.clips()))


def own_lines(punched: Punched, piece: PatternPiece) -> Iterator[TaggedPath]:
    """The lines of a piece itself, in the order they are drawn, the cut outline last."""
    yield from ((Tag.STITCH, path) for path in stitch_paths(punched, piece))
    yield from ((Tag.FOLD, fold.path) for fold in piece.folds)
    yield from ((Tag.SKIVE, limit) for skive in piece.skives for limit in skive_limits(piece, skive))
    yield from ((Tag.TRIM, path) for path in piece.trims)
    yield from ((Tag.FINISHED, work.path) for work in piece.works if work.is_inside)
    yield from ((Tag.HEM, fold) for work in piece.works for fold in work.folds)
    yield from ((MARK_TAGS[mark.kind], mark.path) for mark in piece.marks)
    yield Tag.OUTLINE, piece.cut_outline


def tops_on(punched: Punched, piece: PatternPiece) -> tuple[TaggedPath, ...]:
    """The outlines of what lies flat on a piece."""
    return tuple((Tag.ONTOP, outline) for _, outline in tops_of(punched, piece))


def items_on(piece: PatternPiece) -> tuple[TaggedPath, ...]:
    """The outlines of what is carried there."""
    return tuple((Tag.ITEM, item.path) for item in piece.items)


def stitch_paths(punched: Punched, piece: PatternPiece) -> Iterator[Path]:
    """The stitch lines on a piece, first hole to last of each stretch; a carried one is its source's,
    carried.
    """
    for seam in punched.seams:
        for index, layer in enumerate(seam.layers):
            if layer.piece != piece.name:
                continue
            path = stitch_path(punched, seam, index)
            if seam.is_whole(layer):
                yield path
            else:
                yield from (_under(path, row) for row in seam.rows_of(layer))


def stitch_path(punched: Punched, seam: PunchedSeam, index: int) -> Path:
    """The line that a layer's holes stand on; straight from hole to hole where none is known."""
    run, layer = seam.pattern.runs[index], seam.layers[index]
    if run.path is not None:
        return run.path
    if run.carried_from is not None:
        source = seam.pattern.runs[run.carried_from]
        carry = punched.pattern.carry_run(source, run)
        if source.path is not None and carry is not None:
            return source.path.moved(carry)
    return _through_holes(layer, closed=seam.closed)


def _under(path: Path, row: Sequence[Hole]) -> Path:
    """What of a line lies under holes that follow one another; a hair's length at a single one."""
    first, last = path.along_of(row[0].at), path.along_of(row[-1].at)
    if path.closed and last < first:
        last += path.length
    return path.between(first, max(last, first + HAIR_LENGTH))


def tops_of(punched: Punched, piece: PatternPiece) -> tuple[tuple[PatternPiece, Path], ...]:
    """The pieces that lie flat on a piece, with their outlines in its frame."""
    return tuple((other, other.outline.moved(lie)) for other, lie in punched.pattern.tops_of(piece.name))


def skive_limits(piece: PatternPiece, skive: SkivedEdge) -> Iterator[Path]:
    """The line `width` in from a skived edge: of the edge's parallel, what no other part of the
    edge is nearer to. At an inside corner the two sides' parallels stop where they meet."""
    left = 1.0 if piece.outline.signed_area() > 0 else -1.0
    run: list[Point] = []
    for place in _parallel(skive.path, skive.width * left):
        nearest = skive.path.point_at(skive.path.along_of(place))
        if distance(place, nearest) >= skive.width - 0.02:
            run.append(place)
            continue
        if len(run) > 1:
            yield polyline(run)
        run = []
    if len(run) > 1:
        yield polyline(run)


def _parallel(path: Path, off: float) -> Iterator[Point]:
    """Points of each segment's parallel, `off` to the left."""
    for segment in path.segments:
        count = max(1, round(segment.length / SKIVE_STEP)) if segment.bulge else 1
        count = max(count, round(segment.length / SKIVE_STEP))
        for k in range(count + 1):
            along = segment.length * k / count
            (x, y), (dx, dy) = segment.point_at(along), segment.direction_at(along)
            yield (x - dy * off, y + dx * off)


def _inside(view: View, paths: Iterable[TaggedPath]) -> tuple[Group, ...]:
    """Outlines of what lies on the piece, seen only inside it: beyond its edge is other paper."""
    marks = _lines(view, paths)
    if not marks:
        return ()
    piece = view.piece
    shown = piece.outline if piece.works else piece.cut_outline  # what is turned away lies under nothing
    body = path_ops(shown.moved(view.to_sheet))
    return (Group(marks, (*view.clips(), body)),)


def _lines(view: View, paths: Iterable[TaggedPath]) -> tuple[Mark, ...]:
    """A mark for each path that touches the window."""
    return tuple(
        Mark(tag, view.properties, (Ink(ops, STROKES[tag]),))
        for tag, path in paths
        for ops in (view.shown(path),)
        if ops.operators
    )


def _through_holes(layer: PunchedLayer, *, closed: bool) -> Path:
    points: list[Point] = []
    for hole in layer.holes:
        if not points or distance(points[-1], hole.at) > 1e-6:
            points.append(hole.at)
    if len(points) == 1:  # a line needs two ends
        points.append((points[0][0] + HAIR_LENGTH, points[0][1]))
    return polyline(points, closed=closed and len(points) > 2)
