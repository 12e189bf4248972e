"""The proof: a kit's file read alone, whoever wrote it, and held to what it says that it shows.

In: the path of a PDF file; what the project's kit shows when it is made anew, where that is asked. Out:
`Proof`, the checks in reading order: whether it is a kit at all, the file and its pages, the list of what it
shows and whether that is drawn, the squares and bars, the joins, what is left out, the holes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from itertools import chain
from pathlib import Path

import msgspec

from handkit.counting import OnProgress, counted, no_progress
from handkit.errors import ProofError
from handkit.geometry.affine import Affine
from handkit.manifest.attached import NAME, read_manifest
from handkit.manifest.listed import Manifest
from handkit.messages.proving import ANEW
from handkit.proof.audit.audit import Audited, audited
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
from handkit.proof.content.document import Document, opened, parsed
from handkit.proof.content.marks import MeasuredMark, PageDrawing
from handkit.proof.content.walker import AS_DRAWN, budget_of, walked
from handkit.proof.proof import Check, Proof

# Codes of checks from which others follow, and of those that do.
DRAWING, WORDS, CONTENT, FONTS, PROJECT = "drawing", "words", "content", "fonts", "project"
AUDIT = ("sheets", DRAWING, WORDS, CONTENT, FONTS)
MEASURED = ("test-square", "scale-bar", "registration", "breaks", "holes")


class Drafted(msgspec.Struct, frozen=True):
    """What a project's kit shows when it is made anew, and the project's name."""

    project: str
    manifest: Manifest


# What drafts a project anew for a file that carries this list, if any.
Anew = Callable[[Manifest | None], Drafted | None]


def prove(kit: Path | bytes, anew: Anew = lambda _: None, *, on_progress: OnProgress = no_progress) -> Proof:
    """What a reading of a kit's file, or of its bytes, measured; a check that fails makes `passed` False and
    raises nothing.

    Raises FileError where the file can't be opened; ProofError where it is no PDF, is encrypted or
    broken, or asks for more work than any kit does; and whatever `anew` raises.
    """
    name = kit.name if isinstance(kit, Path) else "the kit"
    with _naming(name):
        document = opened(kit) if isinstance(kit, Path) else parsed(kit)
        manifest, listed = _listed(document)
        drafted = anew(manifest)
        checks = _checks(document, manifest, listed, drafted.manifest if drafted else None, on_progress)
    return Proof(
        name,
        checks,
        project=drafted.project if drafted else "",
        printer=manifest.correction.name if manifest and manifest.correction else "",
        unit=manifest.unit if manifest else "mm",
    )


def manifest_in(data: bytes) -> Manifest | None:
    """The list that the bytes of a file carry; None where there is none that can be read."""
    return _listed(parsed(data))[0]


@contextmanager
def _naming(name: str) -> Iterator[None]:
    """Put the file's name before what is wrong with it."""
    try:
        yield
    except ProofError as error:
        raise ProofError(f"{name}: {error}") from error


def _checks(
    document: Document,
    manifest: Manifest | None,
    listed: Check,
    drafted: Manifest | None,
    on_progress: OnProgress,
) -> tuple[Check, ...]:
    budget = budget_of(document.size)
    printed = _printed(manifest)
    read = counted(document.pages, on_progress, "measuring: page")
    pages = [walked(page, budget=budget, printed=printed) for page in read]
    on_progress("measuring: what is drawn beside what is listed")
    marks = tuple(chain.from_iterable(page.marks for page in pages))
    same = _same(manifest, drafted)
    held = _audited(manifest, drafted, document, pages)
    file = (
        *kit_checks(marks),
        *page_checks(document, manifest.paper if manifest else None),
        *file_checks(document, attached=NAME),
    )
    seen = seen_checks(pages, held, size=document.size, on_progress=on_progress)
    on_progress("measuring: what all pages show together")
    return _first_causes((*file, listed, *held.checks, *same, *seen, *_measured(marks)))


def _audited(
    manifest: Manifest | None, drafted: Manifest | None, document: Document, pages: Sequence[PageDrawing]
) -> Audited:
    """The drawing held to the project drafted anew; where there is none, to what the file says itself."""
    if drafted is not None and _of_one_version(manifest, drafted):
        found = audited(drafted, document, pages)
        checks = tuple(one if one.passed else _to_do(one, ANEW) for one in found.checks)
        return msgspec.structs.replace(found, checks=checks)
    return audited(manifest, document, pages) if manifest else Audited()


def _same(manifest: Manifest | None, drafted: Manifest | None) -> tuple[Check, ...]:
    """Whether the list that a file carries is the project's."""
    if manifest is None or drafted is None:
        return ()
    if not _of_one_version(manifest, drafted):
        made_by, this = manifest.origin.made_by, drafted.origin.made_by
        return (check("project/version", made_by=made_by, this=this),)
    listed = msgspec.structs.replace(manifest, origin=drafted.origin)  # which says how, and not what
    return (check("project", True) if listed == drafted else check("project/other"),)


def _to_do(one: Check, do: str) -> Check:
    return msgspec.structs.replace(one, wording=msgspec.structs.replace(one.wording, do=do))


def _of_one_version(manifest: Manifest | None, drafted: Manifest) -> bool:
    return manifest is None or manifest.origin.made_by == drafted.origin.made_by


def _first_causes(checks: Sequence[Check]) -> tuple[Check, ...]:
    """Without what follows from another that failed: that a page's content is another, where it is told what
    is wrong on that page; measures that disagree, where the drawing is not as it is listed; words, where the
    fonts are other ones; that the list is not the project's, where the drawing is not."""
    failed = [one for one in checks if not one.passed]
    told = {one.page for one in failed if one.code != CONTENT and one.page}
    codes = {one.code for one in failed}

    def follows(one: Check) -> bool:
        if one.code == PROJECT:
            return not codes.isdisjoint(AUDIT)
        if one.code == WORDS:
            return FONTS in codes
        return (one.code == CONTENT and one.page in told) or (one.code in MEASURED and DRAWING in codes)

    return tuple(one for one in checks if one.passed or not follows(one))


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


def _printed(manifest: Manifest | None) -> Affine:
    """What the printer that a kit was corrected for does to its pages."""
    if manifest is None or manifest.correction is None:
        return AS_DRAWN
    return manifest.correction.drawn(*manifest.paper).inverse()


def _measured(marks: Sequence[MeasuredMark]) -> tuple[Check, ...]:
    """What can be measured of a drawing that is compared with nothing."""
    return (
        *square_checks(marks),
        *bar_checks(marks),
        *join_checks(marks),
        *break_checks(marks),
        *hole_checks(marks),
    )
