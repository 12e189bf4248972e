"""Step 2, the public function: a project in, its pattern out, or all that is wrong in one go.

All mm; see `pattern.py` for what comes out. Nothing is mended: a radius, inset or trim that does
not fit is refused with the largest that would.
"""

from __future__ import annotations

from handkit.draft.openings import draft_opening
from handkit.draft.pattern import Pattern, PatternOpening, PatternSeam
from handkit.draft.pieces import Drafted, draft_piece
from handkit.draft.placement import stands_of
from handkit.draft.seams import draft_seam
from handkit.errors import refuse_errors
from handkit.findings import Finding
from handkit.read.project import Project


def draft(project: Project) -> Pattern:
    """The true shapes of a project's pieces, its stitch lines and openings.

    Raises ProjectError with every finding of the drafting where one is an error.
    """
    stands, placing = stands_of(project.pieces)
    findings: list[Finding] = list(placing)
    drafted: dict[str, Drafted] = {}
    for piece in project.pieces:
        if piece.name in stands:
            found, faults = draft_piece(piece, stands[piece.name])
            findings.extend(faults)
            if found is not None:
                drafted[piece.name] = found
    seams: list[PatternSeam] = []
    for seam in project.seams:
        drawn, faults = draft_seam(seam, drafted)
        findings.extend(faults)
        seams.extend([drawn] if drawn else [])
    openings: list[PatternOpening] = []
    for opening in project.openings:
        placed, faults = draft_opening(opening, drafted)
        findings.extend(faults)
        openings.extend([placed] if placed else [])
    told = refuse_errors(findings)
    pieces = tuple(drafted[piece.name].piece for piece in project.pieces)
    return Pattern(project, pieces, tuple(seams), tuple(openings), told)
