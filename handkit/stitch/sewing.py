"""Sewing: one seam on its own, before its place in the order is known.

In: a seam with its holes, the pattern for thicknesses. Out: walk, moves, threads, and what there
is to say about them.

Words: *front* is the face layer, which is looked at while stitching, *back* the one on the far
side; where a piece is in the seam twice, each of its runs is a layer of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from handkit.draft.pattern import Pattern
from handkit.findings import Finding, Source, error, note, warning
from handkit.punch.punched import PunchedSeam
from handkit.stitch.plan import Move, Thread
from handkit.stitch.stack import DECIMALS, seam_stacks, to_path
from handkit.stitch.thread import Sewn, least_side, moves, rule_of_thumb, threads, wrap_length
from handkit.stitch.walk import most_back, walk


@dataclass(frozen=True, slots=True)
class Sewing:
    """How one seam is sewn. `pitch` is the mean step on the face, `stack` the greatest."""

    punched: PunchedSeam
    length: float
    pitch: float
    stack: float
    walk: tuple[int, ...]
    moves: tuple[Move, ...]
    threads: tuple[Thread, ...]
    findings: tuple[Finding, ...]

    @property
    def thread(self) -> float:
        """All that is cut."""
        return round(sum(thread.cut for thread in self.threads), DECIMALS)

    @property
    def wraps(self) -> float:
        """Thread in turns round the edge."""
        return round(sum(thread.wraps for thread in self.threads), DECIMALS)

    @property
    def rule(self) -> float:
        """What the rule of thumb would cut."""
        return round(rule_of_thumb(self.length), DECIMALS)


def sew(seam: PunchedSeam, pattern: Pattern) -> Sewing:
    """The walk, moves and threads of a seam; findings where it can't be sewn as the file has it."""
    settings = seam.pattern.seam.stitching
    way = walk(seam.count, closed=seam.closed, back=settings.back, start_back=settings.start_back)
    stacks = seam_stacks(seam, pattern)
    steps = moves(
        way,
        front=[hole.at for hole in seam.face.holes],
        back=[hole.at for hole in seam.back.holes],
        stacks=stacks,
    )
    far = 1 if seam.closed else seam.count
    sewn = Sewn(
        steps,
        tuple(stacks[number - 1] for number in way),
        _wrap(settings.wrap_start, 1, seam, pattern, stacks),
        _wrap(settings.wrap_end, far, seam, pattern, stacks),
        settings.tail,
    )
    cut = threads(sewn, longest_side=settings.longest_side)
    return Sewing(
        punched=seam,
        length=round(seam.face.length, DECIMALS),
        pitch=_mean_step(seam),
        stack=max(stacks),
        walk=way,
        moves=steps,
        threads=cut,
        findings=(*_too_many_back(seam), *(() if cut else (_no_thread(seam, sewn),))),
    )


def rule_falls_short(sewings: Iterable[Sewing], source: Source) -> tuple[Finding, ...]:
    """One warning that lists every seam for which the rule of thumb cuts too little."""
    short = [sewing for sewing in sewings if sewing.rule < sewing.thread]
    if not short:
        return ()
    listed = ", ".join(f'"{s.punched.name}" {s.rule:.0f} for {s.thread:.0f} mm' for s in short)
    return (
        warning(
            "rule-of-thumb-short",
            source.at(),
            found=f"too little thread by the rule of thumb, five times the seam plus 100 mm: {listed}",
            remedy="cut what the plan says",
        ),
    )


def _mean_step(seam: PunchedSeam) -> float:
    """The mean step on the face, straight across, round and back where closed; 0 for one hole."""
    numbers = range(1, seam.count + 1)
    way = (*numbers, 1) if seam.closed else tuple(numbers)
    places = [hole.at for hole in seam.face.holes]
    steps = moves(way, front=places, back=places, stacks=[0.0] * seam.count)
    return sum(step.front for step in steps) / len(steps) if steps else 0.0


def _wrap(turns: int, number: int, seam: PunchedSeam, pattern: Pattern, stacks: tuple[float, ...]) -> float:
    """Thread in wraps at a hole. The edge is the nearest of any layer's: that is the mouth's."""
    to_edge = min(
        to_path(layer.holes[number - 1].at, pattern.piece(layer.piece).outline) for layer in seam.layers
    )
    return round(wrap_length(turns, to_edge=to_edge, stack=stacks[number - 1]), DECIMALS)


def _too_many_back(seam: PunchedSeam) -> tuple[Finding, ...]:
    """A note for each end that is told more back stitches than the seam has."""
    settings, most = seam.pattern.seam.stitching, most_back(seam.count)
    return tuple(
        note(
            "back-stitches-end",
            seam.pattern.seam.source.at(key),
            found=f"{wanted} back stitches in a seam of {seam.count} holes",
            allowed=f"at most {most}",
            remedy=f"the plan has {most}; say so in the file if that is meant",
        )
        for key, wanted in (("back", settings.back), ("start_back", settings.start_back))
        if wanted > most
    )


def _no_thread(seam: PunchedSeam, sewn: Sewn) -> Finding:
    """The error where tails and overlap leave nothing of the longest thread allowed."""
    settings = seam.pattern.seam.stitching
    return error(
        "longest-thread-too-short",
        seam.pattern.seam.source.at("longest"),
        found=f"a longest thread of {settings.longest_side:g} mm a side",
        allowed=f"at least {ceil(least_side(sewn))} mm here, {settings.tail:g} mm of it tail",
        remedy="allow a longer thread or shorter tails",
    )
