"""Turned out: a bag that was sewn inside out is turned right side out.

In: the sources, a bag. Out: the last seam of its walls, after which it is turned, once their allowances are
pressed; and the step.
"""

from __future__ import annotations

from handkit.read.project import Part, PartKind
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources

# What a bag's walls are called after it (`read/parts/part_kinds.py`).
_WALLS = ("gusset", "left", "right", "base")


def inside_out(sources: StepSources) -> list[tuple[Part, Task]]:
    """Bags that are sewn inside out, each with the last seam of its walls."""
    return [
        (part, last)
        for part in sources.punched.project.parts
        if part.kind is PartKind.BAG and part.length("allowance") is not None
        for last in [task for task in sources.ordered.tasks if _is_at_wall(part, task)][-1:]
    ]


def turned_out(part: Part) -> Step:
    """The step for a bag."""
    zipped = ", the zip open" if part.word("closed_by") == "zip" else ""
    return Step(
        StepKind.FOLD,
        part.name,
        f"Turn {part.name} right side out through its mouth{zipped}, and push its corners out with what is "
        "blunt.",
        "all its walls are sewn",
    )


def _is_at_wall(part: Part, task: Task) -> bool:
    walls = {f"{part.name} {wall}" for wall in _WALLS}
    return task.kind is TaskKind.SEAM and any(name in walls for name in task.pieces)
