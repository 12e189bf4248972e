"""Insets: the one inset that a part's seams must share where its pieces are drafted from it.

In: a part's seams. Out: the inset of the first, and a finding for each seam that has another.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draft.words import mm
from handkit.findings import Finding, error
from handkit.read.project import Seam
from handkit.tolerances import SAME_POINT


def shared_inset(seams: Sequence[Seam]) -> tuple[float, tuple[Finding, ...]]:
    """The first seam's inset; the others' must be the same, or the lines would not meet."""
    first = seams[0]
    inset = first.stitching.inset
    findings = tuple(
        error(
            "insets-apart",
            seam.source.at("inset"),
            found=f"an inset of {mm(seam.stitching.inset)}",
            allowed=f'{mm(inset)}, that of "{first.name}", which meets it',
            remedy="give both the same",
        )
        for seam in seams
        if abs(seam.stitching.inset - inset) > SAME_POINT
    )
    return inset, findings
