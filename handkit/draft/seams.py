"""Seams: the runs of all layers, which of them are carried, which layer is looked at.

In: a `Seam` as read and the drafted pieces. Out: a `PatternSeam`, or None; and findings.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from handkit.draft.pattern import PatternSeam, Run
from handkit.draft.pieces import Drafted
from handkit.draft.runs import Place, stated_run
from handkit.findings import Finding, error
from handkit.read.project import Layer, Seam
from handkit.tolerances import SAME_POINT


def draft_seam(seam: Seam, drafted: Mapping[str, Drafted]) -> tuple[PatternSeam | None, tuple[Finding, ...]]:
    """One seam, or None where a layer of it can't be drawn; and the findings."""
    findings: list[Finding] = list(_match_count_findings(seam))
    runs: list[Run | None] = []
    for index, layer in enumerate(seam.layers):
        if layer.piece not in drafted:  # its own findings say why
            runs.append(None)
            continue
        places = tuple(match.places[index] for match in seam.matches) if not findings else ()
        run, found = (
            carried_run(seam, index, places, drafted)
            if layer.run is None
            else stated_run(layer, drafted[layer.piece], places)
        )
        runs.append(run)
        findings.extend(found)
    whole = [run for run in runs if run is not None]
    findings.extend(_closed_findings(seam, whole))
    if findings or len(whole) < len(runs):
        return None, tuple(findings)
    findings.extend(_order_findings(seam, whole))
    closed = any(run.path is not None and run.path.closed for run in whole)
    ordered = face_to_back([drafted[run.piece] for run in whole])
    return PatternSeam(seam, tuple(whole), closed, ordered), tuple(findings)


def face_to_back(layers: Sequence[Drafted]) -> tuple[int, ...]:
    """Indices of the layers, the highest first; ties and unrelated pieces in the file's order.

    Pieces that stand on one another change places among themselves only, so that what is
    unrelated to them keeps the place it was listed in.
    """
    order = list(range(len(layers)))
    for base in dict.fromkeys(layer.stand.base for layer in layers):
        places = [k for k, layer in enumerate(layers) if layer.stand.base == base]
        ranked = sorted(places, key=lambda k: (-layers[k].stand.level, k))
        for place, index in zip(places, ranked, strict=True):
            order[place] = index
    return tuple(order)


def carried_run(
    seam: Seam, index: int, places: tuple[Place, ...], drafted: Mapping[str, Drafted]
) -> tuple[Run | None, tuple[Finding, ...]]:
    """The run of a layer that takes the holes of another."""
    layer = seam.layers[index]
    source = _carried_from(seam, index, drafted)
    if source is None:
        return None, (_nothing_to_carry(layer),)
    if any(place is not None for place in places):
        return None, (_match_on_carried(layer),)
    run = Run(
        source=layer.source,
        piece=layer.piece,
        text="",
        path=None,
        carried_from=source,
        corners=(),
        meets=(None,) * len(places),
        inside=0,
    )
    return run, ()


def _carried_from(seam: Seam, index: int, drafted: Mapping[str, Drafted]) -> int | None:
    """The nearest stated run before a layer on another piece that lies flat with it, or None."""
    layer = seam.layers[index]
    for k in reversed(range(index)):
        other = seam.layers[k]
        if other.run is None or other.piece == layer.piece or other.piece not in drafted:
            continue
        if drafted[other.piece].stand.root == drafted[layer.piece].stand.root:
            return k
    return None


def _nothing_to_carry(layer: Layer) -> Finding:
    return error(
        "nothing-to-carry",
        layer.source.at("run"),
        found=f'"{layer.text}" without a run, and no run before it on a piece it lies flat on or under',
        allowed="a layer that takes the holes of the nearest run before it that it lies flat with",
        remedy='name its edges or line, or say where it lies with "on" and "at"',
    )


def _match_on_carried(layer: Layer) -> Finding:
    return error(
        "match-on-carried",
        layer.source.at("match"),
        found=f'a match point on "{layer.text}", which takes its holes from another layer',
        allowed='"" for a layer without a run of its own',
        remedy='write "" in its place',
    )


def _match_count_findings(seam: Seam) -> list[Finding]:
    """Match points that do not have one place for each layer."""
    return [
        error(
            "match-count",
            seam.source.at("match"),
            found=f"{len(match.places)} places for {len(seam.layers)} layers in match point {number}",
            allowed='one place for each layer: a letter, a point, or "" for none',
            remedy='add a place or ""',
        )
        for number, match in enumerate(seam.matches, start=1)
        if len(match.places) != len(seam.layers)
    ]


def _closed_findings(seam: Seam, runs: Sequence[Run]) -> list[Finding]:
    """Runs that go all round beside runs that do not."""
    stated = [run for run in runs if run.path is not None]
    rings = [run for run in stated if run.path is not None and run.path.closed]
    if not rings or len(rings) == len(stated):
        return []
    ring, row = rings[0], next(run for run in stated if run.path is not None and not run.path.closed)
    return [
        error(
            "closed-and-open-runs",
            seam.source.at("runs"),
            found=f'"{ring.piece}: {ring.text}" going all round and "{row.piece}: {row.text}" with two ends',
            allowed="runs that all go round, or none",
            remedy="repeat the first letter on each, or on none",
        )
    ]


def _order_findings(seam: Seam, runs: Sequence[Run]) -> list[Finding]:
    """Match points that come in another order on one run than on the first."""
    found: list[Finding] = []
    first = next(run for run in runs if run.path is not None)
    for run in runs:
        shared = [
            (a, b) for a, b in zip(first.meets, run.meets, strict=True) if a is not None and b is not None
        ]
        ordered = [b for _, b in sorted(shared)]
        if any(after - before <= SAME_POINT for before, after in pairwise(ordered)):
            found.append(
                error(
                    "match-order",
                    seam.source.at("match"),
                    found=f'match points that meet in another order on "{run.piece}: {run.text}" '
                    f'than on "{first.piece}: {first.text}"',
                    allowed="points that follow one another the same way on every layer",
                    remedy="swap the points, or name the run's letters the other way round",
                )
            )
    return found
