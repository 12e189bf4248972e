"""Edge steps: bevelled and burnished in time what will be closed in, and last what is left.

In: pieces, and the edges that something closes in. Out: steps.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handkit.draft.pattern import PatternPiece
from handkit.stitch.order.edges import EnclosedEdges, bare_edges, named
from handkit.stitch.plan import Step, StepKind
from handkit.wording.quoting import words


def burnished_early(closed: EnclosedEdges) -> Step:
    """Edges of one piece, before a task closes them in."""
    return Step(
        StepKind.EDGES,
        closed.piece,
        f"Bevel and burnish {closed.piece} along {named(closed.edges)}.",
        f"after {closed.before} these edges lie close and can't be reached all round",
    )


def burnished_last(pieces: Iterable[PatternPiece], hidden: Sequence[EnclosedEdges]) -> Iterable[Step]:
    """One step for all leather that has edges left."""
    done = {closed.piece: len(closed.edges) for closed in hidden}
    outer = [
        piece.name
        for piece in pieces
        if piece.traits.is_leather and done.get(piece.name, 0) < len(bare_edges(piece))
    ]
    if outer:
        yield Step(
            StepKind.BURNISH,
            ", ".join(outer),
            f"Sand, bevel and burnish the outer edges of {words(outer, last='and')}.",
            "edges of several layers are made one after stitching and trimming",
        )
