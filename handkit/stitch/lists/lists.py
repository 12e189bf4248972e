"""Lists: what is cut, what is bought, and the sums.

In: everything punched, the openings' plans, the thread. Out: rows and totals of one article; the
project's copies multiply them.

Gross is net over the share of the hide that ends up in pieces: a quarter of waste is net x 1.333,
never x 1.25.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from handkit.draft.pattern import FinishedEdge, PatternOpening, PatternPiece
from handkit.kinds.edge_works import EdgeWork
from handkit.punch.punched import Punched
from handkit.read.project import Side
from handkit.stitch.plan import DECIMALS, TAPE, CutRow, HardwareRow, MaterialRow, OpeningPlan, Totals
from handkit.units import MM_PER_INCH

# A cap rivet's post stands this much above the stack (1/16 to 1/8 in: two makers' pages).
POST_LEAST = MM_PER_INCH / 16
POST_MOST = MM_PER_INCH / 8

# What the ends of a tape that goes all round lap, mm (common practice, no source).
TAPE_LAP = 20.0

# Lengths of posts that are commonly sold, mm (common practice, no source: measure what you have).
COMMON_POSTS = (6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 16.0)


def post_length(opening: PatternOpening, stack: float) -> float | None:
    """The shortest post of a rivet: its stack and 1/16 in. None for all else.

    A snap's post has no such rule: too short does not hold, too long crushes the socket, so it is
    tried on a scrap of the stack.
    """
    return round(stack + POST_LEAST, 3) if opening.opening.traits.post else None


def common_post(post: float | None) -> float | None:
    """The next length that is commonly sold and not too long for the cap; None where there is none.

    >>> common_post(6.4), common_post(8.0), common_post(12.2), common_post(None)
    (7.0, 8.0, None, None)
    """
    if post is None:
        return None
    most = post + POST_MOST - POST_LEAST
    return next((length for length in COMMON_POSTS if post <= length <= most), None)


def area_of(piece: PatternPiece) -> float:
    """Area of one piece as cut, in mm²."""
    return abs(piece.cut_outline.signed_area())


def cut_list(pieces: Sequence[PatternPiece]) -> tuple[CutRow, ...]:
    """One row a piece, in the file's order."""
    rows = []
    for piece in pieces:
        left, bottom, right, top = piece.cut_outline.bounds()
        trim = ("trimmed after stitching",) if piece.trims else ()
        skive = ("skived",) if piece.skives else ()
        works = (each.told(piece.far_side) for each in piece.works)
        note = ", ".join((_side(piece), *skive, *trim, *works)) + (f"; {piece.note}" if piece.note else "")
        rows.append(
            CutRow(
                piece.name, piece.quantity, right - left, top - bottom, piece.thickness, area_of(piece), note
            )
        )
    return tuple(rows)


def materials(punched: Punched) -> tuple[MaterialRow, ...]:
    """Net and gross by kind and thickness, in the order the pieces name them."""
    share = punched.project.yield_share
    net: dict[tuple[str, float], float] = {}
    for piece in punched.pattern.pieces:
        key = (piece.material.value, piece.thickness)
        net[key] = net.get(key, 0.0) + piece.quantity * area_of(piece)
    return tuple(
        MaterialRow(material, thickness, area, area / share) for (material, thickness), area in net.items()
    )


def hardware(openings: Sequence[OpeningPlan]) -> tuple[HardwareRow, ...]:
    """What to buy, alike rows together; a snap and its mate are one."""
    rows: dict[tuple[str, str, float | None], int] = {}
    plans = {plan.pattern.name: plan for plan in openings}
    done: set[str] = set()
    for plan in openings:
        facts = plan.pattern.opening
        if not facts.traits.hardware or facts.name in done:
            continue
        mate = plans.get(facts.mate or "")
        halves = (plan, mate) if mate else (plan,)
        done |= {half.pattern.name for half in halves}
        if mate is None and plan.part_way:
            for post in plan.posts:
                key = (facts.kind.value, _sizes(plan, post.stack, post.post), post.post)
                rows[key] = rows.get(key, 0) + len(post.numbers)
            continue
        sizes = dict.fromkeys(_sizes(half, half.stack, half.post) for half in halves)
        key = (facts.kind.value, "; ".join(sizes), plan.post)
        rows[key] = rows.get(key, 0) + max(half.pattern.count for half in halves)
    return tuple(
        HardwareRow(what, count, sizes, post, common_post(post))
        for (what, sizes, post), count in rows.items()
    )


def tapes(pieces: Sequence[PatternPiece]) -> tuple[HardwareRow, ...]:
    """The tape of bindings, cut to the finished edge's length, in the file's order."""
    return tuple(
        HardwareRow(TAPE, piece.quantity, f"{_tape(each)}, for {each.work.edges} of {piece.name}", None)
        for piece in pieces
        for each in piece.works
        if each.work.work is EdgeWork.BINDING
    )


def _tape(each: FinishedEdge) -> str:
    """A tape's sizes; its length to the next whole mm."""
    lap = f" and {TAPE_LAP:g} mm to lap" if each.path.closed else ""
    return f"{each.work.width:g} mm wide, {each.work.tape:g} mm thick, {tape_length(each)} mm long{lap}"


def tape_length(each: FinishedEdge) -> int:
    """How long the tape of a bound edge is cut, mm."""
    return ceil(round(each.path.length, DECIMALS))


def totals(punched: Punched, *, thread: float) -> Totals:
    """Holes and openings to be made (each layer counts, a shared hole once), thread, leather."""
    rows = materials(punched)
    return Totals(
        holes=punched.holes_to_make,
        openings=punched.openings_to_make,
        thread=thread,
        leather_mm2=sum(row.net_mm2 for row in rows),
        leather_gross_mm2=sum(row.gross_mm2 for row in rows),
    )


def _side(piece: PatternPiece) -> str:
    """Which side the template lies on, as the template says it."""
    words = piece.traits.words
    return (
        f"marked on the {words.back}, mirrored"
        if piece.mark is Side.FLESH
        else f"marked on the {words.front}"
    )


def _sizes(plan: OpeningPlan, stack: float, post: float | None) -> str:
    """Sizes of what is set in an opening through a stack, for the shop and the bench."""
    facts = plan.pattern.opening
    parts = [f"hole {facts.diameter:.3g} mm"]
    if facts.cap:
        parts.insert(0, f"cap {facts.cap:.4g} mm")
    if post is None:
        parts.append(f"stack {stack:.3g} mm, to be tried on a scrap")
    else:
        most = stack + POST_MOST
        parts.append(f"post {post:.1f} to {most:.1f} mm (stack {stack:.3g} mm and 1/16 to 1/8 in)")
    return ", ".join(parts)
