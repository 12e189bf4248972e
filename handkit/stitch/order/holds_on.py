"""Holds on: pieces that nothing fastens, and openings that another piece covers.

In: the pattern, its tasks, what they close. Out: findings.

A piece that lies on another (`on`) is fastened by a seam, rivet, eyelet or snap that passes through it
and another one, or by glue; a piece sewn to itself goes round what it lies on.

What may not cover an opening stands in its kind's row in `kinds/openings.py`.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece
from handkit.findings import Finding, finding
from handkit.grouping import grouped
from handkit.kinds.openings import Freedom
from handkit.stitch.order.enclosure import Enclosure
from handkit.stitch.order.tasks import Task, TaskKind


def holds_on_findings(
    pattern: Pattern, tasks: Sequence[Task], closed: Sequence[Enclosure]
) -> tuple[Finding, ...]:
    """A warning for each piece that is loose, and for each piece that covers an opening."""
    covered = [found for opening in pattern.openings for found in _covered(pattern, opening, closed)]
    return (*_loose(pattern, tasks), *covered)


def _loose(pattern: Pattern, tasks: Sequence[Task]) -> list[Finding]:
    """Pieces on another that no task holds; not those of a seam of which the missing layer is told."""
    told = {each.where.key for each in pattern.project.findings if each.code == "seam-of-one-layer"}
    lone = (seam for seam in pattern.seams if f"{seam.source.path}: runs" in told)
    held = {run.piece for seam in lone for run in seam.runs}
    for task in tasks:
        if task.joins and len(task.pieces) > 1:  # a piece sewn to itself is in it twice
            held.update(task.pieces)
    return [
        finding("piece-loose", piece.source.at("on"), piece=piece.name)
        for piece in pattern.pieces
        if piece.on is not None and piece.name not in held
    ]


def _covered(pattern: Pattern, opening: PatternOpening, closed: Sequence[Enclosure]) -> list[Finding]:
    """Pieces that cover places of an opening without being named in it."""
    covers = {
        piece.name: numbers
        for piece in pattern.pieces
        if piece.name not in opening.opening.through
        if (numbers := _places_under(pattern, opening, piece, closed))
    }
    return [
        finding(
            "opening-covered",
            opening.source.at("through"),
            opening=opening.label(min(numbers)),
            piece=piece,
            count=len(numbers),
        )
        for piece, numbers in _in_the_way(pattern, opening, covers).items()
    ]


def _places_under(
    pattern: Pattern, opening: PatternOpening, piece: PatternPiece, closed: Sequence[Enclosure]
) -> set[int]:
    """The numbers of an opening's places that a piece is closed over, where both lie flat together."""
    areas = [
        enclosure
        for enclosure in closed
        if piece.name in enclosure.pieces and len(set(enclosure.pieces)) == 2
        if any(_holds(opening, member) for member in [*enclosure.enclosed, *enclosure.on_rim])
        if all(pattern.piece(name).root == piece.root for name in enclosure.pieces)
    ]
    numbers: set[int] = set()
    for enclosure in areas:
        for place in opening.places:
            way = pattern.carry(place.piece, enclosure.frame)
            if way is not None and enclosure.area.contains(way.apply(place.at)):
                numbers.add(place.number)
    return numbers


def _holds(opening: PatternOpening, task: Task) -> bool:
    """Whether a task is this opening."""
    return task.kind is TaskKind.OPENING and task.name == opening.name


def _in_the_way(
    pattern: Pattern, opening: PatternOpening, covers: dict[str, set[int]]
) -> dict[str, set[int]]:
    """Of the pieces that cover an opening, those that its kind can't have there."""
    freedom = opening.opening.traits.freedom
    through = [pattern.piece(name) for name in opening.opening.through]
    if freedom is Freedom.EITHER_SIDE:
        return covers
    if freedom is Freedom.WHAT_LIES_ON_IT:
        named = {piece.name for piece in through}
        return {name: found for name, found in covers.items() if named & _bases(pattern, name)}
    if freedom is Freedom.BOTH_SIDES:
        sides = grouped(covers, by=lambda name: pattern.piece(name).level > through[0].level)
        mate = opening.opening.mate
        mates = {name for each in pattern.openings if each.name == mate for name in each.opening.through}
        return covers if len(sides) == 2 and not mates & set(covers) else {}
    return {}


def _bases(pattern: Pattern, name: str) -> set[str]:
    """All that a piece lies on, down to what lies on nothing."""
    found: set[str] = set()
    on = pattern.piece(name).on
    while on is not None:
        found.add(on)
        on = pattern.piece(on).on
    return found
