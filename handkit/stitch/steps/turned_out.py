"""Turned out: a bag that was sewn inside out is turned right side out.

In: the sources, a task that is done. Out: the step, after the last seam of the bag's walls, once their
allowances are pressed.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.read.project import Part, PartKind
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources

# What a bag's walls are called after it (`read/parts/part_kinds.py`).
_WALLS = ("gusset", "left", "right", "base")


def turned_out(sources: StepSources, task: Task) -> Iterator[Step]:
    """The step, where this task is the last one at a wall of such a bag."""
    for part in sources.punched.pattern.project.parts:
        if part.kind is PartKind.BAG and part.length("allowance") is not None:
            walls = [each for each in sources.ordered.tasks if _is_at_wall(part, each)]
            if walls and walls[-1] is task:
                yield Step(
                    StepKind.FOLD,
                    part.name,
                    f"Turn {part.name} right side out through its mouth, and push its corners out with what "
                    "is blunt.",
                    "all its walls are sewn",
                )


def _is_at_wall(part: Part, task: Task) -> bool:
    walls = {f"{part.name} {wall}" for wall in _WALLS}
    return task.kind is TaskKind.SEAM and any(name in walls for name in task.pieces)
