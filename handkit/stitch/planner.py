"""Step 4: the plan. What is done in which order, how each seam is sewn, with how much thread.

In: everything punched. Out: the `StitchPlan`. Each part has its module: `sewing` with `kinds`,
`mouths` and `thread` for one seam, `closing`, `order` and `sharing` for all of them, `bench_way`,
`tooling`, `steps`, `lists` and `shopping` for the bench.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.errors import refuse_errors
from handkit.findings import in_order
from handkit.punch.punched import Punched
from handkit.stitch.lists.lists import common_post, cut_list, hardware, materials, post_length, totals
from handkit.stitch.lists.shopping import glue_areas, thread_rows, tool_rows
from handkit.stitch.order.closing import closings
from handkit.stitch.order.order import Ordered, in_working_order
from handkit.stitch.order.steps import Bench, steps
from handkit.stitch.order.works import WorkKind, works_of
from handkit.stitch.plan import Before, OpeningPlan, SeamPlan, StitchPlan
from handkit.stitch.sewing.bench_way import LOCKS, Meeting, meetings_of, way_steps
from handkit.stitch.sewing.sewing import Sewing, sew
from handkit.stitch.sewing.sharing import share
from handkit.stitch.sewing.stack import DECIMALS, opening_stack
from handkit.stitch.sewing.tooling import toolings


def plan(punched: Punched) -> StitchPlan:
    """The plan of a punched pattern. Lengths mm, areas mm².

    Raises ProjectError where the order of work has a circle or a seam can't be sewn with the
    longest thread allowed; notes and warnings travel in `findings`.
    """
    pattern = punched.pattern
    sewings = [sew(seam, pattern) for seam in punched.seams]
    said = [finding for sewing in sewings for finding in sewing.findings]
    works = works_of(punched)
    closed = closings(pattern, works)
    ordered = in_working_order(works, closed, said)
    refuse_errors(said)
    shared = share(punched, sewings, ordered)
    findings = in_order((*said, *shared.findings))
    seams = _seam_plans(punched, sewings, ordered)
    openings = _opening_plans(punched, ordered)
    bench = Bench(
        punched,
        ordered,
        closed,
        {seam.name: seam for seam in seams},
        {opening.pattern.name: opening for opening in openings},
    )
    return StitchPlan(
        seams=seams,
        openings=openings,
        steps=steps(bench),
        cut_list=cut_list(pattern.pieces),
        hardware=hardware(openings),
        totals=totals(punched, thread=round(sum(seam.thread for seam in seams), DECIMALS)),
        findings=findings,
        materials=materials(punched),
        shared=shared.threads,
        threads=thread_rows(seams, copies=pattern.project.copies),
        tools=tool_rows(seams, openings),
        glue=glue_areas(punched),
    )


def _seam_plans(punched: Punched, sewings: Sequence[Sewing], ordered: Ordered) -> tuple[SeamPlan, ...]:
    """Seams in working order."""
    by_name = {sewing.punched.name: sewing for sewing in sewings}
    meetings = meetings_of(punched)
    works = [work for work in ordered.works if work.kind is WorkKind.SEAM]
    return tuple(
        _seam_plan(by_name[work.name], order, ordered.before(work), meetings[work.name])
        for order, work in enumerate(works, start=1)
    )


def _seam_plan(
    sewing: Sewing, order: int, after: tuple[Before, ...], meetings: tuple[Meeting, ...]
) -> SeamPlan:
    return SeamPlan(
        punched=sewing.punched,
        order=order,
        length=sewing.length,
        pitch=sewing.pitch,
        stack=sewing.stack,
        walk=sewing.walk,
        moves=sewing.moves,
        threads=sewing.threads,
        thread=sewing.thread,
        wraps=sewing.wraps,
        rule_of_thumb=sewing.rule,
        after=after,
        stitch=sewing.settings.stitch,
        needles=sewing.sewn.needles,
        way=way_steps(sewing, meetings),
        mouths=sewing.mouths,
        meetings=meetings,
        lock=LOCKS[sewing.settings.fibre],
        tooling=toolings(sewing.punched),
    )


def _opening_plans(punched: Punched, ordered: Ordered) -> tuple[OpeningPlan, ...]:
    """Openings in working order."""
    by_name = {opening.name: opening for opening in punched.pattern.openings}
    plans = []
    for work in ordered.works:
        if work.kind is WorkKind.OPENING:
            opening = by_name[work.name]
            stack = opening_stack(opening, punched.pattern)
            post = post_length(opening, stack)
            plans.append(OpeningPlan(opening, stack, post, ordered.before(work), common_post(post)))
    return tuple(plans)
