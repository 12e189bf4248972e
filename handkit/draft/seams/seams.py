"""Seams: the runs of all layers, which of them are carried, which layer is looked at.

In: a `Seam` as read and the drafted pieces. Out: a `PatternSeam`, or None; and findings.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from handkit.draft.pattern import PatternSeam, Run
from handkit.draft.pieces.drawn import DrawnPiece
from handkit.draft.pieces.folds import folds_path
from handkit.draft.pieces.placement import Placement
from handkit.draft.seams.runs import stated_run
from handkit.draft.seams.tubes import gone_round
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine
from handkit.geometry.region import Region, region_of
from handkit.read.project import Seam
from handkit.tolerances import SAGITTA, SAME_POINT


def draft_seam(
    seam: Seam, drafted: Mapping[str, DrawnPiece], *, seams: Sequence[Seam]
) -> tuple[PatternSeam | None, tuple[Finding, ...]]:
    """One of the `seams`, or None where a layer of it can't be drawn; and the findings."""
    findings: list[Finding] = []
    runs: list[Run] = []
    for index, layer in enumerate(seam.layers):
        if layer.piece not in drafted:  # its own findings say why
            continue
        run, found = (
            _carried_run(seam, index, drafted, runs)
            if layer.run is None
            else stated_run(seam, index, drafted[layer.piece])
        )
        findings.extend(found)
        runs.extend([run] if run else [])
    if findings or len(runs) < len(seam.layers):
        return None, tuple(findings)
    gone = gone_round(seam, runs, seams, drafted)
    if isinstance(gone, Finding):
        return None, (gone,)
    ordered = face_to_back([drafted[run.piece].placement for run in runs])
    drawn = PatternSeam(seam, gone.runs, gone.closed, ordered)
    return drawn, (*gone.findings, *_order_findings(seam, gone.runs))


def face_to_back(placements: Sequence[Placement]) -> tuple[int, ...]:
    """Indices of a seam's layers, the highest first; ties and unrelated pieces in the file's order.

    Pieces that stand on one another change places among themselves only, so that what is
    unrelated to them keeps the place it was listed in. Where all of them are turned over, the side
    that shows is the other one, and the lowest comes first. A piece that is folded over what lies
    on it (a sheath over its welt) has no one level: then the layers stay as listed.
    """
    order = list(range(len(placements)))
    for base in dict.fromkeys(placement.base for placement in placements):
        places = [k for k, placement in enumerate(placements) if placement.base == base]
        if len({placements[k].level for k in places}) < len(places):
            continue
        up = -1 if all(placements[k].turned for k in places) else 1
        ranked = sorted(places, key=lambda k: (-up * placements[k].level, k))
        for place, index in zip(places, ranked, strict=True):
            order[place] = index
    return tuple(order)


def _carried_run(
    seam: Seam, index: int, drafted: Mapping[str, DrawnPiece], runs: Sequence[Run]
) -> tuple[Run | None, tuple[Finding, ...]]:
    """The run of a layer that takes the holes of another; None also where that one can't be drawn."""
    layer = seam.layers[index]
    if any(other.piece not in drafted for other in seam.layers[:index]):
        return None, ()
    source = _carried_from(seam, index, drafted, runs)
    if source is None:
        again = any(other.piece == layer.piece for other in seam.layers[:index])
        key = "nothing-to-carry/again" if again else "nothing-to-carry"
        own = [drafted[other.piece].piece for other in seam.layers if other.piece in drafted]
        causes = (*map(folds_path, own), *(each.source.path for each in own))
        return None, (finding(key, layer.source.at(), run=layer.text).following(*causes),)
    run = Run(
        source=layer.source,
        piece=layer.piece,
        text="",
        path=None,
        carried_from=source[0],
        corners=(),
        meets=(None,) * len(seam.matches),
        inside=0,
        through=source[1],
    )
    return run, ()


# Which run of a seam holes are taken from; the map from its frame through folds, None where there are none.
_Source = tuple[int, Affine | None]


def _carried_from(
    seam: Seam, index: int, drafted: Mapping[str, DrawnPiece], runs: Sequence[Run]
) -> _Source | None:
    """The nearest run before a layer that passes over it, on another piece that lies flat with it; else the
    nearest that does once all is folded; where none passes over it, the nearest; or None.
    """
    piece = drafted[seam.layers[index].piece]
    found = [
        k
        for k in reversed(range(index))
        if seam.layers[k].run is not None
        and drafted[seam.layers[k].piece].placement.root == piece.placement.root
    ]
    others = [k for k in found if seam.layers[k].piece != seam.layers[index].piece]
    ways: list[_Source] = []
    if len(runs) == index:
        ways += [
            (k, None) for k in others if _passes_over(runs[k], _flat(runs[k], drafted, piece), piece.body)
        ]
        ways += [(k, lie) for k in found if (lie := _through_folds(runs[k], drafted, piece)) is not None]
    return next(iter([*ways, *((k, None) for k in others)]), None)


def _flat(run: Run, drafted: Mapping[str, DrawnPiece], piece: DrawnPiece) -> Affine:
    """From a run's frame to that of a piece that lies flat with its own."""
    return piece.placement.in_root.inverse() @ drafted[run.piece].placement.in_root


def _through_folds(run: Run, drafted: Mapping[str, DrawnPiece], piece: DrawnPiece) -> Affine | None:
    """From a run's frame to that of a piece that has another leaf under it once all is folded, or None."""
    on = drafted[run.piece].piece
    if run.path is None or not (on.bends or piece.piece.bends or on.panel or piece.piece.panel):
        return None
    own = on.panel_under(run.path.flattened(sagitta=SAGITTA))
    there = on.motion_to_base(own).plan
    for panel in piece.piece.panels:
        here = piece.piece.motion_to_base(panel).plan
        if there is not None and here is not None and (on.name != piece.piece.name or panel != own):
            through = here.inverse() @ there
            if _passes_over(run, through, region_of(panel.outline)):
                return through
    return None


def _passes_over(run: Run, lie: Affine, body: Region) -> bool:
    """Whether a run, laid by a map, passes over an area."""
    if run.path is None:
        return False
    places = run.path.moved(lie).flattened(sagitta=SAGITTA)
    ring = (*places, places[0]) if run.path.closed else places
    return body.contains(places[0]) or any(body.along(a, b) for a, b in pairwise(ring))


def _order_findings(seam: Seam, runs: Sequence[Run]) -> tuple[Finding, ...]:
    """Match points that come in another order on one run than on the first."""
    first = next(run for run in runs if run.path is not None)
    return tuple(
        finding("match-order", seam.source.at("match"), run=run.label, first=first.label)
        for run in runs
        if not _same_order(first.meets, run.meets)
    )


def _same_order(first: Sequence[float | None], other: Sequence[float | None]) -> bool:
    """Whether points that both have come in one order, none twice.

    >>> _same_order((1.0, None, 5.0), (2.0, 3.0, 4.0)), _same_order((1.0, 5.0), (4.0, 2.0))
    (True, False)
    """
    shared = sorted((a, b) for a, b in zip(first, other, strict=True) if a is not None and b is not None)
    return all(d[0] - c[0] > SAME_POINT and d[1] - c[1] > SAME_POINT for c, d in pairwise(shared))
