"""Measure: a plain piece by numbers: all that is needed to mark it out with rule, square and dividers.

In: the punched pattern, one of its pieces. Out: a `MeasuredPiece`; or a finding that says why the piece is
none: it has a curve that rounds no corner, holes along a curve, or more than one page can tell.

Words: a *base line* is drawn along the piece's longest way, the *zero line* square to it at its left end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, degrees

from handkit.draft.pattern import PatternPiece
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import box_of
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.geometry.straight import distance, vector
from handkit.kinds.openings import OpeningShape
from handkit.punch.punched import Punched
from handkit.read.project import MarkKind
from handkit.sheets.laid import LineKind, MarkedCorner, MarkedLine, MarkedRow, MeasuredPiece
from handkit.sheets.measured.corners import corners_of
from handkit.sheets.measured.rows import spans_of
from handkit.wording.stretches import spans

# More corners of an edge than this are a curve in small bits.
MOST_CORNERS = 40

# So many stitch holes may stand in no row, as at round corners: more go along a curve, and are better printed
# at full scale.
MOST_LONE = 24

# So many rows, lone holes and short marks does one page tell in letters that are read at the bench.
MOST_TOLD = 72

# Tape goes where a trial's holes are, which are told by their rows.
_MARKS = {MarkKind.MEET: LineKind.MEET, MarkKind.NOTCH: LineKind.NOTCH}


def measure(punched: Punched, piece: PatternPiece) -> MeasuredPiece | Finding:
    """The piece by its measures, or what keeps it from being given so."""
    drawn: list[tuple[LineKind, str, Path, tuple[MarkedCorner, ...]]] = []
    for kind, name, path in _paths(piece):
        corners = corners_of(path, piece.letters)
        if isinstance(corners, Segment):
            at = corners.point_at(corners.length / 2)
            return finding("not-plain/curve", piece.source.at("measured"), line=kind, at=at)
        drawn.append((kind, name, path, corners))
    places = [corner.at for corner in drawn[0][-1]]
    lie = _lie(places, mirrored=piece.template_mirrored)
    lines = tuple(
        MarkedLine(kind, name, tuple(_moved(corner, lie) for corner in corners), path.moved(lie))
        for kind, name, path, corners in drawn
    )
    box = box_of(lie.apply_all(places))
    rows = tuple(_rows(punched, piece, lie))
    found = MeasuredPiece(piece.name, lie, box.width, box.height, lines, rows)
    return _too_much(found, piece) or found


def _moved(corner: MarkedCorner, lie: Affine) -> MarkedCorner:
    return MarkedCorner(_tidy(lie, corner.at), corner.radius, corner.letter)


def _too_much(found: MeasuredPiece, piece: PatternPiece) -> Finding | None:
    where, corners = piece.source.at("measured"), len(found.cut.corners)
    if corners > MOST_CORNERS:
        return finding("not-plain/corners", where, corners=corners, most=MOST_CORNERS)
    lone = [row for row in found.rows if row.run and not row.steps]
    if len(lone) > MOST_LONE:
        seams = list(dict.fromkeys(row.name for row in lone))
        return finding("not-plain/holes", where, holes=len(lone), seams=seams, most=MOST_LONE)
    told = len(found.rows) + len(found.lines)
    return finding("not-plain/much", where, told=told, most=MOST_TOLD) if told > MOST_TOLD else None


def _paths(piece: PatternPiece) -> Iterator[tuple[LineKind, str, Path]]:
    """All lines that are drawn on it, the knife's first."""
    yield LineKind.CUT, "", piece.cut_outline
    if piece.cut_outline != piece.outline:
        yield LineKind.TRIM if piece.trims else LineKind.FINISHED, "", piece.outline
    for work in piece.works:
        yield from ((LineKind.HEM, str(work.work.edges), fold) for fold in work.folds)
    yield from ((LineKind.FOLD, fold.name, fold.path) for fold in piece.folds)
    units = piece.source.units
    for skive in piece.skives:
        yield LineKind.SKIVE, f"{units.text(skive.width)} wide, to {units.text(skive.to)}", skive.path
    yield from ((_MARKS[mark.kind], "", mark.path) for mark in piece.marks if mark.kind in _MARKS)


def _rows(punched: Punched, piece: PatternPiece, lie: Affine) -> Iterator[MarkedRow]:
    """Rows and lone holes of its seams, then of its openings."""
    for seam in punched.seams:
        for layer in seam.layers:
            if layer.piece != piece.name:
                continue
            marked = [list(row) for row in seam.marked_rows(layer)]
            numbers = {hole.number for row in marked for hole in row}
            ends = {number for stretch in seam.stretches_of(layer) for number in stretch} - numbers
            checks = [[hole] for hole in layer.holes if hole.number in ends]
            for row in (*marked, *checks):
                places = [(hole.number, hole.at, hole.slit_degrees) for hole in row]
                yield from _told(seam.name, layer.run, places, lie)
    for opening in punched.pattern.openings:
        slot = opening.opening.traits.long
        places = [
            (place.number, place.at, place.degrees if slot else None)
            for place in opening.places
            if place.piece == piece.name
        ]
        keyed = opening.opening.traits.shape is OpeningShape.KEYED
        yield from _told(opening.name, 0, places, lie, headed=keyed)


def _told(
    name: str,
    run: int,
    places: list[tuple[int, Point, float | None]],
    lie: Affine,
    *,
    headed: bool = False,
) -> Iterator[MarkedRow]:
    """Places in the order of their numbers, as rows and lone ones; `headed` where a line has a front end."""
    turned = lie.heading if headed else lie.way
    for begin, end in spans([number for number, *_ in places]):
        part = [place for place in places if begin <= place[0] <= end]
        for first, last in spans_of([(at, way) for _, at, way in part]):
            (one, start, _), (other, stop, way) = part[first], part[last]
            angle = None if way is None else turned(way)
            yield MarkedRow(name, run, one, other, _tidy(lie, start), _tidy(lie, stop), angle)


def _lie(corners: Sequence[Point], *, mirrored: bool) -> Affine:
    """From the piece's frame to its drawing's: turned so that the longest edge between the corners of its cut
    lies along the base line or square to it, wider than high.
    """
    over = Affine.mirror() if mirrored else Affine()
    places = over.apply_all(corners)
    edges = zip(places, (*places[1:], places[0]), strict=True)
    start, end = max(edges, key=lambda edge: round(distance(*edge), 6))
    dx, dy = vector(start, end)
    slant = (degrees(atan2(dy, dx)) + 45.0) % 90.0 - 45.0
    lie = (Affine.turn(-slant) if abs(slant) > 1e-9 else Affine()) @ over
    box = box_of(lie.apply_all(corners))
    if box.height > box.width + 1e-6:
        lie = Affine.turn(-90) @ lie
        box = box_of(lie.apply_all(corners))
    return Affine.shift(-box.left, -box.bottom) @ lie


def _tidy(lie: Affine, at: Point) -> Point:
    """A place as it is told; never −0."""
    x, y = lie.apply(at)
    return (round(x, 6) + 0.0, round(y, 6) + 0.0)
