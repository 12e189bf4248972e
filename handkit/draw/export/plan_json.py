"""The plan as JSON, for other programs.

In: the plan and what it was made from. Out: text: seams in working order, mm with three decimals.

Whoever adds a seam's thread up again from `moves` gets `cut_mm`, for each of `threads`:
start_stack + start_strand + the sum over its moves of (front + back + over + passes x stack) + wraps
+ tails. A seam through which the thread of another goes on has its part of it: the first hole and the
tail of an end stand only where that end is, the parts of a thread make its `whole_mm`, and `cut_threads`
names them. In the saddle stitch `passes` is 2, `over` and `start_strand` are nothing. The stack of a move
is that of the layers which the hole it reaches goes through: all, or what `stretches` tells.

On a closed line a stand of the iron may end in hole count + k, which is hole k.
"""

from __future__ import annotations

from typing import Any

from handkit.draw.export.json_fields import document, drafted_for, fields, mm, point
from handkit.draw.export.report_json import ITEM_FIT
from handkit.punch.punched import Punched, PunchedLayer
from handkit.read.project import Fitting
from handkit.stitch.plan import (
    CutRow,
    CutThread,
    EdgeAction,
    EdgeRow,
    GlueStrip,
    HardwareRow,
    HardwareTotal,
    LayersMet,
    MaterialRow,
    Mouth,
    Move,
    OpeningPlan,
    Overcast,
    PostPlan,
    Predecessor,
    SeamPlan,
    SeamStack,
    SharedThread,
    Step,
    StitchPlan,
    Thread,
    ThreadRow,
    Tooling,
    ToolRow,
    Totals,
    WayStep,
    cut_threads,
)
from handkit.units import MM2_PER_DM2, MM2_PER_FT2

BEFORE = fields(Predecessor, "name why")
LAYER = fields(PunchedLayer, "piece run along=text length_mm")
THREAD = fields(
    Thread, "from=start to=end start_stack_mm wraps_mm tails_mm cut_mm start_strand_mm number whole_mm seams"
)
MOVE = fields(Move, "from=start to=end front_mm back_mm stack_mm passes over_mm")
PLACE = fields(WayStep, "hole first at=events")
MOUTH = fields(
    Mouth,
    "hole turns to_edge_mm thread_mm past_mm base base_at=at",
    base=lambda base: base or None,
    base_at=point,
)
MEETING = fields(tuple, "hole=0 seam=1 its_hole=2")
IRON = fields(tuple, "from=0 to=1 drift_mm=2")
TOOLING = fields(Tooling, "piece run iron=groups awl", iron=IRON.each)

# The sums of a seam, then what is told at the bench.
SEAM = fields(
    SeamPlan,
    "name order layers=punched.layers face=punched.face.run back=punched.back.run closed=punched.closed "
    "holes=punched.count length_mm pitch_mm stack_mm tail_mm=stitching.tail thread_mm "
    "rule_of_thumb_mm threads walk moves wraps_mm after stitch needles "
    "hand=stitching.left_handed thread_diameter_mm=stitching.thread "
    "fibre=stitching.fibre lock way mouths meets=shared_holes tooling comes_from goes_on",
    layers=LAYER.each,
    threads=THREAD.each,
    moves=MOVE.each,
    after=BEFORE.each,
    hand=lambda left: "left" if left else "right",
    way=PLACE.each,
    mouths=MOUTH.each,
    meets=MEETING.each,
    tooling=TOOLING.each,
)
MET = fields(LayersMet, "upper upper_run upper_side lower lower_run lower_side")
STRETCH = fields(SeamStack, "from=first to=last pieces stack_mm")
OPENING = fields(
    OpeningPlan,
    "name=pattern.name kind=pattern.opening.kind pieces=pattern.places count=pattern.places stack_mm "
    "post_mm common_post_mm=common after",
    pieces=lambda places: list(dict.fromkeys(place.piece for place in places)),
    count=lambda places: len({place.number for place in places}),
    after=BEFORE.each,
)
POST = fields(PostPlan, "numbers pieces stack_mm post_mm common_post_mm=common")
STEP = fields(Step, "kind name what why")
EDGE_WORK = fields(EdgeAction, "work step")
EDGE = fields(
    EdgeRow,
    "piece edges state with=mates whole after before works=actions parts_mm=parts",
    edges=lambda edges: ["-".join(ends) for ends in edges],
    parts_mm=lambda parts: [part and [mm(along) for along in part] for part in parts],
    after=lambda name: name or None,
    before=lambda name: name or None,
    works=EDGE_WORK.each,
)
CUT = fields(CutRow, "piece quantity width_mm height_mm thickness_mm area_mm2 note")
MATERIAL = fields(
    MaterialRow,
    "material thickness_mm net_mm2 gross_mm2 net_dm2=net_mm2 gross_dm2=gross_mm2 net_ft2=net_mm2 "
    "gross_ft2=gross_mm2",
    net_dm2=lambda area: mm(area / MM2_PER_DM2),
    gross_dm2=lambda area: mm(area / MM2_PER_DM2),
    net_ft2=lambda area: mm(area / MM2_PER_FT2),
    gross_ft2=lambda area: mm(area / MM2_PER_FT2),
)
HARDWARE = fields(
    HardwareRow, "what count sizes post_mm common_post_mm=common post_at_hand_mm=at_hand article"
)
FITTING = fields(Fitting, "name kind on fold made_of=piece sizes=size_words", fold=lambda fold: fold or None)
STRIP = fields(GlueStrip, "upper lower upper_side lower_side piece along holes width_mm area_mm2")
BOUGHT = fields(HardwareTotal, "what article count")
TOOL = fields(ToolRow, "what size why")
GLUE = fields(tuple, "piece=0 on=1 area_mm2=2")
THREADS = fields(ThreadRow, "diameter_mm fibre count length_mm all_copies_mm spool_mm spools left_mm seams")
CUT_THREAD = fields(
    CutThread,
    "order number of=count cut_mm tails_mm wraps_mm diameter_mm=stitching.thread fibre=stitching.fibre parts",
    parts=lambda parts: [{"seam": seam.name, "from": part.start, "to": part.end} for seam, part in parts],
)
IN_TURN = fields(tuple, "name=0 turned=1")
SHARED = fields(
    SharedThread,
    "seams cuts_mm apart_mm adopted rule_of_thumb_mm",
    seams=IN_TURN.each,
    cuts_mm=lambda cuts: [mm(cut) for cut in cuts],
)
OVERCAST = fields(
    Overcast,
    "piece edge length_mm stitches count cut_mm tails_mm diameter_mm=stitching.thread fibre=stitching.fibre",
)
TOTALS = fields(Totals, "holes openings thread_mm leather_mm2 leather_gross_mm2")
PLAN = fields(
    StitchPlan,
    "seams openings steps cut_list materials hardware tools glue threads shared_threads=shared totals "
    "hardware_totals fittings edges cut_threads=seams overcast",
    seams=lambda plans: [_seam(plan) for plan in plans],
    openings=lambda plans: [_opening(plan) for plan in plans],
    steps=STEP.each,
    cut_list=CUT.each,
    materials=MATERIAL.each,
    hardware=HARDWARE.each,
    tools=TOOL.each,
    glue=GLUE.each,
    threads=THREADS.each,
    shared_threads=SHARED.each,
    totals=TOTALS.one,
    hardware_totals=BOUGHT.each,
    fittings=FITTING.each,
    edges=EDGE.each,
    cut_threads=lambda seams: CUT_THREAD.each(cut_threads(seams)),
    overcast=OVERCAST.each,
)


def _seam(plan: SeamPlan) -> dict[str, Any]:
    """A seam; where layers go part of the way, with what each hole goes through.

    `holes` of a layer are the first and last of each stretch: one that goes on over a closed seam's
    first hole ends before it begins. `stretches` go from hole 1 to the last, pieces from the face down.
    """
    seam = {**SEAM.one(plan), "hold": plan.hold.value, "glue": STRIP.each(plan.strips)}
    seam["layers_met"] = MET.each(plan.met)
    if plan.zips:
        seam["zips"] = [each.name for each in plan.zips]
    if plan.part_way:
        for layer, own in zip(plan.punched.layers, seam["layers"], strict=True):
            own["holes"] = [list(span) for span in plan.punched.stretches_of(layer)]
        seam["stretches"] = STRETCH.each(plan.stacks)
    return seam


def _opening(plan: OpeningPlan) -> dict[str, Any]:
    """An opening; where a piece is pierced at some of its places only, with the stack and post of each."""
    told = OPENING.one(plan)
    return {**told, "posts": POST.each(plan.posts)} if plan.part_way else told


def plan_json(plan: StitchPlan, punched: Punched) -> str:
    """The document: `seams`, `openings`, `steps`, lists and `totals`; of one article."""
    project = punched.project
    head: dict[str, Any] = {"title": project.title, "copies": project.copies, **drafted_for(project)}
    fits = punched.pattern.item_fits
    rooms = {"rooms": ITEM_FIT.each(fits)} if fits else {}
    return document({**head, **PLAN.one(plan), **rooms})
