"""Edges: holes that stand outside their piece, or too near to its edge.

In: a piece and its holes. Out: findings, one for each run and kind, naming the worst hole. All mm,
centre to edge.

Words: the *stack* is the thickness of all layers that a hole goes through; a hole under two of its
widths from the edge tears out; under 3 mm or half the stack it is weak (common practice). A slit that
ends a row bears one stitch and cuts nothing out: down to one width it is only told. A *mouth* is an
edge of a layer that its own run crosses: `mouths` tells of that. The ends of a tube that are sewn edge to
edge are none of an edge for the row that goes on across them.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.findings import Finding, Where, finding
from handkit.geometry.region import Region, region_of
from handkit.grouping import grouped
from handkit.kinds.edge_works import EdgeWork
from handkit.kinds.stitch_holes import EDGE_WIDTHS
from handkit.punch.checks.mouths import Mouths
from handkit.punch.checks.nearness import EdgeIndex, edge_index
from handkit.punch.checks.seam_holes import SeamHole
from handkit.punch.checks.threading import dense
from handkit.punch.punched import PunchedSeam
from handkit.read.project import Edges, Layer, SlitHole
from handkit.tolerances import COINCIDE, EDGE_SLACK, SAME_POINT
from handkit.units import without_noise

# A hole nearer to the edge than this, in mm, is weak whatever its width.
EDGE_WEAK = 3.0


class _Near(msgspec.Struct, frozen=True):
    """A hole near the edge: how far it is, and how far it should be."""

    hole: SeamHole
    apart: float
    allowed: float

    def told(self, piece: PatternPiece, count: int) -> dict[str, object]:
        """What a finding says of it, the worst of `count`."""
        return {
            "hole": self.hole.text,
            "apart": self.apart,
            "piece": piece.name,
            "count": count,
            "least": self.allowed,
        }


def edge_findings(
    pattern: Pattern, piece: PatternPiece, holes: Sequence[SeamHole], mouths: Mouths
) -> tuple[Finding, ...]:
    """What the holes of one piece have to tell of its edge, mouths left out."""
    rows = grouped(holes, by=lambda hole: hole.row)
    weak = {row: _weak(pattern, own[0].seam) for row, own in rows.items()}
    reach = max(
        (
            max(*weak[row].values(), EDGE_WIDTHS * own[0].seam.stitching.hole.width)
            for row, own in rows.items()
        ),
        default=1.0,
    )
    held = _held(piece)
    region, edges = region_of(piece.outline), edge_index(piece.outline, reach=reach, kept=_not_in(held))
    findings: list[Finding] = []
    for row, own in rows.items():
        crossed = mouths.get((own[0].seam.name, own[0].layer.run), frozenset()) | own[0].run.joined
        without = edge_index(piece.outline, reach=reach, kept=_not_in(crossed | held)) if crossed else edges
        findings.extend(_row_findings(piece, own, region, without, weak[row]))
    return tuple(findings)


def _held(piece: PatternPiece) -> frozenset[int]:
    """The parts of the outline at which nothing tears out: the material goes on beyond them, as an allowance,
    or is cloth that is folded or bound there and only pierced between its yarns."""
    if not piece.works:
        return frozenset()
    beyond = {
        segment
        for each in piece.works
        if each.work.work is EdgeWork.ALLOWANCE or not piece.traits.words.punched
        for segment in each.path.segments
    }
    return frozenset(k for k, segment in enumerate(piece.outline.segments) if segment in beyond)


def _not_in(crossed: frozenset[int]) -> Callable[[int], bool]:
    return lambda index: index not in crossed


def _weak(pattern: Pattern, seam: PunchedSeam) -> dict[int, float]:
    """How near an edge a hole is weak, by the number of the last hole of each stretch of alike layers."""
    return {
        one.last: max(EDGE_WEAK, sum(pattern.piece(layer.piece).thickness for layer in one.layers) / 2)
        for one in seam.stacks
    }


def _row_findings(
    piece: PatternPiece,
    holes: Sequence[SeamHole],
    region: Region,
    edges: EdgeIndex,
    weak: Mapping[int, float],
) -> list[Finding]:
    """The findings of one run: outside, under two widths, a last slit under two, weak."""
    lasts = tuple(weak)
    gone = region.outside([hole.at for hole in holes], slack=EDGE_SLACK)
    outside = [holes[index] for index in sorted(gone)]
    torn: list[_Near] = []
    last: list[_Near] = []
    thin: list[_Near] = []
    for index, hole in enumerate(holes):
        nearest = None if index in gone else edges.nearest(hole.at)
        if nearest is None:
            continue
        apart, foot = nearest
        least = EDGE_WIDTHS * hole.width_towards(foot)
        if apart < least - SAME_POINT:
            little = _ends_in_slit(hole) and apart >= least / 2 - SAME_POINT
            (last if little else torn).append(_Near(hole, apart, least))
            continue
        own = weak[lasts[bisect_left(lasts, hole.hole.number)]]
        if apart < own - SAME_POINT:
            thin.append(_Near(hole, apart, own))
    findings = [_outside(piece, outside)] if outside else []
    findings += [_worst("hole-at-edge", piece, torn)] if torn else []
    findings += [_worst("slit-near-edge", piece, last)] if last else []
    return findings + ([_thin(piece, thin)] if thin else [])


def _outside(piece: PatternPiece, holes: Sequence[SeamHole]) -> Finding:
    """Names the first hole: outside, there is no worst that helps."""
    first, count = holes[0], len(holes)
    told = finding("hole-outside", first.run.source.at(), hole=first.text, piece=piece.name, count=count)
    return told.at_holes(first.seam.name, [hole.hole.number for hole in holes], piece.name)


def _ends_in_slit(hole: SeamHole) -> bool:
    """The first or the last hole of a row with two ends, and a slit."""
    is_end = not hole.seam.closed and hole.hole.number in (1, hole.seam.count)
    return is_end and isinstance(hole.seam.stitching.hole, SlitHole)


def _worst(key: str, piece: PatternPiece, near: Sequence[_Near]) -> Finding:
    worst = max(near, key=lambda one: without_noise(one.allowed - one.apart))
    holes = (worst.hole.seam.name, [one.hole.hole.number for one in near], piece.name)
    told = finding(key, worst.hole.run.source.at(), **worst.told(piece, len(near))).at_holes(*holes)
    if key != "hole-at-edge":
        return told.following(dense(worst.hole.seam))
    seam = worst.hole.seam
    layer = next(iter(seam.pattern.seam.layers[worst.hole.layer.run - 1 :]), None)
    stated = layer is not None and isinstance(layer.run, Edges) and worst.apart > layer.inset - COINCIDE
    if layer is not None and stated and 2 * len(near) > len(worst.hole.layer.holes):  # not its ends alone
        return _inset_too_small(piece, worst, layer).at_holes(*holes)
    inset = f"{seam.source.path}: holes {worst.apart:.2f} mm from the edge"  # layers that end flush have one
    told = told.once(inset).following(dense(seam))
    as_said = abs(worst.apart - seam.stitching.inset) < COINCIDE
    return told.following(_set_at(seam.source.at("inset"))) if as_said else told


def _inset_too_small(piece: PatternPiece, worst: _Near, layer: Layer) -> Finding:
    """A row that stands where its inset says, which is too near: told once for all that a line says it of."""
    own, seam = layer.source.says("inset"), worst.hole.seam
    where = (layer.source if own else seam.source).at("inset")
    told: dict[str, object] = {"inset": layer.inset, "hole": seam.stitching.hole.width, "piece": piece.name}
    fault = finding("inset-too-small", where, **told, least=worst.allowed)
    return fault.once(_set_at(where)).following(dense(seam))


def _set_at(where: Where) -> str:
    """An inset that one line of the file says, as findings that follow from it name it."""
    return f"inset in line {where.line}"


def _thin(piece: PatternPiece, near: Sequence[_Near]) -> Finding:
    worst = min(near, key=lambda one: without_noise(one.apart))
    where, told = worst.hole.run.source.at(), worst.told(piece, len(near))
    return finding("hole-near-edge", where, **told, weak=EDGE_WEAK)
