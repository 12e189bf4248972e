"""Standing: which pieces lie flat no more after a task, and what had better be done before.

In: the pattern and its tasks. Out: the tasks, each with the pieces that it stands up; what had better come
before what for their sake.

Words: the *ground* of a task is its lowest piece, which the others stand on. A *fixture* of a piece stands on
it and is held to nothing else, such as a handle, a bowed front, a folded tab: the piece stays flat under it.
What a seam holds to a piece otherwise, but does not lie flat there, such as a gusset, *stands it up* where it
is sewn along its edge; a piece that is sewn to itself stands up, too. Where a gusset is sewn along a line
inside a piece, that stays flat, with something *upon* it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.stitch.order.precedence import Precedence
from handkit.stitch.order.tasks import Task, TaskKind, is_plain_hole


def with_standing(pattern: Pattern, tasks: Sequence[Task]) -> tuple[Task, ...]:
    """The tasks in their order, each with what it stands up and what it sets something upon."""
    fixtures = _fixtures(pattern, tasks)
    edges = {(seam.name, run.piece) for seam in pattern.seams for run in seam.runs if run.inside}
    return tuple(_stood(task, pattern, fixtures, edges) for task in tasks)


def flat_first(tasks: Sequence[Task]) -> Iterator[Precedence]:
    """A piece is worked while it lies flat: before each seam that stands it up."""
    for task in tasks:
        if _is_work(task):
            for seam in tasks:
                if seam is not task and not set(seam.pieces) <= set(task.pieces):
                    flat = [name for name in task.pieces if name in seam.stands and name not in task.stands]
                    if flat:
                        yield Precedence(task, seam, f'"{flat[0]}" would no longer lie flat')


def bare_first(tasks: Sequence[Task]) -> Iterator[Precedence]:
    """A piece is worked before something that stands is set upon it."""
    for task in tasks:
        if _is_work(task):
            for seam in tasks:
                if seam is not task and not set(seam.pieces) <= set(task.pieces):
                    bare = [name for name in task.pieces if name in seam.upon and name not in task.upon]
                    if bare:
                        stands = next(name for name in seam.pieces if name not in bare)
                        yield Precedence(task, seam, f'"{stands}" would stand on "{bare[0]}"')


def alone_first(pattern: Pattern, tasks: Sequence[Task]) -> Iterator[Precedence]:
    """What is worked by itself, with all that stands on it, comes before that is joined to others; a row
    through a single piece, such as a hem, before all else that is joined to it.
    """
    subtrees = {piece.name: standing_on(pattern, piece) for piece in pattern.pieces}
    zips = {name for fitting in pattern.project.fittings for name in fitting.seams}
    for task in tasks:
        own, ground = set(task.pieces), task.ground
        walls = any(task.pieces.count(name) == 1 for name in task.stands)
        if walls or not _is_work(task) or not own <= subtrees[ground]:
            continue
        hem = task.kind is TaskKind.SEAM and len(task.pieces) == 1 and task.name not in zips
        for join in tasks:
            others = set(join.pieces)
            if join.joins and others & own and not others <= (own if hem else subtrees[ground]):
                yield Precedence(task, join, f'"{ground}" would no longer lie by itself')


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
    stands = frozenset([*round_itself, *walls])
    upon = frozenset(name for name in unlike if name not in walls)
    return replace(task, stands=stands, upon=upon, bends=bool(upon) or task.ground in stands)
