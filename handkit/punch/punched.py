"""The product of step 3: every stitch hole, numbered, matched across the layers of its seam.

All mm, each hole in the frame of its piece; angles in degrees.

Words: hole k of one layer meets hole k of the others; *along* is the seam's direction at the
hole; a *shared hole* serves two seams, or a seam's start and end. A layer is *whole* where it has
every hole of its seam, else it goes *part of the way*: it has those that lie on it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

import msgspec

from handkit.draft.pattern import Pattern, PatternSeam, Run
from handkit.findings import Finding, Source
from handkit.geometry.affine import Point
from handkit.geometry.straight import distance
from handkit.read.project import Project, Punching, Stitching
from handkit.wording.stretches import spans


class Hole(msgspec.Struct, frozen=True):
    """One hole of one layer. `slit_degrees` is None for a round hole."""

    number: int  # from 1
    at: Point
    along_degrees: float
    slit_degrees: float | None
    corner: bool  # fixed by a corner, a match point or an end


class PunchedLayer(msgspec.Struct, frozen=True):
    """The holes of a seam that lie on one layer, by number. `run` counts the seam's layers from 1."""

    piece: str
    run: int
    text: str  # the run as named, "" where carried
    holes: tuple[Hole, ...]
    length: float  # of the line, first hole to last, round and back where closed; of all stretches

    def hole(self, number: int) -> Hole | None:
        """The hole of a number, None where the layer does not have it."""
        if number <= len(self.holes) and self.holes[number - 1].number == number:
            return self.holes[number - 1]  # as in every whole layer
        index = bisect_left(self.holes, number, key=lambda hole: hole.number)
        found = self.holes[index] if index < len(self.holes) else None
        return found if found is not None and found.number == number else None


class Stack(msgspec.Struct, frozen=True):
    """Holes that follow one another and go through the same layers, from face to back."""

    first: int
    last: int
    layers: tuple[PunchedLayer, ...]


class PunchedSeam(msgspec.Struct, frozen=True):
    """A seam with its holes; layers in the file's order. The first is whole, and every one with a line.

    A closed seam has as many stitches as holes; an open one has one fewer.
    """

    pattern: PatternSeam
    layers: tuple[PunchedLayer, ...]

    @property
    def name(self) -> str:
        """As in the file."""
        return self.pattern.name

    @property
    def source(self) -> Source:
        """Where it stands in the file."""
        return self.pattern.source

    @property
    def stitching(self) -> Stitching:
        """How it is stitched."""
        return self.pattern.stitching

    @property
    def closed(self) -> bool:
        """Whether the last hole is followed by the first."""
        return self.pattern.closed

    @property
    def count(self) -> int:
        """Holes of the seam: those of each whole layer."""
        return len(self.layers[0].holes)

    def run_of(self, layer: PunchedLayer) -> Run:
        """The run that a layer's holes stand on."""
        return self.pattern.runs[layer.run - 1]

    @property
    def joint_step(self) -> float | None:
        """From the last hole to the first where a layer is a strip butted to a tube: across the joint, as
        the layer that goes all round has it. None where no layer is.
        """
        if not any(run.across for run in self.pattern.runs):
            return None
        ring = next(layer for layer in self.layers if _goes_round(self.run_of(layer)))
        return distance(ring.holes[-1].at, ring.holes[0].at)

    @property
    def from_face(self) -> tuple[PunchedLayer, ...]:
        """All layers, from the face that is looked at downwards."""
        return tuple(self.layers[index] for index in self.pattern.face_to_back)

    def is_whole(self, layer: PunchedLayer) -> bool:
        """Whether a layer has every hole."""
        return len(layer.holes) == self.count

    @property
    def whole(self) -> bool:
        """Whether every layer has every hole."""
        return all(self.is_whole(layer) for layer in self.layers)

    @property
    def face(self) -> PunchedLayer:
        """The topmost whole layer: the one that is looked at while stitching, but for what lies on it."""
        return next(layer for layer in self.from_face if self.is_whole(layer))

    @property
    def back(self) -> PunchedLayer:
        """The lowest whole layer: the one on the far side, but for what lies under it."""
        return next(layer for layer in reversed(self.from_face) if self.is_whole(layer))

    def through(self, number: int) -> tuple[PunchedLayer, ...]:
        """The layers that a hole goes through, from the face that is looked at downwards."""
        return tuple(layer for layer in self.from_face if layer.hole(number) is not None)

    def face_at(self, number: int) -> PunchedLayer:
        """The topmost layer at a hole."""
        return self.through(number)[0]

    def back_at(self, number: int) -> PunchedLayer:
        """The lowest layer at a hole."""
        return self.through(number)[-1]

    def stretches_of(self, layer: PunchedLayer) -> tuple[tuple[int, int], ...]:
        """First and last number of each stretch of a layer, in order.

        Round a closed seam the one that goes on over its start comes last, and ends before it begins.
        """
        return tuple((row[0].number, row[-1].number) for row in self.rows_of(layer))

    def rows_of(self, layer: PunchedLayer) -> tuple[tuple[Hole, ...], ...]:
        """The holes of each stretch of a layer, in the order of its stretches."""
        if self.is_whole(layer):
            return (layer.holes,)
        return self.rows(layer.holes)

    def marked_rows(self, layer: PunchedLayer) -> tuple[tuple[Hole, ...], ...]:
        """The stretches of holes that are marked on a layer: all it has, or, where the seam is punched
        through, those that no other layer lies over.
        """
        if self.stitching.punch is Punching.APART:
            return self.rows_of(layer)
        if self.whole:
            return (layer.holes,) if layer is self.face else ()
        return self.rows([hole for hole in layer.holes if self.face_at(hole.number) is layer])

    def rows(self, holes: Sequence[Hole]) -> tuple[tuple[Hole, ...], ...]:
        """Holes by stretches; round a closed seam one may go on over its start."""
        if len(holes) == self.count:
            return (tuple(holes),)
        rows: list[tuple[Hole, ...]] = []
        for first, last in spans([hole.number for hole in holes]):
            rows.append(tuple(hole for hole in holes if first <= hole.number <= last))
        if self.closed and len(rows) > 1 and (rows[0][0].number, rows[-1][-1].number) == (1, self.count):
            rows = [*rows[1:-1], (*rows[-1], *rows[0])]
        return tuple(rows)

    @property
    def stacks(self) -> tuple[Stack, ...]:
        """The stretches of holes that go through the same layers, from hole 1 to the last."""
        if self.whole:
            return (Stack(1, self.count, self.from_face),)
        found: list[Stack] = []
        for number in range(1, self.count + 1):
            layers = self.through(number)
            if found and [one.run for one in found[-1].layers] == [one.run for one in layers]:
                found[-1] = msgspec.structs.replace(found[-1], last=number)
            else:
                found.append(Stack(number, number, layers))
        return tuple(found)


def _goes_round(run: Run) -> bool:
    return run.path is not None and run.path.closed


class SharedHole(msgspec.Struct, frozen=True):
    """A place on a piece where holes of one or two seams are one hole: (seam, run, number) each."""

    piece: str
    at: Point
    users: tuple[tuple[str, int, int], ...]


class EdgeCross(msgspec.Struct, frozen=True):
    """Where the edge of a layer crosses the run whose holes the layer takes, as a pocket's mouth does."""

    seam: str
    run: int  # of the layer, from 1
    origin: int  # index of the run it takes its holes from
    along: float  # on that run
    onto: bool  # whether the run goes onto the layer there, or off it
    degrees: float  # between run and edge, 0 to 90
    edge: int  # index of the segment of the layer's outline


class TriedPiece(msgspec.Struct, frozen=True):
    """A piece that is larger or smaller in a trial's stock: its width and height, both ways."""

    piece: str
    own: Point
    tried: Point


class TriedSeam(msgspec.Struct, frozen=True):
    """A seam that has another number of holes in a trial's stock."""

    seam: str
    own: int
    tried: int


class Trial(msgspec.Struct, frozen=True):
    """What differs between a paper trial and the kit as its file has it."""

    pieces: tuple[TriedPiece, ...] = ()
    seams: tuple[TriedSeam, ...] = ()


class Punched(msgspec.Struct, frozen=True):
    """The pattern with all its holes."""

    pattern: Pattern
    seams: tuple[PunchedSeam, ...]
    shared: tuple[SharedHole, ...]
    findings: tuple[Finding, ...] = ()
    crossings: tuple[EdgeCross, ...] = ()  # by layers
    own: Punched | None = None  # as the file has it, where this is drafted otherwise
    trial: Trial | None = None  # what differs from that in a paper trial

    def instead_of(self, own: Punched) -> Punched:
        """The same with what is found of the project as the file has it."""
        pattern = msgspec.structs.replace(self.pattern, findings=own.pattern.findings)
        return msgspec.structs.replace(self, pattern=pattern, findings=own.findings, own=own)

    def titled(self, title: str) -> Punched:
        """The same of a project with another title."""
        project = msgspec.structs.replace(self.project, title=title)
        pattern = msgspec.structs.replace(self.pattern, project=project)
        return msgspec.structs.replace(self, pattern=pattern, own=self.own and self.own.titled(title))

    @property
    def project(self) -> Project:
        """As it was read."""
        return self.pattern.project

    @property
    def holes_to_make(self) -> int:
        """Of one article: each layer counts, a hole that seams share once."""
        drawn = sum(len(layer.holes) for seam in self.seams for layer in seam.layers)
        return drawn - sum(len(shared.users) - 1 for shared in self.shared)

    @property
    def openings_to_make(self) -> int:
        """Of one article, on every piece."""
        return sum(len(opening.places) for opening in self.pattern.openings)

    def holes_of(self, piece: str) -> tuple[tuple[PunchedSeam, PunchedLayer, Hole], ...]:
        """All holes on one piece, by seam, layer and number."""
        return tuple(
            (seam, layer, hole)
            for seam in self.seams
            for layer in seam.layers
            if layer.piece == piece
            for hole in layer.holes
        )
