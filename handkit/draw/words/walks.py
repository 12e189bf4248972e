"""Walks: the holes of a seam as the needles come to them, with what happens at each.

In: a seam's plan. Out: a walk, for one who counts along.
"""

from __future__ import annotations

from handkit.draw.words.document import Walk, WalkPlace
from handkit.stitch.plan import SeamPlan


def walk_of(code: str, seam: SeamPlan) -> Walk:
    """Every place of the walk; of a single needle also from which side it comes."""
    alone = seam.needles == 1
    places = (
        WalkPlace(step.hole, ", ".join((*(f"from the {step.first}",) * alone, *step.events)))
        for step in seam.way
    )
    return Walk(code, tuple(places))
