"""Reach: what would come to lie over a task's holes, so that the task had better come before.

In: the pattern, its tasks, in the end their order. Out: covers, what had better come before what for
their sake, and what is in a task's way when it is worked.

A piece *covers* a task where it lies over one of its holes in the base's plan, in front of all that the
task goes through or behind it all, and the task does not go through it. It is in the way from the task
on that first joins it, by whatever else, to what the task goes through. What folds over can be laid back,
and what is held elsewhere (by one row, by a box at its other end) can be bent aside: it should wait, too,
but where it can't a note will do. What stands at no known place, such as a gusset, has a plan of its own;
of a task through pieces of several plans nothing is told (`standing.py` puts it in order).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Point
from handkit.geometry.region import Region, hull_of
from handkit.grouping import grouped
from handkit.stitch.order.covering import Covering, Hindrance
from handkit.stitch.order.lying import Lying, lyings
from handkit.stitch.order.precedence import Precedence, PrecedenceGraph, Reasons
from handkit.stitch.order.shutting import Shutting, shutting_of
from handkit.stitch.order.tasks import Task, TaskKind, is_plain_hole


class Coverings(msgspec.Struct, frozen=True):
    """What covers what, and how it lies."""

    lies: Mapping[str, Lying]
    covers: tuple[Covering, ...]
    shutting: Shutting | None = None

    def firsts(self) -> Iterator[Precedence]:
        """All that had better come before what would cover it, heeded or not."""
        for cover in self.covers:
            for join in cover.joined_by:
                yield Precedence(cover.task, join, cover.why)

    def heed(self, graph: PrecedenceGraph, nearer: Reasons, *, lifts: bool) -> None:
        """Take in what had better come before what, as far as the graph allows: what would be held down comes
        first, then what could be bent aside; or else what can be laid back. Reasons are the `nearer` ones,
        where there are.

        Where a cover can't but be there already, the rest of what joins it need not wait, unless only that
        holds it down.
        """
        covers = [cover for cover in self.covers if cover.lifts == lifts]
        for cover in sorted(covers, key=lambda cover: not self._held(cover, cover.joined_by)):
            late = [join for join in cover.joined_by if not graph.leads(join, cover.task)]
            forced = [join for join in cover.joined_by if join not in late]
            if not forced or (self._held(cover, cover.joined_by) and not self._held(cover, forced)):
                for join in late:
                    graph.add(Precedence(cover.task, join, nearer.get((cover.task, join), cover.why)))

    def easier(self, graph: PrecedenceGraph) -> Iterator[tuple[Precedence, ...]]:
        """Where a cover can't but be there already: the rest of what joins it."""
        for cover in self.covers:
            late = [join for join in cover.joined_by if not graph.leads(join, cover.task)]
            if 0 < len(late) < len(cover.joined_by):
                why = f'"{cover.piece}" could no longer be bent aside'
                yield tuple(Precedence(cover.task, join, why) for join in late)

    def hindrances(self, tasks: Sequence[Task], graph: PrecedenceGraph) -> Iterator[Hindrance]:
        """For tasks in working order: what covers holes when they are worked, and the shortest row of reasons
        why it is there by then. Of a piece that covers a task twice, what does not fold over.
        """
        turn = {task: index for index, task in enumerate(tasks)}
        told: set[tuple[Task, str]] = set()
        found: list[tuple[Covering, bool, tuple[Precedence, ...]]] = []
        for cover in sorted(self.covers, key=lambda cover: (turn[cover.task], cover.lifts)):
            before = [join for join in cover.joined_by if turn[join] < turn[cover.task]]
            known = len({self.lies[name].base for name in cover.task.pieces}) == 1
            if not known or not before or (cover.task, cover.piece) in told:
                continue
            if self._joined(cover, tasks[: turn[cover.task]]):
                told.add((cover.task, cover.piece))
                ways = [way for join in before if (way := graph.way(join, cover.task))]
                found.append((cover, self._held(cover, before), min(ways, key=len, default=())))
        for (task, held, _), some in grouped(
            found, by=lambda one: (one[0].task, one[1], one[0].lifts)
        ).items():
            yield Hindrance(task, tuple(one[0] for one in some), held, tuple(one[2] for one in some))

    def _joined(self, cover: Covering, done: Sequence[Task]) -> bool:
        """Whether what is done has brought a cover over a task's holes."""
        if cover.leaf is not None and self.shutting is not None:
            return self.shutting.is_shut(cover.leaf, done)
        return _joined(cover, done)

    def _held(self, cover: Covering, joins: Sequence[Task]) -> bool:
        """Whether one of the holes lies between the rows that hold a cover down, or under a strip."""
        if cover.lifts or cover.strip:
            return cover.strip
        own = set(cover.task.pieces)
        holes = [
            place
            for task in joins
            for name in dict.fromkeys(task.pieces)
            if name in own and self.lies[name].base == self.lies[cover.piece].base
            for run in task.common(name, set(task.pieces) - own)
            for place in map(self.lies[name].at, run)
        ]
        if any(task.kind is TaskKind.GLUE for task in joins):
            return True
        return bool(holes) and len(hull_of(holes).outside(cover.places)) < len(cover.places)


NOTHING_COVERS = Coverings({}, ())


def reach_of(pattern: Pattern, tasks: Sequence[Task]) -> Coverings:
    """All covers, in the order of the tasks; not of a piece that covers no more than what it lies on."""
    lies = lyings(pattern, tasks)
    joins = [task for task in tasks if task.joins]
    found: list[Covering] = []
    for task in tasks:
        if task.kind in (TaskKind.SEAM, TaskKind.OPENING) and not is_plain_hole(task):
            covers = [cover for base in _bases(task, lies) for cover in _covers(task, base, lies, joins)]
            numbers = {(cover.piece, cover.in_front): set(cover.numbers) for cover in covers}
            found += [
                cover
                for cover in covers
                if not set(cover.numbers)
                <= numbers.get((pattern.piece(cover.piece).on or "", cover.in_front), set())
            ]
    shutting = shutting_of(pattern, tasks)
    if shutting is not None:
        found += _leaves_over(shutting)
    return Coverings(lies, tuple(found), shutting)


def _leaves_over(shutting: Shutting) -> Iterator[Covering]:
    """The leaves of folded bases that something shuts."""
    for over in shutting.over:
        if joined_by := shutting.joining(over):
            numbers, places = tuple(over.places), tuple(over.places.values())
            yield Covering(
                over.task, over.leaf[0], numbers, places, over.in_front, False, False, joined_by, over
            )


def _bases(task: Task, lies: Mapping[str, Lying]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(lies[name].base for name in task.pieces))


def _covers(task: Task, base: str, lies: Mapping[str, Lying], joins: Sequence[Task]) -> Iterator[Covering]:
    """What lies over a task's holes in the plan of one base."""
    layers = sorted(
        (layer for layer in task.layers if lies[layer.piece].base == base),
        key=lambda layer: lies[layer.piece].piece.depth,
    )
    places: dict[int, Point] = {}
    for layer in layers:
        numbers = layer.numbers or range(1, len(layer.points) + 1)
        for number, point in zip(numbers, layer.points, strict=True):
            places.setdefault(number, lies[layer.piece].at(point))
    levels = [lies[layer.piece].piece.level for layer in layers]
    turned = lies[layers[0].piece].piece.turned
    for other in lies.values():
        level = other.piece.level
        if other.base != base or other.piece.name in task.pieces or min(levels) < level < max(levels):
            continue
        front = level > max(levels)
        for leaf, lifts in other.leaves:
            under = _under(leaf, places)
            if under and (joined_by := _joined_by(task, other.piece.name, joins)):
                yield Covering(
                    task,
                    other.piece.name,
                    tuple(under),
                    tuple(under.values()),
                    (front != (lifts and other.over_edge)) != turned,
                    lifts,
                    other.over is not None and not lifts,
                    joined_by,
                )


def _under(region: Region, places: Mapping[int, Point]) -> dict[int, Point]:
    """The places that a region lies over, by their numbers."""
    if region.empty:
        return {}
    outside = region.outside(list(places.values()))
    return {number: at for index, (number, at) in enumerate(places.items()) if index not in outside}


def _joined_by(task: Task, piece: str, joins: Sequence[Task]) -> tuple[Task, ...]:
    """The tasks that join a piece, by whatever else, to what a task goes through."""
    own = set(task.pieces)
    reached, edge = {piece}, [piece]
    while edge:
        name = edge.pop()
        for join in joins:
            if name in join.pieces and not own & set(join.pieces):
                new = set(join.pieces) - reached
                reached |= new
                edge.extend(sorted(new))
    return tuple(
        join for join in joins if join is not task and own & set(join.pieces) and reached & set(join.pieces)
    )


def _joined(cover: Covering, done: Sequence[Task]) -> bool:
    """Whether what is done has joined a piece to what a task goes through."""
    joined, grew = {cover.piece}, True
    while grew:
        grown = joined.union(*(task.pieces for task in done if task.joins and joined & set(task.pieces)))
        grew, joined = grown != joined, grown
    return bool(joined & set(cover.task.pieces))
