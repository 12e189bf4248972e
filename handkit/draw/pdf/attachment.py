"""Attachment: the manifest inside the file, where any viewer lists it among the attached files.

In: a document of reportlab's, whose pages and fonts are in it; a manifest; the text of each content. Out:
nothing; the document has the manifest attached, with the digests of contents and fonts.

Source: ISO 32000-1, 7.11.4 (embedded file streams), 7.7.4 (name dictionary), 7.9.6 (name trees).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFString, PDFZCompress

from handkit.draw.pdf.page_content import PageContent
from handkit.manifest.attached import DESCRIPTION, NAME, font_digest, manifest_bytes
from handkit.manifest.listed import Manifest

# How the library names an embedded font's descriptor, its map to letters and, with the font's name in
# brackets, its program among the document's objects.
_DESCRIPTOR, _LETTERS, _PROGRAM = "fontDescriptor:", "toUnicodeCMap:", "fontFile:"


def font_digests(document: Any) -> dict[str, str]:
    """What tells each embedded font from another, by the names that contents call them by."""
    objects = document.idToObject
    programs = {name[name.rindex("(") + 1 : -1]: name for name in objects if name.startswith(_PROGRAM)}
    fonts = {key: font for key, font in objects["BasicFonts"].dict.items() if font.BaseFont in programs}
    return {
        key: font_digest(
            font.BaseFont,
            objects[programs[font.BaseFont]].content,
            _bytes(objects[_LETTERS + font.BaseFont].content),
            (objects[_DESCRIPTOR + font.BaseFont].dict["Flags"], font.FirstChar, *font.Widths.sequence),
        )
        for key, font in sorted(fonts.items())
    }


def _bytes(content: str | bytes) -> bytes:
    return content.encode("latin-1") if isinstance(content, str) else content


def with_digests(manifest: Manifest, contents: Sequence[PageContent], fonts: dict[str, str]) -> Manifest:
    """The manifest with what tells each page's content and each font from another."""
    pages = tuple(
        msgspec.structs.replace(page, digest=content.digest)
        for page, content in zip(manifest.pages, contents, strict=True)
    )
    return msgspec.structs.replace(manifest, pages=pages, fonts=fonts)


def attach(document: Any, manifest: Manifest) -> None:
    """Put the manifest among the document's attached files."""
    stream: Any = PDFStream(content=manifest_bytes(manifest), filters=[PDFZCompress])
    stream.dictionary.dict.update(Type=PDFName("EmbeddedFile"), Subtype="/application#2Fjson")
    embedded = document.Reference(stream, "manifest")
    specification = PDFDictionary(
        {
            "Type": PDFName("Filespec"),
            "F": PDFString(NAME),
            "UF": PDFString(NAME),
            "Desc": PDFString(DESCRIPTION),
            "EF": PDFDictionary({"F": embedded}),
        }
    )
    files = PDFDictionary({"Names": PDFArray([PDFString(NAME), document.Reference(specification)])})
    document.Catalog.Names = PDFDictionary({"EmbeddedFiles": files})
