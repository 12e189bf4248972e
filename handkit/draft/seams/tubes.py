"""Tubes: the row along a strip that another seam closes to a tube, sewn to what goes all round.

In: a seam's runs, all seams of the project and the drafted pieces. Out: the runs as they go round
together, or the finding that says why they can't. All mm.

    butted   ──o──o──o│o──o──o──    edge to edge: first and last hole one step apart across the joint
    lapped   ──o──o──(o)──o──o──    one end on the other: first and last hole meet

A butted joint makes the strip's row as closed as the ring is: it begins half a pitch beside the joint
and goes on across it. A lapped one makes the ring as open as the row is: its first and last hole are
one. An open seam has a stitch fewer than holes, so that either has as many stitches as go round.

Words: a *ring* is a run that goes all round, a *row* one with two ends; the *joint* is the seam that
sews the row's ends to each other: box and cross stitch butt them, the others lap them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.draft.pattern import Run
from handkit.draft.pieces.drawn import DrawnPiece
from handkit.draft.pieces.edge_run import edge_run_of
from handkit.findings import Finding, finding
from handkit.geometry.intersect import common_places
from handkit.geometry.path import Path
from handkit.read.project import Edges, Layer, Seam
from handkit.tolerances import SAME_POINT

# A row is prolonged by so many insets to find the edge it ends at: enough for edges as slanted as 1 in 4.
_REACH = 4.0


class _Joint(msgspec.Struct, frozen=True):
    """The seam that sews a row's ends to each other; how far in its holes stand at either end."""

    seam: Seam
    insets: tuple[float, float]
    twisted: bool  # whether it begins at the row on one end and ends there on the other

    @property
    def butted(self) -> bool:
        """Whether edge meets edge; else one end lies on the other."""
        return self.seam.stitching.traits.edge_to_edge


class GoneRound(msgspec.Struct, frozen=True):
    """A seam's runs, as many of them closed as its joints leave so; and what is to be told."""

    runs: tuple[Run, ...]
    closed: bool
    findings: tuple[Finding, ...] = ()


def gone_round(
    seam: Seam, runs: Sequence[Run], seams: Sequence[Seam], drafted: Mapping[str, DrawnPiece]
) -> GoneRound | Finding:
    """The runs of a seam, one a layer, so that rings and the rows of tubes go round alike."""
    rings = [run for run in runs if run.path is not None and run.path.closed]
    rows = [k for k, run in enumerate(runs) if run.path is not None and not run.path.closed]
    if not rings or not rows:
        return GoneRound(tuple(runs), bool(rings))
    joints: dict[int, _Joint] = {}
    for k in rows:
        joint = _joint(seam, seam.layers[k], seams)
        if joint is None:
            where = seam.source.at("runs")
            fault = finding("closed-and-open-runs", where, ring=rings[0].label, row=runs[k].label)
            return fault.spoiling(*_sewn_to_itself(runs[k].piece, seams))  # a joint on a wrong edge is none
        unfit = _unfit(seam.layers[k], runs[k], joint)
        if unfit is not None:
            return unfit
        joints[k] = joint
    butted, lapped = ([runs[k].label for k in rows if joints[k].butted is each] for each in (True, False))
    if butted and lapped:
        where = seam.source.at("runs")
        return finding("closed-and-open-runs/joints", where, butted=butted[0], lapped=lapped[0])
    if butted:
        made = {k: _butted(seam, k, runs[k], drafted[runs[k].piece]) for k in rows}
        return GoneRound(tuple(made.get(k, run) for k, run in enumerate(runs)), closed=True)
    told = [_covered(seam, runs[k], joints[k]) for k in rows]
    return GoneRound(
        tuple(_lapped(seam.layers[k], run, joints.get(k)) for k, run in enumerate(runs)),
        closed=False,
        findings=tuple(each for each in told if each is not None),
    )


def _joint(seam: Seam, layer: Layer, seams: Sequence[Seam]) -> _Joint | None:
    """The first other seam whose runs hold both edges that a row ends at."""
    if not isinstance(layer.run, Edges):
        return None
    letters = layer.run.letters
    for other in seams:
        first = _from_corner(other, layer.piece, letters[0], letters[1])
        last = _from_corner(other, layer.piece, letters[-1], letters[-2])
        if other.name != seam.name and first is not None and last is not None:
            (one, begins), (two, begins_too) = first, last
            return _Joint(other, (one.inset, two.inset), begins is not begins_too)
    return None


def _from_corner(seam: Seam, piece: str, corner: str, row: str) -> tuple[Layer, bool] | None:
    """The layer of a seam that ends at a corner of the row, beside it; whether it begins there."""
    for layer in seam.layers:
        if layer.piece != piece or not isinstance(layer.run, Edges):
            continue
        letters = layer.run.letters
        if letters[0] == corner and letters[1] != row:
            return layer, True
        if letters[-1] == corner and letters[-2] != row:
            return layer, False
    return None


def _sewn_to_itself(piece: str, seams: Sequence[Seam]) -> tuple[str, ...]:
    """The seams that a piece is in more than once, by their paths."""
    return tuple(seam.source.path for seam in seams if sum(layer.piece == piece for layer in seam.layers) > 1)


def _unfit(layer: Layer, run: Run, joint: _Joint) -> Finding | None:
    """A joint that would twist the strip, or ends of the row that were moved."""
    name = joint.seam.name
    if joint.twisted:
        where = joint.seam.source.at("runs")
        return finding("closed-and-open-runs/twisted", where, joint=name, row=run.label)
    moved = next((key for key in ("from_start", "from_end") if getattr(layer, key)), None)
    if moved is None:
        return None
    where = layer.source.at(moved)
    return finding("closed-and-open-runs/ends", where, key=moved, row=run.label, joint=name)


def _butted(seam: Seam, index: int, run: Run, drawn: DrawnPiece) -> Run:
    """The row from half a pitch beside the joint to the edge it ends at; the rest goes on across it."""
    layer, half = seam.layers[index], seam.stitching.pitch / 2
    assert isinstance(layer.run, Edges) and run.path is not None
    edge_run, outline = edge_run_of(drawn.outline, layer.run), drawn.outline
    count = len(outline.edges)
    ends = [(edge_run.first - 1) % count, (edge_run.first + edge_run.count) % count]
    before, after = ends if edge_run.forward else ends[::-1]
    reach = max(_REACH * layer.inset, 1.0)
    length = run.path.length
    start = -_to_edge(run.path.between(-reach, 0.0).reversed(), Path(outline.edges[before]), layer.inset)
    end = length + _to_edge(run.path.between(length, length + reach), Path(outline.edges[after]), layer.inset)
    first = [0]
    for edge in outline.edges:
        first.append(first[-1] + len(edge))
    joined = frozenset(k for edge in ends for k in range(first[edge], first[edge + 1]))
    begun = msgspec.structs.replace(run, across=half, joined=joined)
    return _moved(begun, start + half, end)


def _to_edge(way: Path, edge: Path, inset: float) -> float:
    """How far a row goes straight on until it meets the edge it ends at; the inset where it misses it."""
    met = (way.along_of(at) for *_, at in common_places(way.segments, edge.segments))
    return min(met, default=inset)


def _lapped(layer: Layer, run: Run, joint: _Joint | None) -> Run:
    """A ring opened at its start, or a row whose ends stand on the joint's two lines."""
    if run.path is None:
        return run
    if joint is None:
        return msgspec.structs.replace(run, path=run.path.between(0.0, run.path.length))
    start, end = (inset - layer.inset for inset in joint.insets)
    return _moved(run, start, run.path.length - end)


def _moved(run: Run, start: float, end: float) -> Run:
    """A row from one distance along it to another; what is told by its distances moves along."""
    assert run.path is not None
    if max(abs(start), abs(end - run.path.length)) <= SAME_POINT:
        return run
    return msgspec.structs.replace(
        run,
        path=run.path.between(start, end),
        corners=tuple(along - start for along in run.corners),
        meets=tuple(None if along is None else along - start for along in run.meets),
    )


def _covered(seam: Seam, run: Run, joint: _Joint) -> Finding | None:
    """A lap that reaches as far as the holes beside it, which go through one of the ends only."""
    settings = seam.stitching
    most = settings.pitch - settings.hole.width / 2  # the rim of the next hole at the end's edge
    inset = max(joint.insets)
    if inset <= most + SAME_POINT:
        return None
    where, name = joint.seam.source.at("inset"), joint.seam.name
    return finding("lap-over-holes", where, joint=name, inset=inset, row=run.label, seam=seam.name, most=most)
