"""Raw edges in sight: what frays of an edge of cloth that is turned once, or lies beyond a seam, with nothing
over it.

In: the pattern, a piece. Out: the edges whose cut end can be seen or felt when all is done, as runs of
letters.

    ┌────────────┐ finished edge      A pocket that is sewn on over it hides it for good. What is hemmed twice
    │ ░░░░░░░░░░ │ ← cut end, raw     has its cut end inside.
    │  ┌──────┐  │                      A seam allowance is laid flat behind its seam, and is inside for good.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handkit.draft.pattern import FinishedEdge, Pattern, PatternPiece
from handkit.geometry.affine import Point
from handkit.geometry.region import Region, region_of
from handkit.kinds.edge_works import EdgeWork
from handkit.stitch.order.edges import OutlineEdge, edges_along

_APART = 5.0  # places at which an edge is looked at, mm


def is_allowance(each: FinishedEdge) -> bool:
    """Whether it is cloth beyond a seam."""
    return each.work.work is EdgeWork.ALLOWANCE


def raw_edges_in_sight(
    pattern: Pattern, piece: PatternPiece, works: Sequence[FinishedEdge]
) -> tuple[OutlineEdge, ...]:
    """The edges, in the order of the works that they are given."""
    if not piece.traits.frays or piece.traits.sealed:
        return ()
    raw = [each for each in works if is_allowance(each) or (each.work.turns == 1 and each.work.traits.turned)]
    covers = list(_over(pattern, piece)) if raw else []
    return tuple(
        edge
        for each in raw
        for edge in edges_along(piece, [each.path])
        if not _hidden(piece, edge, each, covers)
    )


def _over(pattern: Pattern, piece: PatternPiece) -> Iterator[Region]:
    """What lies flat on the side that its edges are turned to, in its frame."""
    over = (-1 if piece.in_root.turns_over else 1) * (-1 if piece.turns_to == "back" else 1)
    for other in pattern.pieces:
        lie = pattern.carry(other.name, piece.name) if (other.level - piece.level) * over > 0 else None
        if lie is not None:
            yield region_of(other.outline.moved(lie))


def _hidden(piece: PatternPiece, edge: OutlineEdge, each: FinishedEdge, covers: list[Region]) -> bool:
    """Whether something lies over the cut end at every place, but for the ends, which lie in a mitre."""
    inside, width = region_of(piece.outline), each.work.width
    count = max(1, int((edge.span - 2 * width) / _APART))
    for k in range(count):
        along = edge.low + width + (edge.span - 2 * width) * (k + 0.5) / count
        at = _inwards(piece, inside, along, width)
        if not any(cover.contains(at, slack=_APART) for cover in covers):
            return False
    return True


def _inwards(piece: PatternPiece, inside: Region, along: float, width: float) -> Point:
    """The place of the cut end beside a place of the outline."""
    (x, y), (ux, uy) = piece.outline.point_at(along), piece.outline.direction_at(along)
    at = x - uy * width, y + ux * width
    return at if inside.contains(at) else (x + uy * width, y - ux * width)
