"""Bends: stitch holes that stand where the leather is bent.

In: the pattern, its seams with their holes. Out: findings, one for each layer and fold.

Within half the bend allowance of a fold's line the leather is curved: layers do not lie on one another
there, and a row of holes weakens the bend (by the geometry of the bend; no source). Cloth is not punched: a
row that goes over its fold is everyday work; so is one in a single layer of leather, such as a hem's, that
goes over it and not along it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draft.pattern import Pattern
from handkit.findings import Finding, finding
from handkit.geometry.space import Bend
from handkit.punch.punched import PunchedSeam


def _goes_over(seam: PunchedSeam, bend: Bend) -> bool:
    """Whether it is in a single layer and has holes beyond the bend on both its sides."""
    offs = [bend.beyond(hole.at) for hole in seam.layers[0].holes]
    return len(seam.layers) == 1 and min(offs) < -bend.half and max(offs) > bend.half


def bend_findings(pattern: Pattern, seams: Sequence[PunchedSeam]) -> Iterable[Finding]:
    """A warning for each layer and fold; what goes round a fitting's bar is told with the fitting."""
    held = {(one.fitting.on, one.fitting.fold) for one in pattern.fittings}
    for seam in seams:
        for layer in seam.layers:
            piece = pattern.piece(layer.piece)
            for fold in piece.folds if piece.traits.is_leather else ():
                bend = fold.bend if (layer.piece, fold.name) not in held else None
                inside = [hole for hole in layer.holes if bend is not None and bend.is_bent(hole.at)]
                if bend is not None and inside and not _goes_over(seam, bend):
                    nearest = min(inside, key=lambda hole: abs(bend.beyond(hole.at)))
                    yield finding(
                        "hole-in-bend",
                        seam.pattern.runs[layer.run - 1].source.at(),
                        hole=seam.pattern.hole_label(nearest.number),
                        count=len(inside),
                        off=abs(bend.beyond(nearest.at)),
                        fold=fold.name,
                        piece=layer.piece,
                        half=bend.half,
                    ).at_holes(seam.name, [hole.number for hole in inside], layer.piece)
