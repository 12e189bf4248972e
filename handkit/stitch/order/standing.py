"""Standing: which pieces lie flat no more after a task, and what had better be done before.

In: the pattern and its tasks. Out: the tasks, each with the pieces that it stands up; what had better come
before what for their sake.

Words: the *ground* of a task is its lowest piece, which the others stand on. A *fixture* of a piece stands on
it and is held to nothing else, such as a handle, a bowed front, a folded tab: the piece stays flat under it.
A seam that holds pieces along their edges to others that do not lie on them, such as a gusset, *raises* them;
a piece that is sewn to itself stands up, too, unless it is folded by an angle (`shutting.py`). Where a gusset
is sewn along a line inside a piece, that stays flat.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import permutations

import msgspec
from msgspec.structs import replace

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.findings import Finding, finding
from handkit.grouping import grouped
from handkit.stitch.order.precedence import Precedence, PrecedenceGraph, way_words
from handkit.stitch.order.tasks import Task, TaskKind, is_plain_hole
from handkit.wording.quoting import words


class StoodUp(msgspec.Struct, frozen=True):
    """Pieces of a task that stand up already when its turn comes, and what must be that made it so."""

    task: Task
    pieces: tuple[str, ...]
    ways: tuple[tuple[Precedence, ...], ...]

    @property
    def finding(self) -> Finding:
        """As `check` tells it."""
        return finding(
            "way-not-free/stands",
            self.task.source.at(),
            pieces=words((f'"{name}"' for name in self.pieces), last="and"),
            way=way_words(self.ways),
        )

    @property
    def sentence(self) -> str:
        """As its step tells it."""
        stand = "stands" if len(self.pieces) == 1 else "stand"
        return f"Hold it over a block inside: {words(self.pieces, last='and')} {stand} up by now."


def with_standing(pattern: Pattern, tasks: Sequence[Task]) -> tuple[Task, ...]:
    """The tasks in their order, each with what it stands up."""
    fixtures = _fixtures(pattern, tasks)
    edges = {(seam.name, run.piece) for seam in pattern.seams for run in seam.runs if run.inside}
    return tuple(_stood(task, pattern, fixtures, edges) for task in tasks)


def flat_first(tasks: Sequence[Task]) -> Iterator[Precedence]:
    """A piece is worked while it lies flat: before each seam that stands it up. What is sewn to itself may be
    hung on another piece after that.
    """
    for task, seam in _works_and(tasks, [seam for seam in tasks if seam.stands]):
        stands = seam.raises | (seam.stands & {task.ground})
        flat = [name for name in task.pieces if name in stands and name not in task.stands]
        if flat:
            yield Precedence(task, seam, f'"{flat[0]}" would no longer lie flat')


def _works_and(tasks: Sequence[Task], seams: Sequence[Task]) -> Iterator[tuple[Task, Task]]:
    """Each task with each seam, but for those that go through all its layers."""
    for task in tasks if seams else ():
        if _is_work(task):
            layers = Counter(task.pieces)
            for seam in seams:
                if seam is not task and not Counter(seam.pieces) <= layers:
                    yield task, seam


def closing_last(tasks: Sequence[Task]) -> Iterator[Precedence]:
    """Of two pieces that the same walls stand between, one is sewn to all of them before the other closes it:
    the first in the file.
    """
    panels: dict[str, dict[str, Task]] = {}  # by wall: what it is sewn to, with the seam
    for task in tasks:
        for wall, panel in permutations([name for name in task.pieces if name in task.raises], 2):
            panels.setdefault(wall, {})[panel] = task
    walls = [wall for wall, held in panels.items() if len(held) == 2]
    for some in grouped(walls, by=lambda wall: frozenset(panels[wall])).values():
        first, last = panels[some[0]]
        for one, other in permutations(some, 2):
            why = f'"{last}" would close over the inside'
            yield Precedence(panels[one][first], panels[other][last], why)


def stood_up(tasks: Sequence[Task], graph: PrecedenceGraph) -> Iterator[StoodUp]:
    """For tasks in working order: what stands up already when its turn comes."""
    turn = {task: index for index, task in enumerate(tasks)}
    late = grouped(
        (
            pair
            for pair in flat_first(tasks)
            if turn[pair.then] < turn[pair.first] and pair.then.raises & set(pair.first.pieces)
        ),
        by=lambda pair: pair.first,
    )
    for task in tasks:
        if task in late:
            seams = [pair.then for pair in late[task]]
            pieces = dict.fromkeys(name for name in task.pieces if any(name in seam.raises for seam in seams))
            ways = [way for seam in seams if (way := graph.way(seam, task))]
            yield StoodUp(task, tuple(pieces), tuple(ways))


def alone_first(pattern: Pattern, tasks: Sequence[Task]) -> Iterator[Precedence]:
    """What is worked by itself, with all that stands on it, comes before that is joined to others, by a zip
    too; a row through a single piece, such as a hem, before all else that is joined to it.
    """
    fixtures = _fixtures(pattern, tasks)
    subtrees = {piece.name: _by_itself(pattern, piece, fixtures) for piece in pattern.pieces}
    joins = [(task, {*task.pieces, *task.ties}) for task in tasks if task.joins or task.ties]
    for task in tasks:
        own, ground = set(task.pieces), task.ground
        if task.raises or task.ties or not _is_work(task) or not own <= subtrees[ground]:
            continue
        hem = task.kind is TaskKind.SEAM and len(task.pieces) == 1
        for join, others in joins:
            if others & own and not others <= (own if hem else subtrees[ground]):
                yield Precedence(task, join, f'"{ground}" would no longer lie by itself')


def _by_itself(pattern: Pattern, piece: PatternPiece, fixtures: Mapping[str, str]) -> set[str]:
    """A piece and what is held to it alone, or lies flat on that: not a front that a gusset holds off it."""
    own = standing_on(pattern, piece)
    return {name for name in own if name == piece.name or name in fixtures or pattern.piece(name).flat}


def standing_on(pattern: Pattern, piece: PatternPiece) -> set[str]:
    """A piece and all that stands on it."""
    found = {piece.name}
    for other in sorted(pattern.pieces, key=lambda each: each.depth):
        if other.on in found:
            found.add(other.name)
    return found


def _is_work(task: Task) -> bool:
    """Whether it matters what lies round a piece meanwhile: not for what is cut or put on at any time."""
    return (
        bool(task.layers) and not is_plain_hole(task) and not (task.kind is TaskKind.FITTING and task.bends)
    )


def _fixtures(pattern: Pattern, tasks: Sequence[Task]) -> dict[str, str]:
    """Pieces that are held to what they are `on` and to nothing else, with that."""
    found = {}
    for piece in pattern.pieces:
        if piece.on is not None:
            own = {*standing_on(pattern, piece), piece.on}
            held = [task for task in tasks if task.joins and piece.name in task.pieces]
            if held and all(set(task.pieces) <= own for task in held):
                found[piece.name] = piece.on
    return found


def _stood(task: Task, pattern: Pattern, fixtures: Mapping[str, str], edges: set[tuple[str, str]]) -> Task:
    names = list(dict.fromkeys(task.pieces))
    if task.kind is TaskKind.FITTING:
        return replace(task, bends=task.bends and not fixtures.keys() & set(names))
    if task.kind is not TaskKind.SEAM:
        return task
    pieces = [pattern.piece(name) for name in names if fixtures.get(name) not in names]
    unlike = [piece.name for piece in pieces] if len({piece.root for piece in pieces}) > 1 else []
    walls = [name for name in unlike if (task.name, name) in edges]
    round_itself = [name for name in names if task.pieces.count(name) > 1]
    tubes = [name for name in round_itself if not pattern.piece(name).bends]
    stands = frozenset([*tubes, *walls])
    bends = len(walls) < len(unlike) or task.ground in {*stands, *round_itself}
    return replace(task, stands=stands, bends=bends, down=None if walls else task.down)
