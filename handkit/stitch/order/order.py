"""Order: which seam, opening and gluing comes when.

In: works, and what closes what. Out: works in order, and for each what must be done before it and
why; or an error for each circle.

What must be: a work that a closing shuts comes before the works that close; what is glued is
glued before it is held; what the file says. What should be: hardware comes after the seams
through its own layers, for caps foul the clamp and the iron, and a hole through several layers is
cut once they hold together, unless that seam helps to cover it; what lies on the rim of a closed
area comes before it is closed, and what a closing shuts before its first row too. Each is dropped
where it can't be.

Among what is free the work stays flat as long as it can, and is turned over as little as it can:
what need not wait for a bend comes before every bend, and what goes on from the side that lies up is
done before the work is turned. Then inner pieces first (by depth), then openings on them, then seams
that close; ties by the file. Holes of one piece that take no hardware are cut before anything else.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence

import msgspec

from handkit.errors import refuse_errors
from handkit.findings import Finding
from handkit.stitch.order.closing import Closing
from handkit.stitch.order.precedence import TOLD, Graph, Must, circles_in
from handkit.stitch.order.works import Work, WorkKind, is_plain_hole
from handkit.stitch.plan import Before

# Plain holes first, then what is done while the work is flat; then depth, kind, place in the file.
_Key = tuple[bool, bool, tuple[int, int, int]]


class Ordered(msgspec.Struct, frozen=True):
    """Works in order; `reasons` are all that was heeded, by the order of what comes first."""

    works: tuple[Work, ...]
    reasons: tuple[Must, ...]

    def before(self, work: Work) -> tuple[Before, ...]:
        """The seams and openings that come before a work, in working order, with the reason."""
        return tuple(
            Before(must.first.name, must.why)
            for must in self.reasons
            if must.then == work and must.first.kind is not WorkKind.GLUE
        )


def in_working_order(
    works: Sequence[Work], closings: Sequence[Closing], said: Sequence[Finding] = ()
) -> Ordered:
    """All works in order.

    Raises ProjectError with every circle where there is none, and with what was `said` before.
    """
    graph = Graph(works)
    for must in (*_closed(closings), *_glued(works), *_as_told(works)):
        graph.add(must)
    circles = circles_in(works, graph)
    if circles:
        refuse_errors((*said, *circles))
    covered = {(holder, work) for c in closings for holder in c.holders for work in (*c.shut, *c.beside)}
    hardware = (must for must in _hardware_last(works) if (must.first, must.then) not in covered)
    for must in (*_rims(closings), *hardware, *_first_rows(closings)):
        if not graph.leads(must.then, must.first):
            graph.add(must)
    holders = {work for closing in closings for work in closing.holders}
    listed = _sorted(works, graph, holders)
    reasons = (must for work in listed for must in graph.after[work].values())
    return Ordered(listed, tuple(reasons))


def _closed(closings: Iterable[Closing]) -> Iterable[Must]:
    for closing in closings:
        for shut in closing.shut:
            for closer in closing.closers:
                yield Must(shut, closer, closing.why)


def _glued(works: Sequence[Work]) -> Iterable[Must]:
    for glue in works:
        if glue.kind is WorkKind.GLUE:
            for work in works:
                if work.kind is not WorkKind.GLUE and work.joins and work.passes(*glue.pieces):
                    yield Must(glue, work, f'"{glue.name}" is glued down before it is held')


def _as_told(works: Sequence[Work]) -> Iterable[Must]:
    named = {work.name: work for work in reversed(works) if work.kind is not WorkKind.GLUE}
    for work in works:
        for name in work.after:
            yield Must(named[name], work, TOLD)


def _first_rows(closings: Iterable[Closing]) -> Iterable[Must]:
    """A first row may come early, but a piece that hangs by one row is in the way: better with the rest."""
    for closing in closings:
        for shut in closing.shut:
            for early in closing.early:
                yield Must(shut, early, closing.why)


def _rims(closings: Iterable[Closing]) -> Iterable[Must]:
    """What lies on a closed area's rim comes before the works that close."""
    return (
        Must(work, closer, closing.why)
        for closing in closings
        for work in closing.beside
        for closer in closing.closers
    )


def _hardware_last(works: Sequence[Work]) -> Iterable[Must]:
    """Openings through a seam's own layers come after it."""
    for opening in works:
        layers = set(opening.pieces)
        if opening.kind is not WorkKind.OPENING or is_plain_hole(opening):
            continue
        why = "caps foul the clamp and the iron" if opening.hardware else "it goes through all layers at once"
        for seam in works:
            own = set(seam.pieces)
            if seam.kind is WorkKind.SEAM and (layers <= own or own <= layers):
                yield Must(seam, opening, why)


def _sorted(works: Sequence[Work], graph: Graph, holders: set[Work]) -> tuple[Work, ...]:
    """Always the first by rank of those that are free; with the side that lies up, if there is one.

    Emptying one side before the other's turn takes the fewest turns there can be.
    """
    late = _after_a_bend(works, graph)
    ranks = {work: (*_rank(work, graph, holders), index) for index, work in enumerate(works)}
    waits = dict.fromkeys(works, 0)
    for follows in graph.after.values():
        for then in follows:
            waits[then] += 1
    heaps: dict[bool, list[tuple[_Key, int]]] = {False: [], True: []}  # by the side that lies up
    indices = {work: index for index, work in enumerate(works)}

    def free(work: Work) -> None:
        plain = is_plain_hole(work)
        key = (not plain, work in late, ranks[work])
        heapq.heappush(heaps[work.behind and not plain], (key, indices[work]))

    for work in works:
        if not waits[work]:
            free(work)
    listed: list[Work] = []
    down = False
    while heaps[False] or heaps[True]:
        down = _next_side(heaps, down=down)
        work = works[heapq.heappop(heaps[down])[1]]
        listed.append(work)
        for then in graph.after[work]:
            waits[then] -= 1
            if not waits[then]:
                free(then)
    return tuple(listed)


def _next_side(heaps: dict[bool, list[tuple[_Key, int]]], *, down: bool) -> bool:
    """The side to go on with: the same, unless only the other has something as flat."""
    if not heaps[down] or not heaps[not down]:
        return down if heaps[down] else not down
    (mine, _), (other, _) = heaps[down][0], heaps[not down][0]
    return down if mine[:2] <= other[:2] else not down


def _after_a_bend(works: Sequence[Work], graph: Graph) -> set[Work]:
    """The works that bend, and all that wait for one of them."""
    late = {work for work in works if work.bends}
    edge = list(late)
    while edge:
        follows = [then for then in graph.after[edge.pop()] if then not in late]
        late.update(follows)
        edge.extend(follows)
    return late


def _rank(work: Work, graph: Graph, holders: set[Work]) -> tuple[int, int]:
    """By depth, inner first; then seams, openings, seams that close.

    A gluing has the rank of the first work that waits for it.
    """
    if work.kind is WorkKind.GLUE:
        waiting = [
            _rank(then, graph, holders) for then in graph.after[work] if then.kind is not WorkKind.GLUE
        ]
        return min(waiting, default=(-work.depth, 0))
    kind = 1 if work.kind is WorkKind.OPENING else 2 if work in holders else 0
    return (-work.depth, kind)
