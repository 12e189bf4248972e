"""Insets: the one inset that a part's seams must share where its pieces are drafted from it.

In: a part's seams. Out: the inset of the first, and a finding for each seam that has another.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.findings import Finding, finding
from handkit.read.project import Seam
from handkit.tolerances import SAME_POINT


def shared_inset(seams: Sequence[Seam]) -> tuple[float, tuple[Finding, ...]]:
    """The first seam's inset; the others' must be the same, or the lines would not meet."""
    first = seams[0]
    inset = first.stitching.inset
    findings = tuple(
        finding(
            "insets-apart",
            seam.source.at("inset"),
            inset=seam.stitching.inset,
            other=inset,
            seam=first.name,
        )
        for seam in seams
        if abs(seam.stitching.inset - inset) > SAME_POINT
    )
    return inset, findings
