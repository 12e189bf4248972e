"""Runs of an outline's edges by their letters: which edges, which way round.

In: an outline and the letters as read, which follow one another round it. Out: an `EdgeRun`.

Words: a run *goes round* when its first letter is repeated at its end.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pieces.outline import Outline
from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.read.project import Edges


class EdgeRun(msgspec.Struct, frozen=True):
    """Edges of an outline, first to last in the outline's own order.

    `forward` says whether the run is written in that order.
    """

    first: int  # index of the letter where it begins, in the outline's order
    count: int  # of edges
    forward: bool
    closed: bool

    def edge_indices(self, outline: Outline) -> tuple[int, ...]:
        """Which edges, in the outline's order."""
        return tuple((self.first + k) % len(outline.edges) for k in range(self.count))

    def segments(self, outline: Outline) -> tuple[Segment, ...]:
        """Their lines and arcs, in the outline's order."""
        return tuple(s for index in self.edge_indices(outline) for s in outline.edges[index])

    def path(self, outline: Outline) -> Path:
        """The edges as a path in the outline's order."""
        return Path(self.segments(outline), closed=self.closed)


def edge_run_of(outline: Outline, edges: Edges) -> EdgeRun:
    """The edges that letters name. Reading has seen to it that they are neighbours, one way round.

    Raises ValueError for a letter the outline does not have.
    """
    indices = [outline.names.index(letter) for letter in edges.letters]
    forward = indices[1] == (indices[0] + 1) % len(outline.names)
    closed = indices[0] == indices[-1]
    return EdgeRun(indices[0] if forward else indices[-1], len(indices) - 1, forward, closed)
