"""Zips: how one is made shorter; when it is opened, so that what it closes can still be sewn.

In: the sources, a task. Out: steps before it.

Words: the seam that *closes* what a zip opens is the last one that joins two of the pieces which hang
together with those that the zip is sewn to. Behind a closed zip no hand guides the second needle, and what
is sewn inside out can't be turned.
"""

from __future__ import annotations

from collections.abc import Iterable

from handkit.kinds.fittings import FittingKind
from handkit.read.project import Fitting
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources

# Over how much of the teeth a zip's new stop is sewn, and what is left beyond it, mm (common practice, no
# source).
STOP, PAST_STOP = 6.0, 25.0


def zip_shortened(sources: StepSources, task: Task) -> Iterable[Step]:
    """A step before a zip is fixed that is not sold as long as it is wanted."""
    fitting = sources.fitting(task.name) if task.kind is TaskKind.FITTING else None
    if fitting is not None and fitting.longer is not None and fitting.length is not None:
        units = fitting.source.units
        yield Step(
            StepKind.FITTING,
            fitting.name,
            f"Shorten the {fitting.called}, if it is longer than {units.text(fitting.length)}: close it, "
            "measure that along the teeth from the end where its slider rests, and sew a new stop there, "
            f"{units.about.text(STOP)} of tight stitches over both tapes. Pull metal teeth beyond it off "
            f"with pliers: protect the eyes. Cut it off {units.about.text(PAST_STOP)} beyond the stop.",
            "zips are sold in few lengths; without a stop the slider runs off",
        )


def zips_opened(sources: StepSources, task: Task) -> Iterable[Step]:
    """A step for each zip that is opened before a task."""
    for each in sources.punched.project.fittings:
        if each.kind is FittingKind.ZIP and _closing(sources, each) is task:
            yield Step(
                StepKind.FITTING,
                each.name,
                f"Open the {each.called}: hand and needle must still get inside, and work sewn inside out is "
                "turned through it.",
                f"{task} closes what it opens",
            )


def _closing(sources: StepSources, zipped: Fitting) -> Task | None:
    """The last seam that joins pieces which hang together with the zip's, after the zip's own."""
    seams = [task for task in sources.ordered.tasks if task.kind is TaskKind.SEAM]
    own = [task for task in seams if task.name in zipped.seams]
    held = {piece for task in own for piece in task.pieces}
    found = True
    while found:
        near = {piece for task in seams if held & set(task.pieces) for piece in task.pieces}
        found = not near <= held
        held |= near
    after = seams[max(map(seams.index, own), default=-1) + 1 :]
    return next((t for t in reversed(after) if held & set(t.pieces) and len(set(t.pieces)) > 1), None)
