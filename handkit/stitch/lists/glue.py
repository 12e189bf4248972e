"""Glue: how the layers of a seam are held while they are sewn, and where the strip of glue lies.

In: a punched seam, the pattern. Out: how it is held; a strip for each two layers that lie on each other, with
its area.

    edge ─────────────────      Along an edge the strip goes from the edge to `GLUE_CLEAR` short of
      ░░░░░░░░░░░░░░░░░░░       the holes' rim, or is as wide as the file says.
      ○   ○   ○   ○   ○

Where no layer has an edge at the line (a divider of a pocket, a row of a holder) there is none unless its
width is stated, for it takes the room of what is carried there; then it lies on each side of the line. It is
cut off where either layer ends, and keeps `GLUE_CLEAR` off every stitch hole and opening of both. On a leaf
that is folded over the other layer lies mirrored in the fold.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from handkit.draft.pattern import Pattern, PatternPiece, Run
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.region import Region, band_of, discs, region_of
from handkit.punch.punched import Punched, PunchedLayer, PunchedSeam
from handkit.read.project import GLUE_CLEAR, Hold
from handkit.stitch.order.edges import edges_of
from handkit.stitch.order.tasks import is_glued
from handkit.stitch.plan import DECIMALS, GlueStrip, LayersMet
from handkit.stitch.sewing.layers_met import layers_met, lie_on


def hold_of(seam: PunchedSeam, pattern: Pattern) -> Hold:
    """As the file says; else cement for leather, clips where a layer is cloth, nothing where each two layers
    are glued all over already."""
    if len(seam.layers) < 2:
        return Hold.NONE
    pairs = [
        (pattern.piece(a.piece), pattern.piece(b.piece)) for s in seam.stacks for a, b in pairwise(s.layers)
    ]
    if seam.stitching.hold is None and pairs and all(_glued_all_over(*pair) for pair in pairs):
        return Hold.NONE
    leather = all(pattern.piece(layer.piece).traits.is_leather for layer in seam.layers)
    return seam.stitching.hold or (Hold.CEMENT if leather else Hold.CLIPS)


def strips_of(seam: PunchedSeam, punched: Punched) -> tuple[GlueStrip, ...]:
    """The strips of a seam that is held with cement or tape, from the face downwards."""
    pattern = punched.pattern
    if hold_of(seam, pattern) not in (Hold.CEMENT, Hold.TAPE):
        return ()
    pairs = dict.fromkeys(
        (upper.run, lower.run) for stack in seam.stacks for upper, lower in pairwise(stack.layers)
    )
    met = {(one.upper_run, one.lower_run): one for one in layers_met(pattern, seam)}
    found = (_strip(seam, punched, met[pair]) for pair in pairs)
    return tuple(strip for strip in found if strip is not None)


def _strip(seam: PunchedSeam, punched: Punched, met: LayersMet) -> GlueStrip | None:
    """Between two layers; None where they are glued all over already, or nothing is left for it."""
    pattern = punched.pattern
    pair = upper, lower = seam.layers[met.upper_run - 1], seam.layers[met.lower_run - 1]
    one, other = pattern.piece(upper.piece), pattern.piece(lower.piece)
    if _glued_all_over(one, other):
        return None
    layer = _guide(seam, pattern, upper, lower)
    run, piece = seam.run_of(layer), pattern.piece(layer.piece)
    width = strip_width(seam, layer)
    if width <= 0 or run.path is None or (not run.inside and seam.stitching.glue is None):
        return None
    area = _beside_edge(piece, run, width) if run.inside else _beside_line(seam, run, width)
    area = area.common(region_of(piece.outline))
    for each in pair:
        lie = lie_on(pattern, each, layer)
        if lie is not None:
            area = area.common(region_of(pattern.piece(each.piece).outline.moved(lie)))
            area = area.without(_holes(punched, each.piece, lie, area))
    for each in _between(seam, met):
        lie = lie_on(pattern, each, layer)
        if lie is not None:
            area = area.without(region_of(pattern.piece(each.piece).outline.moved(lie)))
    if area.empty:
        return None
    return GlueStrip(
        upper=one.name,
        lower=other.name,
        upper_side=one.side_words(met.upper_side) if met.upper_side else "",
        lower_side=other.side_words(met.lower_side) if met.lower_side else "",
        piece=piece.name,
        along=run.text,
        width=round(width, DECIMALS),
        area_mm2=round(area.area, DECIMALS),
        region=area,
    )


def _glued_all_over(one: PatternPiece, other: PatternPiece) -> bool:
    return any(is_glued(piece) and piece.on == mate.name for piece, mate in ((one, other), (other, one)))


def _between(seam: PunchedSeam, met: LayersMet) -> Sequence[PunchedLayer]:
    """Layers that keep the two apart where they lie: they go part of the way."""
    runs = [layer.run for layer in seam.from_face]
    return seam.from_face[runs.index(met.upper_run) + 1 : runs.index(met.lower_run)]


def strip_width(seam: PunchedSeam, layer: PunchedLayer) -> float:
    """As stated, else what is between the edge and `CLEAR` short of the holes' rim."""
    settings = seam.stitching
    inset = seam.pattern.seam.layers[layer.run - 1].inset
    return settings.glue if settings.glue is not None else inset - settings.hole.width / 2 - GLUE_CLEAR


def _guide(seam: PunchedSeam, pattern: Pattern, *pair: PunchedLayer) -> PunchedLayer:
    """The layer whose edge the strip goes along: of the two, or one flat with both; else one's line."""
    others = (
        layer
        for layer in seam.layers
        if all(pattern.carry(layer.piece, each.piece) is not None for each in pair)
    )
    listed = [*pair, *others]
    edged = (layer for layer in listed if seam.run_of(layer).inside)
    lined = (layer for layer in listed if seam.run_of(layer).path is not None)
    return next(edged, None) or next(lined, pair[0])


def _beside_edge(piece: PatternPiece, run: Run, width: float) -> Region:
    """All of a piece that is no farther than `width` from the edges a run goes along."""
    return band_of(edge_path(piece, run.text), width)


def edge_path(piece: PatternPiece, text: str) -> Path:
    """The part of an outline that corner letters such as "D-A-B-C" name, either way round."""
    letters = text.split("-")
    edges = {
        frozenset((edge.start, edge.end)) if len(piece.letters) > 2 else (edge.start, edge.end): edge
        for edge in edges_of(piece)
    }
    steps = [edges.get(frozenset(pair) if len(piece.letters) > 2 else pair) for pair in pairwise(letters)]
    known = [edge for edge in steps if edge is not None]
    total = sum(edge.span for edge in known)
    if total >= piece.outline.length - GLUE_CLEAR:
        return piece.outline
    first = known[0] if len(known) == 1 or known[0].end == known[1].start else known[-1]
    return piece.outline.between(first.low, first.low + total)


def _beside_line(seam: PunchedSeam, run: Run, width: float) -> Region:
    """A band on each side of a line, clear of its holes."""
    path = run.path or Path(())
    clear = seam.stitching.hole.width / 2 + GLUE_CLEAR
    return band_of(path, clear + width).without(band_of(path, clear))


def _holes(punched: Punched, piece: str, lie: Affine, area: Region) -> Region:
    """What stitch holes and openings of a piece, as it lies, take of an area, `CLEAR` round each."""
    taken = area.without(area)
    for radius, points in _by_radius(punched, piece):
        near = [at for at in lie.apply_all(points) if area.contains(at, slack=radius)]
        if near:
            taken = taken.joined(discs(near, radius))
    return taken


def _by_radius(punched: Punched, piece: str) -> Iterable[tuple[float, list[Point]]]:
    for seam in punched.seams:
        radius = seam.stitching.hole.width / 2 + GLUE_CLEAR
        points = [hole.at for layer in seam.layers if layer.piece == piece for hole in layer.holes]
        yield radius, points
    for opening in punched.pattern.openings:
        radius = max(opening.opening.length, opening.opening.diameter) / 2 + GLUE_CLEAR
        yield radius, [place.at for place in opening.places if place.piece == piece]
