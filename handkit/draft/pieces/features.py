"""What a piece carries beside its outline: inner lines, folds, trims, skives.

In: a piece as read and its outline. Out: the parts as paths, and findings.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draft.pattern import NamedLine, SkivedEdge
from handkit.draft.pieces.edges import stretch_of
from handkit.draft.pieces.outline import Outline
from handkit.draft.pieces.trims import Trims, trims_of
from handkit.draft.words import point
from handkit.findings import Finding, Where, error
from handkit.geometry.affine import Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.path import Path, polyline
from handkit.geometry.region import Region
from handkit.geometry.straight import distance
from handkit.read.project import Piece
from handkit.tolerances import EDGE_SLACK, SAME_POINT


class Parts(msgspec.Struct, frozen=True):
    """All that a piece carries beside its outline."""

    lines: tuple[NamedLine, ...]
    folds: tuple[NamedLine, ...]
    trims: Trims
    skives: tuple[SkivedEdge, ...]


def parts_of(piece: Piece, outline: Outline, body: Region) -> tuple[Parts, tuple[Finding, ...]]:
    """All of them; `body` is the region of the outline."""
    lines, line_findings = lines_of(piece, body)
    folds, fold_findings = folds_of(piece, body)
    trims, trim_findings = trims_of(piece, outline)
    parts = Parts(lines, folds, trims, skives_of(piece, outline))
    return parts, (*line_findings, *fold_findings, *trim_findings)


def lines_of(piece: Piece, body: Region) -> tuple[tuple[NamedLine, ...], tuple[Finding, ...]]:
    """The inner lines as paths; one that ends where it begins is closed."""
    where = piece.source.at("lines")
    entries = [
        _Entry(
            each.name, each.points, each.part.at("at") if each.part else where, drafted=each.part is not None
        )
        for each in piece.lines
    ]
    return _named(entries, "line", body)


def folds_of(piece: Piece, body: Region) -> tuple[tuple[NamedLine, ...], tuple[Finding, ...]]:
    """The fold lines as paths."""
    entries = [_Entry(fold.name, fold.points, piece.source.at("folds")) for fold in piece.folds]
    return _named(entries, "fold", body)


class _Entry(msgspec.Struct, frozen=True):
    """A line as read or drafted by a part, and where it is to be told."""

    name: str
    points: tuple[Point, ...]
    where: Where
    drafted: bool = False


def _named(
    entries: Iterable[_Entry], word: str, body: Region
) -> tuple[tuple[NamedLine, ...], tuple[Finding, ...]]:
    """The named lines that are sound, and findings for the others."""
    named: list[NamedLine] = []
    findings: list[Finding] = []
    for entry in entries:
        finding = _line_finding(f'{word} "{entry.name}"', entry, body)
        if finding is not None:
            findings.append(finding)
        else:
            named.append(NamedLine(entry.name, _line_path(entry.points)))
    return tuple(named), tuple(findings)


def _line_path(points: tuple[Point, ...]) -> Path:
    """A line through points, closed where the last is the first."""
    closed = len(points) > 3 and distance(points[0], points[-1]) <= SAME_POINT
    return polyline(points[:-1] if closed else points, closed=closed)


def _line_finding(called: str, entry: _Entry, body: Region) -> Finding | None:
    """What is wrong with a line inside a piece, or None."""
    points, where = entry.points, entry.where
    path = _line_path(points)
    crossing = first_crossing(path.segments, closed=path.closed)
    if crossing is not None:
        return error(
            "line-crosses-itself",
            where,
            found=f"{called} meeting itself at {point(crossing.at)}",
            allowed="a line that neither touches nor crosses itself",
            remedy="list its points in their order, or make two lines of it",
        )
    if not body.covers(points, slack=EDGE_SLACK):
        outside = next((at for at in points if not body.contains(at, slack=EDGE_SLACK)), None)
        what = "leaving the piece between its points" if outside is None else f"with {point(outside)} outside"
        return error(
            "line-outside-piece",
            where,
            found=f"{called} {what}",
            allowed="a line inside the outline, its edge included",
            remedy="move the part, or make its base larger"
            if entry.drafted
            else "move the line, or the outline",
        )
    return None


def skives_of(piece: Piece, outline: Outline) -> tuple[SkivedEdge, ...]:
    """The skived edges as paths."""
    return tuple(
        SkivedEdge(stretch_of(outline, skive.edges).path(outline), skive.width, skive.to)
        for skive in piece.skives
    )
