"""Layers: the holes of a seam on each of its layers.

In: a seam and its matched fixed holes. Out: a `PunchedLayer` for each run, all with equal counts,
or findings. All mm, in the frame of each piece; angles in degrees.

Words: a *carried* layer takes the holes of another through the placement of both pieces; a *slit*
stands at its slant to the way of the seam, and is mirrored where the layer is marked from the
other side, as beyond a fold. At a corner it stands to the *leg* that arrives there: half-way
between both it would point straight at an edge, and need twice its length of leather.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, degrees

import msgspec

from handkit.draft.pattern import Pattern, PatternSeam, Run
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.region import region_of
from handkit.punch.punched import Hole, PunchedLayer
from handkit.punch.spacing.crossings import origin_of
from handkit.punch.spacing.dividers import MeasuredPath, halfway, measured_path
from handkit.punch.spacing.matching import Matched
from handkit.punch.spacing.spacing import IRON_LAST, Spaced, spaced
from handkit.read.project import SlitHole, Spacing
from handkit.tolerances import EDGE_SLACK

# An iron's last five steps may be this share longer or shorter than its pitch; beyond, the row
# no longer looks like one (our own).
IRON_SLACK = 0.5

# Directions closer than this, in degrees, are the same: rounding of the arithmetic.
_SAME_DIRECTION_DIGITS = 9


class Marked(msgspec.Struct, frozen=True):
    """A hole before its slit is known: where, and unit vectors of the way and of the leg it ends."""

    at: Point
    way: Point
    leg: Point
    fixed: bool


def layers_of(
    pattern: Pattern, seam: PatternSeam, holes: Matched
) -> tuple[tuple[PunchedLayer, ...], tuple[Finding, ...]]:
    """The seam's layers in the file's order; none where a finding stops the work."""
    marked: dict[int, list[Marked]] = {}
    findings: list[Finding] = []
    for row, index in enumerate(holes.runs):
        found, marks = _marked(seam, holes, row)
        findings.extend(found)
        marked[index] = marks
    if findings:
        return (), tuple(findings)
    slants = _slants(pattern, seam, holes)
    layers: dict[int, PunchedLayer] = {
        index: _layer(seam, index, marks, slants[index], holes.fixed[row][-1] - holes.fixed[row][0])
        for row, (index, marks) in enumerate(marked.items())
    }
    for index, run in enumerate(seam.runs):
        if run.path is None:
            layers[index] = _carried(pattern, seam, index, layers[origin_of(seam, index)])
            if not layers[index].holes:
                missed = finding("layer-missed", run.source.at(), seam=seam.name, piece=run.piece)
                findings.append(missed)
    if findings:
        return (), tuple(findings)
    return tuple(layers[index] for index in range(len(seam.runs))), ()


def _marked(seam: PatternSeam, holes: Matched, row: int) -> tuple[list[Finding], list[Marked]]:
    """The holes of one run: stretch by stretch, each fixed hole once."""
    run, fixed = seam.runs[holes.runs[row]], holes.fixed[row]
    findings: list[Finding] = []
    stretches: list[tuple[MeasuredPath, Spaced]] = []
    settings = seam.stitching
    for (low, high), count in zip(pairwise(fixed), holes.counts, strict=True):
        assert run.path is not None
        line = measured_path(run.path.between(low, high))
        stretch = spaced(line, count=count, pitch=settings.pitch, spacing=settings.spacing)
        iron = settings.spacing is Spacing.IRON and count > IRON_LAST
        if iron and (stretch is None or abs(stretch.step - settings.pitch) > IRON_SLACK * settings.pitch):
            findings.append(_off_iron(seam, run, line, stretch))
        elif stretch is None:
            findings.append(_no_step(seam, run, line, count))
        else:
            stretches.append((line, stretch))
    return findings, [] if findings else _strung(stretches, holes.soft, closed=seam.closed)


def _strung(
    stretches: Sequence[tuple[MeasuredPath, Spaced]], soft: frozenset[int], *, closed: bool
) -> list[Marked]:
    """All holes of a run in order; the way at a fixed hole is half-way between both stretches, its
    leg the one that arrives, or at the start of an open run the one that leaves.
    """
    marks: list[Marked] = []
    for number, (line, stretch) in enumerate(stretches):
        ways = [line.direction(place) for place in stretch.places]
        own = [Marked(at, way, way, False) for at, way in zip(stretch.points, ways, strict=True)]
        first = _between(marks.pop(), own[0]) if marks else own[0]
        marks.extend(
            (
                msgspec.structs.replace(first, fixed=number not in soft),
                *own[1:-1],
                msgspec.structs.replace(own[-1], fixed=number + 1 not in soft),
            )
        )
    if closed:
        marks[0] = _between(marks.pop(), marks[0])
    return marks


def _between(arriving: Marked, leaving: Marked) -> Marked:
    """The one hole that ends a stretch and begins another."""
    return msgspec.structs.replace(leaving, way=halfway(arriving.way, leaving.way), leg=arriving.leg)


def _slants(pattern: Pattern, seam: PatternSeam, holes: Matched) -> dict[int, int]:
    """For each run with a line +1 where its slits slant as the first run's do, −1 where mirrored; of a
    project for the other hand all the other way.

    On a piece that an earlier run is on, or lies flat on: as they will lie, so that the slits meet.
    Else mirrored where the two bodies lie on unlike sides of the way: the layers are then marked from
    opposite sides.
    """
    first, usual = seam.runs[holes.runs[0]], -1 if pattern.project.mirrored else 1
    slants: dict[int, int] = {}
    for index in holes.runs:
        run = seam.runs[index]
        ways = ((_mirrors(pattern, seam.runs[earlier], run), known) for earlier, known in slants.items())
        met = next((-known if mirrors else known for mirrors, known in ways if mirrors is not None), None)
        slants[index] = met if met is not None else -usual if run.inside * first.inside < 0 else usual
    return slants


def _mirrors(pattern: Pattern, first: Run, run: Run) -> bool | None:
    """Whether the way from one run's piece to the other's turns over; None where it is not known.

    Two runs of one piece are mirrored to one another where it is folded between them.
    """
    if first.piece != run.piece:
        lie = pattern.carry(first.piece, run.piece)
        return None if lie is None else lie.turns_over
    assert first.path is not None and run.path is not None, "only runs with a line have a slant of their own"
    middles = [path.point_at(path.length / 2) for path in (first.path, run.path)]
    return pattern.piece(run.piece).turned_between(middles[0], middles[1]) or None


def _layer(seam: PatternSeam, index: int, marks: Sequence[Marked], slant: int, length: float) -> PunchedLayer:
    run, shape = seam.runs[index], seam.stitching.hole
    holes: list[Hole] = []
    for count, mark in enumerate(marks, start=1):
        along = _degrees(mark.way)
        slit = _folded(_degrees(mark.leg) + slant * shape.slant) if isinstance(shape, SlitHole) else None
        holes.append(Hole(count, _snapped(mark.at), along, slit, mark.fixed))
    return PunchedLayer(run.piece, index + 1, run.text, tuple(holes), length)


def _carried(pattern: Pattern, seam: PatternSeam, index: int, origin: PunchedLayer) -> PunchedLayer:
    """The holes of another layer through the placement of both pieces, slits and all: those that lie
    on this one, by the rule that tells a hole outside its piece.
    """
    run = seam.runs[index]
    lie = pattern.carry_run(seam.runs[origin.run - 1], run)
    assert lie is not None, "a carried layer lies flat on the one it takes its holes from"
    holes = tuple(
        msgspec.structs.replace(
            hole,
            at=_snapped(lie.apply(hole.at)),
            along_degrees=_carried_degrees(lie, hole.along_degrees),
            slit_degrees=None
            if hole.slit_degrees is None
            else _folded(_carried_degrees(lie, hole.slit_degrees)),
        )
        for hole in origin.holes
    )
    outline = pattern.piece(run.piece).outline
    gone = region_of(outline).outside([hole.at for hole in holes], slack=EDGE_SLACK)
    if not gone:
        return PunchedLayer(run.piece, index + 1, run.text, holes, origin.length)
    own = tuple(hole for place, hole in enumerate(holes) if place not in gone)
    return PunchedLayer(run.piece, index + 1, run.text, own, _length_of(seam, origin, own))


def _length_of(seam: PatternSeam, origin: PunchedLayer, own: Sequence[Hole]) -> float:
    """Of the line under some of a run's holes: every step between two that follow one another."""
    run = seam.runs[origin.run - 1]
    path = run.path
    assert path is not None, "holes are taken from a run with a line"
    numbers, count = {hole.number for hole in own}, len(origin.holes)
    along = {number: path.along_of(origin.holes[number - 1].at) for number in numbers}
    steps = [along[k + 1] - along[k] for k in numbers if k + 1 in numbers]
    if seam.closed and {1, count} <= numbers:
        steps.append(run.length + along[1] - along[count])
    return sum(steps)


def _carried_degrees(lie: Affine, direction: float) -> float:
    """A direction seen through a map that keeps shapes."""
    return _degrees(lie.apply_direction(Affine.turn(direction).apply((1.0, 0.0))))


def _degrees(way: Point) -> float:
    """The direction of a vector, 0 to under 360."""
    return _turned(degrees(atan2(way[1], way[0])), 360.0)


def _folded(direction: float) -> float:
    """The direction of a line that has no head, 0 to under 180."""
    return _turned(direction, 180.0)


def _turned(direction: float, circle: float) -> float:
    return round(direction % circle, _SAME_DIRECTION_DIGITS) % circle + 0.0


def _snapped(at: Point) -> Point:
    """Without a negative zero, which would be printed as one."""
    return (at[0] + 0.0, at[1] + 0.0)


def _no_step(seam: PatternSeam, run: Run, line: MeasuredPath, count: int) -> Finding:
    """A hairpin: the dividers leap over the last hole whatever their opening."""
    return finding(
        "no-equal-steps",
        run.source.at(),
        count=count,
        start=line.point(line.locate(0.0)),
        end=line.end,
        run=run.label,
        length=line.length,
        pitch=seam.stitching.pitch,
    )


def _off_iron(seam: PatternSeam, run: Run, line: MeasuredPath, stretch: Spaced | None) -> Finding:
    pitch, where = seam.stitching.pitch, run.source.at()
    told: dict[str, object] = {
        "end": line.end,
        "run": run.label,
        "shortest": pitch * (1 - IRON_SLACK),
        "longest": pitch * (1 + IRON_SLACK),
        "pitch": pitch,
    }
    if stretch is None:
        return finding("iron-remainder/none", where, **told)
    return finding("iron-remainder", where, **told, step=stretch.step)
