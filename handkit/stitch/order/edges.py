"""Edges: which edges of a piece are sewn, closed in, skived or trimmed, by their letters.

In: pieces, works and closings. Out: edges as runs of letters, such as "C-D".

Words: a *mouth* is an edge of a covering piece that no seam holds; it lies close to the base once
the piece is sewn down, and is bevelled and burnished before. So is an edge that is sewn down inside
the base's own; only where both are *flush* are they made one after stitching. *Buried* is an edge
that lies between two layers that close over it, and not on the rim they end at together.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.region import Region
from handkit.geometry.straight import distance
from handkit.stitch.order.closing import Closing
from handkit.stitch.order.works import LEATHER, Work, WorkKind, frame_of, is_glued
from handkit.stitch.sewing.stack import to_path
from handkit.tolerances import EDGE_SLACK

# Edges of two layers no farther apart than this are sanded into one (common practice, no source).
FLUSH = 1.0

# Where an edge is looked at: shares of its length, clear of the corners.
SAMPLES = (0.25, 0.5, 0.75)


class Edge(msgspec.Struct, frozen=True):
    """One edge of an outline, from letter to letter, and its sample points."""

    start: str
    end: str
    samples: tuple[Point, ...]


class ClosedIn(msgspec.Struct, frozen=True):
    """Edges of a piece that must be burnished before a work closes them in."""

    piece: str
    edges: tuple[Edge, ...]
    before: Work


def edges_of(piece: PatternPiece) -> tuple[Edge, ...]:
    """All edges of a piece in order; a circle's single edge starts and ends at its A."""
    outline, length = piece.outline, piece.outline.length
    names = [letter.name for letter in piece.letters]
    stations = _stations(outline, [letter.at for letter in piece.letters])
    edges = []
    for index, (start, low) in enumerate(zip(names, stations, strict=True)):
        follows = (index + 1) % len(names)
        span = (stations[follows] - low) % length or length
        samples = tuple(outline.point_at(low + span * share) for share in SAMPLES)
        edges.append(Edge(start, names[follows], samples))
    return tuple(edges)


def _stations(outline: Path, points: Sequence[Point]) -> list[float]:
    """How far along an outline points lie that follow one another on it: one walk for all."""
    ends, found, index = outline.stations(), [], 0
    for point in points:
        here = outline.segments[index:]
        segment, along = next(
            (segment, along)
            for segment in here
            if distance(segment.point_at(along := segment.along_of(point)), point) <= EDGE_SLACK
        )
        index += here.index(segment)
        found.append(ends[index] + along)
    return found


def named(edges: Iterable[Edge]) -> str:
    """Edges as runs of letters; what goes all round is said so.

    >>> named([Edge("A", "B", ()), Edge("B", "C", ()), Edge("D", "A", ())])
    'A-B-C, D-A'
    >>> named([Edge("A", "B", ()), Edge("B", "C", ()), Edge("C", "A", ())])
    'its whole edge'
    """
    runs: list[list[str]] = []
    for edge in edges:
        if runs and runs[-1][-1] == edge.start:
            runs[-1].append(edge.end)
        else:
            runs.append([edge.start, edge.end])
    if len(runs) == 1 and runs[0][0] == runs[0][-1]:
        return "its whole edge"
    return ", ".join("-".join(run) for run in runs)


def edges_along(piece: PatternPiece, paths: Sequence[Path]) -> tuple[Edge, ...]:
    """The edges that lie on any of some paths, such as a skive's."""
    return tuple(
        edge
        for edge in edges_of(piece)
        if any(all(to_path(at, path) <= EDGE_SLACK for at in edge.samples) for path in paths)
    )


def closed_in(pattern: Pattern, closings: Sequence[Closing], works: Sequence[Work]) -> tuple[ClosedIn, ...]:
    """Leather edges to burnish early, by piece, each with the first work that closes them in.

    `works` are in working order.
    """
    turn = {work: index for index, work in enumerate(works)}
    found: dict[str, dict[Edge, int]] = {}
    for closing in closings:
        first = min(turn[work] for work in closing.holders)
        for piece in pattern.pieces:
            if piece.material in LEATHER:
                hidden = found.setdefault(piece.name, {})
                for edge in _hidden(piece, closing, pattern, works):
                    hidden[edge] = min(first, hidden.get(edge, first))
    return tuple(
        ClosedIn(name, _in_order(pattern.piece(name), hidden), works[min(hidden.values())])
        for name, hidden in found.items()
        if hidden
    )


def _in_order(piece: PatternPiece, hidden: Iterable[Edge]) -> tuple[Edge, ...]:
    kept = set(hidden)
    return tuple(edge for edge in edges_of(piece) if edge in kept)


def _hidden(piece: PatternPiece, closing: Closing, pattern: Pattern, works: Sequence[Work]) -> Iterable[Edge]:
    """The edges of a piece that one closing hides: mouths of the cover, what is buried between."""
    if piece.name in closing.pieces:
        covers = len(set(closing.pieces)) == 2 and piece.on in closing.pieces
        return _apart(pattern, piece, works) if covers else ()
    frame, way = frame_of(piece)
    if frame != closing.frame or not closing.low <= piece.level <= closing.high:
        return ()
    inner = closing.area.grown(-FLUSH)
    return [edge for edge in edges_of(piece) if _lies_in(edge, way, inner)]


def _lies_in(edge: Edge, way: Affine, area: Region) -> bool:
    return all(area.contains(way.apply(at)) for at in edge.samples)


def _apart(pattern: Pattern, piece: PatternPiece, works: Sequence[Work]) -> list[Edge]:
    """Edges that can't be made one with the base's after stitching: mouths, and all that isn't flush.

    What is glued down is held along every edge.
    """
    seams = [work for work in works if work.kind is WorkKind.SEAM and piece.name in work.pieces]
    along = {
        edge: [seam for seam in seams if _runs_along(seam, piece.name, edge)] for edge in edges_of(piece)
    }
    glued = is_glued(piece)
    return [
        edge for edge, held in along.items() if not (held or glued) or not _flush(pattern, piece, edge, held)
    ]


def _flush(pattern: Pattern, piece: PatternPiece, edge: Edge, held: Sequence[Work]) -> bool:
    """Whether an edge lies on the edge of the piece it is sewn to.

    Where both lie flat that is measured; else the mates' runs are asked: edges, or a line inside.
    """
    base = pattern.piece(piece.on or piece.name)
    lie = pattern.carry(piece.name, base.name)
    if lie is not None:
        return all(to_path(lie.apply(at), base.outline) <= FLUSH for at in edge.samples)
    runs = {seam.name: seam.runs for seam in pattern.seams}
    mates = [run for work in held for run in runs[work.name] if pattern.carry(piece.name, run.piece) is None]
    return bool(mates) and all(run.inside for run in mates)


def _runs_along(seam: Work, piece: str, edge: Edge) -> bool:
    """Whether a seam's holes lie beside every sample of an edge: within its inset and a step."""
    near = seam.reach / 2 + seam.pitch
    return all(
        any(distance(at, hole) <= near for run in seam.on(piece) for hole in run) for at in edge.samples
    )
