"""The plan as JSON, for other programs.

In: the plan and what it was made from. Out: text: seams in working order, mm with three decimals.

Whoever adds a seam's thread up again from `moves` gets `cut_mm`, for each of `threads`:
start_stack + start_strand + the sum over its moves of (front + back + over + passes x stack) + wraps
+ tails. In the saddle stitch `passes` is 2, `over` and `start_strand` are nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from handkit.draw.export.json_values import document, mm
from handkit.punch.punched import Punched
from handkit.stitch.plan import Before, Move, OpeningPlan, SeamPlan, StitchPlan, Thread, Totals
from handkit.units import MM2_PER_DM2, MM2_PER_FT2


def plan_json(plan: StitchPlan, punched: Punched) -> str:
    """The document: `seams`, `openings`, `steps`, lists and `totals`; of one article."""
    project = punched.pattern.project
    return document(
        {
            "title": project.title,
            "copies": project.copies,
            "seams": [_seam(seam) for seam in plan.seams],
            "openings": [_opening(opening) for opening in plan.openings],
            "steps": [
                {"kind": step.kind.value, "name": step.name, "what": step.what, "why": step.why}
                for step in plan.steps
            ],
            **_lists(plan),
            "totals": _totals(plan.totals),
        }
    )


def _seam(plan: SeamPlan) -> dict[str, Any]:
    seam = plan.punched
    return {
        "name": plan.name,
        "order": plan.order,
        "layers": [
            {"piece": layer.piece, "run": layer.run, "along": layer.text, "length_mm": mm(layer.length)}
            for layer in seam.layers
        ],
        "face": seam.face.run,
        "back": seam.back.run,
        "closed": seam.closed,
        "holes": seam.count,
        "length_mm": mm(plan.length),
        "pitch_mm": mm(plan.pitch),
        "stack_mm": mm(plan.stack),
        "tail_mm": mm(seam.stitching.tail),
        "thread_mm": mm(plan.thread),
        "rule_of_thumb_mm": mm(plan.rule_of_thumb),
        "threads": [_thread(thread) for thread in plan.threads],
        "walk": list(plan.walk),
        "moves": [_move(move) for move in plan.moves],
        "wraps_mm": mm(plan.wraps),
        "after": _after(plan.after),
        **_bench(plan),
    }


def _bench(plan: SeamPlan) -> dict[str, Any]:
    """What is told at the bench beside the sums."""
    stitching = plan.punched.stitching
    return {
        "stitch": plan.stitch.value,
        "needles": plan.needles,
        "hand": "left" if stitching.left_handed else "right",
        "thread_diameter_mm": mm(stitching.thread),
        "fibre": stitching.fibre.value,
        "lock": plan.lock,
        "way": [
            {"hole": step.hole, "first": step.first.value, "at": [each.value for each in step.happenings]}
            for step in plan.way
        ],
        "mouths": [
            {
                "hole": mouth.hole,
                "turns": mouth.turns,
                "to_edge_mm": mm(mouth.to_edge),
                "thread_mm": mm(mouth.thread),
                "past_mm": mm(mouth.past),
                "base": mouth.base or None,
                "base_at": None if mouth.at is None else [mm(x) for x in mouth.at],
            }
            for mouth in plan.mouths
        ],
        "meets": [{"hole": hole, "seam": seam, "its_hole": its} for hole, seam, its in plan.meetings],
        "tooling": [
            {
                "piece": each.piece,
                "run": each.run,
                "iron": [{"from": a, "to": b, "drift_mm": mm(drift)} for a, b, drift in each.groups],
                "awl": list(each.awl),
            }
            for each in plan.tooling
        ],
    }


def _thread(thread: Thread) -> dict[str, Any]:
    return {
        "from": thread.start,
        "to": thread.end,
        "start_stack_mm": mm(thread.start_stack),
        "wraps_mm": mm(thread.wraps),
        "tails_mm": mm(thread.tails),
        "cut_mm": mm(thread.cut),
        "start_strand_mm": mm(thread.start_strand),
    }


def _move(move: Move) -> dict[str, Any]:
    return {
        "from": move.start,
        "to": move.end,
        "front_mm": mm(move.front),
        "back_mm": mm(move.back),
        "stack_mm": mm(move.stack),
        "passes": move.passes,
        "over_mm": mm(move.over),
    }


def _after(before: Iterable[Before]) -> list[dict[str, str]]:
    return [{"name": one.name, "why": one.why} for one in before]


def _opening(plan: OpeningPlan) -> dict[str, Any]:
    return {
        "name": plan.pattern.name,
        "kind": plan.pattern.opening.kind.value,
        "pieces": list(dict.fromkeys(place.piece for place in plan.pattern.places)),
        "count": len({place.number for place in plan.pattern.places}),
        "stack_mm": mm(plan.stack),
        "post_mm": None if plan.post is None else mm(plan.post),
        "common_post_mm": None if plan.common is None else mm(plan.common),
        "after": _after(plan.after),
    }


def _lists(plan: StitchPlan) -> dict[str, Any]:
    return {
        "cut_list": [
            {
                "piece": row.piece,
                "quantity": row.quantity,
                "width_mm": mm(row.width),
                "height_mm": mm(row.height),
                "thickness_mm": mm(row.thickness),
                "area_mm2": mm(row.area_mm2),
                "note": row.note,
            }
            for row in plan.cut_list
        ],
        "materials": [
            {
                "material": row.material,
                "thickness_mm": mm(row.thickness),
                "net_mm2": mm(row.net_mm2),
                "gross_mm2": mm(row.gross_mm2),
                "net_dm2": mm(row.net_mm2 / MM2_PER_DM2),
                "gross_dm2": mm(row.gross_mm2 / MM2_PER_DM2),
                "net_ft2": mm(row.net_mm2 / MM2_PER_FT2),
                "gross_ft2": mm(row.gross_mm2 / MM2_PER_FT2),
            }
            for row in plan.materials
        ],
        "hardware": [
            {
                "what": row.what,
                "count": row.count,
                "sizes": row.sizes,
                "post_mm": None if row.post is None else mm(row.post),
                "common_post_mm": None if row.common is None else mm(row.common),
            }
            for row in plan.hardware
        ],
        "tools": [{"what": row.what, "size": row.size, "why": row.why} for row in plan.tools],
        "glue": [{"piece": piece, "on": on, "area_mm2": mm(area)} for piece, on, area in plan.glue],
        **_threads(plan),
    }


def _threads(plan: StitchPlan) -> dict[str, Any]:
    return {
        "threads": [
            {
                "diameter_mm": mm(row.diameter),
                "fibre": row.fibre.value,
                "count": row.count,
                "length_mm": mm(row.length),
                "all_copies_mm": mm(row.all_copies),
                "spool_mm": None if row.spool is None else mm(row.spool),
                "spools": row.spools,
                "left_mm": None if row.left is None else mm(row.left),
                "seams": list(row.seams),
            }
            for row in plan.threads
        ],
        "shared_threads": [
            {
                "seams": [{"name": name, "turned": turned} for name, turned in thread.seams],
                "cuts_mm": [mm(cut) for cut in thread.cuts],
                "apart_mm": mm(thread.apart),
            }
            for thread in plan.shared
        ],
    }


def _totals(totals: Totals) -> dict[str, Any]:
    return {
        "holes": totals.holes,
        "openings": totals.openings,
        "thread_mm": mm(totals.thread),
        "leather_mm2": mm(totals.leather_mm2),
        "leather_gross_mm2": mm(totals.leather_gross_mm2),
    }
