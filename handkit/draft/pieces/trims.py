"""Trims: what is cut outside the finished edge, to be trimmed after stitching.

In: a piece as read and its outline. Out: where the knife goes first, and findings.

    neighbours of a trimmed edge go on straight to where it is cut:

          |         |
          |         |        finished edge
        - |---------| -
          '---------'        cut

A rounded outside corner at which the width changes is cut sharp, as if it were not rounded: its arc is cut
when the edge is trimmed, and so the trim line goes all round it. A step in the middle of the arc
would be an inside corner of the cut right at the finished edge, where leather tears.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pieces.edge_run import EdgeRun, edge_run_of
from handkit.draft.pieces.outline import Outline
from handkit.findings import Finding, finding
from handkit.geometry.joint import Outer
from handkit.geometry.largest import largest_fitting
from handkit.geometry.offset import parallel_ring
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.geometry.straight import distance
from handkit.read.project import Piece
from handkit.tolerances import SAME_POINT


class Trims(msgspec.Struct, frozen=True):
    """Where the knife goes first, and the edges that are trimmed later."""

    cut_outline: Path
    edges: tuple[Path, ...]


def trims_of(piece: Piece, outline: Outline) -> tuple[Trims, tuple[Finding, ...]]:
    """The outline with the trims outside it, and the edges trimmed."""
    widths = [0.0] * len(outline.edges)
    for trim in piece.trims:
        for index in edge_run_of(outline, trim.edges).edge_indices(outline):
            widths[index] = trim.width
    if not piece.trims:
        return Trims(outline.path, ()), ()
    sharp = _cut_sharp(outline, widths)
    edges = tuple(
        _trim_line(outline, edge_run_of(outline, trim.edges), widths, sharp) for trim in piece.trims
    )
    cut = _cut_outline(outline, widths, 1.0)
    if cut is None:
        return Trims(outline.path, edges), (_unfit_trim(piece, outline, widths),)
    return Trims(cut, edges), ()


def _cut_sharp(outline: Outline, widths: list[float]) -> frozenset[int]:
    """The rounded outside corners, by number, at which the width changes. One beside an edge that is
    nothing but its corners' arcs stays round; so does an inside corner: cut sharp, it would lose what
    fills it."""
    count = len(outline.edges)
    rounded = [_halves_meet(outline.edges[k - 1][-1], outline.edges[k][0]) for k in range(count)]
    own = [len(outline.edges[k]) - rounded[k] - rounded[(k + 1) % count] for k in range(count)]
    outside = [edge[0].bulge * outline.way > 0 for edge in outline.edges]
    return frozenset(
        k
        for k in range(count)
        if rounded[k] and outside[k] and widths[k - 1] != widths[k] and min(own[k - 1], own[k]) > 0
    )


def _halves_meet(before: Segment, after: Segment) -> bool:
    """Whether two segments are halves of one rounded corner's arc."""
    if before is after or not before.bulge or abs(before.bulge - after.bulge) > SAME_POINT:
        return False
    return distance(before.centre, after.centre) <= SAME_POINT


def _trim_line(outline: Outline, edge_run: EdgeRun, widths: list[float], sharp: frozenset[int]) -> Path:
    """The edges that are trimmed, round the whole arc of a corner that is cut sharp."""
    if edge_run.closed:
        return edge_run.path(outline)
    first, last = edge_run.first, (edge_run.first + edge_run.count) % len(outline.edges)
    before = outline.edges[first - 1][-1:] if first in sharp and not widths[first - 1] else ()
    after = outline.edges[last][:1] if last in sharp and not widths[last] else ()
    return Path((*before, *edge_run.segments(outline), *after))


def _cut_outline(outline: Outline, widths: list[float], share: float) -> Path | None:
    """The outline with a share of each edge's width outside it; None where it would cross itself."""
    sharp, count = _cut_sharp(outline, widths), len(outline.edges)
    segments: list[Segment] = []
    by: list[float] = []
    for index, edge in enumerate(outline.edges):
        kept = edge[1 if index in sharp else 0 : len(edge) - ((index + 1) % count in sharp)]
        segments += kept
        by += [-widths[index] * share * outline.way] * len(kept)
    cut = parallel_ring(segments, by, outer=Outer.SHARP)
    return None if cut is None else Path(tuple(offset.segment for offset in cut), closed=True)


def _unfit_trim(piece: Piece, outline: Outline, widths: list[float]) -> Finding:
    """A trim so wide that the cut would cross itself."""
    most = max(widths)
    largest = largest_fitting(most, lambda w: _cut_outline(outline, widths, w / most) is not None)
    where = piece.source.at("trim")
    if not largest:
        return finding("trim-too-wide/none", where, width=most)
    return finding("trim-too-wide", where, width=most, most=largest)
