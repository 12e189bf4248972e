"""Turning: which way up the works lie on the bench, and when one is turned over.

In: tasks as they are done. Out: whether the next one wants its work turned.

A *work* is what is joined so far; a strap or a pocket's front that is still by itself is a work of its own.
The first task lays it down as it likes. Where two are joined, the one that the other goes on stays as it
lies. What stands up, such as a bag once its gusset is in, has no side up.
"""

from __future__ import annotations

from collections.abc import Iterable

from handkit.stitch.order.tasks import Task, is_plain_hole


class Bench:
    """How the works lie while tasks are done one after the other."""

    def __init__(self) -> None:
        self._works: dict[str, set[str]] = {}  # by piece: all that it is joined to
        self._lies: dict[
            str, tuple[str, bool]
        ] = {}  # by piece: the base whose side is meant, and whether down
        self._last: set[str] = set()

    def turns(self, task: Task) -> bool:
        """Whether the work is turned over for a task."""
        lies = self._lies.get(task.ground)
        return task.down is not None and lies is not None and lies == (task.base, not task.down)

    def is_laid(self, task: Task) -> bool:
        """Whether its work lies on one side or the other."""
        return task.ground in self._lies

    def is_at_hand(self, task: Task) -> bool:
        """Whether the last task was done on the same work."""
        return not self._last.isdisjoint(task.pieces)

    def do(self, task: Task) -> None:
        """A task is done: what it joins is one work, which lies as it was laid for it."""
        pieces = (task.ground, *task.ties, *(task.pieces if task.joins else ()))
        joined = set().union(*(self._works.get(name, {name}) for name in pieces if name))
        lies = self._lies.get(task.ground) if task.down is None else (task.base, task.down)
        for name in joined:
            self._works[name] = joined
            self._lies.pop(name, None)
            if lies is not None and task.ground not in task.stands:
                self._lies[name] = lies
        self._last = joined


def turned_for(tasks: Iterable[Task]) -> frozenset[Task]:
    """The tasks in working order that the work is turned over for."""
    bench, found = Bench(), set()
    for task in tasks:
        if not is_plain_hole(task):
            if bench.turns(task):
                found.add(task)
            bench.do(task)
    return frozenset(found)
