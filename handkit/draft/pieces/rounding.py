"""Rounded corners of an outline, and the largest radii where some do not fit.

In: a piece's sharp edges and its corners' radii. Out: the arcs, halved at their letters, or findings.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.findings import Finding, finding
from handkit.geometry.fillet import Fillet, fillet, fillet_fits
from handkit.geometry.largest import largest_fitting
from handkit.geometry.path import SMOOTH_DEGREES, turn_degrees
from handkit.geometry.segment import Segment
from handkit.read.project import Piece

# So many corners and edges are named, of those whose radii do not fit.
_NAMED = 6

# What does not fit: a corner by its index, or an edge by those of its two corners.
_Unfit = tuple[int, ...]


class Rounded(msgspec.Struct, frozen=True):
    """A rounded corner with its arc in two halves that meet at the letter."""

    fillet: Fillet
    halves: tuple[Segment, Segment]


def rounded_corners(
    piece: Piece, names: tuple[str, ...], sharp: Sequence[Segment]
) -> tuple[tuple[Rounded | None, ...], tuple[Finding, ...]]:
    """Each corner's arc, None where it is sharp or smooth already; and the radii that do not fit."""
    radii = [_radius(piece.corners[k].radius, sharp[k - 1], sharp[k]) for k in range(len(sharp))]
    told = (_telling(piece, names, sharp, group) for group in _groups(radii, _unfit(sharp, radii)))
    return tuple(_halved(found) for found in _fillets(sharp, radii)), tuple(told)


def _radius(stated: float, before: Segment, after: Segment) -> float:
    """The radius to draw: a corner that does not turn has nothing to round."""
    return stated if abs(turn_degrees(before, after)) > SMOOTH_DEGREES else 0.0


def _fillets(sharp: Sequence[Segment], radii: Sequence[float]) -> list[Fillet | None]:
    return [fillet(sharp[k - 1], sharp[k], radii[k]) if radii[k] else None for k in range(len(sharp))]


def _halved(found: Fillet | None) -> Rounded | None:
    """An arc and its two halves."""
    if found is None:
        return None
    arc, half = found.arc, found.arc.length / 2
    first = arc.between(0.0, half)
    return Rounded(found, (first, Segment(first.end, arc.end, first.bulge)))


def _unfit(sharp: Sequence[Segment], radii: Sequence[float]) -> list[_Unfit]:
    """Corners for which no arc touches both edges; edges too short for the arcs at both ends."""
    count, fillets = len(sharp), _fillets(sharp, radii)
    lost = {k for k in range(count) if radii[k] and fillets[k] is None}
    ends = [(k, (k + 1) % count) for k in range(count)]
    short = [
        (k, after)
        for k, after in ends
        if not lost & {k, after} and not fillet_fits(sharp[k].length, fillets[k], fillets[after])
    ]
    return [*((k,) for k in sorted(lost)), *short]


def _groups(radii: Sequence[float], unfit: Sequence[_Unfit]) -> list[list[_Unfit]]:
    """What is told as one: all, where all corners have one radius; else what has a corner in common."""
    if len({radius for radius in radii if radius}) == 1:
        return [list(unfit)] if unfit else []
    groups: list[list[_Unfit]] = []
    for one in unfit:
        near = [group for group in groups if any(set(one) & set(other) for other in group)]
        groups = [group for group in groups if group not in near]
        groups.append([*(each for group in near for each in group), one])
    return groups


def _telling(
    piece: Piece, names: tuple[str, ...], sharp: Sequence[Segment], group: Sequence[_Unfit]
) -> Finding:
    """Radii that do not fit, and how large they may be: all of them smaller by one share."""
    where, corners = piece.source.at("round"), sorted({k for each in group for k in each})
    stated = [piece.corners[k].radius for k in corners]
    greatest = max(stated)

    def fits(size: float) -> bool:
        shares = dict.fromkeys(corners, size / greatest)
        radii = [
            _radius(corner.radius * shares.get(k, 1.0), sharp[k - 1], sharp[k])
            for k, corner in enumerate(piece.corners)
        ]
        return not any(set(each) & set(corners) for each in _unfit(sharp, radii))

    largest = largest_fitting(greatest, fits)
    told: dict[str, object] = {"radius": stated[0], "corner": names[corners[0]], "most": largest}
    if len(corners) == 1:
        return finding("radius-too-big/corner" if largest else "radius-too-big/sharp-corner", where, **told)
    if len(group) == 1:
        return _of_edge(piece, names, sharp, group[0], largest / greatest)
    most = [_smaller(radius, largest / greatest) for radius in stated]
    told = {
        "radii": list(dict.fromkeys(piece.source.units.text(each) for each in stated)),
        "corners": [names[k] for k in corners[:_NAMED]] + ["others"] * (len(corners) > _NAMED),
        "most": list(dict.fromkeys(piece.source.units.text(each) for each in most)),
    }
    return finding("radius-too-big/corners" if largest else "radius-too-big/sharp-corners", where, **told)


def _of_edge(
    piece: Piece, names: tuple[str, ...], sharp: Sequence[Segment], edge: _Unfit, share: float
) -> Finding:
    """Two rounded corners that together take more than the edge between them."""
    first, last = (piece.corners[k].radius for k in edge)
    told: dict[str, object] = {"radius": first, "last_radius": last, "length": sharp[edge[0]].length}
    told |= {"corner": names[edge[0]], "last": names[edge[1]]}
    told |= {"most": _smaller(first, share), "last_most": _smaller(last, share)}
    if first != last:
        return finding("radius-too-big/unlike", piece.source.at("round"), **told)
    key = "radius-too-big/edge" if share else "radius-too-big/sharp-edge"
    return finding(key, piece.source.at("round"), **told)


def _smaller(radius: float, share: float) -> float:
    """A share of a radius, in tenths of a mm."""
    return int(radius * share * 10 + 1e-6) / 10
