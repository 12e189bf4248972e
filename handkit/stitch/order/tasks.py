"""Tasks: what is done to the pieces in some order: seams, openings, gluings.

In: everything punched. Out: one `Task` for each seam, each opening and each piece that is glued
down all over, in the file's order; each knows which layers it passes through, and where.

Words: a task *joins* pieces when they can't be laid apart after it: a seam does, a rivet, eyelet
or snap through several layers does, a slot does not. *Hardware* has a cap or rim that stands out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from enum import StrEnum

import msgspec

from handkit.draft.pattern import Pattern, PatternOpening, PatternPiece
from handkit.findings import Source
from handkit.geometry.affine import Affine, Point
from handkit.punch.punched import Punched, PunchedSeam
from handkit.read.project import Material

LEATHER = (Material.FIRM_LEATHER, Material.SOFT_LEATHER)


class TaskKind(StrEnum):
    """What kind of work; the order of the members breaks ties between lines of the file."""

    GLUE = "glue"
    SEAM = "seam"
    OPENING = "opening"


class TaskLayer(msgspec.Struct, frozen=True):
    """Where a task passes through one layer, in the frame of its piece."""

    piece: str
    points: tuple[Point, ...]


class Task(msgspec.Struct, frozen=True, eq=False):
    """One work; equal only to itself, so that it is quick to look up.

    `reach` is how far from its holes it holds the leather down, at least.
    """

    kind: TaskKind
    name: str  # of the seam, the opening, or the piece that is glued down
    source: Source
    layers: tuple[TaskLayer, ...]
    pitch: float
    reach: float
    joins: bool
    hardware: bool
    depth: int  # the greatest of its pieces'
    after: tuple[str, ...] = ()  # what the file wants done before
    bends: bool = False  # after it the work lies flat no more
    behind: bool = False  # what is added goes on from behind: the work lies face down
    note: str = ""  # the maker's own

    @property
    def pieces(self) -> tuple[str, ...]:
        """Its layers' pieces; one that is in it twice stands twice."""
        return tuple(layer.piece for layer in self.layers)

    def on(self, piece: str) -> Iterator[tuple[Point, ...]]:
        """Its holes on a piece, for each layer that is this piece."""
        return (layer.points for layer in self.layers if layer.piece == piece)

    def passes(self, first: str, second: str) -> bool:
        """Whether it goes through both pieces; through one and the same, twice."""
        if first == second:
            return self.pieces.count(first) > 1
        return first in self.pieces and second in self.pieces

    def __str__(self) -> str:
        """As findings name it."""
        return f'gluing "{self.name}"' if self.kind is TaskKind.GLUE else f'"{self.name}"'


def tasks_of(punched: Punched) -> tuple[Task, ...]:
    """All tasks in the file's order: by line, then gluings, seams, openings as they are listed."""
    pattern = punched.pattern
    kinds = list(TaskKind)
    listed = [
        *(_glue_task(piece) for piece in pattern.pieces if is_glued(piece)),
        *(_seam_task(seam, pattern) for seam in punched.seams),
        *(_opening_task(opening, pattern) for opening in pattern.openings),
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


def _glue_task(piece: PatternPiece) -> Task:
    layers = (TaskLayer(piece.name, ()), TaskLayer(piece.on or "", ()))
    return Task(
        TaskKind.GLUE,
        piece.name,
        piece.source,
        layers,
        0.0,
        0.0,
        joins=True,
        hardware=False,
        depth=piece.depth,
        behind=piece.behind,
    )


def _seam_task(seam: PunchedSeam, pattern: Pattern) -> Task:
    settings = seam.stitching
    layers = tuple(TaskLayer(layer.piece, tuple(hole.at for hole in layer.holes)) for layer in seam.layers)
    return Task(
        TaskKind.SEAM,
        seam.name,
        seam.source,
        layers,
        settings.pitch,
        2 * settings.inset,
        joins=True,
        hardware=False,
        depth=_depth(pattern, (layer.piece for layer in seam.layers)),
        after=seam.pattern.seam.after,
        note=seam.pattern.seam.note,
        bends=_bends(pattern, layers),
        behind=_behind(pattern, layers),
    )


def _opening_task(opening: PatternOpening, pattern: Pattern) -> Task:
    facts = opening.opening
    hardware = facts.traits.hardware
    layers = _opening_layers(opening)
    return Task(
        TaskKind.OPENING,
        opening.name,
        facts.source,
        layers,
        facts.diameter,
        max(facts.cap, facts.diameter),
        joins=hardware,
        hardware=hardware,
        depth=_depth(pattern, (layer.piece for layer in layers)),
        bends=hardware and _bends(pattern, layers),
        behind=_behind(pattern, layers),
        note=facts.note,
    )


def _opening_layers(opening: PatternOpening) -> tuple[TaskLayer, ...]:
    """Places by piece; a piece it passes twice (a fold-over) has as many layers."""
    layers: dict[tuple[str, int], list[Point]] = {}
    seen: dict[tuple[str, int], int] = {}
    for place in opening.places:
        turn = seen.get((place.piece, place.number), 0)
        seen[place.piece, place.number] = turn + 1
        layers.setdefault((place.piece, turn), []).append(place.at)
    return tuple(TaskLayer(piece, tuple(points)) for (piece, _), points in layers.items())


def _bends(pattern: Pattern, layers: Iterable[TaskLayer]) -> bool:
    """Whether it joins pieces that do not lie flat on each other, or one with itself."""
    names = [layer.piece for layer in layers]
    flat_in = {frame_of(pattern.piece(name))[0] for name in names}
    return len(flat_in) > 1 or len(set(names)) < len(names)


def _behind(pattern: Pattern, layers: Sequence[TaskLayer]) -> bool:
    """Whether the piece that is added, the one that stands on the most others, goes on from behind."""
    pieces = [pattern.piece(layer.piece) for layer in layers]
    return len(pieces) > 1 and max(pieces, key=lambda piece: piece.depth).behind


def _depth(pattern: Pattern, pieces: Iterable[str]) -> int:
    return max(pattern.piece(name).depth for name in pieces)
