"""Trims: what is cut outside the finished edge, to be trimmed after stitching.

In: a piece as read and its outline. Out: where the knife goes first, and findings.

    neighbours of a trimmed edge go on straight to where it is cut:

          |         |
          |         |        finished edge
        - |---------| -
          '---------'        cut
"""

from __future__ import annotations

from dataclasses import dataclass

from handkit.draft.edges import stretch_of
from handkit.draft.outline import Outline
from handkit.draft.words import at_most, mm
from handkit.findings import Finding, error
from handkit.geometry.joint import Outer
from handkit.geometry.largest import largest_fitting
from handkit.geometry.offset import parallel_ring
from handkit.geometry.path import Path
from handkit.read.project import Piece


@dataclass(frozen=True, slots=True)
class Trims:
    """Where the knife goes first, and the edges that are trimmed later."""

    cut_outline: Path
    edges: tuple[Path, ...]


def trims_of(piece: Piece, outline: Outline) -> tuple[Trims, tuple[Finding, ...]]:
    """The outline with the trims outside it, and the edges trimmed."""
    widths = [0.0] * len(outline.edges)
    edges: list[Path] = []
    for trim in piece.trims:
        stretch = stretch_of(outline, trim.edges)
        for index in stretch.edge_indices(outline):
            widths[index] = trim.width
        edges.append(stretch.path(outline))
    if not edges:
        return Trims(outline.path, ()), ()
    cut = _cut_outline(outline, widths, 1.0)
    if cut is None:
        return Trims(outline.path, tuple(edges)), (_unfit_trim(piece, outline, widths),)
    return Trims(cut, tuple(edges)), ()


def _cut_outline(outline: Outline, widths: list[float], share: float) -> Path | None:
    """The outline with a share of each edge's width outside it; None where it would cross itself."""
    segments = outline.path.segments
    by = [-widths[index] * share * outline.way for index, edge in enumerate(outline.edges) for _ in edge]
    bits = parallel_ring(segments, by, outer=Outer.SHARP)
    return None if bits is None else Path(tuple(bit.segment for bit in bits), closed=True)


def _unfit_trim(piece: Piece, outline: Outline, widths: list[float]) -> Finding:
    """A trim so wide that the cut would cross itself."""
    most = max(widths)
    largest = largest_fitting(most, lambda w: _cut_outline(outline, widths, w / most) is not None)
    return error(
        "trim-too-wide",
        piece.source.at("trim"),
        found=f"a trim of {mm(most)}, whose cut would cross itself",
        allowed=at_most(largest, smallest="no trim here"),
        remedy="make the trim narrower",
    )
