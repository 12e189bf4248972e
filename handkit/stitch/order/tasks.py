"""Tasks: what is done to the pieces in some order: seams, openings, gluings.

In: everything punched. Out: one `Task` for each seam, each opening, each fitting and each piece that is
glued down all over, in the file's order; each knows which layers it passes through, and where.

Words: a task *joins* pieces when they can't be laid apart after it: a seam does, a rivet, eyelet
or snap through several layers does, a slot does not. *Hardware* has a cap or rim that stands out.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from enum import StrEnum
from functools import cached_property

from msgspec import Struct
from msgspec.structs import replace

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece
from handkit.findings import Source
from handkit.geometry.affine import Affine, Point
from handkit.punch.punched import Punched, PunchedLayer, PunchedSeam
from handkit.read.project import Fitting
from handkit.wording.stretches import spans


class TaskKind(StrEnum):
    """What is done; the order of the members breaks ties between lines of the file."""

    GLUE = "glue"
    SEAM = "seam"
    OPENING = "opening"
    FITTING = "fitting"


class TaskLayer(Struct, frozen=True):
    """Where a task passes through one layer, in the frame of its piece.

    `numbers` are those of its holes or places, a point each; none where it has all of the task's.
    """

    piece: str
    points: tuple[Point, ...]
    numbers: tuple[int, ...] = ()


class Task(Struct, frozen=True, eq=False, dict=True):
    """One task; equal only to itself, so that it is quick to look up.

    `reach` is how far from its holes it holds the leather down, at least.
    """

    kind: TaskKind
    name: str  # of the seam, the opening, or the piece that is glued down
    source: Source
    layers: tuple[TaskLayer, ...]
    depth: int  # the greatest of its pieces'
    pitch: float = 0.0
    reach: float = 0.0
    joins: bool = True
    hardware: bool = False
    ties: tuple[str, ...] = ()  # pieces that hang together by it, such as both sides of a zip
    after: tuple[str, ...] = ()  # what the file wants done before
    bends: bool = False  # after it the work lies flat no more
    stands: frozenset[str] = frozenset()  # pieces that stand up after it (`standing.py`)
    ground: str = ""  # the piece that its others stand on, "" of what has no piece
    base: str = ""  # what the ground stands on in the end
    behind: bool = False  # what is added goes on from behind, as the ground is drawn
    down: bool | None = None  # whether the base lies face down meanwhile; None where that is all one
    note: str = ""  # the maker's own
    round: int = 0  # how many holes go all round, 0 where the seam has two ends

    @property
    def raises(self) -> frozenset[str]:
        """The pieces that it stands up by holding them to others (`standing.py`)."""
        return frozenset(name for name in self.stands if self.pieces.count(name) == 1)

    @cached_property
    def pieces(self) -> tuple[str, ...]:
        """Its layers' pieces; one that is in it twice stands twice."""
        return tuple(layer.piece for layer in self.layers)

    def on(self, piece: str) -> Iterator[tuple[Point, ...]]:
        """Its holes on a piece, for each layer that is this piece."""
        return (layer.points for layer in self.layers if layer.piece == piece)

    def passes(self, first: str, second: str) -> bool:
        """Whether it goes through both pieces; through one and the same, twice."""
        if first == second:
            named = self.pieces.count(first) > 1
        else:
            named = first in self.pieces and second in self.pieces
        return named and (self.whole or any(True for _ in self.common(first, (second,))))

    @property
    def whole(self) -> bool:
        """Whether each of its layers has all its holes."""
        return not any(layer.numbers for layer in self.layers)

    def common(self, piece: str, others: Collection[str]) -> Iterator[tuple[Point, ...]]:
        """Its holes on a piece that go through one of others as well, for each layer that is this piece;
        a seam's in rows without a gap.
        """
        for layer in self.layers:
            mates = [mate for mate in self.layers if mate is not layer and mate.piece in others]
            if layer.piece == piece and mates:
                yield from self._rows(layer, mates)

    def _rows(self, layer: TaskLayer, mates: Sequence[TaskLayer]) -> Iterator[tuple[Point, ...]]:
        """The points of a layer that any of its mates has too."""
        all_round = any(not mate.numbers for mate in mates)
        if all_round and not layer.numbers:
            yield layer.points
            return
        numbers = layer.numbers or range(1, len(layer.points) + 1)
        have = {number for mate in mates for number in mate.numbers}
        points = {n: at for n, at in zip(numbers, layer.points, strict=True) if all_round or n in have}
        if self.kind is not TaskKind.SEAM:
            yield from [tuple(points.values())] if points else []
            return
        rows = [tuple(points[n] for n in range(a, b + 1)) for a, b in spans(list(points))]
        if len(rows) > 1 and {1, self.round} <= points.keys():
            rows = [*rows[1:-1], (*rows[-1], *rows[0])]
        yield from rows

    def __str__(self) -> str:
        """As findings name it."""
        if self.kind is TaskKind.FITTING:
            return f'fitting "{self.name}"'
        return f'gluing "{self.name}"' if self.kind is TaskKind.GLUE else f'"{self.name}"'


def tasks_of(punched: Punched) -> tuple[Task, ...]:
    """All tasks in the file's order: by line, then gluings, seams, openings, fittings as they are listed."""
    pattern = punched.pattern
    kinds = list(TaskKind)
    listed = [
        *(_glue_task(piece, pattern) for piece in pattern.pieces if is_glued(piece)),
        *(_seam_task(seam, pattern) for seam in punched.seams),
        *(_opening_task(opening, pattern) for opening in pattern.openings),
        *(_fitting_task(fitting, pattern) for fitting in pattern.project.fittings),
    ]
    return tuple(sorted(listed, key=lambda task: (task.source.line, kinds.index(task.kind))))


def is_glued(piece: PatternPiece) -> bool:
    """Whether a piece is glued down all over: only what lies flat on another can be."""
    return piece.glued and piece.on is not None and piece.flat


def is_plain_hole(task: Task) -> bool:
    """Whether it is cut in one piece and takes no hardware: it can be done before all else."""
    return task.kind is TaskKind.OPENING and not task.hardware and len(task.pieces) == 1


def frame_of(piece: PatternPiece) -> tuple[str, Affine]:
    """The piece in whose frame it lies flat, and the way there; itself where it lies flat on none."""
    return piece.root, piece.in_root


def _glue_task(piece: PatternPiece, pattern: Pattern) -> Task:
    layers = (TaskLayer(piece.name, ()), TaskLayer(piece.on or "", ()))
    return _task(pattern, TaskKind.GLUE, piece.name, piece.source, layers)


def _seam_task(punched: PunchedSeam, pattern: Pattern) -> Task:
    seam, settings = punched.pattern.seam, punched.stitching
    layers = tuple(_seam_layer(punched, layer) for layer in punched.layers)
    return replace(
        _task(pattern, TaskKind.SEAM, seam.name, seam.source, layers),
        pitch=settings.pitch,
        reach=2 * settings.inset,
        ties=tuple(
            name
            for fitting in pattern.project.fittings
            if seam.name in fitting.seams
            for name in _tied(fitting, pattern)
        ),
        after=seam.after,
        note=seam.note,
        round=punched.count if punched.closed else 0,
    )


def _seam_layer(seam: PunchedSeam, layer: PunchedLayer) -> TaskLayer:
    numbers = () if seam.is_whole(layer) else tuple(hole.number for hole in layer.holes)
    return TaskLayer(layer.piece, tuple(hole.at for hole in layer.holes), numbers)


def _opening_task(opening: PatternOpening, pattern: Pattern) -> Task:
    facts, hardware = opening.opening, opening.opening.traits.hardware
    task = _task(pattern, TaskKind.OPENING, facts.name, facts.source, _opening_layers(opening))
    return replace(
        task,
        pitch=facts.diameter,
        reach=max(facts.cap, facts.diameter),
        joins=hardware,
        hardware=hardware,
        behind=hardware and task.behind,  # a plain hole is punched from the face, where it is marked
        down=task.down if hardware else pattern.piece(task.ground).turned,
        note=facts.note,
    )


def _task(pattern: Pattern, kind: TaskKind, name: str, source: Source, layers: tuple[TaskLayer, ...]) -> Task:
    """A task that joins its layers. Which way up a single piece lies is all one, folded or not."""
    pieces = [pattern.piece(layer.piece) for layer in layers]
    ground, behind = min(pieces, key=lambda piece: piece.depth), _behind(pieces)
    single = kind is TaskKind.SEAM and len({piece.name for piece in pieces}) == 1
    return Task(
        kind,
        name,
        source,
        layers,
        depth=max(piece.depth for piece in pieces),
        ground=ground.name,
        base=ground.base,
        behind=behind,
        down=None if single else behind != ground.turned,
    )


def _fitting_task(fitting: Fitting, pattern: Pattern) -> Task:
    """A fitting on its piece: where its fold is, or at its places. What a fold or a strap goes round
    bends the work; a cord or tie comes when the rest is done."""
    on = fitting.on
    points = fitting.at
    if on is not None and fitting.traits.by_fold:
        fold = pattern.piece(on).fold(fitting.fold)
        points = (fold.path.point_at(fold.path.length / 2),)
    return Task(
        TaskKind.FITTING,
        fitting.name,
        fitting.source,
        (TaskLayer(on, points),) if on is not None else (),
        depth=pattern.piece(on).depth if on is not None else 0,
        joins=False,
        ground=on or "",
        base=pattern.piece(on).base if on is not None else "",
        bends=on is not None and not fitting.at,
        ties=_tied(fitting, pattern),
        note=fitting.note,
    )


def _tied(fitting: Fitting, pattern: Pattern) -> tuple[str, ...]:
    """The pieces that hang together by a zip."""
    return tuple(run.piece for seam in pattern.seams if seam.name in fitting.seams for run in seam.runs)


def _opening_layers(opening: PatternOpening) -> tuple[TaskLayer, ...]:
    """Places by piece; a piece it passes twice (a fold-over) has as many layers."""
    layers: dict[tuple[str, int], dict[int, Point]] = {}
    seen: dict[tuple[str, int], int] = {}
    for place in opening.places:
        turn = seen.get((place.piece, place.number), 0)
        seen[place.piece, place.number] = turn + 1
        layers.setdefault((place.piece, turn), {})[place.number] = place.at
    return tuple(
        TaskLayer(piece, tuple(at.values()), () if len(at) == opening.count else tuple(at))
        for (piece, _), at in layers.items()
    )


def _behind(pieces: Sequence[PatternPiece]) -> bool:
    """Whether the piece that is added, the one that stands on the most others, goes on from behind."""
    return len(pieces) > 1 and max(pieces, key=lambda piece: piece.depth).behind
