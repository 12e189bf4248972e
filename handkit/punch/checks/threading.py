"""Threading: holes against thread and needle.

In: the seams' settings. Out: findings; seams that are sewn alike are told once. Diameters in mm.

Words: both needles take their thread through every hole, so two strands lie in it. A *slit* that is
sewn opens to a round hole of the same way round: 2 × its length.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from handkit.draft.pattern import PatternSeam
from handkit.findings import Finding, Where, finding
from handkit.grouping import grouped
from handkit.punch.punched import PunchedSeam
from handkit.read.project import RoundHole, SlitHole, Stitching

# Two strands at rest, by area: √2 thread diameters (worked out by hand).
ROUND_LEAST = 1.41
# Over this the holes show (common practice).
ROUND_MOST = 2.5

_SLACK = 1e-9


def slit_least(thread: float) -> float:
    """The least slit for two strands of a thread, in mm.

    Half the way round two strands side by side: (π + 2)·d / 2 (worked out by hand).

    >>> round(slit_least(0.8), 2)
    2.06
    """
    return (pi + 2) * thread / 2


def dense(seam: PatternSeam | PunchedSeam) -> str:
    """What a pitch too small for its holes spoils, as findings that follow from it name it: all that is sewn
    as one line of the file says."""
    return f"pitch in line {_decided_at(seam).line}"


def _decided_at(seam: PatternSeam | PunchedSeam) -> Where:
    """Where it stands how dense a seam's holes are, or how large."""
    stated = (key for key, _ in seam.source.keys)
    return seam.source.at(next((key for key in stated if key in {"pitch", "hole", "thread"}), ""))


def too_dense(seam: PatternSeam | PunchedSeam) -> Finding:
    """A pitch too small for its holes: told once a seam, or a line of [stitching] that several follow."""
    how, stated = seam.stitching, [key for key, _ in seam.source.keys]
    told: dict[str, object] = {"pitch": how.pitch, "hole": how.hole.width, "least": how.least_step}
    if "thread" in stated and "hole" not in stated:
        fault = finding("pitch-too-small/thread", _decided_at(seam), **told, thread=how.thread)
    else:
        slit = isinstance(how.hole, SlitHole)
        fault = finding("pitch-too-small/slit" if slit else "pitch-too-small", _decided_at(seam), **told)
    return fault.once(dense(seam))


def thread_findings(seams: Sequence[PatternSeam]) -> tuple[Finding, ...]:
    """What the holes have to tell of their thread and needle."""
    alike = grouped(
        seams, by=lambda seam: (seam.stitching.hole, seam.stitching.thread, seam.stitching.needle)
    )
    return tuple(finding for group in alike.values() for finding in (*_of_thread(group), *_of_needle(group)))


def _of_thread(seams: Sequence[PatternSeam]) -> list[Finding]:
    """Too small a hole is an error, too large a round one a note."""
    settings, where = seams[0].stitching, seams[0].source.at("hole")
    thread = settings.thread
    told: dict[str, object] = {"thread": thread, "seam": seams[0].name, "count": len(seams)}
    if not isinstance(settings.hole, RoundHole):
        slit, least = settings.hole.width, slit_least(thread)
        short = slit < least - _SLACK
        return [finding("slit-too-short", where, **told, slit=slit, least=least)] if short else []
    hole, least, most = settings.hole.diameter, ROUND_LEAST * thread, ROUND_MOST * thread
    if hole < least - _SLACK:
        return [finding("hole-too-small", where, **told, hole=hole, least=least)]
    if hole > most + _SLACK:
        loose = finding("hole-loose", where, **told, hole=hole, better=2 * thread, most=most)
        return [loose.following(dense(seams[0]))]
    return []


def _of_needle(seams: Sequence[PatternSeam]) -> list[Finding]:
    """A needle that is wider than the hole has to be pulled through with pliers."""
    first, settings = seams[0], seams[0].stitching
    needle, width = settings.needle, opens_to(settings)
    if needle is None or needle <= width + _SLACK:
        return []
    where = first.source.at("needle")
    return [finding("needle-wide", where, needle=needle, width=width, seam=first.name, count=len(seams))]


def opens_to(settings: Stitching) -> float:
    """The round width a hole opens to: a slit w long has 2·w to go round, 2·w / π across."""
    hole = settings.hole
    return hole.diameter if isinstance(hole, RoundHole) else 2 * hole.width / pi
