"""Stitch lines: the exact parallel of a run's edges, at the inset inside the piece.

In: an outline, the run of its edges that is stitched, the inset in mm. Out: the line in the run's own
direction, and how far along it each of the run's letters stands; or None where no such line fits.

An open run ends where the parallel of the edge that is not in it crosses: at the inset from that
edge too; at an inside corner at the inset from the corner; at a rounded one opposite its middle.
Only the run's edges and those two neighbours count, so that a narrow tab can be stitched along
one edge.
"""

from __future__ import annotations

from itertools import accumulate

import msgspec

from handkit.draft.pieces.edge_run import EdgeRun
from handkit.draft.pieces.outline import Outline
from handkit.geometry.offset import OffsetSegment, parallel_ring, parallel_run, stations_before
from handkit.geometry.path import Path
from handkit.geometry.region import Region
from handkit.tolerances import EDGE_SLACK, SAGITTA


class StitchLine(msgspec.Struct, frozen=True):
    """A stitch line. `stations` are its letters and their distances along, in the run's order.

    `inside` is +1 where the body of the piece lies left of the way it goes, −1 right, 0 unknown.
    """

    path: Path
    stations: tuple[tuple[str, float], ...]
    inside: int

    def station(self, letter: str) -> float | None:
        """How far along a letter stands, or None where the line does not pass it."""
        return next((along for name, along in self.stations if name == letter), None)

    def shortened(self, from_start: float, from_end: float) -> StitchLine | None:
        """With its ends moved in (negative: prolonged), or None where nothing is left."""
        if not from_start and not from_end:
            return self
        last = self.path.length - from_end
        if last - from_start <= EDGE_SLACK:
            return None
        stations = tuple((name, along - from_start) for name, along in self.stations)
        return StitchLine(self.path.between(from_start, last), stations, self.inside)


def stitch_line(outline: Outline, edge_run: EdgeRun, inset: float, *, body: Region) -> StitchLine | None:
    """The parallel of a run of edges at the inset, in the run's direction; None where none fits.

    `body` is the region of the outline: a line that leaves it does not fit.
    """
    line = _ring(outline, edge_run, inset) if edge_run.closed else _open(outline, edge_run, inset)
    if line is None or not body.covers(line.path.flattened(sagitta=SAGITTA), slack=EDGE_SLACK):
        return None
    return line if edge_run.forward else _backwards(line)


def _ring(outline: Outline, edge_run: EdgeRun, inset: float) -> StitchLine | None:
    """The parallel of the whole outline, begun at the run's first letter."""
    segments = edge_run.segments(outline)
    offsets = parallel_ring(segments, [inset * outline.way] * len(segments))
    if offsets is None:
        return None
    path = Path(tuple(offset.segment for offset in offsets), closed=True)
    # An inside corner's arc is the last segment; the run begins at its middle.
    begin = (
        path.length - offsets[-1].segment.length / 2 if offsets[-1].joint and offsets[-1].source == 0 else 0.0
    )
    stations = tuple(
        (name, (along - begin) % path.length) for name, along in _stations(outline, edge_run, offsets)[1:-1]
    )
    return StitchLine(path.starting_at(begin), ((outline.names[edge_run.first], 0.0), *stations), outline.way)


def _open(outline: Outline, edge_run: EdgeRun, inset: float) -> StitchLine | None:
    """The parallel of the run's edges, ended by that of its neighbours."""
    count = len(outline.edges)
    before = outline.edges[(edge_run.first - 1) % count]
    after = outline.edges[(edge_run.first + edge_run.count) % count]
    segments = edge_run.segments(outline)
    offsets = parallel_run(segments, inset * outline.way, before=before, after=after)
    if not offsets:
        return None
    path = Path(tuple(offset.segment for offset in offsets))
    return StitchLine(path, _stations(outline, edge_run, offsets), outline.way)


def _stations(
    outline: Outline, edge_run: EdgeRun, offsets: tuple[OffsetSegment, ...]
) -> tuple[tuple[str, float], ...]:
    """The letters in the outline's order, first and last included."""
    indices = edge_run.edge_indices(outline)
    begins = (0, *accumulate(len(outline.edges[index]) for index in indices))
    letters = [*indices, (indices[-1] + 1) % len(outline.edges)]
    length = sum(offset.segment.length for offset in offsets)
    places = [0.0, *stations_before(offsets, begins[1:-1]), length]
    return tuple((outline.names[index], along) for index, along in zip(letters, places, strict=True))


def _backwards(line: StitchLine) -> StitchLine:
    """The same line travelled the other way; a closed one still begins at its letter."""
    length = line.path.length
    turned = [(name, length - along) for name, along in reversed(line.stations)]
    if line.path.closed:
        turned = [turned[-1], *turned[:-1]]
        turned[0] = (turned[0][0], 0.0)
    return StitchLine(line.path.reversed(), tuple(turned), -line.inside)
