"""Threading: holes against thread and needle.

In: the seams' settings. Out: findings; seams that are sewn alike are told once. Diameters in mm.

Words: both needles take their thread through every hole, so two strands lie in it. A *slit* that is
sewn opens to a round hole of the same way round: 2 × its length.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from handkit.draft.pattern import PatternSeam
from handkit.findings import Finding, Where, error, note
from handkit.punch.saying import and_more, mm
from handkit.read.project import RoundHole, Stitching

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


def thread_findings(seams: Sequence[PatternSeam]) -> tuple[Finding, ...]:
    """What the holes have to tell of their thread and needle."""
    alike: dict[tuple[object, ...], list[PatternSeam]] = {}
    for seam in seams:
        settings = seam.seam.stitching
        alike.setdefault((settings.hole, settings.thread, settings.needle), []).append(seam)
    findings: list[Finding] = []
    for group in alike.values():
        findings.extend(_of_thread(group))
        findings.extend(_of_needle(group))
    return tuple(findings)


def _of_thread(seams: Sequence[PatternSeam]) -> list[Finding]:
    """Too small a hole is an error, too large a round one a note."""
    settings, where = seams[0].seam.stitching, seams[0].seam.source.at("hole")
    of = f'thread of {mm(settings.thread)} in seam "{seams[0].name}"{and_more(len(seams))}'
    if isinstance(settings.hole, RoundHole):
        return _of_round(settings.hole.diameter, settings.thread, where, of)
    least = slit_least(settings.thread)
    if settings.hole.width >= least - _SLACK:
        return []
    return [
        error(
            "slit-too-short",
            where,
            found=f"slits of {mm(settings.hole.width)} for {of}",
            allowed=f"at least {mm(least)}",
            remedy="use thinner thread or a wider blade",
        )
    ]


def _of_round(diameter: float, thread: float, where: Where, of: str) -> list[Finding]:
    """A round hole: `of` names the thread and the seams."""
    if diameter < ROUND_LEAST * thread - _SLACK:
        return [
            error(
                "hole-too-small",
                where,
                found=f"holes of {mm(diameter)} for {of}",
                allowed=f"at least {mm(ROUND_LEAST * thread)}",
                remedy="use thinner thread or larger holes",
            )
        ]
    if diameter > ROUND_MOST * thread + _SLACK:
        return [
            note(
                "hole-loose",
                where,
                found=f"holes of {mm(diameter)} for {of}",
                allowed=f"better {mm(2 * thread)}, at most {mm(ROUND_MOST * thread)}",
                remedy="a punched hole does not close: use thicker thread or smaller holes",
            )
        ]
    return []


def _of_needle(seams: Sequence[PatternSeam]) -> list[Finding]:
    """A needle that is wider than the hole has to be pulled through with pliers."""
    settings, where = seams[0].seam.stitching, seams[0].seam.source.at("needle")
    open_to = opens_to(settings)
    if settings.needle is None or settings.needle <= open_to + _SLACK:
        return []
    return [
        note(
            "needle-wide",
            where,
            found=f"needle of {mm(settings.needle)} for holes that open to {mm(open_to)} "
            f'in seam "{seams[0].name}"{and_more(len(seams))}',
            allowed="a needle no wider than the hole",
            remedy="use a finer needle, or have pliers ready",
        )
    ]


def opens_to(settings: Stitching) -> float:
    """The round width a hole opens to: a slit w long has 2·w to go round, 2·w / π across."""
    hole = settings.hole
    return hole.diameter if isinstance(hole, RoundHole) else 2 * hole.width / pi
