"""Trims: the edges that are cut wide and trimmed after stitching.

In: a piece as read, its outline, its cut. Out: the lines it is trimmed to.
"""

from __future__ import annotations

from handkit.draft.pieces.cut import KnifeLine
from handkit.draft.pieces.edge_run import EdgeRun, edge_run_of
from handkit.draft.pieces.outline import Outline
from handkit.geometry.path import Path
from handkit.read.project import Piece


def trims_of(piece: Piece, outline: Outline, cut: KnifeLine) -> tuple[Path, ...]:
    """The edges that are trimmed, as the outline has them."""
    return tuple(_trim_line(outline, edge_run_of(outline, trim.edges), cut) for trim in piece.trims)


def _trim_line(outline: Outline, edge_run: EdgeRun, cut: KnifeLine) -> Path:
    """The edges that are trimmed, round the whole arc of a corner that is cut sharp."""
    if edge_run.closed:
        return edge_run.path(outline)
    first, last = edge_run.first, (edge_run.first + edge_run.count) % len(outline.edges)
    before = outline.edges[first - 1][-1:] if first in cut.sharp and not cut.edges[first - 1].width else ()
    after = outline.edges[last][:1] if last in cut.sharp and not cut.edges[last].width else ()
    return Path((*before, *edge_run.segments(outline), *after))
