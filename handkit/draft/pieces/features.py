"""What a piece carries beside its outline: inner lines, folds, trims, skives.

In: a piece as read and its outline. Out: the parts as paths, and findings.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draft.pattern import NamedLine, SkivedEdge
from handkit.draft.pieces.edge_run import edge_run_of
from handkit.draft.pieces.outline import Outline
from handkit.draft.pieces.trims import Trims, trims_of
from handkit.findings import Finding, Where, finding
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
    folds: tuple[NamedLine, ...]
    trims: Trims
    skives: tuple[SkivedEdge, ...]


def features_of(piece: Piece, outline: Outline, body: Region) -> tuple[Features, tuple[Finding, ...]]:
    """All of them; `body` is the region of the outline."""
    lines, line_findings = lines_of(piece, body)
    folds, fold_findings = folds_of(piece, body)
    trims, trim_findings = trims_of(piece, outline)
    features = Features(lines, folds, trims, skives_of(piece, outline))
    return features, (*line_findings, *fold_findings, *trim_findings)


def lines_of(piece: Piece, body: Region) -> tuple[tuple[NamedLine, ...], tuple[Finding, ...]]:
    """The inner lines as paths; one that ends where it begins is closed."""
    where = piece.source.at("lines")
    lines_read = [
        _Line(
            each.name, each.points, each.part.at("at") if each.part else where, drafted=each.part is not None
        )
        for each in piece.lines
    ]
    return _named(lines_read, "line", body)


def folds_of(piece: Piece, body: Region) -> tuple[tuple[NamedLine, ...], tuple[Finding, ...]]:
    """The fold lines as paths."""
    lines_read = [_Line(fold.name, fold.points, piece.source.at("folds")) for fold in piece.folds]
    return _named(lines_read, "fold", body)


class _Line(msgspec.Struct, frozen=True):
    """A line as read or drafted by a part, and where it is to be told."""

    name: str
    points: tuple[Point, ...]
    where: Where
    drafted: bool = False


def _named(
    lines: Iterable[_Line], word: str, body: Region
) -> tuple[tuple[NamedLine, ...], tuple[Finding, ...]]:
    """The named lines that are sound, and findings for the others."""
    named: list[NamedLine] = []
    findings: list[Finding] = []
    for line in lines:
        fault = _line_finding(word, line, body)
        if fault is not None:
            findings.append(fault)
        else:
            named.append(NamedLine(line.name, _line_path(line.points)))
    return tuple(named), tuple(findings)


def _line_path(points: tuple[Point, ...]) -> Path:
    """A line through points, closed where the last is the first."""
    closed = len(points) > 3 and distance(points[0], points[-1]) <= SAME_POINT
    return polyline(points[:-1] if closed else points, closed=closed)


def _line_finding(word: str, line: _Line, body: Region) -> Finding | None:
    """What is wrong with a line inside a piece, or None."""
    points, where, called = line.points, line.where, {"word": word, "line": line.name}
    path = _line_path(points)
    crossing = first_crossing(path.segments, closed=path.closed)
    if crossing is not None:
        return finding("line-crosses-itself", where, **called, at=crossing.at)
    if body.covers(points, slack=EDGE_SLACK):
        return None
    outside = next((at for at in points if not body.contains(at, slack=EDGE_SLACK)), None)
    if outside is None:
        key = "line-outside-piece/part-between" if line.drafted else "line-outside-piece/between"
        return finding(key, where, **called)
    key = "line-outside-piece/part-point" if line.drafted else "line-outside-piece/point"
    return finding(key, where, **called, at=outside)


def skives_of(piece: Piece, outline: Outline) -> tuple[SkivedEdge, ...]:
    """The skived edges as paths."""
    return tuple(
        SkivedEdge(edge_run_of(outline, skive.edges).path(outline), skive.width, skive.to)
        for skive in piece.skives
    )
