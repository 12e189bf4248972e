"""Fitting order: while a fitting can still be put on.

In: the pattern and its tasks. Out: what must come before what for the fittings' sake, and findings.

A fold is *closed* by a seam that holds the piece on both sides of it, leaf on leaf, or by rivets, snaps
or eyelets on both sides. What a fold goes round is put on before the first task that closes it, be it
one row of several: the row alone may leave a way out, but not a way in past the stitches. A keeper goes on
before that, too: past the closed fold and what it holds it no longer slips; and after what the fold goes
round, for it sits on both leaves. A keeper that is made is closed to a ring first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.straight import Straight, side_of
from handkit.kinds.fittings import FittingKind
from handkit.read.project import Fitting
from handkit.stitch.order.precedence import Precedence
from handkit.stitch.order.tasks import Task, TaskKind

RING_FIRST = "a keeper is closed to a ring before it is slipped on"
BOTH_LEAVES = "it sits on both leaves of the fold"
SEWN_IN = "it is sewn in there"
GOES_THROUGH = "it goes through there"


def fitting_precedences(pattern: Pattern, tasks: Sequence[Task]) -> tuple[Precedence, ...]:
    """What must come before what, in the file's order of the fittings."""
    by_name = {task.name: task for task in tasks if task.kind is TaskKind.FITTING}
    fittings = pattern.project.fittings
    return tuple(pair for one in fittings for pair in _pairs(one, by_name, pattern, tasks))


def fitting_findings(pattern: Pattern, tasks: Sequence[Task]) -> tuple[Finding, ...]:
    """Folds that hold a fitting and that nothing closes."""
    return tuple(
        finding("fold-open", one.source.at("fold"), fold=one.fold, kind=one.kind, piece=one.on)
        for one in pattern.project.fittings
        if one.on is not None and one.traits.by_fold
        if not closers_of(pattern.piece(one.on), one.fold, tasks)
    )


def closers_of(piece: PatternPiece, fold: str, tasks: Sequence[Task]) -> tuple[Task, ...]:
    """The tasks that close a fold of a piece, in the order of the tasks."""
    line = piece.fold(fold).ends
    return tuple(task for task in tasks if task.joins and _closes(task, piece.name, line))


def _closes(task: Task, piece: str, line: Straight) -> bool:
    sides = [_sides(points, line) for points in task.on(piece)]
    if task.kind is TaskKind.OPENING:
        return {True, False} <= {side for each in sides for side in each}
    return any(first - second and second - first for first in sides for second in sides)


def _sides(points: Sequence[Point], line: Straight) -> frozenset[bool]:
    """On which sides of a line a layer's holes are."""
    return frozenset(side_of(point, line) > 0 for point in points)


def _pairs(
    one: Fitting, by_name: Mapping[str, Task], pattern: Pattern, tasks: Sequence[Task]
) -> Iterator[Precedence]:
    task = by_name[one.name]
    for seam in tasks:
        if seam.kind is TaskKind.SEAM and seam.name in one.seams:
            yield Precedence(task, seam, SEWN_IN)
        if seam.kind is TaskKind.OPENING and seam.name == one.through:
            yield Precedence(seam, task, GOES_THROUGH)
        if one.piece and seam.kind is TaskKind.SEAM and seam.pieces.count(one.piece) > 1:
            yield Precedence(seam, task, RING_FIRST)
    if one.on is None:
        return
    piece = pattern.piece(one.on)
    if one.traits.by_fold:
        for closer in closers_of(piece, one.fold, tasks):
            yield Precedence(task, closer, f'it closes fold "{one.fold}" round it')
    elif one.kind is FittingKind.KEEPER:
        held = [other for other in pattern.project.fittings if other.on == one.on and other.traits.by_fold]
        for fold in dict.fromkeys([one.fold] if one.fold else [other.fold for other in held]):
            for closer in closers_of(piece, fold, tasks):
                yield Precedence(task, closer, f'past fold "{fold}", once closed, it no longer slips on')
        for other in held:
            if other.fold == one.fold:
                yield Precedence(by_name[other.name], task, BOTH_LEAVES)
