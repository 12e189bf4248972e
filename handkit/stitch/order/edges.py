"""Edges: which edges of a piece are sewn, closed in, skived or trimmed, by their letters.

In: pieces, tasks and enclosures. Out: edges as runs of letters, such as "C-D".

Words: a *mouth* is an edge of a covering piece that no seam holds; it lies close to the base once
the piece is sewn down, and is bevelled and burnished before. So is an edge that is sewn down inside
the base's own; only where both are *flush* are they made one after stitching. *Buried* is an edge
that lies between two layers that close over it, and not on the rim they end at together.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby, islice

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.region import Region
from handkit.geometry.straight import distance
from handkit.grouping import grouped
from handkit.stitch.order.enclosure import Enclosure
from handkit.stitch.order.tasks import Task, TaskKind, frame_of, is_glued
from handkit.tolerances import EDGE_SLACK
from handkit.wording.edge_names import edge_words
from handkit.wording.figures import METRIC, Units
from handkit.wording.quoting import words

# Edges of two layers no farther apart than this are sanded into one (common practice, no source).
FLUSH = 1.0

# Where an edge is looked at: shares of its length, clear of the corners.
SAMPLES = (0.25, 0.5, 0.75)


class OutlineEdge(msgspec.Struct, frozen=True):
    """One edge of an outline, from letter to letter, its sample points; where on the outline it begins, and
    how long it is. Of a `part` of an edge also from where to where that goes along it."""

    start: str
    end: str
    samples: tuple[Point, ...]
    low: float = 0.0
    span: float = 0.0
    part: tuple[float, float] | None = None

    def between(self, low: float, high: float, outline: Path) -> OutlineEdge:
        """The part from one distance along the edge to another; the edge itself where that is all of it."""
        if (low, high) == (0.0, self.span):
            return self
        samples = tuple(outline.point_at(self.low + low + (high - low) * share) for share in SAMPLES)
        return OutlineEdge(self.start, self.end, samples, self.low + low, high - low, (low, high))


def edges_of(piece: PatternPiece) -> tuple[OutlineEdge, ...]:
    """All edges of a piece in order; a circle's single edge starts and ends at its A."""
    outline, length = piece.outline, piece.outline.length
    names = [letter.name for letter in piece.letters]
    stations = _stations(outline, [letter.at for letter in piece.letters])
    edges = []
    for index, (start, low) in enumerate(zip(names, stations, strict=True)):
        follows = (index + 1) % len(names)
        span = (stations[follows] - low) % length or length
        samples = tuple(outline.point_at(low + span * share) for share in SAMPLES)
        edges.append(OutlineEdge(start, names[follows], samples, low, span))
    return tuple(edges)


def bare_edges(piece: PatternPiece) -> tuple[OutlineEdge, ...]:
    """The edges that end in a cut: not those that are turned, bound, or have an allowance beyond."""
    worked = frozenset(edges_along(piece, [each.path for each in piece.works]) if piece.works else ())
    return tuple(edge for edge in edges_of(piece) if edge not in worked)


def _stations(outline: Path, points: Sequence[Point]) -> list[float]:
    """How far along an outline points lie that follow one another on it: one walk for all."""
    ends, found, index = outline.stations(), [], 0
    for point in points:
        index, along = next(
            (k, along)
            for k, segment in enumerate(islice(outline.segments, index, None), index)
            if distance(segment.point_at(along := segment.along_of(point)), point) <= EDGE_SLACK
        )
        found.append(ends[index] + along)
    return found


def named(edges: Iterable[OutlineEdge], units: Units = METRIC) -> str:
    """Edges as runs of letters; what goes all round is said so, and of a part of one how far from its first
    letter it is.

    >>> named([OutlineEdge("A", "B", ()), OutlineEdge("B", "C", ()), OutlineEdge("D", "A", ())])
    'A-B-C, D-A'
    >>> named([OutlineEdge("A", "B", ()), OutlineEdge("B", "C", ()), OutlineEdge("C", "A", ())])
    'its whole edge'
    >>> part = OutlineEdge("B", "C", (), part=(0, 51.2))
    >>> named([OutlineEdge("A", "B", ()), part, OutlineEdge("B", "C", (), part=(98.8, 150))])
    'A-B, B-C (0 to 51 and 99 to 150 mm from B)'
    """
    told = []
    for whole, some in groupby(edges, key=lambda edge: edge.part is None):
        if whole:
            told.append(edge_words((edge.start, edge.end) for edge in some))
        else:
            told += [
                _parts_named(ends, parts, units)
                for ends, parts in grouped(some, by=lambda edge: (edge.start, edge.end)).items()
            ]
    return ", ".join(told)


def _parts_named(ends: tuple[str, str], parts: Sequence[OutlineEdge], units: Units) -> str:
    number = units.about.number
    reach = words((f"{number(e.part[0])} to {number(e.part[1])}" for e in parts if e.part), last="and")
    return f"{'-'.join(ends)} ({reach} {units.about.unit} from {ends[0]})"


def edges_along(piece: PatternPiece, paths: Sequence[Path]) -> tuple[OutlineEdge, ...]:
    """The edges that lie on any of some paths, such as a skive's."""
    return tuple(
        edge
        for edge in edges_of(piece)
        if any(all(path.comes_within(EDGE_SLACK, at) for at in edge.samples) for path in paths)
    )


def enclosed_edges(
    pattern: Pattern, enclosures: Sequence[Enclosure], tasks: Sequence[Task]
) -> dict[tuple[str, OutlineEdge], tuple[Task, bool]]:
    """Leather edges that are closed in, by piece and edge: the first task that does, and whether the edge is
    its piece's own mouth or foot there, and not buried under others.

    `tasks` are in working order.
    """
    turn = {task: index for index, task in enumerate(tasks)}
    found: dict[tuple[str, OutlineEdge], tuple[Task, bool]] = {}
    for enclosure in enclosures:
        first = min(enclosure.holders, key=lambda task: turn[task])
        for piece in pattern.pieces:
            if piece.traits.is_leather:
                own = piece.name in enclosure.pieces
                for edge in _hidden(piece, enclosure, pattern, tasks):
                    known = found.get((piece.name, edge))
                    if known is None or turn[first] < turn[known[0]]:
                        found[piece.name, edge] = (first, own)
                    elif known[0] is first:  # what is buried under one cover is covered
                        found[piece.name, edge] = (first, own and known[1])
    return found


def _hidden(
    piece: PatternPiece, enclosure: Enclosure, pattern: Pattern, tasks: Sequence[Task]
) -> Iterable[OutlineEdge]:
    """The edges of a piece that one enclosure hides: mouths of the cover, what is buried between."""
    if piece.name in enclosure.pieces:
        covers = len(set(enclosure.pieces)) == 2 and piece.on in enclosure.pieces
        return _apart(pattern, piece, tasks) if covers else ()
    frame, way = frame_of(piece)
    if frame != enclosure.frame or not enclosure.low <= piece.level <= enclosure.high:
        return ()
    inner = enclosure.area.grown(-FLUSH)
    return [edge for edge in edges_of(piece) if _lies_in(edge, way, inner)]


def _lies_in(edge: OutlineEdge, way: Affine, area: Region) -> bool:
    return not area.outside(way.apply_all(edge.samples))


def _apart(pattern: Pattern, piece: PatternPiece, tasks: Sequence[Task]) -> list[OutlineEdge]:
    """Edges that can't be made one with the base's after stitching: mouths, and all that isn't flush.

    What is glued down is held along every edge.
    """
    seams = [task for task in tasks if task.kind is TaskKind.SEAM and piece.name in task.pieces]
    along = {
        edge: [seam for seam in seams if _runs_along(seam, piece.name, edge)] for edge in edges_of(piece)
    }
    glued = is_glued(piece)
    return [
        edge for edge, held in along.items() if not (held or glued) or not _flush(pattern, piece, edge, held)
    ]


def _flush(pattern: Pattern, piece: PatternPiece, edge: OutlineEdge, held: Sequence[Task]) -> bool:
    """Whether an edge lies on the edge of the piece it is sewn to.

    Where both lie flat that is measured; else the mates' runs are asked: edges, or a line inside.
    """
    base = pattern.piece(piece.on or piece.name)
    lie = pattern.carry(piece.name, base.name)
    if lie is not None:
        return all(base.outline.comes_within(FLUSH, lie.apply(at)) for at in edge.samples)
    runs = {seam.name: seam.runs for seam in pattern.seams}
    mates = [run for task in held for run in runs[task.name] if pattern.carry(piece.name, run.piece) is None]
    return bool(mates) and all(run.inside for run in mates)


def _runs_along(seam: Task, piece: str, edge: OutlineEdge) -> bool:
    """Whether a seam's holes lie beside every sample of an edge: within its inset and a step."""
    near = seam.reach / 2 + seam.pitch
    return all(
        any(distance(at, hole) <= near for run in seam.on(piece) for hole in run) for at in edge.samples
    )
