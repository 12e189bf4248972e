"""Sharing: one thread for several seams.

In: seams in working order, what must come before what, shared holes. Out: threads that may serve
several seams in place of their own, the seams that are sewn so in any case, and a note where the longest
thread allowed takes more of them.

    S1 ────●──── S2          ends that meet: in a hole all layers of both seams share, or, in the
           │                 same pieces, within one and a half pitches of each other (running on)
           S3                two threads: at ● one ends and another passes

Words: a *trail* is a row of seams, each begun where the last one ended, no seam twice. A group of
seams that hang together needs half as many trails as it has places where an odd number of ends
meet, and at least one (Euler). A *group* is of seams that follow one another in the order with
nothing between, free to change places, sewn alike. Seams are met at their ends only: one that begins
in the middle of another has a thread of its own.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from itertools import pairwise
from operator import attrgetter

import msgspec

from handkit.findings import Finding, Source, finding
from handkit.geometry.straight import distance
from handkit.punch.punched import Punched, PunchedLayer, PunchedSeam
from handkit.stitch.order.order import TaskOrder
from handkit.stitch.order.precedence import Precedence
from handkit.stitch.order.tasks import Task, TaskKind
from handkit.stitch.plan import DECIMALS, Move, SharedThread, rule_of_thumb
from handkit.stitch.sewing.rows import sew_through, whole_cuts
from handkit.stitch.sewing.sewing import SewnSeam
from handkit.stitch.sewing.thread import ThreadPath, threads
from handkit.stitch.sewing.trails import EndPair, fewest_trails
from handkit.tolerances import COINCIDE

# Ends of two rows this many pitches apart are one row with a gap (common practice, no source).
RUN_ON = 1.5

# What seams of one thread have alike.
SEWN_ALIKE = attrgetter("thread", "fibre", "tail", "needle", "longest_side")


class Shared(msgspec.Struct, frozen=True):
    """Threads for several seams, and what is to be said."""

    threads: tuple[SharedThread, ...]
    sewings: tuple[SewnSeam, ...]  # all seams, those of a row sewn anew, as one
    ordered: TaskOrder  # in which a row's seams follow one another
    findings: tuple[Finding, ...]


def share(punched: Punched, sewings: Sequence[SewnSeam], ordered: TaskOrder) -> Shared:
    """What seams may be sewn with one thread; of each trail that is more than one seam."""
    by_name = {sewing.plan.name: sewing for sewing in sewings}
    ends = _ends(punched)
    found: list[SharedThread] = []
    findings: list[Finding] = []
    anew: dict[str, SewnSeam] = {}
    tasks = list(ordered.tasks)
    for group in _groups(ordered, by_name):
        rows = []
        for row in _rows(group, ends):
            moved = _together(tasks, [sewing.plan.name for sewing in row], ordered.reasons)
            sewn = sew_through(row, punched.pattern) if moved else ()
            if sewn:
                tasks = moved
                rows.append((row, sewn))
        anew.update((sewing.plan.name, sewing) for _, sewn in rows for sewing in sewn)
        rest = [sewing for sewing in group if sewing.plan.name not in anew]
        trails = fewest_trails([ends[sewing.plan.name] for sewing in rest])
        shared = [
            *(_shared([(sewing, False) for sewing in row], sewn) for row, sewn in rows),
            *(_shared([(rest[i], turned) for i, turned in trail], ()) for trail in trails if len(trail) > 1),
        ]
        found.extend(shared)
        alone = sum(len(rest[trail[0][0]].plan.threads) for trail in trails if len(trail) == 1)
        findings.extend(_gap(shared, alone, len(trails) + len(rows), punched.project.source))
    sewings = tuple(anew.get(name, sewing) for name, sewing in by_name.items())
    order = msgspec.structs.replace(ordered, tasks=tuple(tasks))
    return Shared(tuple(found), sewings, order, tuple(findings))


def _groups(ordered: TaskOrder, by_name: dict[str, SewnSeam]) -> Iterable[list[SewnSeam]]:
    """Seams that follow one another with nothing between, none before another, sewn alike."""
    pairs = {(pair.first, pair.then) for pair in ordered.reasons}
    group: list[Task] = []
    for task in ordered.tasks:
        free = not any((before, task) in pairs for before in group)
        alike = group and task.kind is TaskKind.SEAM and _alike(by_name[group[0].name], by_name[task.name])
        if not (alike and free):
            yield [by_name[one.name] for one in group]
            group = []
        if task.kind is TaskKind.SEAM and _may_share(by_name[task.name]):
            group.append(task)
    yield [by_name[one.name] for one in group]


def _may_share(sewing: SewnSeam) -> bool:
    """Not every stitch runs on; turns at a mouth end a thread."""
    return sewing.plan.stitching.traits.runs_on and not sewing.plan.mouths


def _alike(one: SewnSeam, other: SewnSeam) -> bool:
    return SEWN_ALIKE(one.plan.stitching) == SEWN_ALIKE(other.plan.stitching)


class _End(msgspec.Struct, frozen=True):
    """An end of a seam: its hole, the topmost and the lowest layer there, the shared holes it is in."""

    seam: PunchedSeam
    hole: int
    face: PunchedLayer
    back: PunchedLayer
    shared: frozenset[int]

    @property
    def common(self) -> tuple[Hashable, ...]:
        """What an end has in common, in one way or another, with each that it may meet."""
        pieces = () if self.seam.closed else ((self.face.piece, self.back.piece),)
        return (*pieces, self.shared) if self.shared else pieces


def _ends(punched: Punched) -> dict[str, EndPair]:
    """By seam: numbers of the places where it begins and ends; ends that meet have one number."""
    users = {user: at for at, shared in enumerate(punched.shared) for user in shared.users}
    ends = [
        _end_at(seam, hole, users) for seam in punched.seams for hole in (1, 1 if seam.closed else seam.count)
    ]
    places = list(range(len(ends)))
    earlier: dict[Hashable, list[int]] = {}
    for j, later in enumerate(ends):
        for i in sorted({i for common in later.common for i in earlier.get(common, ())}):
            one = ends[i]
            meets = one.seam is not later.seam or one.hole == later.hole
            if meets and ((one.shared and one.shared == later.shared) or _runs_on(one, later)):
                old, new = places[j], places[i]
                places = [new if place == old else place for place in places]
        for common in later.common:
            earlier.setdefault(common, []).append(j)
    return {seam.name: (places[2 * index], places[2 * index + 1]) for index, seam in enumerate(punched.seams)}


def _end_at(seam: PunchedSeam, hole: int, users: Mapping[tuple[str, int, int], int]) -> _End:
    """An end of a seam; in no shared hole where a layer's hole is its own."""
    layers = seam.through(hole)
    found = [users.get((seam.name, layer.run, hole)) for layer in layers]
    shared = frozenset(at for at in found if at is not None) if None not in found else frozenset()
    return _End(seam, hole, layers[0], layers[-1], shared)


def _runs_on(one: _End, other: _End) -> bool:
    """Whether two ends lie in the same pieces, a stitch from each other on either face."""
    if one.seam is other.seam or one.seam.closed or other.seam.closed:
        return False
    reach = RUN_ON * one.seam.stitching.pitch
    faces = ((one.face, other.face), (one.back, other.back))
    return all(a.piece == b.piece and _apart(a, one.hole, b, other.hole) <= reach for a, b in faces)


def _apart(one: PunchedLayer, hole: int, other: PunchedLayer, its: int) -> float:
    """How far holes of two layers lie from one another, in a piece that both are on."""
    a, b = one.hole(hole), other.hole(its)
    if a is None or b is None:
        raise ValueError("a layer at a hole has it")
    return distance(a.at, b.at)


def _shared(trail: Sequence[tuple[SewnSeam, bool]], row: Sequence[SewnSeam]) -> SharedThread:
    """The threads of a trail; `row` are its seams where they are sewn as one in any case."""
    longest = trail[0][0].plan.stitching.longest_side
    offered = () if row else threads(_one_walk(trail), longest_side=longest)
    return SharedThread(
        tuple((sewing.plan.name, turned) for sewing, turned in trail),
        tuple(whole_cuts(row)) if row else tuple(thread.cut for thread in offered),
        round(sum(sewing.plan.thread for sewing, _ in trail), DECIMALS),
        round(rule_of_thumb(sum(sewing.plan.length for sewing, _ in trail)), DECIMALS),
        adopted=bool(row),
    )


def _rows(group: Sequence[SewnSeam], ends: dict[str, EndPair]) -> list[list[SewnSeam]]:
    """Seams of a group that go on into one another, in that order: two or more."""
    after = {
        one.plan.name: other
        for one in group
        for other in group
        if one is not other and _goes_on(one, other, ends)
    }
    later = {other.plan.name for other in after.values()}
    rows = [[sewing] for sewing in group if sewing.plan.name not in later]
    for row in rows:
        while row[-1].plan.name in after:
            row.append(after[row[-1].plan.name])
    return [row for row in rows if len(row) > 1]


def _together(tasks: Sequence[Task], row: Sequence[str], reasons: Iterable[Precedence]) -> list[Task]:
    """The order of work with a row's seams one after the other; empty where what lies between them has to
    stay there."""
    by_name = {task.name: task for task in tasks if task.kind is TaskKind.SEAM}
    own = [by_name[name] for name in row]
    first = min(tasks.index(task) for task in own)
    moved = [*tasks[:first], *own, *(task for task in tasks[first:] if task not in own)]
    place = {task: index for index, task in enumerate(moved)}
    return [] if any(place[pair.then] < place[pair.first] for pair in reasons) else moved


def _goes_on(one: SewnSeam, other: SewnSeam, ends: dict[str, EndPair]) -> bool:
    """Whether two seams that one part drafts meet in a hole, the end of the first and the other's start:
    nothing is lost by sewing them as one, and no thread is locked at a corner."""
    a, b = one.plan.punched, other.plan.punched
    drafted = a.pattern.seam.part is not None and a.pattern.seam.part == b.pattern.seam.part
    meet = not (a.closed or b.closed) and ends[a.name][1] == ends[b.name][0]
    return drafted and meet and not _link(one, other, hole=a.count, its=1, stack=0.0)


def _one_walk(trail: Sequence[tuple[SewnSeam, bool]]) -> ThreadPath:
    """All seams of a trail as one walk: plain stitches, and back stitches at the two ends alone."""
    moves, stacks = _plain(*trail[0])
    for (before, was), (sewing, turned) in pairwise(trail):
        own, local = _plain(sewing, turned)
        link = _link(before, sewing, hole=_end(before, not was), its=_end(sewing, turned), stack=local[0])
        moves = [*moves, *link, *own]
        stacks = [*stacks, *(local if link else local[1:])]
    (first, _), (last, _) = trail[0], trail[-1]
    start, end = (min(k, len(moves)) for k in (first.plan.stitching.start_back, last.plan.stitching.back))
    back, local = _turned(moves, stacks)
    moves, stacks = (
        [*back[len(back) - start :], *moves, *back[:end]],
        [*local[len(back) - start : -1], *stacks, *local[1 : end + 1]],
    )
    return ThreadPath(tuple(moves), tuple(stacks), 0.0, 0.0, last.plan.stitching.tail)


def _plain(sewing: SewnSeam, turned: bool) -> tuple[list[Move], list[float]]:
    """The moves of a seam without back stitches, and the stacks at its places, first to last."""
    begin = sewing.plan.walk[0] - 1
    end = begin + (sewing.plan.punched.count if sewing.plan.punched.closed else sewing.plan.punched.count - 1)
    moves, stacks = list(sewing.plan.moves[begin:end]), list(sewing.path.stacks[begin : end + 1])
    return _turned(moves, stacks) if turned else (moves, stacks)


def _turned(moves: Sequence[Move], stacks: Sequence[float]) -> tuple[list[Move], list[float]]:
    """The same way from its end to its start."""
    back = [
        msgspec.structs.replace(move, start=move.end, end=move.start, stack=stack)
        for move, stack in zip(moves, stacks, strict=False)
    ]
    return back[::-1], list(stacks[::-1])


def _end(sewing: SewnSeam, turned: bool) -> int:
    """The hole a seam begins in, or, turned, ends in."""
    return sewing.plan.punched.count if turned and not sewing.plan.punched.closed else 1


def _link(one: SewnSeam, other: SewnSeam, *, hole: int, its: int, stack: float) -> tuple[Move, ...]:
    """The stitch between two rows that run on; none where they meet in one hole."""
    a, b = one.plan.punched, other.plan.punched
    face, near, far = a.face_at(hole), b.face_at(its), b.back_at(its)
    if face.piece != near.piece:  # the front of one is the other's back
        near, far = far, near
    front = _apart(face, hole, near, its)
    back = _apart(a.back_at(hole), hole, far, its)
    if max(front, back) <= COINCIDE:
        return ()
    return (Move(hole, its, round(front, DECIMALS), round(back, DECIMALS), stack),)


def _gap(shared: Sequence[SharedThread], alone: int, bound: int, source: Source) -> Iterable[Finding]:
    """A note where the longest thread allowed makes more threads than the bound; `alone` are those of seams
    that share none."""
    if not any(len(thread.cuts) != 1 for thread in shared):
        return
    count = alone + sum(len(thread.cuts) for thread in shared)
    names = ", ".join(f'"{name}"' for thread in shared for name, _ in thread.seams)
    yield finding("threads-over-bound", source.at(), threads=count, seams=names, bound=bound)
