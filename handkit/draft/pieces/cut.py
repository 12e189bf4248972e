"""The cut: where the knife goes first, with trims, hems and seam allowances outside the finished edge.

In: a piece as read and its outline. Out: the cut outline, and a finding where it would cross itself.

    neighbours of a wider edge go on straight to      what is turned ends as its neighbours lie when
    where it is cut:                                  it is folded back on them:

          |         |                                      /         \
          |         |        finished edge                /           \
        - |---------| -                                  /_____________\
          '---------'        cut                         \\             /
                                                          '-----------'

A rounded outside corner at which the width changes is cut sharp, as if it were not rounded: its arc is cut
when the edge is trimmed, and so the trim line goes all round it. A step in the middle of the arc
would be an inside corner of the cut right at the finished edge, where leather tears.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import msgspec

from handkit.draft.pieces.edge_run import edge_run_of
from handkit.draft.pieces.outline import Outline
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.joint import Outer
from handkit.geometry.largest import largest_fitting
from handkit.geometry.offset import OffsetSegment, parallel_ring
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.geometry.straight import distance
from handkit.read.project import Piece, WorkedEdge
from handkit.tolerances import SAME_POINT

# A neighbour that leans more than this from square to a turned edge, as its run along the edge for each mm
# of depth, is cut straight on: what is turned would end in a long thin point.
STEEPEST = 3.0


class CutEdge(msgspec.Struct, frozen=True):
    """How far outside one edge of the outline the knife goes, and what for."""

    width: float = 0.0
    work: WorkedEdge | None = None  # a trim has none

    @property
    def turned(self) -> bool:
        """Whether what is outside will be folded to the back."""
        return self.work is not None and self.work.traits.turned


class KnifeLine(msgspec.Struct, frozen=True):
    """The cut outline, its edges, and the numbers of the rounded corners that are cut sharp."""

    outline: Path
    edges: tuple[CutEdge, ...]
    sharp: frozenset[int]


def cut_of(piece: Piece, outline: Outline) -> tuple[KnifeLine, tuple[Finding, ...]]:
    """Where the knife goes; the finished outline, and a finding, where that would cross itself."""
    edges = cut_edges(piece, outline)
    sharp = _cut_sharp(outline, edges)
    if not any(edge.width for edge in edges):
        return KnifeLine(outline.path, edges, sharp), ()
    path = _cut_outline(piece, outline, edges, 1.0)
    if path is None:
        return KnifeLine(outline.path, edges, sharp), (_unfit(piece, outline, edges),)
    return KnifeLine(path, edges, sharp), ()


def cut_edges(piece: Piece, outline: Outline) -> tuple[CutEdge, ...]:
    """Each edge of the outline with its trim or work."""
    edges = [CutEdge()] * len(outline.edges)
    for trim in piece.trims:
        for index in edge_run_of(outline, trim.edges).edge_indices(outline):
            edges[index] = CutEdge(trim.width)
    for work in piece.works:
        for index in edge_run_of(outline, work.edges).edge_indices(outline):
            edges[index] = CutEdge(work.beyond(piece.thickness), work)
    return tuple(edges)


def rounded_corner(outline: Outline, index: int) -> bool:
    """Whether the corner at which an edge begins is rounded."""
    return _halves_meet(outline.edges[index - 1][-1], outline.edges[index][0])


def _cut_sharp(outline: Outline, edges: Sequence[CutEdge]) -> frozenset[int]:
    """The rounded outside corners, by number, at which the width changes. One beside an edge that is
    nothing but its corners' arcs stays round; so does an inside corner: cut sharp, it would lose what
    fills it."""
    count = len(outline.edges)
    rounded = [rounded_corner(outline, k) for k in range(count)]
    own = [len(outline.edges[k]) - rounded[k] - rounded[(k + 1) % count] for k in range(count)]
    outside = [edge[0].bulge * outline.way > 0 for edge in outline.edges]
    return frozenset(
        k
        for k in range(count)
        if rounded[k] and outside[k] and edges[k - 1].width != edges[k].width and min(own[k - 1], own[k]) > 0
    )


def _halves_meet(before: Segment, after: Segment) -> bool:
    """Whether two segments are halves of one rounded corner's arc."""
    if before is after or not before.bulge or abs(before.bulge - after.bulge) > SAME_POINT:
        return False
    return distance(before.centre, after.centre) <= SAME_POINT


def _cut_outline(piece: Piece, outline: Outline, edges: Sequence[CutEdge], share: float) -> Path | None:
    """The outline with a share of each edge's width outside it; None where it would cross itself."""
    sharp, count = _cut_sharp(outline, edges), len(outline.edges)
    segments: list[Segment] = []
    by: list[float] = []
    begins: list[int] = []  # of each edge, the number of its first segment
    for index, edge in enumerate(outline.edges):
        kept = edge[1 if index in sharp else 0 : len(edge) - ((index + 1) % count in sharp)]
        begins.append(len(segments))
        segments += kept
        by += [-edges[index].width * share * outline.way] * len(kept)
    cut = parallel_ring(segments, by, outer=Outer.SHARP)
    if cut is None:
        return None
    flaps = {
        begin: flap
        for index, begin in enumerate(begins)
        if (flap := _flap_end(outline, edges, index, piece.thickness, share))
    }
    if not flaps:
        return Path(tuple(offset.segment for offset in cut), closed=True)
    row = _with_flaps(cut, flaps)
    return None if first_crossing(row, closed=True) is not None else Path(tuple(row), closed=True)


def _flap_end(
    outline: Outline, edges: Sequence[CutEdge], index: int, thickness: float, share: float
) -> tuple[Point, ...]:
    """The corners, in the outline's order, of the end of what is turned at the corner where an edge begins;
    none where both edges there are turned or neither is, or where going on straight is the same.
    """
    before, after = edges[index - 1], edges[index]
    if before.turned == after.turned:
        return ()
    last, first = outline.edges[index - 1][-1], outline.edges[index][0]
    coming, going = last.direction_at(last.length), first.direction_at(0.0)
    (tx, ty), along, inward = (
        (going, going, _turned_back(coming)) if after.turned else (coming, _turned_back(coming), going)
    )
    out = (ty * outline.way, -tx * outline.way)
    depth = -(inward[0] * out[0] + inward[1] * out[1])
    lean = inward[0] * along[0] + inward[1] * along[1]
    if depth <= SAME_POINT or not SAME_POINT < abs(lean) <= STEEPEST * depth:
        return ()
    own, other = (after, before) if after.turned else (before, after)
    beside = other.width / depth * share  # how far along the edge the neighbour's own cut meets it
    x, y = first.start[0] - along[0] * beside, first.start[1] - along[1] * beside
    points = [
        (
            x + (out[0] * off + along[0] * deep * lean / depth) * share,
            y + (out[1] * off + along[1] * deep * lean / depth) * share,
        )
        for off, deep in (_zigzag(own.work, thickness) if own.work else ())
    ]
    return ((x, y), *points) if after.turned else (*reversed(points), (x, y))


def _turned_back(direction: Point) -> Point:
    return (-direction[0], -direction[1])


def _zigzag(work: WorkedEdge, thickness: float) -> Iterator[tuple[float, float]]:
    """Places of the end of what is turned: how far outside the finished edge, and how deep inside it they
    lie once it is folded. Within a turn's own thickness nothing leans."""
    yield thickness, 0.0
    yield thickness + work.width, work.width
    if work.turns > 1:
        yield 2 * thickness + work.width, work.width
        yield 2 * thickness + work.width + work.turn_in, work.width - work.turn_in


def _with_flaps(cut: Sequence[OffsetSegment], flaps: Mapping[int, tuple[Point, ...]]) -> list[Segment]:
    """The cut with the ends of what is turned in place of the corners where it goes on straight."""
    cut = [offset for offset in cut if not (offset.joint and offset.source in flaps)]
    ends = [flaps[after.source] if _begins(before, after, flaps) else () for before, after in _pairs(cut)]
    row: list[Segment] = []
    for k, offset in enumerate(cut):
        segment, came, goes = offset.segment, ends[k - 1], ends[k]
        if came or goes:
            start, end = came[-1] if came else segment.start, goes[0] if goes else segment.end
            segment = Segment(start, end, segment.bulge)
        row += [segment, *(Segment(*pair) for pair in pairwise(goes))]
    return row


def _pairs(cut: Sequence[OffsetSegment]) -> Iterator[tuple[OffsetSegment, OffsetSegment]]:
    """Each part of the cut with the next, the last with the first."""
    return pairwise([*cut, cut[0]])


def _begins(before: OffsetSegment, after: OffsetSegment, flaps: Mapping[int, tuple[Point, ...]]) -> bool:
    """Whether between two parts of the cut a flap ends: the second is the first beside its segment."""
    return after.source in flaps and after.source != before.source


def _unfit(piece: Piece, outline: Outline, edges: Sequence[CutEdge]) -> Finding:
    """A trim or a work so wide that the cut would cross itself; told of the widest."""
    widest = max(edges, key=lambda edge: edge.width)
    most = widest.width

    def fits(width: float) -> bool:
        return _cut_outline(piece, outline, edges, width / most) is not None

    largest = largest_fitting(most, fits)
    if widest.work is None:
        where = piece.source.at("trim")
        key = "trim-too-wide" if largest else "trim-too-wide/none"
        return finding(key, where, width=most, most=largest)
    work = widest.work
    told = {"noun": work.traits.noun, "width": work.width, "edges": work.edges, "beyond": most}
    where = piece.source.at(work.work.value)
    if not largest:
        return finding("cut-crosses-itself/none", where, **told)
    return finding("cut-crosses-itself", where, **told, most=largest)
