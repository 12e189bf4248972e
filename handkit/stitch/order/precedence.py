"""Precedence: who comes before whom, and the knots in it.

In: musts, each with its reason. Out: ways from one work to another, and an error for each knot of
works that wait for one another.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.findings import Finding, finding
from handkit.stitch.order.works import Work, WorkKind

TOLD = "the file says so"


class Must(msgspec.Struct, frozen=True):
    """One work comes before another."""

    first: Work
    then: Work
    why: str


class Graph:
    """Who comes before whom: `after[work]` are the musts it comes first in, by what follows."""

    def __init__(self, works: Sequence[Work]) -> None:
        self.after: dict[Work, dict[Work, Must]] = {work: {} for work in works}

    def add(self, must: Must) -> None:
        """Take a must in; of several for the same two works the first is kept."""
        self.after[must.first].setdefault(must.then, must)

    def leads(self, start: Work, end: Work) -> bool:
        """Whether `end` comes after `start`, at once or by way of others, or is it."""
        return start == end or bool(self.way(start, end))

    def way(self, start: Work, end: Work) -> tuple[Must, ...]:
        """The shortest row of musts from one work to another; from a work to itself, round."""
        came: dict[Work, Must] = {}
        edge = [start]
        while edge and end not in came:
            steps = [must for work in edge for must in self.after[work].values()]
            edge = []
            for must in steps:
                if must.then not in came:
                    came[must.then] = must
                    edge.append(must.then)
        if end not in came:
            return ()
        row = [came[end]]
        while row[0].first != start:
            row.insert(0, came[row[0].first])
        return tuple(row)


def circles_in(works: Sequence[Work], graph: Graph) -> tuple[Finding, ...]:
    """An error for each knot of works that wait for one another: one shortest circle of it.

    It goes through what the file says where that is in the knot, else through a gluing: those are
    the easiest to leave out.
    """
    told: set[Work] = set()
    findings: list[Finding] = []
    for work in works:
        if work not in told and graph.way(work, work):
            knot = [one for one in works if graph.leads(work, one) and graph.leads(one, work)]
            told.update(knot)
            findings.append(_circle(_shortest(knot, graph)))
    return tuple(findings)


def _shortest(knot: Sequence[Work], graph: Graph) -> tuple[Must, ...]:
    """The shortest circle of a knot that is the easiest to break."""
    inside = [must for work in knot for must in graph.after[work].values() if must.then in knot]
    told = [(must, *graph.way(must.then, must.first)) for must in inside if must.why == TOLD]
    if told:
        return min(told, key=len)
    glued = [work for work in knot if work.kind is WorkKind.GLUE]
    return min((graph.way(work, work) for work in glued or knot), key=len)


def _circle(row: Sequence[Must]) -> Finding:
    """The error of a circle, with the easiest way to break it."""
    circle = ", ".join(f"{must.first} before {must.then} ({must.why})" for must in row)
    told = next((must for must in row if must.why == TOLD), None)
    if told:
        where = told.then.source.at("after")
        return finding("order-circle/after", where, circle=circle, first=told.first, then=told.then)
    where = row[0].first.source.at()
    glue = next((must.first for must in row if must.first.kind is WorkKind.GLUE), None)
    if glue:
        return finding("order-circle/glued", where, circle=circle, piece=glue.name)
    return finding("order-circle/rows", where, circle=circle)
