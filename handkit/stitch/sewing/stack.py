"""Stacks: how thick all layers are together at a place.

In: pieces with their thickness and skived edges, and places in the pieces' frames. Out: mm.

Words: *skived* is thinned towards an edge; from full thickness at the skive's width in, evenly
down to `to` at the edge. A piece that is in a seam twice (a fold-over) counts twice. What is turned to the
back, and both sides of a binding's tape, count where they lie.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

import msgspec

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece, SkivedEdge
from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.kinds.fittings import TEETH_FREE, FittingKind
from handkit.punch.punched import PunchedSeam
from handkit.read.project import Fitting
from handkit.stitch.plan import DECIMALS


def thickness_at(piece: PatternPiece, at: Point) -> float:
    """How thick a piece is at a place of its own frame; the thinnest of its skives counts, and all that
    is turned or bound there."""
    flat = min([piece.thickness, *(_skived(skive, piece.thickness, at) for skive in piece.skives)])
    return flat + sum(each.work.adds(each.path.distance_to(at), piece.thickness) for each in piece.works)


def seam_stacks(seam: PunchedSeam, pattern: Pattern) -> tuple[float, ...]:
    """The stack at each hole, by number, with the tapes of zips that it goes through: those that the seam
    holds, and at their ends those that others do; to a thousandth of a mm."""
    layers, zips = [(pattern.piece(layer.piece), layer) for layer in seam.layers], _zips(pattern)
    own = sum(each.tape_thickness for each in zips if seam.name in each.seams)
    tapes = [tape for each in zips if seam.name not in each.seams for tape in _tapes(pattern, each)]
    found = []
    for number in range(1, seam.count + 1):
        stack = own
        for piece, layer in layers:
            hole = layer.hole(number)
            if hole is not None:
                stack += thickness_at(piece, hole.at)
                stack += sum(tape.thickness for tape in tapes if tape.covers(piece.name, hole.at))
        found.append(round(stack, DECIMALS))
    return tuple(found)


class _Tape(msgspec.Struct, frozen=True):
    """A zip's tape on a piece: how far it reaches inwards from the row that holds it."""

    piece: str
    row: Path
    reach: float
    thickness: float

    def covers(self, piece: str, at: Point) -> bool:
        """Whether it lies over a place of a piece: beside its row, or beyond that row's end."""
        return piece == self.piece and self.row.distance_to(at) < self.reach


def _zips(pattern: Pattern) -> list[Fitting]:
    return [each.fitting for each in pattern.fittings if each.fitting.kind is FittingKind.ZIP]


def _tapes(pattern: Pattern, one: Fitting) -> Iterator[_Tape]:
    """A zip's, on each piece that a row sews it to; its teeth are usually free of the edge by so much."""
    for seam in pattern.seams:
        for run in seam.runs if seam.name in one.seams else ():
            if run.path is not None:
                reach = (one.tape or 0.0) - TEETH_FREE - seam.stitching.inset
                yield _Tape(run.piece, run.path, reach, one.tape_thickness)


def opening_stack(opening: PatternOpening, pattern: Pattern, numbers: Collection[int] = ()) -> float:
    """The greatest stack among an opening's places, or some of them; to a thousandth of a mm."""
    sums: dict[int, float] = {}
    for place in opening.places:
        if numbers and place.number not in numbers:
            continue
        thickness = thickness_at(pattern.piece(place.piece), place.at)
        sums[place.number] = sums.get(place.number, 0.0) + thickness
    return round(max(sums.values(), default=0.0), DECIMALS)


def _skived(skive: SkivedEdge, full: float, at: Point) -> float:
    """Thickness by one skive alone."""
    share = min(skive.path.distance_to(at) / skive.width, 1.0)
    return skive.to + (full - skive.to) * share
