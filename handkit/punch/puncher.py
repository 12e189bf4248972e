"""Puncher: the third step's road, from the pattern to every hole.

In: a `Pattern`. Out: `Punched`, or a ProjectError with all that is wrong with its holes. All mm.

    match the fixed holes → space the stretches → carry to the layers → share → check
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.pattern import Pattern, PatternSeam
from handkit.errors import refuse_errors
from handkit.findings import Finding
from handkit.punch.crowding import crowding
from handkit.punch.ease import ease_findings
from handkit.punch.edges import edge_findings
from handkit.punch.entries import by_piece
from handkit.punch.layers import layers_of
from handkit.punch.matching import matched
from handkit.punch.punched import Punched, PunchedSeam, SharedHole
from handkit.punch.room import opening_findings
from handkit.punch.stacking import stacking_findings
from handkit.punch.straps import strap_findings
from handkit.punch.threading import thread_findings


def punch(pattern: Pattern) -> Punched:
    """All holes of a pattern, numbered and matched; notes and warnings travel in `findings`.

    Raises ProjectError with every finding of this step where one of them is an error.
    """
    findings: list[Finding] = []
    seams: list[PunchedSeam] = []
    for seam in pattern.seams:
        holes, found = _seam_holes(pattern, seam)
        findings.extend(found)
        if holes is not None:
            seams.append(holes)
    shared, found = _checked(pattern, seams)
    findings.extend(found)
    return Punched(pattern, tuple(seams), shared, refuse_errors(findings))


def _seam_holes(pattern: Pattern, seam: PatternSeam) -> tuple[PunchedSeam | None, tuple[Finding, ...]]:
    """One seam's holes on all its layers, None where they can't be placed."""
    holes, found = matched(seam)
    if holes is None:
        return None, found
    ease = ease_findings(pattern, seam, holes)
    layers, found = layers_of(pattern, seam, holes)
    return (PunchedSeam(seam, layers) if layers else None), (*ease, *found)


def _checked(
    pattern: Pattern, seams: Sequence[PunchedSeam]
) -> tuple[tuple[SharedHole, ...], tuple[Finding, ...]]:
    """The shared holes, and what all checks of the placed holes have to tell."""
    entries = by_piece(seams)
    shared: list[SharedHole] = []
    findings: list[Finding] = [*thread_findings(pattern.seams)]
    for seam in seams:
        findings.extend(stacking_findings(pattern, seam))
    for piece in pattern.pieces:
        own = entries.get(piece.name, [])
        if own:
            together, crowded = crowding(piece.name, own)
            shared.extend(together)
            findings.extend((*crowded, *edge_findings(pattern, piece, own)))
    findings.extend(strap_findings(pattern, seams))
    findings.extend(opening_findings(pattern, entries))
    return tuple(shared), tuple(findings)
