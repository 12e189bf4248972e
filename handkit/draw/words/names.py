"""Names: the short ones that stand on a template for the long ones of the plan.

In: the plan. Out: `S3` for the seam that is sewn third, `O2` for the second opening of the file.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.punch.punched import Punched, PunchedLayer, PunchedSeam
from handkit.read.project import Punching
from handkit.stitch.plan import SeamPlan, Step, StepKind, StitchPlan
from handkit.wording.figures import Units


class Codes(msgspec.Struct, frozen=True):
    """Short names by long ones."""

    seams: dict[str, str]
    openings: dict[str, str]


def codes_of(plan: StitchPlan) -> Codes:
    """Seams by working order, openings by the order of the plan's list."""
    return Codes(
        {seam.name: f"S{seam.order}" for seam in plan.seams},
        {opening.pattern.name: f"O{k}" for k, opening in enumerate(plan.openings, start=1)},
    )


class KitPlan(msgspec.Struct, frozen=True):
    """The plan with what it was made from and the short names: what lists and plan are written from."""

    punched: Punched
    plan: StitchPlan
    codes: Codes

    @property
    def copies(self) -> int:
        """How many are made alike."""
        return self.punched.project.copies

    @property
    def units(self) -> Units:
        """How lengths are written."""
        return self.punched.project.units

    def code_of(self, step: Step) -> str:
        """The short name of the seam or opening a step is about; "" of all else."""
        names = {StepKind.SEAM: self.codes.seams, StepKind.OPENING: self.codes.openings}
        return names.get(step.kind, {}).get(step.name, "")

    def seam_title(self, seam: SeamPlan) -> str:
        """A seam's short name and its own."""
        return f"{self.codes.seams[seam.name]} {seam.name}"


def span_words(codes: Sequence[str]) -> str:
    """Codes that follow one another, from the first to the last.

    >>> span_words(["S2", "S3", "S4"]), span_words(["S2", "S3"]), span_words(["S2", "S5"]), span_words(["S2"])
    ('S2 to S4', 'S2 and S3', 'S2 and S5', 'S2')
    """
    return f"{codes[0]} to {codes[-1]}" if len(codes) > 2 else " and ".join(codes)


def kit_plan(punched: Punched, plan: StitchPlan) -> KitPlan:
    """The plan with its short names."""
    return KitPlan(punched, plan, codes_of(plan))


def layer_code(codes: Codes, seam: PunchedSeam, layer: PunchedLayer) -> str:
    """A seam's short name; where a piece is in it twice, with a letter for each of its layers."""
    mine = [other.run for other in seam.layers if other.piece == layer.piece]
    letter = chr(ord("a") + mine.index(layer.run)) if len(mine) > 1 else ""
    return codes.seams[seam.name] + letter


def punched_through(seam: PunchedSeam, layer: PunchedLayer) -> tuple[PunchedLayer, ...]:
    """The layers on top through which a layer is punched, where it has no ticks of its own."""
    if seam.stitching.punch is not Punching.THROUGH:
        return ()
    tops = {} if seam.whole else {seam.face_at(hole.number).run: None for hole in layer.holes}
    return tuple(seam.layers[run - 1] for run in tops or (seam.face.run,) if run != layer.run)
