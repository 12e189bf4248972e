"""Order: which seam, opening and gluing comes when.

In: tasks, and what closes what. Out: tasks in order, and for each what must be done before it and
why; or an error for each cycle.

What must be: a task that an enclosure shuts in comes before the tasks that close; what is glued is
glued before it is held; what the file says. What should be: a task comes before what would lie over its
holes on either face (`reach.py`); hardware comes after the seams through its own layers, for caps foul the
clamp and the iron of a seam near by, and a hole through several layers is cut once they hold together,
unless that seam helps to cover it; what an enclosure shuts in comes before its first row too; a flap is hung
on after what it folds over; a piece is worked while it lies flat and by itself (`standing.py`). Each is
dropped where it can't be, and what is in a task's way then is told.

Among what is free the work stays flat as long as it can, and is turned over as little as it can:
what need not wait for a bend comes before every bend, and what goes on from the side that lies up is
done before the work is turned (`turning.py`). Then inner pieces first (by depth), then openings on them, then
seams that close; then what is on the work at hand; ties by the file. Holes of one piece that take no
hardware are cut before anything else.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

import msgspec

from handkit.errors import refuse_errors
from handkit.findings import Finding
from handkit.geometry.straight import distance
from handkit.grouping import grouped
from handkit.stitch.order.covering import Hindrance
from handkit.stitch.order.enclosure import Enclosure
from handkit.stitch.order.precedence import STATED, Precedence, PrecedenceGraph, Reasons, cycle_findings
from handkit.stitch.order.reach import NOTHING_COVERS, Coverings
from handkit.stitch.order.standing import StoodUp, closing_last, flat_first, stood_up
from handkit.stitch.order.tasks import Task, TaskKind, is_plain_hole
from handkit.stitch.order.turning import Bench, turned_for
from handkit.stitch.plan import Predecessor

# Nearer to a seam caps are in the way of the clamp's jaws and of the iron (common practice, no source), mm.
CLAMP = 25.0


class _Rank(msgspec.Struct, frozen=True):
    """What ranks a task among those that are free, the lowest first."""

    work: bool  # not for plain holes, which are cut before anything else
    late: bool  # the work lies flat no more
    inner: tuple[int, int]  # the deepest first; then seams, openings, seams that close
    index: int  # the place in the file


class TaskOrder(msgspec.Struct, frozen=True, dict=True):
    """Tasks in order; `reasons` are all that was heeded, by the order of what comes first, and `chosen` why
    each was taken from among what was free.
    """

    tasks: tuple[Task, ...]
    reasons: tuple[Precedence, ...]
    chosen: Mapping[Task, str]
    told: tuple[Precedence, ...] = ()  # those of the reasons that do not follow from others
    hindrances: tuple[Hindrance | StoodUp, ...] = ()  # ways that are not free, in working order

    def before(self, task: Task) -> tuple[Predecessor, ...]:
        """The seams and openings that come before a task, in working order, with the reason."""
        return tuple(
            Predecessor(pair.first.name, pair.why)
            for pair in self._reasons_of.get(task, ())
            if pair.first.kind in (TaskKind.SEAM, TaskKind.OPENING)
        )

    @cached_property
    def _reasons_of(self) -> dict[Task, list[Precedence]]:
        return grouped(self.reasons, by=lambda pair: pair.then)


class Circumstances(msgspec.Struct, frozen=True):
    """What decides the order beside what closes what."""

    fitted: tuple[Precedence, ...] = ()  # must be, for the fittings' sake
    reach: Coverings = NOTHING_COVERS  # what covers what
    alone: tuple[Precedence, ...] = ()  # what had better be worked by itself


def in_working_order(
    tasks: Sequence[Task],
    enclosures: Sequence[Enclosure],
    earlier: Sequence[Finding] = (),
    found: Circumstances | None = None,
) -> TaskOrder:
    """All tasks in order. Raises ProjectError with every cycle where there is none, and with what was found
    `earlier`.
    """
    fitted, reach, alone = msgspec.structs.astuple(found or Circumstances())
    graph = PrecedenceGraph(tasks)
    flat = tuple(flat_first(tasks))
    raised = (pair for pair in flat if pair.then.raises)
    nearer = {(pair.first, pair.then): pair.why for pair in reversed((*raised, *reach.firsts()))}
    for pair in (*fitted, *_closed(enclosures, nearer), *_glued(tasks), *_as_stated(tasks)):
        graph.add(pair)
    cycles = cycle_findings(tasks, graph)
    if cycles:
        refuse_errors((*earlier, *cycles))
    covered = {
        (holder, task) for c in enclosures for holder in c.holders for task in (*c.enclosed, *c.on_rim)
    }
    hardware = (pair for pair in _hardware_last(tasks) if (pair.first, pair.then) not in covered)
    reach.heed(graph, nearer, lifts=False)
    graph.heed((*flat, *hardware, *_first_rows(enclosures)))
    reach.heed(graph, nearer, lifts=True)
    graph.heed((*alone, *closing_last(tasks)))
    holders = {task for enclosure in enclosures for task in enclosure.holders}
    chosen = _eased(tasks, graph, holders, reach)
    listed = tuple(chosen)
    turn = {task: index for index, task in enumerate(listed)}
    reasons = tuple(
        pair
        for task in listed
        for pair in sorted(graph.after[task].values(), key=lambda pair: turn[pair.then])
        if pair.why == STATED or not is_plain_hole(task)  # such a hole is cut before anything else
    )
    hindrances = (*reach.hindrances(listed, graph), *stood_up(listed, graph))
    near = frozenset(graph.without_detours())
    return TaskOrder(listed, reasons, chosen, tuple(pair for pair in reasons if pair in near), hindrances)


def _closed(enclosures: Iterable[Enclosure], nearer: Reasons) -> Iterable[Precedence]:
    """What must come before what closes it in, with the nearer reason where there is one."""
    for enclosure in enclosures:
        for enclosed in enclosure.enclosed:
            for closer in enclosure.closers:
                yield Precedence(enclosed, closer, nearer.get((enclosed, closer), enclosure.why))


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
        return "caps would foul the clamp and the iron"
    return "the seam holds the layers for it" if len(opening.pieces) > 1 else ""


def _sorted(tasks: Sequence[Task], graph: PrecedenceGraph, holders: set[Task]) -> dict[Task, str]:
    """The order with the fewest turns, whichever side the works are laid down on first; with the reasons why
    each task was chosen, where that tells anything.
    """
    late = _after_a_bend(tasks, graph)
    ranks = {
        task: _Rank(not is_plain_hole(task), task in late, _rank(task, graph, holders), index)
        for index, task in enumerate(tasks)
    }
    orders = [_taken(tasks, graph, ranks, down=down) for down in (False, True)]
    return min(orders, key=_turns)


def _taken(
    tasks: Sequence[Task], graph: PrecedenceGraph, ranks: Mapping[Task, _Rank], *, down: bool
) -> dict[Task, str]:
    """Always the first by rank of those that are free; of a work that lies one way, what needs no turn."""
    waits = dict.fromkeys(tasks, 0)
    for follows in graph.after.values():
        for then in follows:
            waits[then] += 1
    free, bench = [task for task in tasks if not waits[task]], Bench()

    def key(task: Task) -> tuple[bool, bool, bool, bool, tuple[int, int], bool, int]:
        rank = ranks[task]
        lain = task.down is not None and not bench.is_laid(task) and task.down != down
        return (
            rank.work,
            rank.late,
            bench.turns(task),
            lain,
            rank.inner,
            not bench.is_at_hand(task),
            rank.index,
        )

    listed: dict[Task, str] = {}
    while free:
        task = min(free, key=key)
        free.remove(task)
        listed[task] = _chosen(task, free, bench)
        if not is_plain_hole(task):
            bench.do(task)
        for then in graph.after[task]:
            waits[then] -= 1
            if not waits[then]:
                free.append(then)
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
    """How often work is turned over."""
    return len(turned_for(order))


def _chosen(task: Task, free: Sequence[Task], bench: Bench) -> str:
    """Why a task was taken from among what was free: the same work would be turned over for another."""
    if task.down is not None and not bench.turns(task):
        for other in free:
            if bench.turns(other) and (other.base, other.down) == (task.base, not task.down):
                return f"before {other}, for which the work is turned over"
    return ""


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

    A gluing has the rank of the first task that waits for it, and so has a fitting; what a fold goes round
    is put there last, for it holds only once the fold is closed.
    """
    if task.kind is TaskKind.FITTING and task.bends:
        return (-task.depth, 3)
    if task.kind in (TaskKind.GLUE, TaskKind.FITTING):
        waiting = [
            _rank(then, graph, holders)
            for then in graph.after[task]
            if then.kind not in (TaskKind.GLUE, TaskKind.FITTING)
        ]
        return min(waiting, default=(-task.depth, 0))
    kind = 1 if task.kind is TaskKind.OPENING else 2 if task in holders else 0
    return (-task.depth, kind)
