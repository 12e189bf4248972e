"""Mouths: holes too near to an edge of a layer that crosses their run.

In: the seams with their holes, and which edges cross. Out: warnings, one for each layer and kind,
naming the worst hole. All mm, centre to edge.

A hole on the layer keeps 0.25 mm of leather at the mouth, one beside it its rim at the edge at the
least: `spacing/clearing` sees to that where it can be, and has the limits.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from handkit.draft.pattern import Pattern
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine
from handkit.punch.checks.nearness import EdgeIndex, edge_index
from handkit.punch.checks.seam_holes import SeamHole
from handkit.punch.punched import EdgeCross, PunchedLayer, PunchedSeam
from handkit.punch.spacing.clearing import least_off, least_on
from handkit.punch.spacing.crossings import origin_of
from handkit.read.project import Spacing
from handkit.tolerances import SAME_POINT
from handkit.units import without_noise

# By seam and run of a layer: the segments of its outline that its own run crosses.
Mouths = Mapping[tuple[str, int], frozenset[int]]


class _Near(msgspec.Struct, frozen=True):
    """A hole too near to a mouth."""

    hole: SeamHole
    inside: bool
    apart: float
    least: float

    @property
    def short(self) -> float:
        return without_noise(self.least - self.apart)


def mouths_of(seams: Sequence[PunchedSeam], crossings: Sequence[EdgeCross]) -> Mouths:
    """The mouths of all layers that go part of the way."""
    parts = {(seam.name, layer.run) for seam in seams for layer in seam.layers if not seam.is_whole(layer)}
    found: dict[tuple[str, int], set[int]] = {}
    for cross in crossings:
        if (cross.seam, cross.run) in parts:
            found.setdefault((cross.seam, cross.run), set()).add(cross.edge)
    return {layer: frozenset(edges) for layer, edges in found.items()}


def mouth_findings(pattern: Pattern, seams: Sequence[PunchedSeam], mouths: Mouths) -> tuple[Finding, ...]:
    """What the holes of all layers that go part of the way have to tell of their edges."""
    findings: list[Finding] = []
    for order, seam in enumerate(seams):
        for layer in seam.layers:
            crossed = mouths.get((seam.name, layer.run), frozenset())
            if not seam.is_whole(layer):
                near = list(_near(pattern, (order, seam), layer, crossed))
                findings.extend(_tellings(seam, layer, near))
    return tuple(findings)


def _near(
    pattern: Pattern, of: tuple[int, PunchedSeam], layer: PunchedLayer, crossed: frozenset[int]
) -> Iterator[_Near]:
    """The holes of a layer's run that are too near to it, whether on it or beside it."""
    order, seam = of
    origin = seam.layers[origin_of(seam.pattern, layer.run - 1)]
    lie = pattern.carry_run(seam.run_of(origin), seam.run_of(layer)) or Affine()
    outline = pattern.piece(layer.piece).outline.moved(lie.inverse())
    reach = least_on(seam.stitching.hole.width)
    mouth = edge_index(outline, reach=reach, kept=crossed.__contains__)
    whole = edge_index(outline, reach=reach)
    for at in origin.holes:
        hole = SeamHole(order, seam, origin, at)
        inside = layer.hole(at.number) is not None
        found = _too_near(hole, mouth if inside else whole, inside=inside)
        if found is not None:
            yield found


def _too_near(hole: SeamHole, edges: EdgeIndex, *, inside: bool) -> _Near | None:
    nearest = edges.nearest(hole.at)
    if nearest is None:
        return None
    apart, foot = nearest
    width = hole.width_towards(foot)
    least = least_on(width) if inside else least_off(width)
    return _Near(hole, inside, apart, least) if apart < least - SAME_POINT else None


def _tellings(seam: PunchedSeam, layer: PunchedLayer, near: Sequence[_Near]) -> list[Finding]:
    """The worst of the holes that can't move, and of the others."""
    fixed = [one for one in near if one.hole.hole.corner]
    moved = [one for one in near if not one.hole.hole.corner]
    iron = seam.stitching.spacing is Spacing.IRON
    groups = (("hole-at-mouth/fixed", fixed), ("hole-at-mouth/iron" if iron else "hole-at-mouth", moved))
    return [_telling(key, seam, layer, group) for key, group in groups if group]


def _telling(key: str, seam: PunchedSeam, layer: PunchedLayer, near: Sequence[_Near]) -> Finding:
    worst, source = max(near, key=lambda one: one.short), seam.run_of(layer).source
    return finding(
        key,
        source.at(),
        hole=worst.hole.text,
        apart=worst.apart,
        side="inside" if worst.inside else "outside",
        piece=layer.piece,
        count=len(near),
        least=worst.least,
        by=source.units.length.no_less(worst.short),
    ).at_holes(seam.name, [one.hole.hole.number for one in near])
