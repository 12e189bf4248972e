"""Sources: all that the steps are made from.

In: everything punched, the seams and openings in order, what closes what. Out: one record.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from handkit.draft.pattern import PatternPiece
from handkit.punch.punched import Punched
from handkit.read.project import Fitting
from handkit.stitch.order.enclosure import Enclosure
from handkit.stitch.order.order import TaskOrder
from handkit.stitch.order.tasks import Task
from handkit.stitch.plan import OpeningPlan, Overcast, SeamPlan


class StepSources(msgspec.Struct, frozen=True):
    """All that the steps are made from; `numbers` of the tasks' steps, once all steps are in order."""

    punched: Punched
    ordered: TaskOrder
    enclosures: tuple[Enclosure, ...]
    seams: dict[str, SeamPlan]
    openings: dict[str, OpeningPlan]
    numbers: Mapping[Task, int] = MappingProxyType({})
    overcast: tuple[Overcast, ...] = ()

    @property
    def pieces(self) -> tuple[PatternPiece, ...]:
        """In the file's order."""
        return self.punched.pattern.pieces

    def named(self, task: Task) -> str:
        """A task as a reason names it: with its step, by which a maker finds it."""
        return f"{task} (step {self.numbers[task]})" if task in self.numbers else str(task)

    def fitting(self, name: str) -> Fitting:
        """The fitting of this name. Raises StopIteration where there is none."""
        return next(each for each in self.punched.project.fittings if each.name == name)
