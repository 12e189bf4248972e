"""The way at the bench: what happens at every place of a walk, and how the end is locked.

In: a seam as it is sewn, the holes it shares. Out: `WayStep`s, meetings and a sentence.

The needle of the front goes first at every hole, back stitches included: only so do all stitches
slant alike (makers' guides). Which hand holds it is `hand` in the file.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from handkit.kinds.rows import table
from handkit.punch.punched import Punched, PunchedSeam
from handkit.read.project import Fibre
from handkit.stitch.plan import Happening, WayStep
from handkit.stitch.sewing.kinds import first_face
from handkit.stitch.sewing.sewing import Sewing

Meeting = tuple[int, str, int]

LOCKS = table(
    Fibre,
    {
        Fibre.SYNTHETIC: (
            "Cut the ends 2 mm long, melt them with a flame held near, and press them flat with metal. "
            "Molten drops burn, the fumes are not for breathing: fresh air, no cement or solvent near."
        ),
        Fibre.LINEN: (
            "Cut the ends flush, put a drop of glue on them and press them into the hole with the awl; "
            "linen chars and does not melt: no flame."
        ),
    },
)


def meetings_of(punched: Punched) -> dict[str, tuple[Meeting, ...]]:
    """By seam: its holes that serve another seam as well, or its own other end. By number."""
    found: dict[str, set[Meeting]] = {seam.name: set() for seam in punched.seams}
    for shared in punched.shared:
        for index, (seam, _, number) in enumerate(shared.users):
            for other, (name, _, hole) in enumerate(shared.users):
                if index != other and (name, hole) != (seam, number):
                    found[seam].add((number, name, hole))
    return {name: tuple(sorted(meetings)) for name, meetings in found.items()}


def way_steps(sewing: Sewing, meetings: Sequence[Meeting]) -> tuple[WayStep, ...]:
    """Every place of the walk, in order."""
    kind = sewing.settings.stitch
    happenings = _happenings(sewing, meetings)
    return tuple(
        WayStep(place, hole, first_face(kind, place), tuple(h for h in Happening if h in happenings[place]))
        for place, hole in enumerate(sewing.walk)
    )


def _happenings(sewing: Sewing, meetings: Sequence[Meeting]) -> list[set[Happening]]:
    seam, walk = sewing.punched, sewing.walk
    corners, shared = _corners(seam), {hole for hole, _, _ in meetings}
    found: list[set[Happening]] = [set() for _ in walk]
    for place, hole in enumerate(walk):
        if hole in corners:
            found[place].add(Happening.CORNER)
        if hole in shared:
            found[place].add(Happening.SHARED)
    for place in _sewn_again(sewing):
        found[place].add(Happening.BACK_STITCH)
    if seam.stitching.wrap_start:
        found[0].add(Happening.TURN)
    if seam.stitching.wrap_end:
        found[-1].add(Happening.TURN)
    for index, thread in enumerate(sewing.threads):
        found[thread.start].add(Happening.JOIN if index else Happening.START)
        found[thread.end].add(Happening.END)
    return found


def _corners(seam: PunchedSeam) -> set[int]:
    """Holes fixed by a corner or a match point of any layer; an open seam's ends are none."""
    ends = set() if seam.closed else {1, seam.count}
    return {hole.number for layer in seam.layers for hole in layer.holes if hole.corner} - ends


def _sewn_again(sewing: Sewing) -> list[int]:
    """Places that are reached by a stitch that was sewn before, in every round there is."""
    most = sewing.settings.traits.rounds
    seen: dict[frozenset[int], int] = {}
    found = []
    for place, pair in enumerate(pairwise(sewing.walk), start=1):
        stitch = frozenset(pair)
        seen[stitch] = seen.get(stitch, 0) + 1
        if seen[stitch] > most:
            found.append(place)
    return found
