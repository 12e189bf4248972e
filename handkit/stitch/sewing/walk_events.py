"""The way at the bench: what happens at every place of a walk, and how the end is locked.

In: a seam as it is sewn, the holes it shares. Out: `WayStep`s, shared holes and a sentence.

The needle of the front goes first at every hole, back stitches included: only so do all stitches
slant alike (makers' guides). Which hand holds it is `hand` in the file.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from handkit.kinds.rows import table
from handkit.punch.punched import Punched, PunchedSeam
from handkit.read.project import Fibre
from handkit.stitch.plan import HolePartner, Thread, WalkEvent, WayStep
from handkit.stitch.sewing.kinds import first_face

LOCKS = table(
    Fibre,
    {
        Fibre.SYNTHETIC: (
            "Cut the ends {stub} long, melt them with a flame held near, and press them flat with metal. "
            "Molten drops burn, the fumes are not for breathing: fresh air, no cement or solvent near."
        ),
        Fibre.LINEN: (
            "Cut the ends flush, put a drop of glue on them and press them into the hole with the awl; "
            "linen chars and does not melt: no flame."
        ),
    },
)


def shared_holes_of(punched: Punched) -> dict[str, tuple[HolePartner, ...]]:
    """By seam: its holes that serve another seam as well, or its own other end. By number."""
    found: dict[str, set[HolePartner]] = {seam.name: set() for seam in punched.seams}
    for shared in punched.shared:
        for index, (seam, _, number) in enumerate(shared.users):
            for other, (name, _, hole) in enumerate(shared.users):
                if index != other and (name, hole) != (seam, number):
                    found[seam].add((number, name, hole))
    return {name: tuple(sorted(shared_holes)) for name, shared_holes in found.items()}


def way_steps(
    seam: PunchedSeam,
    walk: Sequence[int],
    threads: Sequence[Thread],
    partners: Sequence[HolePartner],
) -> tuple[WayStep, ...]:
    """Every place of the walk, in order. `partners` are of those holes that another thread passes as
    well, or its own a second time."""
    kind = seam.stitching.stitch
    events = _events(seam, walk, threads, {hole for hole, _, _ in partners})
    return tuple(
        WayStep(place, hole, first_face(kind, place), tuple(h for h in WalkEvent if h in events[place]))
        for place, hole in enumerate(walk)
    )


def _events(
    seam: PunchedSeam, walk: Sequence[int], threads: Sequence[Thread], shared: set[int]
) -> list[set[WalkEvent]]:
    corners = _corners(seam)
    found: list[set[WalkEvent]] = [set() for _ in walk]
    for place, hole in enumerate(walk):
        if hole in corners:
            found[place].add(WalkEvent.CORNER)
        if hole in shared:
            found[place].add(WalkEvent.SHARED)
    for place in _sewn_again(walk, rounds=seam.stitching.traits.rounds):
        found[place].add(WalkEvent.BACK_STITCH)
    if seam.stitching.wrap_start:
        found[0].add(WalkEvent.TURN)
    if seam.stitching.wrap_end:
        found[-1].add(WalkEvent.TURN)
    for thread in threads:
        if thread.begins(seam.name):
            found[thread.start].add(WalkEvent.JOIN if thread.number > 1 else WalkEvent.START)
        if thread.ends(seam.name):
            found[thread.end].add(WalkEvent.END)
    return found


def _corners(seam: PunchedSeam) -> set[int]:
    """Holes fixed by a corner or a match point of any layer; an open seam's ends are none."""
    ends = set() if seam.closed else {1, seam.count}
    return {hole.number for layer in seam.layers for hole in layer.holes if hole.corner} - ends


def _sewn_again(walk: Sequence[int], *, rounds: int) -> list[int]:
    """Places that are reached by a stitch that was sewn before, in every round there is."""
    seen: dict[frozenset[int], int] = {}
    found = []
    for place, pair in enumerate(pairwise(walk), start=1):
        stitch = frozenset(pair)
        seen[stitch] = seen.get(stitch, 0) + 1
        if seen[stitch] > rounds:
            found.append(place)
    return found
