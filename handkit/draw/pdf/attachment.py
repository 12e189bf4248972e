"""Attachment: the manifest inside the file, where any viewer lists it among the attached files.

In: a document of reportlab's, whose pages and fonts are in it; a manifest; the text of each content. Out:
nothing; the document has the manifest attached, with the digests of contents and fonts.

Source: ISO 32000-1, 7.11.4 (embedded file streams), 7.7.4 (name dictionary), 7.9.6 (name trees).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import msgspec
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFString, PDFZCompress

from handkit.manifest.attached import DESCRIPTION, NAME, digest, manifest_bytes
from handkit.manifest.listed import Manifest

# How the library names the program of a font among the document's objects: this, its file, and in brackets
# the font's name.
_PROGRAM = "fontFile:"


def font_programs(document: Any) -> dict[str, bytes]:
    """The programs of the embedded fonts by the fonts' names."""
    streams = {name: each for name, each in document.idToObject.items() if name.startswith(_PROGRAM)}
    return {name[name.rindex("(") + 1 : -1]: each.content for name, each in sorted(streams.items())}


def with_digests(manifest: Manifest, contents: Sequence[str], fonts: Mapping[str, bytes]) -> Manifest:
    """The manifest with what tells each page's content and each font's program from another."""
    pages = tuple(
        msgspec.structs.replace(page, digest=digest(content.encode("latin-1")))
        for page, content in zip(manifest.pages, contents, strict=True)
    )
    programs = {name: digest(program) for name, program in fonts.items()}
    return msgspec.structs.replace(manifest, pages=pages, fonts=programs)


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
