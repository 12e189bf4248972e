"""Mouths: turns of the thread round the edge at a seam's ends.

In: a seam with its holes, the pattern, the stacks. Out: `Mouth`s, and what is wrong with them.

    ·  ·  ·  ·|          · a hole, | the mouth's edge, o the extra hole in the base, `past` beyond it
    ----------+--o---    a turn: out on one face, down, and back on the other: 2 (e + past) + 2 T

Words: the *mouth* is the edge the seam ends at; the *base* is the layer that goes on past it. A turn
through the extra hole goes through the stack twice as well, once at each hole, and lies over the
mouth's edge, which it keeps from peeling.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.draft.pattern import Pattern
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.region import region_of
from handkit.geometry.straight import distance
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.stitch.plan import DECIMALS, Mouth
from handkit.stitch.sewing.thread import wrap_length
from handkit.tolerances import EDGE_SLACK


class EndTurns(msgspec.Struct, frozen=True):
    """The turns at both ends; None where there are none."""

    start: Mouth | None
    end: Mouth | None
    findings: tuple[Finding, ...]

    @property
    def all(self) -> tuple[Mouth, ...]:
        """Those there are, the start's first."""
        return tuple(mouth for mouth in (self.start, self.end) if mouth)


def mouths_of(seam: PunchedSeam, pattern: Pattern, stacks: tuple[float, ...]) -> EndTurns:
    """The turns at both ends; an error for an extra hole that no layer has room for."""
    settings = seam.stitching
    far = 1 if seam.closed else seam.count
    findings: list[Finding] = []
    ends = []
    for key, hole, turns, past in (
        ("past_start", 1, settings.wrap_start, settings.past_start),
        ("past_end", far, settings.wrap_end, settings.past_end),
    ):
        mouth = _mouth(seam, pattern, hole, turns=turns, stack=stacks[hole - 1]) if turns else None
        ends.append(_with_base(mouth, seam, pattern, past) if mouth and past else mouth)
        if past and mouth and ends[-1] is mouth:
            where = seam.source.at(key)
            findings.append(finding("past-without-base", where, past=past, key=key))
    return EndTurns(ends[0], ends[1], tuple(findings))


def _mouth(seam: PunchedSeam, pattern: Pattern, hole: int, *, turns: int, stack: float) -> Mouth:
    """The edge is the nearest of any layer's: that is the mouth's."""
    to_edge = min(
        pattern.piece(layer.piece).outline.distance_to(own.at)
        for layer in seam.layers
        if (own := layer.hole(hole)) is not None
    )
    thread = wrap_length(turns, to_edge=to_edge, stack=stack)
    return Mouth(hole, turns, round(to_edge, DECIMALS), round(thread, DECIMALS))


def _with_base(mouth: Mouth, seam: PunchedSeam, pattern: Pattern, past: float) -> Mouth:
    """With the extra hole in the base, from the back forward; as it is where no layer goes on."""
    for layer in _from_the_back(seam):
        piece = pattern.piece(layer.piece)
        own, before = layer.hole(mouth.hole), layer.hole(_neighbour(seam, mouth.hole))
        if own is None or before is None:
            continue
        at = _straight_on(before.at, own.at, mouth.to_edge + past)
        goes_on = piece.outline.distance_to(own.at) > mouth.to_edge + EDGE_SLACK
        if at and goes_on and region_of(piece.outline).contains(at):
            thread = round(mouth.thread + 2 * mouth.turns * past, DECIMALS)
            return msgspec.structs.replace(mouth, thread=thread, past=past, base=layer.piece, at=at)
    return mouth


def _from_the_back(seam: PunchedSeam) -> Iterable[PunchedLayer]:
    return (seam.layers[index] for index in reversed(seam.pattern.face_to_back))


def _neighbour(seam: PunchedSeam, hole: int) -> int:
    """The number of the hole next to one at a seam's end; its own in a seam of one hole."""
    return hole - 1 if hole > 1 else min(2, seam.count)


def _straight_on(before: Point, end: Point, by: float) -> Point | None:
    """So far on from the seam's neighbouring hole; None for a seam of one hole."""
    if before == end:
        return None
    x, y = end
    step = distance(before, (x, y))
    on = ((x - before[0]) * by / step, (y - before[1]) * by / step)
    return round(x + on[0], DECIMALS), round(y + on[1], DECIMALS)
