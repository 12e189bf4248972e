"""The product of step 3: every stitch hole, numbered, matched across the layers of its seam.

All mm, each hole in the frame of its piece; angles in degrees.

Words: hole k of one layer meets hole k of the others; *along* is the seam's direction at the
hole; a *shared hole* serves two seams, or a seam's start and end.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pattern import Pattern, PatternSeam, Run
from handkit.findings import Finding, Source
from handkit.geometry.affine import Point
from handkit.read.project import Stitching


class Hole(msgspec.Struct, frozen=True):
    """One hole of one layer. `slit_degrees` is None for a round hole."""

    number: int  # from 1
    at: Point
    along_degrees: float
    slit_degrees: float | None
    corner: bool  # fixed by a corner, a match point or an end


class PunchedLayer(msgspec.Struct, frozen=True):
    """The holes of a seam on one layer, in order. `run` counts the seam's layers from 1."""

    piece: str
    run: int
    text: str  # the run as named, "" where carried
    holes: tuple[Hole, ...]
    length: float  # of the line, first hole to last, round and back where closed


class PunchedSeam(msgspec.Struct, frozen=True):
    """A seam with its holes; layers in the file's order, all with equal counts.

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
        """Holes in each layer."""
        return len(self.layers[0].holes)

    def run_of(self, layer: PunchedLayer) -> Run:
        """The run that a layer's holes stand on."""
        return self.pattern.runs[layer.run - 1]

    @property
    def face(self) -> PunchedLayer:
        """The layer that is looked at while stitching."""
        return self.layers[self.pattern.face_to_back[0]]

    @property
    def back(self) -> PunchedLayer:
        """The layer on the far side."""
        return self.layers[self.pattern.face_to_back[-1]]


class SharedHole(msgspec.Struct, frozen=True):
    """A place on a piece where holes of one or two seams are one hole: (seam, run, number) each."""

    piece: str
    at: Point
    users: tuple[tuple[str, int, int], ...]


class Punched(msgspec.Struct, frozen=True):
    """The pattern with all its holes."""

    pattern: Pattern
    seams: tuple[PunchedSeam, ...]
    shared: tuple[SharedHole, ...]
    findings: tuple[Finding, ...] = ()

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
