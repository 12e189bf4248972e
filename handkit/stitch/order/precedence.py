"""Precedence: who comes before whom, and the cycles in it.

In: constraints, each with its reason. Out: ways from one task to another, and an error for each group
of tasks that wait for one another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import msgspec

from handkit.findings import Finding, finding
from handkit.stitch.order.tasks import Task, TaskKind

STATED = "the file says so"


class Precedence(msgspec.Struct, frozen=True):
    """One work comes before another."""

    first: Task
    then: Task
    why: str


Reasons = Mapping[tuple[Task, Task], str]  # by what comes first and what then


class PrecedenceGraph:
    """Who comes before whom: `after[task]` are the constraints it comes first in, by what follows."""

    def __init__(self, tasks: Sequence[Task]) -> None:
        self.after: dict[Task, dict[Task, Precedence]] = {task: {} for task in tasks}

    def add(self, pair: Precedence) -> None:
        """Take a constraint in; of several for the same two tasks the first is kept."""
        self.after[pair.first].setdefault(pair.then, pair)

    def heed(self, pairs: Iterable[Precedence]) -> None:
        """Take in what had better be, as far as it can be: not what would wait for itself."""
        for pair in pairs:
            if not self.leads(pair.then, pair.first):
                self.add(pair)

    def leads(self, start: Task, end: Task) -> bool:
        """Whether `end` comes after `start`, at once or by way of others, or is it."""
        return start == end or bool(self.way(start, end))

    def without_detours(self) -> Iterator[Precedence]:
        """All constraints but those that follow from others, by way of a third task. There is no cycle."""
        behind: dict[Task, set[Task]] = {}

        def all_behind(task: Task) -> set[Task]:
            if task not in behind:
                behind[task] = set()
                for then in self.after[task]:
                    behind[task] |= {then, *all_behind(then)}
            return behind[task]

        for follows in self.after.values():
            for then, pair in follows.items():
                if not any(then in all_behind(other) for other in follows if other is not then):
                    yield pair

    def way(self, start: Task, end: Task) -> tuple[Precedence, ...]:
        """The shortest row of constraints from one task to another; from a task to itself, round."""
        came: dict[Task, Precedence] = {}
        edge = [start]
        while edge and end not in came:
            steps = [pair for task in edge for pair in self.after[task].values()]
            edge = []
            for pair in steps:
                if pair.then not in came:
                    came[pair.then] = pair
                    edge.append(pair.then)
        if end not in came:
            return ()
        row = [came[end]]
        while row[0].first != start:
            row.insert(0, came[row[0].first])
        return tuple(row)


def way_words(ways: Iterable[Sequence[Precedence]]) -> str:
    """Rows of constraints in words, each constraint told once."""
    pairs = dict.fromkeys(pair for way in ways for pair in way)
    return ", ".join(f"{pair.first} before {pair.then} ({pair.why})" for pair in pairs)


def cycle_findings(tasks: Sequence[Task], graph: PrecedenceGraph) -> tuple[Finding, ...]:
    """An error for each group of tasks that wait for one another: one shortest cycle of it.

    It goes through what the file says where that is in the group, else through a gluing: those are
    the easiest to leave out.
    """
    reported: set[Task] = set()
    findings: list[Finding] = []
    for task in tasks:
        if task not in reported and graph.way(task, task):
            group = [one for one in tasks if graph.leads(task, one) and graph.leads(one, task)]
            reported.update(group)
            findings.append(_cycle_finding(_shortest(group, graph)))
    return tuple(findings)


def _shortest(group: Sequence[Task], graph: PrecedenceGraph) -> tuple[Precedence, ...]:
    """The shortest cycle of a group that is the easiest to break."""
    inside = [pair for task in group for pair in graph.after[task].values() if pair.then in group]
    stated = [(pair, *graph.way(pair.then, pair.first)) for pair in inside if pair.why == STATED]
    if stated:
        return min(stated, key=len)
    glued = [task for task in group if task.kind is TaskKind.GLUE]
    return min((graph.way(task, task) for task in glued or group), key=len)


def _cycle_finding(row: Sequence[Precedence]) -> Finding:
    """The error of a cycle, with the easiest way to break it."""
    cycle = way_words([row])
    stated = next((pair for pair in row if pair.why == STATED), None)
    if stated:
        where = stated.then.source.at("after")
        return finding("order-circle/after", where, cycle=cycle, first=stated.first, then=stated.then)
    where = row[0].first.source.at()
    glue = next((pair.first for pair in row if pair.first.kind is TaskKind.GLUE), None)
    if glue:
        return finding("order-circle/glued", where, cycle=cycle, piece=glue.name)
    fitting = next((pair.first for pair in row if pair.first.kind is TaskKind.FITTING), None)
    if fitting:
        return finding("order-circle/fitting", where, cycle=cycle, fitting=fitting.name)
    return finding("order-circle/rows", where, cycle=cycle)
