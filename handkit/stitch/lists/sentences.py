"""Sentences for the bench about seams and openings.

In: plans of a seam or an opening. Out: a sentence each, plain text.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.grouping import grouped
from handkit.read.project import Fitting, Hold, Punching
from handkit.stitch.lists.posts import POST_MOST
from handkit.stitch.plan import GlueStrip, OpeningPlan, SeamPlan
from handkit.wording.figures import Units
from handkit.wording.quoting import quoted, words
from handkit.wording.stretches import MOST_TOLD, number_words


def layers_of(seam: SeamPlan) -> str:
    """A seam's pieces downwards as they lie, with zips' tapes; a piece in it twice is named so.

    Where a layer goes part of the way: what its holes go through.
    """
    if seam.part_way:
        return _by_holes(seam)
    names = [layer.piece for layer in seam.downwards]
    each = [f"both layers of {name}" if names.count(name) > 1 else name for name in dict.fromkeys(names)]
    return words(seam.with_tapes(each), last="and")


def _by_holes(seam: SeamPlan) -> str:
    """What the holes of a seam go through; of many kinds of stretches only which pieces there are."""
    if not seam.stretch_lines:
        return seam.stretches(stack=False)
    punched = seam.punched
    whole, part = (
        dict.fromkeys(layer.piece for layer in punched.from_face if punched.is_whole(layer) is all_of_it)
        for all_of_it in (True, False)
    )
    reach = f"{words(part, last='and')} as far as they reach, hole by hole as the seam's own lines tell"
    return f"{words((*whole, *seam.tape_words), last='and')}, with {reach}"


def sew_sentence(seam: SeamPlan, row: Sequence[SeamPlan]) -> str:
    """How to sew a seam, in a sentence or two; `row` are all seams that are sewn as one with it."""
    first = ", ".join(filter(None, (held_words(seam, row), pierce_words(seam))))
    tack = f"{first}{', then ' if held_words(seam, row) else ', ' if first else ''}stitch"
    return f"{tack[0].upper()}{tack[1:]} {layers_of(seam)}: {seam.punched.count} holes{_thread_of(seam)}."


def pierce_words(seam: SeamPlan) -> str:
    """From which marks all layers are pierced at once; "" where each has its own."""
    if seam.stitching.punch is not Punching.THROUGH:
        return ""
    marked = "the layer that lies on top at each" if seam.part_way else "the face layer"
    if seam.marked:
        return f"go through with the awl at the marks of {marked}"
    return f"punch through the holes of {marked}"


def _thread_of(seam: SeamPlan) -> str:
    """The threads that are begun in a seam, by their whole length; those that only go on have no length."""
    going = dict.fromkeys(thread.seams[0] for thread in seam.threads if not thread.begins(seam.name))
    text = "".join(f"; it goes on with the thread of {quoted(name)}" for name in going)
    if seam.begun:
        text += f", thread {seam.units.cut_thread.several((thread.whole for thread in seam.begun), ' + ')}"
        more = words(map(quoted, seam.begun[-1].seams[1:]), last="and")
        text += f", which goes on in {more}" if more else ""
    return text


def held_words(seam: SeamPlan, row: Sequence[SeamPlan]) -> str:
    """How the layers are held while they are sewn; "" where there is one, or nothing holds them.

    Seams that are sewn as one are stuck together before the first of them, while no thread hangs in the work.
    """
    if len(seam.punched.layers) < 2 or seam.hold is Hold.NONE:
        return ""
    if seam.hold is Hold.CLIPS:
        return "Hold the layers with clips beside the line"
    if not seam.strips:  # a line within a piece, where no clip may reach
        return "Hold the layers with clips, or tack them at both ends"
    stuck = [each for each in row if each.hold is row[0].hold]
    if seam in stuck[1:]:
        return ""
    strips = [strip for each in (stuck if seam in stuck else [seam]) for strip in each.strips]
    texts = grouped(strips, by=lambda strip: seam.units.text(strip.width))
    where = words((f"{width} wide {_where(some)}" for width, some in texts.items()), last="and")
    if seam.hold is Hold.TAPE:
        return f"Stick double-sided tape {where}; press the layers together"
    return f"Spread cement {where}, on both faces; press the layers together"


def _where(strips: Sequence[GlueStrip]) -> str:
    """Along which edge or line, between which pieces, and beside which holes where it is not all along."""
    lines = dict.fromkeys((strip.piece, strip.along, strip.holes) for strip in strips)
    by_line = len(lines) == len({line[:2] for line in lines})  # else the same line is glued in parts
    edges = grouped(lines, by=lambda line: (line[0], line[2] if by_line else ()))
    along = words(
        (
            f"along {words(dict.fromkeys(each for _, each, _ in some if each), last='and') or 'the edge'} of "
            f"{piece}{_beside(holes, count=len(some))}"
            for (piece, holes), some in edges.items()
        ),
        last="and",
    )
    pairs = [_faces(strip) + _beside(() if by_line else strip.holes) for strip in strips]
    if len(pairs) > MOST_TOLD:
        return f"{along}, between each two layers that lie on each other at its holes"
    return f"{along}, between {words(dict.fromkeys(pairs), last='and between')}"


def _beside(holes: Sequence[tuple[int, int]], count: int = 1) -> str:
    """The holes of strips that end with them."""
    ends = words((f"{first} to {last}" for first, last in holes), last="and")
    return f" (beside holes {ends}{' of each' * (count > 1)}, no farther)" if ends else ""


def _faces(strip: GlueStrip) -> str:
    if strip.upper == strip.lower and strip.upper_side == strip.lower_side:
        return (
            f"the {strip.upper_side}s of both leaves of {strip.upper}"
            if strip.upper_side
            else f"both leaves of {strip.upper}"
        )
    return f"{_face(strip.upper_side, strip.upper)} and {_face(strip.lower_side, strip.lower)}"


def _face(side: str, piece: str) -> str:
    return f"the {side} of {piece}" if side else piece


def set_sentence(plan: OpeningPlan, *, meets: str = "") -> str:
    """What to set, punch or cut for an opening; which side its other half `meets`, where that is known."""
    opening, facts, units = plan.pattern, plan.pattern.opening, plan.units
    count = opening.count
    pieces = words(dict.fromkeys(place.piece for place in opening.places), last="and")
    post = "" if plan.post is None else _post(plan.post, plan.stack, units)
    if plan.part_way:
        pieces += f" ({plan.stretches(stack=False)})"
        post = "".join(
            f"{_post(one.post, one.stack, units)} ({number_words(one.numbers)})"
            for one in plan.posts
            if one.post is not None
        )
    return facts.traits.work.format(
        count=count,
        what=facts.traits.noun + ("s" if count != 1 else ""),
        pieces=pieces,
        diameter=units.tool(facts.diameter),
        length=units.number(facts.length),
        post=post,
        mate=_mate(facts.mate, meets) if facts.mate else "",
    )


def _mate(mate: str, meets: str) -> str:
    return f'; {meets} to "{mate}"' if meets else f'; its other half is "{mate}"'


def fit_sentence(fitting: Fitting, *, slotted: bool = False) -> str:
    """How to put a fitting on; `slotted` where a slot for a buckle's tongue lies on its fold."""
    names = {
        "called": fitting.called,
        "on": fitting.on,
        "fold": fitting.fold,
        "through": quoted(fitting.through),
        "seams": words((quoted(seam) for seam in fitting.seams), last="and"),
        "tongue": ", its tongue through the slot" if fitting.holes or slotted else "",
        "clear": fitting.source.units.about.several((3, 5), " to "),
        "at_fold": f', over both leaves of fold "{fitting.fold}"' if fitting.fold else "",
    }
    return fitting.traits.work.format(**names)


def _post(post: float, stack: float, units: Units) -> str:
    """The posts that hold through a stack."""
    return f", post {units.post(post, stack + POST_MOST)}"
