"""Small PDF files that ask for much of a proof, written by hand, and by no library.

In: what the pages draw. Out: the bytes of a file, its contents packed as small as they go (ISO 32000-1, 7.3
to 7.8), so that a file of a few hundred kilobytes may ask for hours.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from zlib import compress

HEAD = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
TAGGED = "/hkPiece <</Piece (back)/Window 1>> BDC"


def pdf_of(contents: Sequence[str], *, forms: Mapping[str, str] | None = None, pages: int = 0) -> bytes:
    """A file of A4 pages, each with its content, or `pages` pages that share one; every form may draw every
    other."""
    shared, drawn = forms or {}, len(contents)
    count = pages or drawn
    first = 3  # after the catalogue and the pages
    numbers = {name: first + count + drawn + k for k, name in enumerate(shared)}
    names = "".join(f"/{name} {number} 0 R" for name, number in numbers.items())
    resources = f"<</XObject <<{names}>> >>"
    kids = " ".join(f"{first + k} 0 R" for k in range(count))
    objects = [
        b"<</Type /Catalog/Pages 2 0 R>>",
        f"<</Type /Pages/Count {count}/Kids [{kids}]/MediaBox [0 0 595 842]>>".encode(),
    ]
    page = f"/Type /Page/Parent 2 0 R/Resources {resources}"
    objects += [f"<<{page}/Contents {first + count + k % drawn} 0 R>>".encode() for k in range(count)]
    objects += [_stream(content) for content in contents]
    head = f"/Type /XObject/Subtype /Form/BBox [0 0 595 842]/Resources {resources}"
    objects += [_stream(content, head) for content in shared.values()]
    return _file(objects)


def _stream(content: str, head: str = "") -> bytes:
    packed = compress(content.encode(), 9)
    return f"<<{head}/Filter /FlateDecode/Length {len(packed)}>> stream\n".encode() + packed + b"\nendstream"


def _file(objects: Sequence[bytes]) -> bytes:
    data, places = bytearray(HEAD), []
    for number, body in enumerate(objects, start=1):
        places.append(len(data))
        data += b"%d 0 obj\n%b\nendobj\n" % (number, body)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    size, start = len(objects) + 1, len(data)
    data += b"xref\n0 %d\n0000000000 65535 f \n%b" % (size, table)
    data += b"trailer <</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n" % (size, start)
    return bytes(data)


def nested_forms(deep: int = 11, draws: int = 100) -> bytes:
    """Each form draws the next a hundred times: 100 to the eleventh drawings."""
    forms = {f"F{k}": f"/F{k + 1} Do " * draws for k in range(deep)}
    return pdf_of(["/F0 Do"], forms={**forms, f"F{deep}": "0 0 9 9 re S"})


def operands(count: int, kind: str = "1 ") -> bytes:
    """So many operands, and then an operator."""
    return pdf_of([kind * count + "m"])


def lists(deep: int) -> bytes:
    """Lists in one another as operands of a dashed line."""
    return pdf_of(["[" * deep + "]" * deep + " 0 d"])


def hex_strings(count: int, length: int) -> bytes:
    """Texts in hexadecimal digits, with a space after each, the last one without an end."""
    return pdf_of([f"BT <{'4 1 ' * length}> Tj ET\n" * count + "BT <41"])


def nested_tags(pages: int, deep: int, *, shared: bool) -> bytes:
    """On each page pieces in one another, with a line in each."""
    content = f"{TAGGED} 0 0 m 9 9 l S\n" * deep + "EMC " * deep
    return pdf_of([content], pages=pages) if shared else pdf_of([content] * pages)
