"""The proof: a kit's file read alone, whoever wrote it, and held to what it says that it shows.

In: the path of a PDF file. Out: `Proof`, the checks in reading order: whether it is a kit at all, the file
and its pages, the list of what it shows and whether that is drawn, the squares and bars, the joins, what is
left out, the holes.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from pathlib import Path

from handkit.errors import ProofError
from handkit.manifest.attached import NAME, read_manifest
from handkit.manifest.listed import Manifest
from handkit.proof.audit.audit import audit_checks
from handkit.proof.checks.break_checks import break_checks
from handkit.proof.checks.checking import check
from handkit.proof.checks.file_checks import file_checks
from handkit.proof.checks.hole_checks import hole_checks
from handkit.proof.checks.join_checks import join_checks
from handkit.proof.checks.kit_checks import kit_checks
from handkit.proof.checks.page_checks import page_checks
from handkit.proof.checks.scale_checks import bar_checks, square_checks
from handkit.proof.checks.seen_checks import seen_checks
from handkit.proof.content.attached import attached
from handkit.proof.content.document import Document, opened
from handkit.proof.content.marks import MeasuredMark
from handkit.proof.content.walker import budget_of, walked
from handkit.proof.proof import Check, Proof


def prove(path: Path) -> Proof:
    """What a reading of the file measured; a check that fails makes `passed` False, it raises nothing.

    Raises FileError where the file can't be opened; ProofError where it is no PDF, is encrypted or
    broken, or asks for more work than any kit does.
    """
    try:
        return Proof(path.name, _checks(opened(path)))
    except ProofError as error:
        raise ProofError(f"{path.name}: {error}") from error


def _checks(document: Document) -> tuple[Check, ...]:
    manifest, listed = _listed(document)
    budget = budget_of(document.size)
    pages = [walked(page, budget=budget) for page in document.pages]
    marks = tuple(chain.from_iterable(page.marks for page in pages))
    audited = audit_checks(manifest, document, pages) if manifest else ()
    measured = _measured(marks)
    if not all(one.passed for one in audited):  # what is wrong with them follows from that
        measured = tuple(one for one in measured if one.passed)
    file = (*kit_checks(marks), *page_checks(document), *file_checks(document, attached=NAME))
    return (*file, listed, *audited, *seen_checks(pages, manifest), *measured)


def _listed(document: Document) -> tuple[Manifest | None, Check]:
    """The kit's own list of what it shows, and whether there is one."""
    data = attached(document, NAME)
    if data is None:
        return None, check("list/none")
    try:
        manifest = read_manifest(data)
    except ProofError as error:
        return None, check("list/broken", reason=str(error))
    return manifest, check("list", True, made_by=manifest.origin.made_by)


def _measured(marks: Sequence[MeasuredMark]) -> tuple[Check, ...]:
    """What can be measured of a drawing that is compared with nothing."""
    return (
        *square_checks(marks),
        *bar_checks(marks),
        *join_checks(marks),
        *break_checks(marks),
        *hole_checks(marks),
    )
