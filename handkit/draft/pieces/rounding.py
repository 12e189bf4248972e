"""Rounded corners of an outline, and the largest radius where one does not fit.

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


class Rounded(msgspec.Struct, frozen=True):
    """A rounded corner with its arc in two halves that meet at the letter."""

    fillet: Fillet
    halves: tuple[Segment, Segment]


def rounded_corners(
    piece: Piece, names: tuple[str, ...], sharp: Sequence[Segment]
) -> tuple[tuple[Rounded | None, ...], tuple[Finding, ...]]:
    """Each corner's arc, None where it is sharp or smooth already; and the radii that do not fit."""
    count = len(sharp)
    radii = [_radius(piece.corners[k].radius, sharp[k - 1], sharp[k]) for k in range(count)]
    fillets = [fillet(sharp[k - 1], sharp[k], radii[k]) if radii[k] else None for k in range(count)]
    findings = [
        _corner_finding(piece, names[k], sharp[k - 1], sharp[k])
        for k in range(count)
        if radii[k] and fillets[k] is None
    ]
    for k in range(count):
        after = (k + 1) % count
        lost = (radii[k] and not fillets[k]) or (radii[after] and not fillets[after])
        if not lost and not fillet_fits(sharp[k].length, fillets[k], fillets[after]):
            findings.append(_edge_finding(piece, names, sharp, k))
    return tuple(_halved(found) for found in fillets), tuple(findings)


def _radius(stated: float, before: Segment, after: Segment) -> float:
    """The radius to draw: a corner that does not turn has nothing to round."""
    return stated if abs(turn_degrees(before, after)) > SMOOTH_DEGREES else 0.0


def _halved(found: Fillet | None) -> Rounded | None:
    """An arc and its two halves."""
    if found is None:
        return None
    arc, half = found.arc, found.arc.length / 2
    first = arc.between(0.0, half)
    return Rounded(found, (first, Segment(first.end, arc.end, first.bulge)))


def _corner_finding(piece: Piece, letter: str, before: Segment, after: Segment) -> Finding:
    """A radius for which no arc touches both edges."""
    radius = next(corner.radius for corner in piece.corners if corner.letter == letter)
    largest = largest_fitting(radius, lambda r: fillet(before, after, r) is not None)
    where = piece.source.at("round")
    if not largest:
        return finding("radius-too-big/sharp-corner", where, radius=radius, corner=letter)
    return finding("radius-too-big/corner", where, radius=radius, corner=letter, most=largest)


def _edge_finding(piece: Piece, names: tuple[str, ...], sharp: Sequence[Segment], k: int) -> Finding:
    """Two rounded corners that together take more than the edge between them."""
    count = len(sharp)
    after = (k + 1) % count
    first, last = piece.corners[k].radius, piece.corners[after].radius
    greater = max(first, last)

    def fits(size: float) -> bool:
        share = size / greater
        begin = fillet(sharp[k - 1], sharp[k], first * share)
        end = fillet(sharp[k], sharp[after], last * share)
        return begin is not None and end is not None and fillet_fits(sharp[k].length, begin, end)

    largest = largest_fitting(greater, fits)
    where, told = piece.source.at("round"), {"radius": first, "corner": names[k]}
    told |= {"last_radius": last, "last": names[after], "length": sharp[k].length}
    if first != last:
        most, last_most = (int(radius * largest / greater * 10 + 1e-6) / 10 for radius in (first, last))
        return finding("radius-too-big/unlike", where, **told, most=most, last_most=last_most)
    if not largest:
        return finding("radius-too-big/sharp-edge", where, **told)
    return finding("radius-too-big/edge", where, **told, most=largest)
