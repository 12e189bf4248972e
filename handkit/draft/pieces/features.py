"""What a piece carries beside its outline: inner lines, folds, trims, skives.

In: a piece as read and its outline. Out: the parts as paths, and findings.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pattern import FinishedEdge, NamedLine, PatternFold, RawEdge, SkivedEdge
from handkit.draft.pieces.cut import KnifeLine, cut_of
from handkit.draft.pieces.edge_run import edge_run_of
from handkit.draft.pieces.edge_works import finished_edges, raw_edges
from handkit.draft.pieces.folds import folds_of, folds_path
from handkit.draft.pieces.outline import Outline
from handkit.draft.pieces.trims import trims_of
from handkit.findings import Finding, Source, Where, finding
from handkit.geometry.affine import Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.path import Path, polyline
from handkit.geometry.region import Region
from handkit.geometry.straight import distance
from handkit.read.project import Piece
from handkit.tolerances import EDGE_SLACK, SAME_POINT


class Features(msgspec.Struct, frozen=True):
    """All that a piece carries beside its outline."""

    lines: tuple[NamedLine, ...]
    folds: tuple[PatternFold, ...]
    cut: KnifeLine
    trims: tuple[Path, ...]
    works: tuple[FinishedEdge, ...]
    raw: tuple[RawEdge, ...]
    skives: tuple[SkivedEdge, ...]


def features_of(piece: Piece, outline: Outline, body: Region) -> tuple[Features, tuple[Finding, ...]]:
    """All of them; `body` is the region of the outline. An inner line that ends where it begins is
    closed."""
    findings: list[Finding] = []
    where = piece.source.at("lines")
    lines = [_Line("line", each.name, each.points, where, each.part, piece.lined) for each in piece.lines]
    where = piece.source.at("folds")
    folds = [_Line("fold", each.name, each.points, where, lined=piece.lined) for each in piece.folds]
    sound: list[list[NamedLine]] = [[], []]
    for listed, named in zip((lines, folds), sound, strict=True):
        for line in listed:
            fault = _line_finding(line, body)
            if fault is not None:
                told = fault.following(line.part.path) if line.part else fault
                findings.append(told.spoiling(folds_path(piece)) if line.word == "fold" else told)
            else:
                named.append(NamedLine(line.name, _line_path(line.points)))
    letters = {name: outline.letter_at(k) for k, name in enumerate(outline.names)}
    where = piece.source.at("marks")
    marks = [_Line("mark", each.kind, each.points, where, lined=piece.lined) for each in piece.marks]
    faults = (_line_finding(line, body) for line in marks if "marks" in piece.stated)
    findings.extend(fault for fault in faults if fault is not None)
    bends, fold_findings = folds_of(piece, {line.name: line.path for line in sound[1]}, letters, body)
    findings.extend(each.spoiling(folds_path(piece)) for each in fold_findings)
    cut, cut_findings = cut_of(piece, outline)
    works, work_findings = finished_edges(piece, outline, cut)
    skives = tuple(
        SkivedEdge(edge_run_of(outline, skive.edges).path(outline), skive.width, skive.to)
        for skive in piece.skives
    )
    features = Features(
        lines=tuple(sound[0]),
        folds=bends,
        cut=cut,
        trims=trims_of(piece, outline, cut),
        works=works,
        raw=raw_edges(piece, outline, cut),
        skives=skives,
    )
    return features, (*findings, *(cut_findings or work_findings))


class _Line(msgspec.Struct, frozen=True):
    """A line or fold as read, and where it is told; or as drafted by a part, and told there."""

    word: str
    name: str
    points: tuple[Point, ...]
    stated: Where
    part: Source | None = None
    lined: str | None = None  # where it is written in the frame of the piece that this one lines

    def as_written(self, at: Point) -> Point:
        """A point of it in the frame it is written in."""
        return (0.0 - at[0], at[1]) if self.lined is not None and self.part is None else at

    @property
    def where(self) -> Where:
        """Where a finding of it points."""
        return self.part.at("at") if self.part is not None else self.stated


def _line_path(points: tuple[Point, ...]) -> Path:
    """A line through points, closed where the last is the first."""
    closed = len(points) > 3 and distance(points[0], points[-1]) <= SAME_POINT
    return polyline(points[:-1] if closed else points, closed=closed)


def _line_finding(line: _Line, body: Region) -> Finding | None:
    """What is wrong with a line inside a piece, or None."""
    told: dict[str, object] = {"word": line.word, "line": line.name}
    path = _line_path(line.points)
    crossing = first_crossing(path.segments, closed=path.closed)
    if crossing is not None:
        return finding("line-crosses-itself", line.where, **told, at=line.as_written(crossing.at))
    if body.covers(line.points, slack=EDGE_SLACK):
        return None
    outside = next((at for at in line.points if not body.contains(at, slack=EDGE_SLACK)), None)
    if outside is None:
        key = "line-outside-piece/part-between" if line.part else "line-outside-piece/between"
        return finding(key, line.where, **told)
    told["at"] = line.as_written(outside)
    if line.lined is not None and line.part is None:
        return finding("line-outside-piece/lining", line.where, **told, lined=line.lined)
    key = "line-outside-piece/part-point" if line.part else "line-outside-piece/point"
    return finding(key, line.where, **told)
