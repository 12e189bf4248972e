"""Attached: what of a file the audit needs beside its drawing: an attached file, and what tells a content
or a font from another.

In: the document. Out: bytes and digests. Digests raise ProofError for a broken file.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from handkit.errors import ProofError
from handkit.manifest.attached import digest, font_digest
from handkit.proof.content.document import Document, PdfPage
from handkit.proof.content.objects import direct, is_number, parsing
from handkit.proof.content.resources import Parser

# What a kit's fonts are (ISO 32000-1, 9.6.3); codes are letters by the program alone.
TRUE_TYPE = "/TrueType"


def attached(document: Document, name: str) -> bytes | None:
    """The attached file of a name; None where there is none that can be read, or more than one."""
    try:
        with parsing():
            found = document.pages[0].parser.reader.attachments.get(name, [])
            return bytes(found[0]) if len(found) == 1 else None
    except ProofError:
        return None


def content_digest(page: PdfPage) -> str:
    """What tells the content of a page from another."""
    with parsing():
        stream = direct(page.page.get("/Contents"))
        parts = stream if isinstance(stream, list) else [stream] if stream is not None else []
        return digest(b"\n".join(direct(part).get_data() for part in parts))


class PageFont(msgspec.Struct, frozen=True):
    """A font that pages may use: the first of them, its name, and what tells it from another; "" of one that
    is none of a kit's kind."""

    page: int
    name: str
    digest: str


def page_fonts(document: Document) -> tuple[PageFont, ...]:
    """Every font that pages name, once, in their order."""
    found: dict[int, PageFont] = {}
    with parsing():
        for page in document.pages:
            fonts = direct((direct(page.page.get("/Resources")) or {}).get("/Font")) or {}
            for font in map(direct, fonts.values()):
                if id(font) not in found:
                    name = str(direct(font.get("/BaseFont"))).removeprefix("/")
                    found[id(font)] = PageFont(page.number, name, _font_digest(font, page.parser))
    return tuple(found.values())


def _font_digest(font: Mapping[str, Any], parser: Parser) -> str:
    descriptor = direct(font.get("/FontDescriptor")) or {}
    program, flags, first = (
        direct(each)
        for each in (descriptor.get("/FontFile2"), descriptor.get("/Flags"), font.get("/FirstChar"))
    )
    widths = [direct(width) for width in direct(font.get("/Widths")) or ()]
    plain = direct(font.get("/Subtype")) == TRUE_TYPE and "/Encoding" not in font
    if program is None or not plain or not all(map(is_number, (flags, first, *widths))):
        return ""
    return font_digest(parser.unpacked(program), int(flags), int(first), widths)
