"""Stacks: how thick all layers are together at a place.

In: pieces with their thickness and skived edges, and places in the pieces' frames. Out: mm.

Words: *skived* is thinned towards an edge; from full thickness at the skive's width in, evenly
down to `to` at the edge. A piece that is in a seam twice (a fold-over) counts twice. What is turned to the
back, and both sides of a binding's tape, count where they lie.
"""

from __future__ import annotations

from collections.abc import Collection

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece, SkivedEdge
from handkit.geometry.affine import Point
from handkit.punch.punched import PunchedSeam
from handkit.stitch.plan import DECIMALS


def thickness_at(piece: PatternPiece, at: Point) -> float:
    """How thick a piece is at a place of its own frame; the thinnest of its skives counts, and all that
    is turned or bound there."""
    flat = min([piece.thickness, *(_skived(skive, piece.thickness, at) for skive in piece.skives)])
    return flat + sum(each.work.adds(each.path.distance_to(at), piece.thickness) for each in piece.works)


def seam_stacks(seam: PunchedSeam, pattern: Pattern) -> tuple[float, ...]:
    """The stack at each hole, by number, a zip's tape included; to a thousandth of a mm."""
    layers = [(pattern.piece(layer.piece), layer) for layer in seam.layers]
    tapes = sum(one.fitting.thickness or 0.0 for one in pattern.fittings if seam.name in one.fitting.seams)
    return tuple(
        round(
            tapes
            + sum(
                thickness_at(piece, hole.at)
                for piece, layer in layers
                if (hole := layer.hole(number)) is not None
            ),
            DECIMALS,
        )
        for number in range(1, seam.count + 1)
    )


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
