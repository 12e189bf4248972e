"""Matching: which holes are fixed on each run of a seam, and how many steps lie between them.

In: a seam with its lines. Out: `Matched`: for every run with a line of its own the same number of
fixed holes, as distances along it in mm, and the steps of every stretch; or findings.

Words: a *fixed hole* stands at an end, a corner of over 30 degrees or a match point; a *stretch* is
the way between two of them. *Gates* are the fixed holes that every run has of itself: the ends
and the match points; corners are paired between gates.

    run 1   |────────^──────────^────|      two corners
    run 2   |──────────^───────────^─|      two corners: paired in order
    run 3   |────────·──────────·────|      none: fixed at the same share of the length

Corners are never paired by nearness alone, but two that would fix holes less than half a pitch
apart are one hole: there is no room for two.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import msgspec

from handkit.draft.pattern import PatternSeam, Run
from handkit.findings import Finding, finding
from handkit.punch.spacing.spacing import steps_in
from handkit.read.project import SlitHole, Stitching
from handkit.tolerances import COINCIDE, SAME_POINT

# More steps than this on one run is a slip of the pen, not a seam: 200 m at 4 mm.
MOST_STEPS = 50_000

# The fewest steps that go round: two would lie on one another.
LEAST_ROUND = 3


class Matched(msgspec.Struct, frozen=True):
    """Fixed holes and steps. `runs` are indices into the seam's runs; `fixed[i]` belongs to `runs[i]`.

    All rows of `fixed` are equally long, one more than `counts`; on a closed run the last entry is
    the whole length: the first hole again. `soft` are the entries that only clear a layer's edge.
    """

    runs: tuple[int, ...]
    fixed: tuple[tuple[float, ...], ...]
    counts: tuple[int, ...]
    soft: frozenset[int] = frozenset()

    @property
    def steps(self) -> int:
        """Of the whole run."""
        return sum(self.counts)

    def lengths(self, row: int) -> tuple[float, ...]:
        """Length of each stretch of one run, along it."""
        return tuple(b - a for a, b in pairwise(self.fixed[row]))


# One fixed hole: its distance along each run, None where that run does not know it yet.
_Known = tuple[float | None, ...]
_Fixed = tuple[float, ...]


def matched(seam: PatternSeam) -> tuple[Matched | None, tuple[Finding, ...]]:
    """The fixed holes of a seam's runs, paired, and the steps between; None with what is wrong.

    The first run with a line sets the steps of every stretch: length ÷ pitch, halves up, at least 1;
    fewer where they would stand too close.
    """
    rows = tuple(index for index, run in enumerate(seam.runs) if run.path is not None)
    runs = [seam.runs[index] for index in rows]
    gates, crossing = _gates(seam, runs)
    if crossing:
        return None, crossing
    holes = [gates[0]]
    for before, after in pairwise(gates):
        holes.extend((*_corners_between(runs, before, after, seam.stitching.pitch), after))
    fixed = tuple(tuple(hole[row] for hole in holes) for row in range(len(runs)))
    findings = _out_of_order(seam, runs, fixed)
    if findings:
        return None, findings
    pitch = seam.stitching.pitch
    least = _least_step(seam.stitching)
    counts = tuple(steps_in(b - a, pitch, least=least) for a, b in pairwise(fixed[0]))
    findings = _bad_count(seam, sum(counts))
    return (None, findings) if findings else (Matched(rows, fixed, counts), ())


def _gates(seam: PatternSeam, runs: Sequence[Run]) -> tuple[list[_Fixed], tuple[Finding, ...]]:
    """The ends and the match points, in order along the runs; whole match points first."""
    gates: list[_Fixed] = [tuple(0.0 for _ in runs), tuple(run.length for run in runs)]
    points = enumerate(zip(*(run.meets for run in runs), strict=True), start=1)
    for number, known in sorted(points, key=lambda point: (point[1].count(None), point[0])):
        slots = {_slot(gates, row, along) for row, along in enumerate(known) if along is not None}
        if not slots:
            continue
        slot = slots.pop()
        if slots or slot in (0, len(gates)):
            return gates, (finding("match-points-cross", seam.source.at("match"), number=number),)
        if slot > 0:
            gates.insert(slot, _spread(known, gates[slot - 1], gates[slot]))
    return gates, ()


def _slot(gates: Sequence[_Fixed], row: int, along: float) -> int:
    """Which gate a place on one run lies before; below 0 where it is gate −1 − slot itself."""
    for index, gate in enumerate(gates):
        if abs(gate[row] - along) <= COINCIDE:
            return -1 - index
        if gate[row] > along:
            return index
    return len(gates)


def _corners_between(runs: Sequence[Run], before: _Fixed, after: _Fixed, pitch: float) -> list[_Fixed]:
    """The fixed holes between two gates: each corner of each run, on all runs."""
    corners = [
        [c for c in run.corners if before[row] + COINCIDE < c < after[row] - COINCIDE]
        for row, run in enumerate(runs)
    ]
    paired: list[_Known] = []
    for count in sorted({len(own) for own in corners if own}):
        group = [own if len(own) == count else None for own in corners]
        paired.extend(tuple(None if own is None else own[k] for own in group) for k in range(count))
    paired.sort(key=lambda known: _share(known, before, after))
    known = _joined(paired, before, after, pitch)
    return [_filled(known, k, before, after) for k in range(len(known))]


def _share(known: _Known, before: _Fixed, after: _Fixed) -> float:
    """Where between two holes a third lies, 0 to 1, on the first run that knows it."""
    row, along = next((row, along) for row, along in enumerate(known) if along is not None)
    return (along - before[row]) / (after[row] - before[row])


def _joined(holes: Sequence[_Known], before: _Fixed, after: _Fixed, pitch: float) -> list[_Known]:
    """Neighbours of unlike runs that would stand less than half a pitch apart made one hole."""
    joined: list[_Known] = []
    near = pitch / 2 / (after[0] - before[0])
    for hole in holes:
        apart = _share(hole, before, after) - _share(joined[-1], before, after) if joined else near
        if apart < near and all(a is None or b is None for a, b in zip(joined[-1], hole, strict=True)):
            joined[-1] = tuple(b if a is None else a for a, b in zip(joined[-1], hole, strict=True))
        else:
            joined.append(hole)
    return joined


def _filled(holes: Sequence[_Known], index: int, before: _Fixed, after: _Fixed) -> _Fixed:
    """One hole on all runs: where a run lacks it, at the same share between the nearest common ones."""
    around = [before, *holes, after]
    hole = holes[index]
    giver = next(row for row, along in enumerate(hole) if along is not None)
    return tuple(
        _mate(around, index + 1, giver, row) if along is None else along for row, along in enumerate(hole)
    )


def _mate(around: Sequence[_Known], at: int, giver: int, row: int) -> float:
    """The place on a run of a hole that another run gives, between the nearest holes both know."""
    low = next(two for two in (_two(h, giver, row) for h in reversed(around[:at])) if two)
    high = next(two for two in (_two(h, giver, row) for h in around[at + 1 :]) if two)
    return _spread((around[at][giver], None), low, high)[1]


def _two(hole: _Known, giver: int, row: int) -> _Fixed | None:
    """A hole's places on two runs, None where not both know it."""
    given, own = hole[giver], hole[row]
    return None if given is None or own is None else (given, own)


def _spread(hole: _Known, before: _Fixed, after: _Fixed) -> _Fixed:
    """A hole on all runs, by its share between two holes that all have."""
    share = _share(hole, before, after)
    return tuple(
        before[row] + share * (after[row] - before[row]) if along is None else along
        for row, along in enumerate(hole)
    )


def _out_of_order(seam: PatternSeam, runs: Sequence[Run], fixed: Sequence[_Fixed]) -> tuple[Finding, ...]:
    """Fixed holes that would lie one before the other: corners that cross over."""
    where = seam.source.at("match")
    return tuple(
        finding("corners-cross", where, run=run.label)
        for run, row in zip(runs, fixed, strict=True)
        if any(b - a <= SAME_POINT for a, b in pairwise(row))
    )


def _least_step(stitching: Stitching) -> float:
    """What no step may be under; 0 for slits, which a bend turns towards one another."""
    return 0.0 if isinstance(stitching.hole, SlitHole) else stitching.least_step


def _bad_count(seam: PatternSeam, steps: int) -> tuple[Finding, ...]:
    """Too few steps to go round, or more than anyone sews."""
    where, pitch = seam.source.at("pitch"), seam.stitching.pitch
    if steps > MOST_STEPS:
        return (finding("too-many-holes/run", where, steps=steps, pitch=pitch, most=MOST_STEPS),)
    if seam.closed and steps < LEAST_ROUND:
        return (finding("closed-seam-too-short", where, steps=steps, pitch=pitch, least=LEAST_ROUND),)
    return ()
