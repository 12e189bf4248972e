"""Order: which seam, opening and gluing comes when.

In: tasks, and what closes what. Out: tasks in order, and for each what must be done before it and
why; or an error for each cycle.

What must be: a task that an enclosure shuts in comes before the tasks that close; what is glued is
glued before it is held; what the file says. What should be: a task comes before what would lie over its
holes on either face (`reach.py`); hardware comes after the seams through its own layers, for caps foul the
clamp and the iron of a seam near by, and a hole through several layers is cut once they hold together,
unless that seam helps to cover it; what an enclosure shuts in comes before its first row too; a flap is hung
on after what it folds over. Each is dropped where it can't be, and holes whose way is not free then are told.

Among what is free the work stays flat as long as it can, and is turned over as little as it can:
what need not wait for a bend comes before every bend, and what goes on from the side that lies up is
done before the work is turned. Then inner pieces first (by depth), then openings on them, then seams
that close; ties by the file. Holes of one piece that take no hardware are cut before anything else.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

import msgspec

from handkit.errors import refuse_errors
from handkit.findings import Finding
from handkit.geometry.straight import distance
from handkit.stitch.order.enclosure import Enclosure
from handkit.stitch.order.precedence import STATED, Precedence, PrecedenceGraph, cycle_findings
from handkit.stitch.order.reach import NOTHING_COVERS, Coverings, Hindrance
from handkit.stitch.order.tasks import Task, TaskKind, is_plain_hole
from handkit.stitch.plan import Predecessor

FLAT = "the work lies flat as long as it can"

# Nearer to a seam caps are in the way of the clamp's jaws and of the iron (common practice, no source), mm.
CLAMP = 25.0

# Plain holes first, then what is done while the work is flat; then depth, kind, place in the file.
_Key = tuple[bool, bool, tuple[int, int, int]]


class TaskOrder(msgspec.Struct, frozen=True):
    """Tasks in order; `reasons` are all that was heeded, by the order of what comes first, and `chosen` why
    each was taken from among what was free.
    """

    tasks: tuple[Task, ...]
    reasons: tuple[Precedence, ...]
    chosen: Mapping[Task, str]
    hindrances: tuple[Hindrance, ...] = ()  # ways that are not free, in working order

    def before(self, task: Task) -> tuple[Predecessor, ...]:
        """The seams and openings that come before a task, in working order, with the reason."""
        return tuple(
            Predecessor(pair.first.name, pair.why)
            for pair in self.reasons
            if pair.then == task and pair.first.kind in (TaskKind.SEAM, TaskKind.OPENING)
        )


def in_working_order(
    tasks: Sequence[Task],
    enclosures: Sequence[Enclosure],
    earlier: Sequence[Finding] = (),
    fitted: Sequence[Precedence] = (),
    reach: Coverings = NOTHING_COVERS,
) -> TaskOrder:
    """All tasks in order; `fitted` is what must be for the fittings' sake, `reach` what covers what.

    Raises ProjectError with every cycle where there is none, and with what was found `earlier`.
    """
    graph = PrecedenceGraph(tasks)
    for pair in (*fitted, *_closed(enclosures), *_glued(tasks), *_as_stated(tasks)):
        graph.add(pair)
    cycles = cycle_findings(tasks, graph)
    if cycles:
        refuse_errors((*earlier, *cycles))
    covered = {
        (holder, task) for c in enclosures for holder in c.holders for task in (*c.enclosed, *c.on_rim)
    }
    hardware = (pair for pair in _hardware_last(tasks) if (pair.first, pair.then) not in covered)
    reach.heed(graph, lifts=False)
    for pair in (*hardware, *_first_rows(enclosures)):
        if not graph.leads(pair.then, pair.first):
            graph.add(pair)
    reach.heed(graph, lifts=True)
    holders = {task for enclosure in enclosures for task in enclosure.holders}
    chosen = _eased(tasks, graph, holders, reach)
    listed = tuple(chosen)
    reasons = (pair for task in listed for pair in graph.after[task].values())
    return TaskOrder(listed, tuple(reasons), chosen, tuple(reach.hindrances(listed, graph)))


def _closed(enclosures: Iterable[Enclosure]) -> Iterable[Precedence]:
    for enclosure in enclosures:
        for enclosed in enclosure.enclosed:
            for closer in enclosure.closers:
                yield Precedence(enclosed, closer, enclosure.why)


def _glued(tasks: Sequence[Task]) -> Iterable[Precedence]:
    for glue in tasks:
        if glue.kind is TaskKind.GLUE:
            for task in tasks:
                if task.kind is not TaskKind.GLUE and task.joins and task.passes(*glue.pieces):
                    yield Precedence(glue, task, f'"{glue.name}" is glued down before it is held')


def _as_stated(tasks: Sequence[Task]) -> Iterable[Precedence]:
    named = {task.name: task for task in reversed(tasks) if task.kind in (TaskKind.SEAM, TaskKind.OPENING)}
    for task in tasks:
        for name in task.after:
            yield Precedence(named[name], task, STATED)


def _first_rows(enclosures: Iterable[Enclosure]) -> Iterable[Precedence]:
    """A first row may come early, but a piece that hangs by one row is in the way: better with the rest."""
    for enclosure in enclosures:
        for enclosed in enclosure.enclosed:
            for early in enclosure.early:
                yield Precedence(enclosed, early, enclosure.why_hung)


def _hardware_last(tasks: Sequence[Task]) -> Iterable[Precedence]:
    """Openings through a seam's own layers come after it, those of one layer where the seam is near."""
    for opening in tasks:
        layers = set(opening.pieces)
        if opening.kind is not TaskKind.OPENING or is_plain_hole(opening):
            continue
        for seam in tasks:
            own = set(seam.pieces)
            shared = seam.kind is TaskKind.SEAM and (layers <= own or own <= layers)
            if shared and (why := _why_after(opening, seam)):
                yield Precedence(seam, opening, why)


def _why_after(opening: Task, seam: Task) -> str:
    """Why an opening comes after a seam through its layers, "" where it need not."""
    if not opening.hardware:
        both = len(set(opening.pieces) & set(seam.pieces)) > 1
        return "it goes through all layers at once" if both else ""
    near = any(
        distance(place, hole) <= CLAMP
        for name in dict.fromkeys(opening.pieces)
        for holes in seam.on(name)
        for hole in holes
        for places in opening.on(name)
        for place in places
    )
    if near:
        return "caps foul the clamp and the iron"
    return "the seam holds the layers for it" if len(opening.pieces) > 1 else ""


def _sorted(tasks: Sequence[Task], graph: PrecedenceGraph, holders: set[Task]) -> dict[Task, str]:
    """Always the first by rank of those that are free, with the reason; with the side that lies up, if
    there is one.

    Emptying one side before the other's turn takes the fewest turns there can be.
    """
    late = _after_a_bend(tasks, graph)
    ranks = {task: (*_rank(task, graph, holders), index) for index, task in enumerate(tasks)}
    waits = dict.fromkeys(tasks, 0)
    for follows in graph.after.values():
        for then in follows:
            waits[then] += 1
    heaps: dict[bool, list[tuple[_Key, int]]] = {False: [], True: []}  # by the side that lies up
    indices = {task: index for index, task in enumerate(tasks)}

    def free(task: Task) -> None:
        plain = is_plain_hole(task)
        key = (not plain, task in late, ranks[task])
        heapq.heappush(heaps[task.behind and not plain], (key, indices[task]))

    for task in tasks:
        if not waits[task]:
            free(task)
    listed: dict[Task, str] = {}
    down = False
    while heaps[False] or heaps[True]:
        down = _next_side(heaps, down=down)
        key, index = heapq.heappop(heaps[down])
        task = tasks[index]
        listed[task] = _chosen(key, heaps[down], heaps[not down])
        for then in graph.after[task]:
            waits[then] -= 1
            if not waits[then]:
                free(then)
    return listed


def _eased(
    tasks: Sequence[Task], graph: PrecedenceGraph, holders: set[Task], reach: Coverings
) -> dict[Task, str]:
    """In order, with what makes it easier to bend something aside as far as it takes no turn more."""
    chosen = _sorted(tasks, graph, holders)
    for pairs in reach.easier(graph):
        if any(graph.leads(pair.then, pair.first) or pair.then in graph.after[pair.first] for pair in pairs):
            continue
        for pair in pairs:
            graph.add(pair)
        other = _sorted(tasks, graph, holders)
        if _turns(other) <= _turns(chosen):
            chosen = other
        else:
            for pair in pairs:
                del graph.after[pair.first][pair.then]
    return chosen


def _turns(order: Iterable[Task]) -> int:
    """How often the work is turned over, if it lies face up at first."""
    sides = [False, *(task.behind for task in order if not is_plain_hole(task))]
    return sum(a != b for a, b in pairwise(sides))


def _chosen(key: _Key, rest: Sequence[tuple[_Key, int]], other_side: Sequence[tuple[_Key, int]]) -> str:
    """Why a task was taken: what sets it off from the next of what was free."""
    if not rest:
        if not other_side:
            return "the rest is done by then"
        return FLAT if key[1] < other_side[0][0][1] else "the work need not be turned over for it"
    (_, late, (depth, kind, _)), ((_, next_late, (next_depth, next_kind, _)), _) = key, rest[0]
    if late != next_late:
        return FLAT
    if depth != next_depth:
        return "inner pieces first"
    if kind != next_kind:
        return "what closes over others comes last" if next_kind > 1 else "seams before openings"
    return "as the file lists them"


def _next_side(heaps: dict[bool, list[tuple[_Key, int]]], *, down: bool) -> bool:
    """The side to go on with: the same, unless only the other has something as flat."""
    if not heaps[down] or not heaps[not down]:
        return down if heaps[down] else not down
    (mine, _), (other, _) = heaps[down][0], heaps[not down][0]
    return down if mine[:2] <= other[:2] else not down


def _after_a_bend(tasks: Sequence[Task], graph: PrecedenceGraph) -> set[Task]:
    """The tasks that bend, and all that wait for one of them."""
    late = {task for task in tasks if task.bends}
    edge = list(late)
    while edge:
        follows = [then for then in graph.after[edge.pop()] if then not in late]
        late.update(follows)
        edge.extend(follows)
    return late


def _rank(task: Task, graph: PrecedenceGraph, holders: set[Task]) -> tuple[int, int]:
    """By depth, inner first; then seams, openings, seams that close.

    A gluing has the rank of the first task that waits for it, and so has a fitting.
    """
    if task.kind in (TaskKind.GLUE, TaskKind.FITTING):
        waiting = [
            _rank(then, graph, holders)
            for then in graph.after[task]
            if then.kind not in (TaskKind.GLUE, TaskKind.FITTING)
        ]
        return min(waiting, default=(-task.depth, 0))
    kind = 1 if task.kind is TaskKind.OPENING else 2 if task in holders else 0
    return (-task.depth, kind)
