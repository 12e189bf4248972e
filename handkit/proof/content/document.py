"""The document: a PDF file opened, its pages' sizes and their content operations, not yet measured.

In: a path, or the bytes found there. Out: `Document`; sizes in the file's own units (1/72 inch times the
page's user unit).

A hostile file meets a limit: the bytes of the file and its pages.
"""

from __future__ import annotations

import re
import stat
from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

import msgspec
from pypdf import PageObject, PdfReader
from pypdf.generic import RectangleObject

from handkit.errors import FileError, ProofError
from handkit.proof.content.carried import Carried, carried_by_file, carried_by_page
from handkit.proof.content.objects import ENCRYPTED, direct, is_number, parsing, rectangle
from handkit.proof.content.paths import Bounds
from handkit.proof.content.resources import CONTENT_BYTES_PER_BYTE, LEAST_CONTENT_BYTES, Content, Parser

# Far above any kit, far below what takes minutes or all of the memory.
MOST_BYTES = 200_000_000
MOST_PAGES = 2_000

# What a file says that it has, in all and in one stream of them: a page of a kit has four or five.
MOST_OBJECTS = 100_000
_OBJECTS = re.compile(rb"/(?:Size|N)\s+([0-9]{6,18})")

# Long texts of objects, which a parser reads letter by letter; a kit has hardly any, its streams are packed.
MOST_TEXT_BYTES = 1_000_000
_LONG_TEXT = re.compile(rb"<[0-9A-Fa-f\s]{100,}|\([^()\\]{1000,}")

# All boxes that a page may have (ISO 32000-1, 14.11.2).
BOXES = ("MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox")


class PdfPage(msgspec.Struct, frozen=True):
    """One page: the box a viewer shows (left, bottom, right, top), in units of the page."""

    number: int  # from 1
    box: tuple[float, float, float, float]
    user_unit: float
    rotate: float  # degrees clockwise
    page: PageObject
    parser: Parser
    boxes: tuple[tuple[str, Bounds], ...]  # all of them by name; what isn't stated is as the page is
    carried: tuple[str, ...]  # entries that a kit's page has no use for
    reference: int = 0  # the number of its object

    def annotations(self) -> Sequence[tuple[float, float, float, float]]:
        """Where its annotations lie. Raises ProofError."""
        with parsing():
            notes = [direct(note) for note in direct(self.page.get("/Annots")) or ()]
            return [rectangle(note.get("/Rect"), "an annotation", "Rect") for note in notes]

    def content(self) -> Content:
        """Its content, read now. Raises ProofError."""
        with parsing():
            stream = self.page.get("/Contents")
            operations = self.parser.operations(stream) if stream is not None else ()
            return Content(operations, direct(self.page.get("/Resources")) or {}, self.parser)


class Document(msgspec.Struct, frozen=True):
    """A file that could be read. `print_scaling` is "" where the file does not say."""

    print_scaling: str
    pages: tuple[PdfPage, ...]
    carried: Carried
    size: int  # of the file, in bytes


def opened(path: Path) -> Document:
    """The file of this path. Raises FileError where it can't be opened; ProofError as `parsed`."""
    return parsed(_bytes_of(path))


def parsed(data: bytes) -> Document:
    """A file's bytes, parsed but for its contents.

    Raises ProofError where it is no PDF, is encrypted or broken, or has too many pages to be a kit.
    """
    if b"%PDF-" not in data[:1024]:
        raise ProofError("found no PDF: it doesn't begin with %PDF-")
    if sum(len(text[0]) for text in _LONG_TEXT.finditer(data)) > MOST_TEXT_BYTES:
        raise ProofError(f"found texts of more than {MOST_TEXT_BYTES // 1_000_000} MB; too long for a kit")
    if any(int(number[1]) > MOST_OBJECTS for number in _OBJECTS.finditer(data)):
        raise ProofError(f"found more than {MOST_OBJECTS} objects; too many for a kit")
    with parsing():
        parser = Parser(
            PdfReader(BytesIO(data), strict=True),
            most_bytes=LEAST_CONTENT_BYTES + CONTENT_BYTES_PER_BYTE * len(data),
        )
        if parser.reader.is_encrypted:
            raise ProofError(ENCRYPTED)
        pages = parser.reader.pages
        if not 1 <= len(pages) <= MOST_PAGES:
            raise ProofError(f"found {len(pages)} pages; allowed: 1 to {MOST_PAGES}")
        carried = carried_by_file(parser.reader.root_object)
        scaling = dict(carried.preferences).get("PrintScaling", "")
        listed = tuple(_page(n, page, parser) for n, page in enumerate(pages, start=1))
        return Document(scaling, listed, carried, len(data))


def _bytes_of(path: Path) -> bytes:
    """A file's content. Raises FileError where it can't be read, ProofError where it is too big for a kit."""
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):  # never wait at a pipe's end
            what = "a folder" if stat.S_ISDIR(status.st_mode) else "no ordinary file"
            raise FileError(f"{path}: is {what}; name the kit, such as pouch-kit.pdf")
        if status.st_size > MOST_BYTES:
            raise ProofError(f"found more than {MOST_BYTES // 1_000_000} MB; too big for a kit")
        return path.read_bytes()
    except FileNotFoundError:
        raise FileError(f"{path}: there is no such file") from None
    except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
        reason = error.strerror if isinstance(error, OSError) else str(error)
        raise FileError(f"{path}: can't be read: {reason}") from error


def _page(number: int, page: PageObject, parser: Parser) -> PdfPage:
    media, crop = page.mediabox, page.cropbox
    left, right = _overlap((media.left, media.right), (crop.left, crop.right))
    bottom, top = _overlap((media.bottom, media.top), (crop.bottom, crop.top))
    unit, rotate = (direct(page.get(key, usual)) for key, usual in (("/UserUnit", 1), ("/Rotate", 0)))
    if not all(map(is_number, (left, bottom, right, top, unit, rotate))):
        raise ProofError(f"page {number}: found a size that is no number")
    boxes = tuple((name, _sides(getattr(page, name.lower()))) for name in BOXES)
    whole, turn = (left, bottom, right, top), float(rotate)
    reference = getattr(page.indirect_reference, "idnum", 0)
    return PdfPage(number, whole, float(unit), turn, page, parser, boxes, carried_by_page(page), reference)


def _sides(box: RectangleObject) -> Bounds:
    """A box as (left, bottom, right, top), whichever way round it is written. Raises ProofError."""
    return rectangle(list(box), "a page", "box")


def _overlap(first: tuple[float, float], second: tuple[float, float]) -> tuple[float, float]:
    """What two stretches share, whichever way round each is written."""
    return (
        float(max(min(first), min(second))),
        float(min(max(first), max(second))),
    )
