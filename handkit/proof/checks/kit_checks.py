"""Kit checks: whether a file is one of handkit's kits at all.

In: the marks of all pages. Out: a check `kit` where there is none; a kit is known by any of them.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.proof.checks.checking import check
from handkit.proof.content.marks import MeasuredMark
from handkit.proof.proof import Check

CODE = "kit"


def kit_checks(marks: Sequence[MeasuredMark]) -> tuple[Check, ...]:
    """One that fails where the file has not a single mark of a kit; nothing to tell where it has."""
    return () if marks else (check("kit/none"),)
