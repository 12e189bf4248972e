"""The PDF file: pages of marks become bytes.

In: pages in mm, the paper, the title, the fonts, what the printer does. Out: bytes, the same on every run.

Each page's content is one literal written by `page_content.py`, so that nothing is rounded or re-ordered
on the way and a mark's operands are mm. reportlab's document gives what a file needs around it: page
objects, the embedded subsets of the fonts, bookmarks, page labels, and the viewer preference that asks
print dialogs for no scaling (ISO 32000-1 Table 150).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.pdfbase.pdfdoc import (
    Destination,
    PDFArray,
    PDFDictionary,
    PDFDocument,
    PDFName,
    PDFPage,
    PDFPageLabel,
    PDFPageLabels,
    PDFResourceDictionary,
    PDFStream,
    PDFZCompress,
    ViewerPreferencesPDFDictionary,
)

from handkit.draw.model.fonts import Fonts
from handkit.draw.model.marks import Page
from handkit.draw.pdf.attachment import attach, font_digests, with_digests
from handkit.draw.pdf.page_content import PageContent, page_content
from handkit.draw.pdf.text_encoder import TextEncoder
from handkit.kept.kept import NOTHING, KeptOf
from handkit.manifest.listed import Manifest
from handkit.paper import Paper
from handkit.units import to_pt

CREATOR = "handkit"
SUBJECT = "Full-scale templates and stitching plan. Print at 100 %, without fitting to the page."


def pdf_bytes(  # noqa: PLR0913 - what a file has
    pages: Sequence[Page],
    *,
    paper: Paper,
    title: str,
    fonts: Fonts,
    manifest: Manifest | None = None,
    kept: KeptOf = NOTHING,
) -> bytes:
    """The finished file: pages in order, all of the paper's size and orientation. A manifest is attached with
    the digests of what was written; for the printer that it names all pages are corrected alike. `kept` is
    what pages of the same groups came to."""
    correction = manifest.correction if manifest else None
    drawn = correction.drawn(paper.width, paper.height) if correction else None
    document = _document(title)
    encoder = TextEncoder(fonts)
    labels = document.Catalog.PageLabels = PDFPageLabels()
    bookmarks: list[tuple[int, str, Any]] = []
    contents = [page_content(page.groups, encoder, drawn, kept) for page in pages]
    for index, (page, content) in enumerate(zip(pages, contents, strict=True)):
        labels.addPageLabel(index, PDFPageLabel(prefix=page.label))
        for level, text in page.bookmarks:
            bookmarks.append((level, text, _destination(document, f"page{index}-{len(bookmarks)}")))
        document.addPage(_page(content, paper))
    _set_outline(document, bookmarks)
    encoder.embed(document)
    if manifest is not None:
        attach(document, with_digests(manifest, contents, font_digests(document)))
    return bytes(document.GetPDFData(None))


def _document(title: str) -> Any:
    document: Any = PDFDocument(compression=1, invariant=1, filename="kit.pdf", pdfVersion=(1, 7))
    document.setTitle(title)
    document.setSubject(SUBJECT)
    document.setAuthor("")
    document.setCreator(CREATOR)
    preferences = document.Catalog.ViewerPreferences = ViewerPreferencesPDFDictionary()
    preferences["PrintScaling"] = "None"
    preferences["DisplayDocTitle"] = "true"
    document.Catalog.showOutline()
    return document


def _page(content: PageContent, paper: Paper) -> Any:
    """A page of plainly deflated content, that may use every font of the file."""
    page: Any = PDFPage()
    page.MediaBox = PDFArray([0, 0, to_pt(paper.width), to_pt(paper.height)])
    page.Rotate = 0
    page.setPageTransition({})
    page.Resources = PDFResourceDictionary()
    page.Resources.basicFonts()
    page.Resources.allProcs()
    deflated = PDFDictionary({"Filter": PDFArray([PDFName(PDFZCompress.pdfname)])})
    page.Contents = PDFStream(deflated, content.deflated)
    return page


def _destination(document: Any, name: str) -> Any:
    """The page that is added next, whole."""
    destination: Any = Destination(name)
    destination.fit()
    destination.setPage(document.thisPageRef())
    return destination


def _set_outline(document: Any, bookmarks: Sequence[tuple[int, str, Any]]) -> None:
    """Bookmarks of two levels; what stands under another opens with it."""
    tree: list[Any] = []
    for level, title, destination in bookmarks:
        document.Outlines.destinationnamestotitles[destination.name] = title
        entry = {destination.name: destination}
        if level == 0:
            tree.append(entry)
        elif isinstance(tree[-1], tuple):
            tree[-1][1].append(entry)
        else:
            tree[-1] = (tree[-1], [entry])
    document.Outlines.setDestinations(tree)
