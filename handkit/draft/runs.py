"""Runs: the line of a seam on one piece, its corners and where its match points stand.

In: a layer as read and its drafted piece. Out: a `Run`, or None; and findings.
"""

from __future__ import annotations

from dataclasses import dataclass

from handkit.draft.edges import Stretch, stretch_of
from handkit.draft.pattern import Run
from handkit.draft.pieces import Drafted
from handkit.draft.stitch_line import StitchLine, stitch_line
from handkit.draft.words import at_most, mm, point
from handkit.findings import Finding, error, nearest
from handkit.geometry.affine import Point
from handkit.geometry.largest import largest_fitting
from handkit.geometry.path import distance
from handkit.read.project import Edges, Layer
from handkit.tolerances import CORNER_TURN_DEGREES, EDGE_SLACK, SAGITTA, SAME_POINT

Place = str | Point | None


@dataclass(frozen=True, slots=True)
class _Line:
    """A layer's line and the layer it belongs to; `reach` is how far off a match point may be."""

    layer: Layer
    line: StitchLine
    reach: float


def stated_run(
    layer: Layer, drafted: Drafted, places: tuple[Place, ...]
) -> tuple[Run | None, tuple[Finding, ...]]:
    """The run of a layer that states one; `places` are the layer's own of the seam's match points."""
    found = _edges_line(layer, drafted) if isinstance(layer.run, Edges) else _inner_line(layer, drafted)
    if isinstance(found, Finding):
        return None, (found,)
    line = _ends_moved(layer, found, drafted)
    if isinstance(line, Finding):
        return None, (line,)
    meets: list[float | None] = []
    findings: list[Finding] = []
    for place in places:
        along = _meeting(_Line(layer, line, 2 * layer.inset), place)
        if isinstance(along, Finding):
            findings.append(along)
        else:
            meets.append(along)
    run = Run(
        source=layer.source,
        piece=layer.piece,
        text=str(layer.run),
        path=line.path,
        carried_from=None,
        corners=line.path.corners(over_degrees=CORNER_TURN_DEGREES),
        meets=tuple(meets),
        inside=line.inside,
    )
    return (None if findings else run), tuple(findings)


def _edges_line(layer: Layer, drafted: Drafted) -> StitchLine | Finding:
    """The stitch line of a run of edges, or why there is none."""
    assert isinstance(layer.run, Edges)
    stretch = stretch_of(drafted.outline, layer.run, layer.source.at("run"))
    if isinstance(stretch, Finding):
        return stretch
    line = stitch_line(drafted.outline, stretch, layer.inset, body=drafted.body)
    return line if line is not None else _unfit_inset(layer, drafted, stretch)


def _unfit_inset(layer: Layer, drafted: Drafted, stretch: Stretch) -> Finding:
    def fits(inset: float) -> bool:
        return stitch_line(drafted.outline, stretch, inset, body=drafted.body) is not None

    largest = largest_fitting(layer.inset, fits)
    return error(
        "inset-too-big",
        layer.source.at("inset"),
        found=f'inset {mm(layer.inset)} on "{layer.text}", where the stitch line would cross itself '
        "or leave the piece",
        allowed=at_most(largest, smallest="no inset of 0.1 mm or more"),
        remedy="make the inset smaller or the piece wider",
    )


def _inner_line(layer: Layer, drafted: Drafted) -> StitchLine | Finding:
    """The inner line a layer names."""
    names = [line.name for line in drafted.piece.lines]
    for line in drafted.piece.lines:
        if line.name == layer.run:
            return StitchLine(line.path, (), 0)
    near = nearest(str(layer.run), names)
    known = ", ".join(names) if names else "none is drawn"
    return error(
        "unknown-line",
        layer.source.at("run"),
        found=f'line {layer.run} on piece "{layer.piece}"',
        allowed=f"a line of that piece ({known}) or its corner letters",
        remedy=f"did you mean {near}?" if near else "draw the line, or name edges by their letters",
    )


def _ends_moved(layer: Layer, line: StitchLine, drafted: Drafted) -> StitchLine | Finding:
    """The line with from_start and from_end taken off, or why that can't be."""
    if not layer.from_start and not layer.from_end:
        return line
    key = layer.source.at("from_start" if layer.from_start else "from_end")
    if line.path.closed:
        return error(
            "ends-on-closed-run",
            key,
            found=f'from_start or from_end on "{layer.text}", which goes all round',
            allowed="moved ends only where a run has ends",
            remedy="leave them out",
        )
    moved = line.shortened(layer.from_start, layer.from_end)
    if moved is None:
        return error(
            "nothing-left-of-run",
            key,
            found=f'{mm(layer.from_start + layer.from_end)} taken off "{layer.text}", '
            f"which is {mm(line.path.length)} long",
            allowed=f"less than {mm(line.path.length)} in all",
            remedy="make from_start or from_end smaller",
        )
    if not drafted.body.covers(moved.path.flattened(sagitta=SAGITTA), slack=EDGE_SLACK):
        return error(
            "run-outside-piece",
            key,
            found=f'"{layer.text}" prolonged beyond the outline of piece "{layer.piece}"',
            allowed="a stitch line inside the piece",
            remedy="prolong it by less",
        )
    return moved


def _meeting(on: _Line, place: Place) -> float | Finding | None:
    """How far along a match point stands; None where this layer has none."""
    if place is None:
        return None
    length = on.line.path.length
    if isinstance(place, str):
        along = on.line.station(place)
        if along is None or not -SAME_POINT <= along <= length + SAME_POINT:
            return _letter_off(on, place)
        return min(max(along, 0.0), length)
    along = on.line.path.along_of(place)
    off = distance(on.line.path.point_at(along), place)
    return along if off <= on.reach + SAME_POINT else _point_off(on, place, off)


def _letter_off(on: _Line, letter: str) -> Finding:
    passed = ", ".join(
        dict.fromkeys(
            name
            for name, along in on.line.stations
            if -SAME_POINT <= along <= on.line.path.length + SAME_POINT
        )
    )
    return error(
        "match-off-run",
        on.layer.source.at("match"),
        found=f'match point {letter} on "{on.layer.text}"',
        allowed=f"a letter the run passes ({passed}) or a point" if passed else "a point [x, y]",
        remedy="name a corner of this run",
    )


def _point_off(on: _Line, at: Point, off: float) -> Finding:
    return error(
        "match-off-run",
        on.layer.source.at("match"),
        found=f'match point {point(at)}, {mm(off)} from the stitch line of "{on.layer.text}"',
        allowed=f"at most {mm(on.reach)} from it",
        remedy="give the point in the frame of this layer's piece, on its stitch line or edge",
    )
