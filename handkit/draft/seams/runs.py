"""Runs: the line of a seam on one piece, its corners and where its match points stand.

In: a layer of a seam and its drafted piece. Out: a `Run`, or None; and findings.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pattern import Run
from handkit.draft.pieces.drawn import DrawnPiece
from handkit.draft.pieces.edge_run import EdgeRun, edge_run_of
from handkit.draft.seams.stitch_line import StitchLine, stitch_line
from handkit.findings import Finding, Where, finding
from handkit.geometry.affine import Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.largest import largest_fitting
from handkit.geometry.straight import distance
from handkit.read.project import Edges, Layer, Seam
from handkit.tolerances import CORNER_TURN_DEGREES, EDGE_SLACK, SAGITTA, SAME_POINT

# A match point may stand on the edge, or at a sharp corner: so many insets from the stitch line.
_MATCH_REACH = 2.0


class _Stated(msgspec.Struct, frozen=True):
    """A layer with a run of its own, and the piece it is on."""

    seam: Seam
    layer: Layer
    drafted: DrawnPiece


def stated_run(seam: Seam, index: int, drafted: DrawnPiece) -> tuple[Run | None, tuple[Finding, ...]]:
    """The run of a seam's layer that states one; None without a finding where its line is faulty."""
    stated = _Stated(seam, seam.layers[index], drafted)
    line = _line(stated)
    if line is None or isinstance(line, Finding):
        return None, (line,) if line else ()
    places = [match.places[index] for match in seam.matches]
    meets = [_meeting(stated, line, place) for place in places]
    findings = tuple(along for along in meets if isinstance(along, Finding))
    if findings:
        return None, findings
    run = Run(
        source=stated.layer.source,
        piece=stated.layer.piece,
        text=str(stated.layer.run),
        path=line.path,
        carried_from=None,
        corners=line.path.corners(over_degrees=CORNER_TURN_DEGREES),
        meets=tuple(along for along in meets if not isinstance(along, Finding)),
        inside=line.inside,
    )
    return run, ()


def _line(stated: _Stated) -> StitchLine | Finding | None:
    """The line of the layer, with its ends moved; or why there is none; None where that is told."""
    layer, drafted = stated.layer, stated.drafted
    if not isinstance(layer.run, Edges):
        paths = [line.path for line in drafted.piece.lines if line.name == layer.run]
        return _ends_moved(stated, StitchLine(paths[0], (), 0)) if paths else None
    edge_run = edge_run_of(drafted.outline, layer.run)
    line = stitch_line(drafted.outline, edge_run, layer.inset, body=drafted.body)
    return _unfit_inset(stated, edge_run) if line is None else _ends_moved(stated, line)


def _unfit_inset(stated: _Stated, edge_run: EdgeRun) -> Finding:
    layer, drafted = stated.layer, stated.drafted

    def fits(inset: float) -> bool:
        return stitch_line(drafted.outline, edge_run, inset, body=drafted.body) is not None

    largest = largest_fitting(layer.inset, fits)
    own = layer.source.says("inset")
    where = (layer.source if own else stated.seam.source).at("inset")
    if not largest:
        return finding("inset-too-big/none", where, inset=layer.inset, run=layer.text)
    return finding("inset-too-big", where, inset=layer.inset, run=layer.text, most=largest)


def _ends_moved(stated: _Stated, line: StitchLine) -> StitchLine | Finding:
    """The line with from_start and from_end taken off, or why that can't be."""
    layer = stated.layer
    if not layer.from_start and not layer.from_end:
        return line
    where = layer.source.at("from_start" if layer.from_start else "from_end")
    moved = line.shortened(layer.from_start, layer.from_end)
    if moved is None:
        taken, length = layer.from_start + layer.from_end, line.path.length
        return finding("nothing-left-of-run", where, taken=taken, run=layer.text, length=length)
    if first_crossing(moved.path.segments, closed=False) is not None:
        return finding("run-crosses-itself", where, run=layer.text)
    if not stated.drafted.body.covers(moved.path.flattened(sagitta=SAGITTA), slack=EDGE_SLACK):
        return finding("run-outside-piece", where, run=layer.text)
    return moved


def _meeting(stated: _Stated, line: StitchLine, place: str | Point | None) -> float | Finding | None:
    """How far along a match point stands; None where this layer has none."""
    if place is None:
        return None
    where = stated.seam.source.at("match")
    if isinstance(place, str):
        along = line.station(place)
        if along is None or not -SAME_POINT <= along <= line.path.length + SAME_POINT:
            return _letter_off(stated.layer, line, place, where)
        return min(max(along, 0.0), line.path.length)
    along = line.path.along_of(place)
    off, most = distance(line.path.point_at(along), place), _MATCH_REACH * stated.layer.inset
    return along if off <= most + SAME_POINT else _point_off(stated.layer, place, off, where)


def _letter_off(layer: Layer, line: StitchLine, letter: str, where: Where) -> Finding:
    """A letter whose place was taken off the run's ends."""
    length = line.path.length
    passed = ", ".join(
        dict.fromkeys(name for name, along in line.stations if -SAME_POINT <= along <= length + SAME_POINT)
    )
    if not passed:
        return finding("match-off-run/no-letter", where, letter=letter, run=layer.text)
    return finding("match-off-run/letter", where, letter=letter, run=layer.text, passed=passed)


def _point_off(layer: Layer, at: Point, off: float, where: Where) -> Finding:
    most = _MATCH_REACH * layer.inset
    return finding("match-off-run/point", where, at=at, off=off, run=layer.text, most=most)
