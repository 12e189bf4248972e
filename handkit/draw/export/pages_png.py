"""The pages of a PDF file as one PNG picture, one page under the other.

In: the file's bytes. Out: the picture's. Pages are rendered by pypdfium2, a renderer of PDF for any purpose
and an extra of handkit's: this module alone imports it.
"""

from __future__ import annotations

from struct import pack
from zlib import compress

import pypdfium2

from handkit.draw.model.png import SIGNATURE, marked, part
from handkit.units import PT_PER_INCH

DOTS_PER_INCH = 150


def pages_png(pdf: bytes) -> bytes:
    """All pages, grey, at 150 dots an inch."""
    document = pypdfium2.PdfDocument(pdf)
    rows: list[bytes] = []
    for page in document:
        bitmap = page.render(scale=DOTS_PER_INCH / PT_PER_INCH, grayscale=True)
        pixels = bytes(bitmap.buffer)
        starts = (row * bitmap.stride for row in range(bitmap.height))
        rows += [pixels[start : start + bitmap.width] for start in starts]
    document.close()
    return grey_png(rows)


def grey_png(rows: list[bytes]) -> bytes:
    """Rows of grey pixels, a byte each, as PNG.

    >>> grey_png([b"\\x00\\xff"])[:4]
    b'\\x89PNG'
    """
    size = pack(">IIBBBBB", len(rows[0]), len(rows), 8, 0, 0, 0, 0)
    data = compress(b"".join(b"\0" + row for row in rows), 9)
    return marked(SIGNATURE + part(b"IHDR", size) + part(b"IDAT", data) + part(b"IEND", b""))
