"""Attached: what of a file the audit needs beside its drawing: an attached file, and what tells a content
or a font's program from another.

In: the document. Out: bytes and digests. Digests raise ProofError for a broken file.
"""

from __future__ import annotations

from handkit.errors import ProofError
from handkit.manifest.attached import digest
from handkit.proof.content.document import Document, PdfPage
from handkit.proof.content.objects import direct, parsing


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


def font_digests(document: Document) -> dict[str, str]:
    """What tells the embedded program of each font that pages may use from another, by the fonts' names."""
    digests: dict[str, str] = {}
    seen: set[int] = set()
    with parsing():
        for page in document.pages:
            fonts = direct((direct(page.page.get("/Resources")) or {}).get("/Font")) or {}
            for font in () if id(fonts) in seen else map(direct, fonts.values()):
                descriptor = direct(font.get("/FontDescriptor")) or {}
                program = direct(descriptor.get("/FontFile2"))
                if program is not None:
                    name = str(descriptor.get("/FontName")).removeprefix("/")
                    digests[name] = digest(program.get_data())
            seen.add(id(fonts))
    return digests
