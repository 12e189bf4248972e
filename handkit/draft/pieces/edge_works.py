"""Edge works: hems, turned edges, bindings and seam allowances, drawn.

In: a piece as read, its outline, its cut. Out: `FinishedEdge`s: where each finished edge is and where it is
folded; and findings where cloth can't be turned or bound so.

A hem goes round a curve only as far as its material takes up ease: along an arc of radius R the
hem's end is by width ÷ R longer or shorter than where it is sewn down. What is turned narrowly is notched or
pleated, down to a radius of its own width; a tape goes round down to half its width (common practice, no
source).
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

from handkit.draft.pattern import FinishedEdge, RawEdge
from handkit.draft.pieces.cut import KnifeLine, rounded_corner
from handkit.draft.pieces.edge_run import EdgeRun, edge_run_of
from handkit.draft.pieces.outline import Outline
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.intersect import carriers_meet, lies_on
from handkit.geometry.largest import largest_fitting
from handkit.geometry.offset import parallel_ring, parallel_run
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.kinds.edge_works import EdgeWork
from handkit.kinds.materials import MATERIALS
from handkit.read.project import Piece, WorkedEdge
from handkit.tolerances import SAME_POINT


def finished_edges(
    piece: Piece, outline: Outline, cut: KnifeLine
) -> tuple[tuple[FinishedEdge, ...], tuple[Finding, ...]]:
    """All of them in the file's order, and what can't be."""
    findings: list[Finding] = []
    for work in piece.works:
        findings += list(_curved(piece, outline, cut, work))[:1]
    if not findings and piece.works and not _has_room(outline, cut, 1.0):
        findings.append(_without_room(piece, outline, cut))
    if findings:
        return (), tuple(findings)
    return tuple(_drawn(piece, outline, cut, work) for work in piece.works), ()


def raw_edges(piece: Piece, outline: Outline, cut: KnifeLine) -> tuple[RawEdge, ...]:
    """The edges of cloth that frays which have nothing but a cut or an allowance; of webbing, whose sides
    are woven to, those that lie across its warp."""
    traits = MATERIALS[piece.material]
    if not traits.frays:
        return ()
    found: list[RawEdge] = []
    for index, (edge, cut_edge) in enumerate(zip(outline.edges, cut.edges, strict=True)):
        path = Path(edge, closed=len(outline.edges) == 1)
        plain = cut_edge.work is None or cut_edge.work.work is EdgeWork.ALLOWANCE
        if plain and not (traits.sealed and _goes_along(path, piece.grain_degrees)):
            found.append(
                RawEdge((outline.names[index], outline.names[(index + 1) % len(outline.names)]), path)
            )
    return tuple(found)


def _goes_along(path: Path, degrees: float) -> bool:
    """Whether a path goes within 45° of a direction, looked at in its middle."""
    dx, dy = path.direction_at(path.length / 2)
    return abs(dx * cos(radians(degrees)) + dy * sin(radians(degrees))) >= cos(radians(45))


def _drawn(piece: Piece, outline: Outline, cut: KnifeLine, work: WorkedEdge) -> FinishedEdge:
    run = edge_run_of(outline, work.edges)
    folds = tuple(
        fold
        for off in work.folds(piece.thickness)
        for index in run.edge_indices(outline)
        if (fold := _fold(outline, cut, index, off)) is not None
    )
    return FinishedEdge(work, run.path(outline), folds, _mitred(outline, cut, run) if folds else ())


def _fold(outline: Outline, cut: KnifeLine, index: int, off: float) -> Path | None:
    """The fold beside one edge, so far outside it: a straight one from cut to cut, over what neighbours
    have outside."""
    edge, count, by = outline.edges[index], len(outline.edges), -off * outline.way
    if count == 1:
        ring = parallel_ring(edge, [by] * len(edge))
        return Path(tuple(each.segment for each in ring), closed=True) if ring else None
    if len(edge) > 1 or edge[0].bulge:
        neighbours = outline.edges[index - 1], outline.edges[(index + 1) % count]
        row = parallel_run(edge, by, before=neighbours[0], after=neighbours[1])
        return Path(tuple(each.segment for each in row)) if row else None
    (x0, y0), (x1, y1), (dx, dy) = edge[0].start, edge[0].end, edge[0].direction_at(0.0)
    nx, ny = dy * outline.way * off, -dx * outline.way * off
    line = Segment((x0 + nx, y0 + ny), (x1 + nx, y1 + ny))
    middle = line.length / 2
    places = [
        (at[0] - line.start[0]) * dx + (at[1] - line.start[1]) * dy
        for segment in cut.outline.segments
        for at in carriers_meet(line, segment)
        if lies_on(at, segment)
    ]
    start = max((place for place in places if place < middle), default=0.0)
    end = min((place for place in places if place > middle), default=line.length)
    return Path((Segment(_along(line, start), _along(line, end)),))


def _along(line: Segment, place: float) -> Point:
    """A place of a straight segment or of what prolongs it."""
    (x, y), (dx, dy) = line.start, line.direction_at(0.0)
    return (x + dx * place, y + dy * place)


def _mitred(outline: Outline, cut: KnifeLine, run: EdgeRun) -> tuple[str, ...]:
    """The corners at the edges of a run, in the outline's order, where two turned edges meet."""
    count = len(outline.edges)
    corners = dict.fromkeys(
        (index + step) % count for index in run.edge_indices(outline) for step in (0, 1) if count > 1
    )
    return tuple(outline.names[k] for k in corners if cut.edges[k - 1].turned and cut.edges[k].turned)


def _curved(piece: Piece, outline: Outline, cut: KnifeLine, work: WorkedEdge) -> Iterator[Finding]:
    """What an edge's arcs and rounded corners forbid."""
    where, count = piece.source.at(work.work.value), len(outline.edges)
    told: dict[str, object] = {"noun": work.traits.noun, "width": work.width, "edges": str(work.edges)}
    least = _least_radius(piece, work)
    for index in edge_run_of(outline, work.edges).edge_indices(outline):
        for corner in (index, (index + 1) % count) if count > 1 else ():
            ends = not (cut.edges[corner - 1].turned and cut.edges[corner].turned)
            if rounded_corner(outline, corner) and work.traits.turned and (ends or work.turns > 1):
                yield finding("turned-at-round-corner", where, **told, corner=outline.names[corner])
        for segment in outline.edges[index]:
            if segment.bulge and segment.radius < least - SAME_POINT:
                key = "edge-work-on-curve" if work.work is EdgeWork.HEM else "edge-work-on-curve/narrower"
                yield finding(key, where, **told, radius=segment.radius, least=least)


def _least_radius(piece: Piece, work: WorkedEdge) -> float:
    """Of an arc that such a work goes round."""
    if work.work is EdgeWork.HEM:
        return work.width / MATERIALS[piece.material].seam_ease.warned
    if work.work is EdgeWork.TURNED:
        return work.width
    return work.width / 2 if work.work is EdgeWork.BINDING else 0.0


def _has_room(outline: Outline, cut: KnifeLine, share: float) -> bool:
    """Whether all that comes to lie on the back has room there beside one another."""
    segments: list[Segment] = []
    by: list[float] = []
    for edge, cut_edge in zip(outline.edges, cut.edges, strict=True):
        segments += edge
        by += [_inside(cut_edge.work) * share * outline.way] * len(edge)
    return not any(by) or parallel_ring(segments, by) is not None


def _inside(work: WorkedEdge | None) -> float:
    """How far inside the finished edge it reaches on the back."""
    if work is None or work.work is EdgeWork.ALLOWANCE:
        return 0.0
    return work.width / 2 if work.work is EdgeWork.BINDING else work.width


def _without_room(piece: Piece, outline: Outline, cut: KnifeLine) -> Finding:
    """The widest of what has no room, and the largest that would have."""
    widest = max((edge.work for edge in cut.edges if edge.work), key=_inside)
    most = largest_fitting(widest.width, lambda width: _has_room(outline, cut, width / widest.width))
    where = piece.source.at(widest.work.value)
    told = {"noun": widest.traits.noun, "width": widest.width, "edges": str(widest.edges)}
    return finding("edge-work-too-wide" if most else "edge-work-too-wide/none", where, **told, most=most)
