"""The audit: a kit held to its manifest, page by page.

In: the manifest, the document, the marks of its pages. Out: `Audited`, with checks `sheets` (which pages
there are), `drawing` (what they show), `words`, `content` (whether each is as it was written), `fonts`.

Tags say what a mark is and no more: that it is there, and where, is measured.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

import msgspec

from handkit.ink import OF_PAGES, Tag
from handkit.manifest.listed import ListedPage, Manifest
from handkit.proof.audit.aligned import Aligned, Portions, aligned
from handkit.proof.audit.deviations import DeviationKind, page_deviations
from handkit.proof.audit.expected import MarkName, asked_of, drawn_by_name, expected_marks, name_of
from handkit.proof.audit.matching import MOST_LOOKS
from handkit.proof.audit.telling import DeviationOnPage, told
from handkit.proof.checks.checking import check, together
from handkit.proof.content.attached import PageFont, content_digest, page_fonts
from handkit.proof.content.document import Document
from handkit.proof.content.marks import MeasuredMark, PageDrawing
from handkit.proof.content.objects import Allowance
from handkit.proof.proof import Check
from handkit.tolerances import AS_LISTED
from handkit.wording.mark_names import MARK_NAMES

# The words of what is measured on all pages, and on template sheets.
ON_ANY_PAGE = frozenset(tag.value for tag in OF_PAGES)
ON_SHEETS = frozenset(tag.value for tag in MARK_NAMES)


class Audited(msgspec.Struct, frozen=True):
    """The checks, in reading order; by the place of a page in the file, from 0, which of the list it is; what
    is off as a whole: a place, and a window's name, or none of all of the page; whether fonts are missing."""

    checks: tuple[Check, ...] = ()
    pages: Mapping[int, ListedPage] = MappingProxyType({})
    off: frozenset[tuple[int, MarkName]] = frozenset()
    fontless: bool = False


def audited(manifest: Manifest, document: Document, drawings: Sequence[PageDrawing]) -> Audited:
    """A file held to the manifest; `drawings` are what the pages draw."""
    digests = [content_digest(page) for page in document.pages]
    listed_digests = [page.digest for page in manifest.pages]
    listed_portions = [_listed_portions(page) for page in manifest.pages]
    portions = [_portions(drawing.marks) for drawing in drawings]
    if _is_of_another(listed_digests, digests, listed_portions, portions):
        return Audited((check("list/other"),))
    where = aligned(listed_digests, digests, listed_portions, portions)
    pieces = {piece.name: piece for piece in manifest.pieces}
    deviations: list[DeviationOnPage] = []
    asked, sought = asked_of(document.size), Allowance(MOST_LOOKS)
    for listed, found in (*where.pairs, *where.astray):
        page = manifest.pages[listed]
        tags = ON_SHEETS if page.windows else ON_ANY_PAGE
        drawn = drawn_by_name(drawings[found].marks, tags)
        deviations.extend(
            (found, page, deviation)
            for deviation in page_deviations(expected_marks(page, pieces, asked), drawn, sought)
        )
    fonts = page_fonts(document)
    missing = [name for name in manifest.fonts if name not in {font.called for font in fonts}]
    checks = (
        *_sheets(manifest, where),
        *_guides(manifest, where, document),
        *together(_all_drawn(manifest), list(told(deviations))),
        *_words(manifest, where, drawings),
        *_contents(manifest, where, digests),
        *_fonts(manifest, fonts, missing),
    )
    whole = ((found, one.name) for found, _, one in deviations if one.kind is DeviationKind.SHIFTED)
    pages = {found: manifest.pages[listed] for listed, found in (*where.pairs, *where.astray)}
    return Audited(checks, pages, frozenset(whole), bool(missing))


def _is_of_another(
    listed: Sequence[str], found: Sequence[str], listed_shows: Sequence[Portions], shows: Sequence[Portions]
) -> bool:
    """Whether file and list have not one page in common: none with one content, none with all portions."""
    here, there = set(filter(None, shows)), set(filter(None, listed_shows))
    return bool(here and there) and here.isdisjoint(there) and set(listed).isdisjoint(found)


def _sheets(manifest: Manifest, where: Aligned) -> tuple[Check, ...]:
    sheets = sum(bool(page.windows) for page in manifest.pages)
    each = [check("sheets/missing", page=k + 1, label=manifest.pages[k].label) for k in where.missing]
    each += [
        check("sheets/order", page=found + 1, label=manifest.pages[k].label, place=k + 1)
        for k, found in where.astray
    ]
    each += [check("sheets/added", page=found + 1) for found in where.added]
    return together(check("sheets", True, pages=len(manifest.pages), sheets=sheets), each)


def _guides(manifest: Manifest, where: Aligned, document: Document) -> Iterator[Check]:
    """What a viewer names pages by, and leads to them by; where pages are lost or moved, that is told."""
    if where.astray or where.missing or where.added:
        return
    carried = document.carried
    labels = carried.page_labels(len(document.pages))
    numbers = {page.reference: page.number for page in document.pages}
    bookmarks: list[list[str]] = [[] for _ in document.pages]
    for title, reference in carried.bookmarks:
        bookmarks[numbers.get(reference, 1) - 1].append(title)  # what leads nowhere leads to the first page
    pages = [manifest.pages[listed] for listed, _ in sorted(where.pairs, key=lambda pair: pair[1])]
    yield _guide("labels", labels, [page.label for page in pages])
    yield _guide("bookmarks", list(map("; ".join, bookmarks)), ["; ".join(page.bookmarks) for page in pages])


_OTHER = {"labels": "labels/page", "bookmarks": "bookmarks/page"}


def _guide(code: str, found: Sequence[str], wanted: Sequence[str]) -> Check:
    """One check for all pages; of several that are other than they should be the first is named."""
    other = [k for k, (one, right) in enumerate(zip(found, wanted, strict=True)) if one != right]
    if not other:
        return check(code, True, pages=len(found))
    first, more = other[0], f", and of {len(other) - 1} more pages" if other[1:] else ""
    return check(_OTHER[code], page=first + 1, more=more, found=found[first], wanted=wanted[first])


def _all_drawn(manifest: Manifest) -> Check:
    shown = [mark.tag for piece in manifest.pieces for mark in piece.shapes]
    return check(
        "drawing",
        True,
        pieces=len(manifest.pieces),
        holes=shown.count(Tag.HOLE.value),
        openings=shown.count(Tag.OPENING.value),
        within=AS_LISTED,
    )


def _words(manifest: Manifest, where: Aligned, drawings: Sequence[PageDrawing]) -> tuple[Check, ...]:
    """Whether a template sheet says what it should, wherever that stands on it."""
    each: list[Check] = []
    count = 0
    for listed, found in where.pairs:
        page = manifest.pages[listed]
        if not page.windows:
            continue
        wanted = Counter(page.texts)
        shown = Counter(words.text for mark in drawings[found].marks for words in mark.words)
        count += wanted.total()
        names = {"page": found + 1, "label": page.label}
        for key, texts in (("words/missing", wanted - shown), ("words/added", shown - wanted)):
            if texts:
                first = min(texts)
                others = texts.total() - 1
                more = f", and {others} more" if others else ""
                each.append(check(key, text=first, more=more, **names))
    return together(check("words", True, texts=count), each)


def _contents(manifest: Manifest, where: Aligned, digests: Sequence[str]) -> tuple[Check, ...]:
    changed = [
        check("content/page", page=found + 1, label=manifest.pages[listed].label)
        for listed, found in where.pairs
        if digests[found] != manifest.pages[listed].digest
    ]
    if len(changed) == len(manifest.pages) > 1:
        return (check("content/all", count=len(changed)),)
    return together(check("content", True, pages=len(digests)), changed)


def _fonts(manifest: Manifest, found: Sequence[PageFont], missing: Sequence[str]) -> tuple[Check, ...]:
    """Whether each font that any page names is one of the list's, and each of these is there."""
    each = [
        check("fonts/other", font=font.name, page=font.page)
        for font in found
        if font.digest != manifest.fonts.get(font.called)
    ]
    each += [check("fonts/missing", font=name) for name in missing]
    return together(check("fonts", True, fonts=len(found)), each)


def _listed_portions(page: ListedPage) -> Portions:
    return frozenset((window.piece, window.number, window.copy) for window in page.windows)


def _portions(marks: Sequence[MeasuredMark]) -> Portions:
    names = map(name_of, marks)
    return frozenset((name.piece, name.window, name.copy) for name in names if name.piece)
