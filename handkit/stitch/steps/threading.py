"""Threading: a strap that hangs by nothing is put through the slots that are cut for it, a flap's under its
loop; a tie is put through its eyelet when the edges are done.

In: the sources. Out: a step for each such strap; the tasks of such ties.

The file says of no slot what goes through it: a strap with tongue holes does that is joined to no other
piece, where it alone suits the slot: that is no shorter than the strap is wide, and longer by no more than
`ROOM`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import takewhile

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.box import Box
from handkit.grouping import grouped
from handkit.kinds.fittings import FittingKind
from handkit.kinds.openings import OpeningKind
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import Step, StepKind
from handkit.stitch.steps.sources import StepSources
from handkit.tolerances import SAME_POINT
from handkit.wording.quoting import quoted, words

# How much longer than its strap is wide a slot is at the most, mm (common practice, no source).
ROOM = 6.0


def threaded(sources: StepSources) -> Iterator[Step]:
    """The last steps: leather is oiled flat."""
    pattern = sources.punched.pattern
    joined = {
        name
        for task in sources.ordered.tasks
        for name in task.pieces
        if len({pattern.piece(each).root for each in task.pieces}) > 1
    }
    straps = [piece for piece in _buckled(pattern) if piece.name not in joined]
    slots = [
        (each.name, name, passing)
        for each in pattern.openings
        if each.opening.kind is OpeningKind.SLOT
        for name in dict.fromkeys(place.piece for place in each.places)
        if (passing := _passing(straps, name, each.opening.length)) is not None
    ]
    for some in grouped(slots, by=lambda slot: slot[2].name).values():
        strap = some[0][2]
        through = words((f"{quoted(name)} in {piece}" for name, piece, _ in some), last="and")
        side = strap.side_words(strap.shows)
        yield Step(
            StepKind.FITTING,
            strap.name,
            f"Put {strap.name} through the slots {through}, its {side} out.",
            "it goes in and out there when all is finished",
        )
    for room in (each for each in pattern.rooms if each.passes):
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


def _buckled(pattern: Pattern) -> list[PatternPiece]:
    """Pieces with tongue holes that lie on no other one."""
    holed = {
        place.piece
        for each in pattern.openings
        if each.opening.kind is OpeningKind.TONGUE
        for place in each.places
    }
    return [piece for piece in pattern.pieces if piece.name in holed and piece.on is None]


def _passing(straps: Sequence[PatternPiece], piece: str, slot: float) -> PatternPiece | None:
    """The one strap that suits a slot in a piece; None where there are several, or none."""
    fitting = [strap for strap in straps if strap.name != piece and _suits(strap, slot)]
    return fitting[0] if len(fitting) == 1 else None


def _suits(strap: PatternPiece, slot: float) -> bool:
    box = Box(*strap.outline.bounds())
    return 0.0 <= slot - min(box.width, box.height) + SAME_POINT <= ROOM
