"""Threading: a strap that hangs by nothing is put through the slots that are cut for it, a flap's under its
loop; a tie is put through its eyelet when the edges are done.

In: the sources. Out: a step for each such strap; the tasks of such ties.

Which slots a strap suits the pattern knows.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import takewhile

from handkit.draft.pattern import threaded_straps
from handkit.kinds.fittings import FittingKind
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources
from handkit.wording.quoting import quoted, words


def threaded(sources: StepSources) -> Iterator[Step]:
    """The last steps: leather is oiled flat."""
    for each in threaded_straps(sources.punched.pattern):
        strap = each.strap
        through = words((f"{quoted(name)} in {piece}" for name, piece in each.slots), last="and")
        side = strap.side_words(strap.shows)
        yield Step(
            StepKind.FITTING,
            strap.name,
            f"Put {strap.name} through the slots {through}, its {side} out.",
            "it goes in and out there when all is finished",
        )
    for room in (each for each in sources.punched.pattern.rooms if each.passes):
        yield Step(
            StepKind.FITTING,
            room.passes,
            f"Close {room.part}: put {quoted(room.passes)} under {quoted(room.cover)}.",
            "its end goes through there, with the flap over all that lies inside",
        )


def hung_last(sources: StepSources) -> tuple[Task, ...]:
    """The ties that nothing is done after: they would be in the way, and a turning burnisher takes hold of
    what hangs."""
    ends = takewhile(lambda task: _is_tie(sources, task), reversed(sources.ordered.tasks))
    return tuple(ends)[::-1]


def _is_tie(sources: StepSources, task: Task) -> bool:
    return task.kind is TaskKind.FITTING and sources.fitting(task.name).kind is FittingKind.TIE
