"""Sources: all that the steps are made from.

In: everything punched, the seams and openings in order, what closes what. Out: one record.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.punch.punched import Punched
from handkit.read.project import Fitting
from handkit.stitch.order.enclosure import Enclosure
from handkit.stitch.order.order import TaskOrder
from handkit.stitch.plan import OpeningPlan, SeamPlan


class StepSources(msgspec.Struct, frozen=True):
    """All that the steps are made from."""

    punched: Punched
    ordered: TaskOrder
    enclosures: tuple[Enclosure, ...]
    seams: dict[str, SeamPlan]
    openings: dict[str, OpeningPlan]

    @property
    def pieces(self) -> tuple[PatternPiece, ...]:
        """In the file's order."""
        return self.punched.pattern.pieces

    def fitting(self, name: str) -> Fitting:
        """The fitting of this name. Raises StopIteration where there is none."""
        return next(each for each in self.punched.project.fittings if each.name == name)
