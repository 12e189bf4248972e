"""Step 4: the plan. What is done in which order, how each seam is sewn, with how much thread.

In: everything punched. Out: the `StitchPlan`. Each part has its module: `sewing` with `kinds`,
`mouths` and `thread` for one seam, `closing`, `order` and `sharing` for all of them, `bench_way`,
`tooling`, `steps`, `lists` and `shopping` for the bench.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from operator import attrgetter

import msgspec

from handkit.counting import OnProgress, counted, no_progress
from handkit.draft.pattern import Pattern, PatternOpening
from handkit.errors import refuse_errors
from handkit.findings import in_order
from handkit.punch.punched import Punched
from handkit.stitch.edges.overcasting import overcasts
from handkit.stitch.lists.glue import hold_of, strips_of
from handkit.stitch.lists.hardware import bought_fittings, hardware, hardware_totals, tapes
from handkit.stitch.lists.lists import cut_list, materials, totals
from handkit.stitch.lists.posts import common_post, post_findings, post_length
from handkit.stitch.lists.shopping import all_tools, glue_areas, thread_rows
from handkit.stitch.order.enclosure import enclosures
from handkit.stitch.order.fitting_order import fitting_findings, fitting_precedences
from handkit.stitch.order.holds_on import holds_on_findings
from handkit.stitch.order.order import Circumstances, TaskOrder, in_working_order
from handkit.stitch.order.reach import reach_of
from handkit.stitch.order.standing import alone_first, with_standing
from handkit.stitch.order.stuck import stuck_first
from handkit.stitch.order.tasks import Task, TaskKind, tasks_of
from handkit.stitch.plan import (
    DECIMALS,
    GlueStrip,
    OpeningPlan,
    Overcast,
    PostPlan,
    SeamPlan,
    StitchPlan,
)
from handkit.stitch.sewing.layers_met import layers_met
from handkit.stitch.sewing.sewing import SewnSeam, sew, without_thread
from handkit.stitch.sewing.sharing import share
from handkit.stitch.sewing.stack import opening_stack
from handkit.stitch.sewing.walk_events import shared_holes_of
from handkit.stitch.steps.sources import StepSources
from handkit.stitch.steps.steps import steps


def plan(punched: Punched, *, on_progress: OnProgress = no_progress) -> StitchPlan:
    """The plan of a punched pattern. Lengths mm, areas mm².

    Raises ProjectError where the order of work has a cycle, or the longest thread allowed sews no seam.
    """
    pattern = punched.pattern
    shared_holes = shared_holes_of(punched)
    listed = counted(punched.seams, on_progress, "planning the work: seam", attrgetter("name"))
    sewings = [sew(seam, pattern, shared_holes[seam.name]) for seam in listed]
    on_progress("planning the work: what comes before what")
    earlier = [*(each for sewing in sewings for each in sewing.findings), *without_thread(sewings)]
    tasks = with_standing(pattern, tasks_of(punched))
    closed = enclosures(pattern, tasks)
    strips = {seam.name: strips_of(seam, punched) for seam in punched.seams}
    ordered = in_working_order(tasks, closed, earlier, _circumstances(pattern, tasks, strips))
    refuse_errors(earlier)
    shared = share(punched, sewings, ordered)
    ordered = shared.ordered
    on_progress("planning the work: steps and lists")
    seams = _seam_plans(shared.sewings, ordered, punched, strips)
    openings = _opening_plans(punched, ordered)
    held = (*holds_on_findings(pattern, tasks, closed), *(each.finding for each in ordered.hindrances))
    fitted = (*post_findings(openings), *fitting_findings(pattern, tasks))
    bought = (*hardware(openings), *bought_fittings(pattern.project.fittings), *tapes(pattern.pieces))
    named = {seam.name: seam for seam in seams}, {each.pattern.name: each for each in openings}
    overcast = overcasts(pattern, seams)
    work, edges = steps(StepSources(punched, ordered, closed, *named, overcast=overcast))
    return StitchPlan(
        seams=seams,
        openings=openings,
        steps=work,
        cut_list=cut_list(pattern.pieces),
        hardware=bought,
        hardware_totals=hardware_totals(bought),
        totals=totals(punched, thread=_thread(seams, overcast)),
        findings=in_order((*earlier, *held, *shared.findings, *fitted)),
        materials=materials(punched),
        shared=shared.threads,
        threads=thread_rows(seams, overcast, copies=pattern.project.copies),
        tools=all_tools(seams, openings, pattern),
        glue=glue_areas(punched),
        fittings=pattern.project.fittings,
        edges=edges,
        overcast=overcast,
    )


def _thread(seams: Sequence[SeamPlan], overcast: Sequence[Overcast]) -> float:
    """All that is sewn with."""
    return round(sum([*(each.thread for each in seams), *(each.thread for each in overcast)]), DECIMALS)


Strips = Mapping[str, Sequence[GlueStrip]]  # of glue or tape, by seam


def _circumstances(pattern: Pattern, tasks: Sequence[Task], strips: Strips) -> Circumstances:
    return Circumstances(
        fitting_precedences(pattern, tasks),
        reach_of(pattern, tasks),
        (*alone_first(pattern, tasks), *stuck_first(tasks, strips)),
    )


def _seam_plans(
    sewings: Sequence[SewnSeam], ordered: TaskOrder, punched: Punched, strips: Strips
) -> tuple[SeamPlan, ...]:
    """Seams in working order."""
    plans = {sewing.plan.name: sewing.plan for sewing in sewings}
    tasks = [task for task in ordered.tasks if task.kind is TaskKind.SEAM]
    return tuple(
        msgspec.structs.replace(
            plans[task.name],
            order=order,
            after=ordered.before(task),
            hold=hold_of(plans[task.name].punched, punched.pattern),
            strips=strips[task.name],
            met=layers_met(punched.pattern, plans[task.name].punched),
            from_behind=bool(task.down),
            zips=tuple(one for one in punched.project.fittings if task.name in one.seams),
        )
        for order, task in enumerate(tasks, start=1)
    )


def _opening_plans(punched: Punched, ordered: TaskOrder) -> tuple[OpeningPlan, ...]:
    """Openings in working order."""
    by_name = {opening.name: opening for opening in punched.pattern.openings}
    plans = []
    for task in ordered.tasks:
        if task.kind is TaskKind.OPENING:
            opening = by_name[task.name]
            stack = opening_stack(opening, punched.pattern)
            post = post_length(opening.opening, stack)
            before, posts = ordered.before(task), _posts(opening, punched.pattern)
            plans.append(OpeningPlan(opening, stack, post, before, common_post(post), posts))
    return tuple(plans)


def _posts(opening: PatternOpening, pattern: Pattern) -> tuple[PostPlan, ...]:
    """What the places of an opening need, by the pieces they go through."""
    found = []
    for pieces, numbers in opening.by_pieces.items():
        stack = opening_stack(opening, pattern, numbers)
        post = post_length(opening.opening, stack)
        ordered = tuple(sorted(pieces, key=lambda name: pattern.piece(name).level))
        found.append(PostPlan(numbers, ordered, stack, post, common_post(post)))
    return tuple(found)
