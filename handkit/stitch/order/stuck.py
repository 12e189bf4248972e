"""Stuck: edges that are cemented or taped, before a row inside them holds the same layers.

In: tasks, and the strips of glue by seam. Out: what had better come before what.

Cement goes on both faces while the layers can be laid apart, and one is laid down on the other as a whole; a
row between two places of a pocket, which takes no glue, would hold them in the middle.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from handkit.stitch.order.precedence import Precedence
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import GlueStrip

WHY = "layers are stuck along their edges before a row inside holds them"


def stuck_first(tasks: Sequence[Task], strips: Mapping[str, Sequence[GlueStrip]]) -> Iterator[Precedence]:
    """A seam that sticks two pieces on each other comes before those through them that stick nothing."""
    seams = [task for task in tasks if task.kind is TaskKind.SEAM]
    for seam in seams:
        for row in seams:
            if not strips[row.name] and any(
                strip.upper != strip.lower and row.passes(strip.upper, strip.lower)
                for strip in strips[seam.name]
            ):
                yield Precedence(seam, row, WHY)
