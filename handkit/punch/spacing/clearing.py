"""Clearing: holes spaced clear of the edges of layers that cross their run.

In: the matched fixed holes of a seam, and the crossings of its layers' edges. Out: the same with two
more fixed holes at each edge that a hole of the plain spacing would come too near to. All mm.

    plain   ·    ·    ·│   ·    ·        a hole in the leather that is left at a pocket's mouth tears
    clear   ·    ·   · │  ·    ·         out: the last hole before the edge and the first behind it
                 ← least →               keep off it, and the strand goes over it

Between two fixed holes all steps are alike, and no more unlike the plain step than ease may be; a
stretch may have a hole more or less for it. `clear_steps` has the search.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import cos, radians, sin

import msgspec

from handkit.draft.pattern import Pattern, PatternSeam
from handkit.punch.punched import EdgeCross
from handkit.punch.spacing.clear_steps import Gate, Spread, merged_gates, spread_clear
from handkit.punch.spacing.dividers import measured_path
from handkit.punch.spacing.matching import Matched
from handkit.punch.spacing.spacing import even
from handkit.read.project import RoundHole, Spacing
from handkit.tolerances import SAME_POINT

# Leather that is left between a hole and the mouth of its layer, rim to edge: better, and at least
# (common practice, no source: what a sharp punch leaves whole; the strand over the edge takes the pull).
MOUTH_BETTER = 0.5
MOUTH_LEAST = 0.25


class Rule(msgspec.Struct, frozen=True):
    """How far holes keep off an edge, by their width towards it, and how unlike the steps may be."""

    on: Callable[[float], float]
    off: Callable[[float], float]
    share: float


def least_on(width: float) -> float:
    """How far a hole on a layer keeps off its mouth at least, centre to edge."""
    return width / 2 + MOUTH_LEAST


def least_off(width: float) -> float:
    """The same beside the layer: its rim at the edge."""
    return width / 2


def rules_of(pattern: Pattern, seam: PatternSeam) -> tuple[Rule, ...]:
    """What is tried, the best first; the strictest material of the seam sets the shares."""
    limits = [pattern.piece(run.piece).traits.seam_ease for run in seam.runs]
    silent, warned = min(one.silent for one in limits), min(one.warned for one in limits)
    return (
        Rule(lambda width: 2 * width, lambda width: width, silent),
        Rule(lambda width: width / 2 + MOUTH_BETTER, least_off, warned),
        Rule(least_on, least_off, warned),
    )


def cleared(pattern: Pattern, seam: PatternSeam, holes: Matched, crossings: Sequence[EdgeCross]) -> Matched:
    """The fixed holes with those that clear the layers' edges; as they were where none is in the way,
    where none can be cleared, and where an iron spaces the holes.
    """
    if not crossings or seam.stitching.spacing is Spacing.IRON:
        return holes
    rules = rules_of(pattern, seam)
    columns: list[tuple[float, ...]] = [tuple(row[0] for row in holes.fixed)]
    counts: list[int] = []
    soft: list[int] = []
    for stretch, count in enumerate(holes.counts):
        before, after = (tuple(row[k] for row in holes.fixed) for k in (stretch, stretch + 1))
        spread = _spread(seam, holes, stretch, crossings, rules) or Spread((), count)
        done = 0
        for place, number in spread.fixed:
            share = place / (after[0] - before[0])
            soft.append(len(columns))
            columns.append(tuple(a + share * (b - a) for a, b in zip(before, after, strict=True)))
            counts.append(number - done)
            done = number
        columns.append(after)
        counts.append(spread.steps - done)
    return Matched(holes.runs, tuple(zip(*columns, strict=True)), tuple(counts), frozenset(soft))


def _spread(
    seam: PatternSeam, holes: Matched, stretch: int, crossings: Sequence[EdgeCross], rules: Sequence[Rule]
) -> Spread | None:
    """The holes of one stretch, or None where the plain ones are clear or nothing can be done."""
    length = holes.lengths(0)[stretch]
    own = [cross for cross in crossings if _is_in(holes, stretch, cross)]
    own = [cross for cross in own if _clears_ends(_gate(seam, holes, stretch, cross, rules[-1]), length)]
    if not own:
        return None
    least = [_gate(seam, holes, stretch, cross, rules[-1]) for cross in own]
    if _are_clear(_plain(seam, holes, stretch), least):
        return None
    pitch = length / holes.counts[stretch]
    for rule in rules:
        gates = merged_gates([_gate(seam, holes, stretch, cross, rule) for cross in own])
        if all(_clears_ends(gate, length) for gate in gates):
            found = spread_clear(length, gates, pitch=pitch, share=rule.share)
            if found is not None:
                return found
    return None


def _is_in(holes: Matched, stretch: int, cross: EdgeCross) -> bool:
    row = holes.fixed[holes.runs.index(cross.origin)]
    return row[stretch] <= cross.along < row[stretch + 1]


def _gate(seam: PatternSeam, holes: Matched, stretch: int, cross: EdgeCross, rule: Rule) -> Gate:
    """What is kept free about an edge, along the first run's stretch."""
    row = holes.runs.index(cross.origin)
    scale = holes.lengths(0)[stretch] / holes.lengths(row)[stretch]
    at = (cross.along - holes.fixed[row][stretch]) * scale
    width, slant = _width(seam, cross), scale / sin(radians(cross.degrees))
    on, off = rule.on(width) * slant, rule.off(width) * slant
    return (at - off, at + on) if cross.onto else (at - on, at + off)


def _width(seam: PatternSeam, cross: EdgeCross) -> float:
    """How wide a hole is towards an edge: of a slit the wider of both ways it may slant there."""
    settings, shape = seam.stitching, seam.stitching.hole
    if isinstance(shape, RoundHole):
        return shape.width
    across = 90.0 - cross.degrees
    shares = (abs(cos(radians(shape.slant + turn))) for turn in (across, -across))
    return max(shape.width * max(shares), settings.thread)


def _clears_ends(gate: Gate, length: float) -> bool:
    """Whether the fixed holes at a stretch's ends lie clear of an edge."""
    return gate[0] >= -SAME_POINT and gate[1] <= length + SAME_POINT


def _plain(seam: PatternSeam, holes: Matched, stretch: int) -> tuple[float, ...]:
    """The holes of the plain spacing, along the first run's stretch; none where there is no spacing."""
    path = seam.runs[holes.runs[0]].path
    assert path is not None, "a matched run has a line"
    line = measured_path(path.between(*holes.fixed[0][stretch : stretch + 2]))
    spaced = even(line, holes.counts[stretch])
    return tuple(line.along(place) for place in spaced.places) if spaced is not None else ()


def _are_clear(places: Sequence[float], gates: Sequence[Gate]) -> bool:
    return not any(low + SAME_POINT < at < high - SAME_POINT for low, high in gates for at in places)
