"""Puncher: the third step's road, from the pattern to every hole.

In: a `Pattern`. Out: `Punched`, or a ProjectError with all that is wrong with its holes. All mm.

    match the fixed holes → clear the layers' edges → space the stretches → carry to the layers
    → share → check
"""

from __future__ import annotations

from collections.abc import Sequence
from operator import attrgetter

from handkit.counting import OnProgress, counted, no_progress
from handkit.draft.pattern import Pattern, PatternSeam
from handkit.errors import refuse_errors
from handkit.findings import Finding, finding, in_order
from handkit.punch.checks.bends import bend_findings
from handkit.punch.checks.clearance import opening_findings
from handkit.punch.checks.crowding import crowding
from handkit.punch.checks.ease import ease_findings
from handkit.punch.checks.edge_works import edge_work_findings
from handkit.punch.checks.edges import edge_findings
from handkit.punch.checks.fittings import fitting_findings
from handkit.punch.checks.mouths import mouth_findings, mouths_of
from handkit.punch.checks.seam_holes import by_piece
from handkit.punch.checks.stacking import stacking_findings
from handkit.punch.checks.straps import strap_findings
from handkit.punch.checks.threading import thread_findings
from handkit.punch.punched import EdgeCross, Punched, PunchedSeam, SharedHole
from handkit.punch.spacing.clearing import cleared
from handkit.punch.spacing.crossings import crossings_of
from handkit.punch.spacing.layers import layers_of
from handkit.punch.spacing.matching import Matched, matched

# More holes than this on all layers of a project are a slip of the pen: 100 m of four layers at 4 mm.
MOST_MARKS = 100_000


def punch(pattern: Pattern, *, on_progress: OnProgress = no_progress) -> Punched:
    """All holes of a pattern, numbered and matched; notes and warnings travel in `findings`.

    Raises ProjectError with every finding of this step where one of them is an error; the holes that could
    be placed are in its `reached`.
    """
    findings: list[Finding] = []
    seams: list[PunchedSeam] = []
    crossings: list[EdgeCross] = []
    marks = 0
    for seam in counted(pattern.seams, on_progress, "punching: seam", attrgetter("name")):
        holes, found = matched(seam)
        findings.extend(found)
        marks += (holes.steps + (not seam.closed)) * len(seam.runs) if holes else 0
        if marks > MOST_MARKS:
            where = seam.source.at("runs")
            too_many = finding("too-many-holes/project", where, marks=marks, most=MOST_MARKS)
            refuse_errors([*findings, too_many])
        if holes is not None:
            crossed = crossings_of(pattern, seam)
            punched, found = _seam_holes(pattern, seam, holes, crossed)
            crossings.extend(crossed)
            findings.extend(found)
            seams.extend([punched] if punched else [])
    on_progress("punching: looking at the holes")
    shared, found = _checked(pattern, seams, crossings)
    findings.extend(found)
    reached = Punched(pattern, tuple(seams), shared, in_order(findings), tuple(crossings))
    refuse_errors(findings, reached)
    return reached


def _seam_holes(
    pattern: Pattern, seam: PatternSeam, holes: Matched, crossings: Sequence[EdgeCross]
) -> tuple[PunchedSeam | None, tuple[Finding, ...]]:
    """One seam's holes on all its layers, None where they can't be placed."""
    ease = ease_findings(pattern, seam, holes)
    layers, found = layers_of(pattern, seam, cleared(pattern, seam, holes, crossings))
    return (PunchedSeam(seam, layers) if layers else None), (*ease, *found)


def _checked(
    pattern: Pattern, seams: Sequence[PunchedSeam], crossings: Sequence[EdgeCross]
) -> tuple[tuple[SharedHole, ...], tuple[Finding, ...]]:
    """The shared holes, and what all checks of the placed holes have to tell."""
    holes = by_piece(seams)
    mouths = mouths_of(seams, crossings)
    shared: list[SharedHole] = []
    findings: list[Finding] = [*thread_findings(pattern.seams), *stacking_findings(pattern, seams)]
    for piece in pattern.pieces:
        own = holes.get(piece.name, [])
        if own:
            together, crowded = crowding(piece.name, own, punched=piece.traits.words.punched)
            shared.extend(together)
            findings.extend((*crowded, *edge_findings(pattern, piece, own, mouths)))
    findings.extend(mouth_findings(pattern, seams, mouths))
    findings.extend(strap_findings(pattern, seams))
    findings.extend(bend_findings(pattern, seams))
    findings.extend(opening_findings(pattern, holes))
    findings.extend(edge_work_findings(pattern, holes))
    findings.extend(fitting_findings(pattern, seams, holes))
    return tuple(shared), tuple(findings)
