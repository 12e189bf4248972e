"""The proof: a kit's file read alone, whoever wrote it, and measured against what its pages claim.

In: the path of a PDF file. Out: `Proof`, the checks in reading order: whether it is a kit at all, the
file and its pages, the squares and bars, the joins, what is left out, the holes.
"""

from __future__ import annotations

from pathlib import Path

from handkit.errors import ProofError
from handkit.manifest.attached import NAME
from handkit.proof.checks.break_checks import break_checks
from handkit.proof.checks.file_checks import file_checks
from handkit.proof.checks.hole_checks import hole_checks
from handkit.proof.checks.join_checks import join_checks
from handkit.proof.checks.kit_checks import kit_checks
from handkit.proof.checks.page_checks import page_checks
from handkit.proof.checks.scale_checks import bar_checks, square_checks
from handkit.proof.content.document import opened
from handkit.proof.content.walker import Budget, walked
from handkit.proof.proof import Proof


def prove(path: Path) -> Proof:
    """What a reading of the file measured; a check that fails makes `passed` False, it raises nothing.

    Raises FileError where the file can't be opened; ProofError where it is no PDF, is encrypted or
    broken, or asks for more work than any kit does.
    """
    try:
        document = opened(path)
        budget = Budget()
        drawings = [walked(page, budget=budget) for page in document.pages]
    except ProofError as error:
        raise ProofError(f"{path.name}: {error}") from error
    marks = tuple(mark for drawing in drawings for mark in drawing.marks)
    checks = (
        *kit_checks(marks),
        *page_checks(document),
        *file_checks(document, attached=NAME),
        *square_checks(marks),
        *bar_checks(marks),
        *join_checks(marks),
        *break_checks(marks),
        *hole_checks(marks),
    )
    return Proof(path.name, checks)
