"""Glue: how the layers of a seam are held while they are sewn, and where the strip of glue lies.

In: a punched seam, the pattern. Out: how it is held; a strip for each two layers that lie on each other, with
its area.

    edge ─────────────────      Along an edge the strip goes from the edge to `GLUE_CLEAR` short of
      ░░░░░░░░░░░░░░░░░░░       the holes' rim, or is as wide as the file says.
      ○   ○   ○   ○   ○

It is as long as the row of holes that hold both layers on each other: where the seam is only a part of an
edge it ends opposite the last hole, where a layer ends on the way it goes on to the end of that layer.

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
from handkit.geometry.region import Region, bands_of, discs, region_of
from handkit.punch.punched import Hole, Punched, PunchedLayer, PunchedSeam
from handkit.read.project import GLUE_CLEAR, Hold
from handkit.stitch.edges.beside import beside
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
    line = edge_path(piece, run) if run.inside else run.path
    rows = _rows_held(seam, layer, met)
    parts = [_part(seam, layer, line, row) for row in rows]
    area = _beside(seam, run, line, parts, width).common(region_of(piece.outline))
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
        holes=() if parts == [(0.0, line.length)] else tuple((row[0].number, row[-1].number) for row in rows),
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
    kept = settings.hole.width / 2 + GLUE_CLEAR
    return settings.glue if settings.glue is not None else _inset(seam, layer) - kept


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


def _rows_held(seam: PunchedSeam, layer: PunchedLayer, met: LayersMet) -> tuple[tuple[Hole, ...], ...]:
    """The holes of a layer in which two layers lie on each other, in rows without a gap."""
    pair = (met.upper_run, met.lower_run)
    held = [stack for stack in seam.stacks if pair in pairwise(one.run for one in stack.layers)]
    numbers = {number for stack in held for number in range(stack.first, stack.last + 1)}
    return seam.rows([hole for hole in layer.holes if hole.number in numbers])


def _part(seam: PunchedSeam, layer: PunchedLayer, path: Path, row: Sequence[Hole]) -> tuple[float, float]:
    """The part of an edge or a line beside a row of holes, as far as the next hole where the seam goes on."""
    if (len(row) == seam.count and path.closed) or (seam.closed and not path.closed):
        return 0.0, path.length
    ends = [row[0].number - 1, row[-1].number + 1]
    if seam.closed:
        ends = [(number - 1) % seam.count + 1 for number in ends]
    before, after = ([hole.at] if (hole := layer.hole(number)) else [] for number in ends)
    places = [*before, *(hole.at for hole in row), *after]
    return beside(path, places, near=_inset(seam, layer) + seam.stitching.pitch)


def _inset(seam: PunchedSeam, layer: PunchedLayer) -> float:
    return seam.pattern.seam.layers[layer.run - 1].inset


def edge_path(piece: PatternPiece, run: Run) -> Path:
    """The part of an outline that a run's corner letters such as "D-A-B-C" name, travelled the run's way."""
    letters = run.text.split("-")
    edges = {
        frozenset((edge.start, edge.end)) if len(piece.letters) > 2 else (edge.start, edge.end): edge
        for edge in edges_of(piece)
    }
    steps = [edges.get(frozenset(pair) if len(piece.letters) > 2 else pair) for pair in pairwise(letters)]
    known = [edge for edge in steps if edge is not None]
    total = sum(edge.span for edge in known)
    first = known[0] if len(known) == 1 or known[0].end == known[1].start else known[-1]
    outline = piece.outline
    whole = total >= outline.length - GLUE_CLEAR
    path = outline.starting_at(first.low) if whole else outline.between(first.low, first.low + total)
    return path if (run.inside > 0) == (outline.signed_area() > 0) else path.reversed()


def _beside(
    seam: PunchedSeam, run: Run, line: Path, parts: Sequence[tuple[float, float]], width: float
) -> Region:
    """A band beside parts of an edge; of a line within a piece on each of its sides, clear of its holes."""
    paths = [line if part == (0.0, line.length) else line.between(*part) for part in parts]
    clear = 0.0 if run.inside else seam.stitching.hole.width / 2 + GLUE_CLEAR
    area = bands_of(paths, clear + width)
    return area.without(bands_of(paths, clear)) if clear else area


def _holes(punched: Punched, piece: str, lie: Affine, area: Region) -> Region:
    """What stitch holes and openings of a piece, as it lies, take of an area, `CLEAR` round each."""
    taken = area.without(area)
    for radius, points in _by_radius(punched, piece):
        there = lie.apply_all(points)
        off = area.outside(there, slack=radius)
        near = [at for k, at in enumerate(there) if k not in off]
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
