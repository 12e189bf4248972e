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
_OTHERWISE = frozenset(("/Encoding", "/FontFile", "/FontFile3"))  # what a viewer may go by in their place


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
    """A font that pages may use: the first of them, what their contents call it, its own name, and what tells
    it from another; "" of one that is none of a kit's kind."""

    page: int
    called: str
    name: str
    digest: str


def page_fonts(document: Document) -> tuple[PageFont, ...]:
    """Every font that pages name, once for each name, in their order."""
    found: dict[tuple[str, int], PageFont] = {}
    with parsing():
        for page in document.pages:
            fonts = direct((direct(page.page.get("/Resources")) or {}).get("/Font")) or {}
            for called, font in ((str(key).removeprefix("/"), direct(font)) for key, font in fonts.items()):
                if (called, id(font)) not in found:
                    name = str(direct(font.get("/BaseFont"))).removeprefix("/")
                    told = _font_digest(name, font, page.parser)
                    found[called, id(font)] = PageFont(page.number, called, name, told)
    return tuple(found.values())


def _font_digest(name: str, font: Mapping[str, Any], parser: Parser) -> str:
    descriptor = direct(font.get("/FontDescriptor")) or {}
    program, letters = direct(descriptor.get("/FontFile2")), direct(font.get("/ToUnicode"))
    numbers = [direct(each) for each in (descriptor.get("/Flags"), font.get("/FirstChar"))]
    numbers += [direct(width) for width in direct(font.get("/Widths")) or ()]
    plain = direct(font.get("/Subtype")) == TRUE_TYPE and not _OTHERWISE & {*font, *descriptor}
    if program is None or letters is None or not plain or not all(map(is_number, numbers)):
        return ""
    return font_digest(name, parser.unpacked(program), parser.unpacked(letters), numbers)
