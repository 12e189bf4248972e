"""Overcasting: the thread that holds a raw edge of cloth, by hand and over its cut end.

In: the pattern, the seams in working order. Out: an `Overcast` for each edge that stays raw in sight.

    ╲╲╲╲╲╲╲╲ cut end     Each stitch goes through the cloth so deep below its cut end, and slants over that to
    │ │ │ │  deep        the next: the whip stitch's sum (`sewing/kinds.py`) with one layer of cloth,
     apart               T + M (T + √((2 deep + T)² + apart²)).

It is sewn with the thread of the first seam through that piece, on one needle.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, hypot

from handkit.draft.pattern import Pattern
from handkit.read.project import Stitching
from handkit.stitch.edges.raw_edges import raw_edges_in_sight
from handkit.stitch.plan import DECIMALS, Overcast, SeamPlan

# From stitch to stitch, and from the cut end to where each goes through, mm (common practice, no source).
APART, DEEP = 3.0, 3.0


def overcasts(pattern: Pattern, seams: Sequence[SeamPlan]) -> tuple[Overcast, ...]:
    """Of each edge, in the order of the pieces; of what has no seam none: no thread is told."""
    return tuple(_overcasts(pattern, seams)) if seams else ()


def _overcasts(pattern: Pattern, seams: Sequence[SeamPlan]) -> Iterator[Overcast]:
    for piece in pattern.pieces:
        through = (seam for seam in seams if any(one.piece == piece.name for one in seam.punched.layers))
        stitching = next(through, seams[0]).stitching
        for edge in raw_edges_in_sight(pattern, piece, piece.works):
            stitches, bare = overcast_length(edge.span, piece.thickness)
            count = thread_count(bare, stitching)
            cut = round(bare / count + 2 * stitching.tail, DECIMALS)
            name = f"{edge.start}-{edge.end}"
            yield Overcast(piece.name, name, round(edge.span, DECIMALS), stitches, stitching, count, cut)


def overcast_length(along: float, thick: float) -> tuple[int, float]:
    """How many stitches hold an edge so long, and their thread without tails, mm.

    By hand, 30 mm of cloth of 0.8: ten stitches, each 0.8 through the cloth and √(6.8² + 3²) = 7.432 over its
    edge, and 0.8 for the first hole.

    >>> stitches, thread = overcast_length(30, 0.8)
    >>> stitches, round(thread, 2)
    (10, 83.12)
    """
    stitches = max(1, ceil(along / APART))
    return stitches, thick + stitches * (thick + hypot(2 * DEEP + thick, along / stitches))


def thread_count(bare: float, stitching: Stitching) -> int:
    """How many threads it takes, none longer than one needle pulls well.

    >>> from types import SimpleNamespace
    >>> thread_count(1500, SimpleNamespace(longest_side=900, tail=180))
    3
    """
    room = stitching.longest_side - 2 * stitching.tail
    return ceil(bare / room) if room > 0 else 1
