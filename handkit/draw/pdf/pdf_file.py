"""The PDF file: pages of marks become bytes. The one module that knows reportlab's canvas.

In: pages in mm, the paper, the title, the fonts. Out: bytes, the same on every run.

Each page's content is one literal written by `operators.py`: drawing calls of the canvas are not
used, so that nothing is rounded or re-ordered on the way and a mark's operands are mm. The canvas
gives what a file needs around it: page objects, the embedded subset of the fonts, bookmarks, page
labels, and the viewer preference that asks print dialogs for no scaling (ISO 32000-1 Table 150).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from math import cos, radians, sin

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from handkit.draw.model.fonts import Fonts
from handkit.draw.model.marks import Page, Words
from handkit.draw.pdf.operators import Speller, number, numbers, page_operators
from handkit.paper import Paper
from handkit.units import to_pt

CREATOR = "handkit"
SUBJECT = "Full-scale templates and stitching plan. Print at 100 %, without fitting to the page."


class _Sheets(Canvas):
    """A canvas that opens no page with the viewer's own font: every font here is embedded."""

    def _make_preamble(self) -> None:
        self._preamble = ""


def pdf_bytes(pages: Sequence[Page], *, paper: Paper, title: str, fonts: Fonts) -> bytes:
    """The finished file: pages in order, all of the paper's size and orientation."""
    with _binary_streams():
        canvas = _canvas(paper, title)
        for index, page in enumerate(pages):
            _add_page(canvas, index, page, _speller(canvas, fonts))
        return bytes(canvas.getpdfdata())  # type: ignore[no-untyped-call]


def _canvas(paper: Paper, title: str) -> Canvas:
    canvas = _Sheets(
        "kit.pdf",
        pagesize=(to_pt(paper.width), to_pt(paper.height)),
        pageCompression=1,
        invariant=1,
        pdfVersion=(1, 7),
    )
    canvas.setTitle(title)
    canvas.setSubject(SUBJECT)
    canvas.setAuthor("")
    canvas.setCreator(CREATOR)
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.showOutline()
    return canvas


def _add_page(canvas: Canvas, index: int, page: Page, spell: Speller) -> None:
    canvas.addPageLabel(index, prefix=page.label)
    for order, (level, title) in enumerate(page.bookmarks):
        key = f"page{index}-{order}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(title, key, level)
    canvas.addLiteral(page_operators(page.groups, spell=spell))
    canvas.showPage()


def _speller(canvas: Canvas, fonts: Fonts) -> Speller:
    """How a line of text is written in this file: its characters by the codes of their subset.

    Which code a character gets hangs on the order in which characters are first used, and so on
    the pages alone.
    """
    document = canvas._doc  # type: ignore[attr-defined]  # the fonts' subsets belong to the document, which has no public name

    def spell(words: Words) -> str:
        c, s = _direction(words.degrees)
        matrix = numbers(c, s, -s, c, *words.at)
        shown = " ".join(
            f"{face.font.getSubsetInternalName(subset, document)} {number(words.size)} Tf <{code.hex()}> Tj"
            for face, run in fonts.runs(words.text, bold=words.bold)
            for subset, code in face.font.splitString(run, document)
        )
        return f"BT {matrix} Tm {shown} ET"

    return spell


def _direction(degrees: float) -> tuple[float, float]:
    """Cosine and sine of the line's direction; quarters are exact."""
    exact = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 270.0: (0.0, -1.0), 180.0: (-1.0, 0.0)}
    turned = degrees % 360
    return exact.get(turned, (cos(radians(turned)), sin(radians(turned))))


@contextmanager
def _binary_streams() -> Iterator[None]:
    """Streams as plain deflate while a file is written: the text coding reportlab puts around
    them by default takes most of the time and a quarter more bytes, and can only be told so by a
    setting of the whole library, which is put back."""
    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before
