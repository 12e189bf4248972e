"""Rows on a piece: where seams run on it, before their holes are known.

In: a piece, the pieces and seams that are drafted already. Out: the rows as an area without width in the
piece's own frame: what stands clear of that stands clear of every hole. All mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from handkit.draft.parts.drafted import Around
from handkit.draft.pieces.edge_run import edge_run_of
from handkit.draft.pieces.placement import Placement
from handkit.draft.seams.stitch_line import StitchLine, stitch_line
from handkit.geometry.path import Path, polyline
from handkit.geometry.region import region_of
from handkit.read.project import Edges, Layer


def rows_on(piece: str, around: Around, placements: Mapping[str, Placement]) -> Iterator[Path]:
    """Of all seams, also those that go through it along a line of another piece."""
    for seam in around.seams:
        if all(layer.piece != piece for layer in seam.layers):
            continue
        stated: tuple[str, Path] | None = None
        for layer in seam.layers:
            if layer.piece not in placements:
                continue
            line = _line(around, layer)
            stated = (layer.piece, line) if line is not None else stated
            if layer.piece == piece and stated is not None:
                on, path = stated
                lie = placements[piece].in_root.inverse() @ placements[on].in_root
                yield path if on == piece else path.moved(lie)


def _line(around: Around, layer: Layer) -> Path | None:
    """The stitch line of a layer that states one, as far as it fits."""
    piece, outline = around.pieces[layer.piece], around.outlines.get(layer.piece)
    if isinstance(layer.run, str):
        points = next((line.points for line in piece.lines if line.name == layer.run), ())
        found = StitchLine(polyline(points, closed=False), (), 0) if len(points) > 1 else None
    elif isinstance(layer.run, Edges) and outline is not None:
        body = region_of(outline.path)
        found = stitch_line(outline, edge_run_of(outline, layer.run), layer.inset, body=body)
    else:
        return None
    found = found.shortened(layer.from_start, layer.from_end) if found is not None else None
    return found.path if found is not None else None
