"""The document: a PDF file opened, its pages' sizes and their content operations, not yet measured.

In: a path. Out: `Document`; sizes in the file's own units (1/72 inch times the page's user unit).
The one module of this step that calls pypdf, which parses and no more: it is told to be strict,
and what it mends all the same, with a word to its log, is refused too. Whatever it raises on a
broken file becomes ProofError.

A hostile file meets a limit: the bytes of the file, its pages, and the bytes its contents unpack to.
"""

from __future__ import annotations

import logging
import stat
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import Any, TypeGuard

import msgspec
from pypdf import PageObject, PdfReader
from pypdf.errors import DependencyError, FileNotDecryptedError
from pypdf.generic import ContentStream, DictionaryObject, StreamObject, create_string_object

from handkit.errors import FileError, ProofError
from handkit.geometry.affine import Affine
from handkit.proof.content.operations import Operation, plain_operations

# Far above any kit, far below what takes minutes or all of the memory.
MOST_BYTES = 200_000_000
MOST_PAGES = 2_000
MOST_CONTENT_BYTES = 16_000_000
MOST_NUMBER = 1e12

ENCRYPTED = "found an encrypted file; allowed: a PDF that opens without a password"
BROKEN = "found a broken file: it can't be read as a PDF"


class Parser(msgspec.Struct):
    """The reader of one file, with the forms it has read so far and the bytes it may still unpack."""

    reader: PdfReader
    forms: dict[int, Form] = msgspec.field(default_factory=dict)
    bytes_left: int = MOST_CONTENT_BYTES

    def operations(self, stream: Any) -> Sequence[Operation]:
        """The operations of a stream or a row of streams. Raises ProofError."""
        content = ContentStream(stream, self.reader)
        data = content.get_data()
        self.bytes_left -= len(data)
        if self.bytes_left < 0:
            most = MOST_CONTENT_BYTES // 1_000_000
            raise ProofError(f"found more than {most} MB of drawing; too much for a kit")
        plain = plain_operations(data, create_string_object)
        if plain is not None:
            return plain
        return [(operands, operator.decode("latin-1")) for operands, operator in content.operations]


class Content(msgspec.Struct, frozen=True):
    """The operations of a page or a form, and the resources their names are looked up in."""

    operations: Sequence[Operation]
    resources: Mapping[str, Any]
    parser: Parser

    def form(self, name: str) -> Form | None:
        """The form XObject of this name; None for one that is an image. Raises ProofError."""
        with _parsing():
            found = _looked_up(self.resources, "/XObject", name)
            if not isinstance(found, StreamObject):
                raise ProofError(f"found Do {name}, which the page doesn't have")
            if found.get("/Subtype") != "/Form":
                return None
            # The reader keeps every object it has read, so that the id names this one.
            if id(found) not in self.parser.forms:
                self.parser.forms[id(found)] = _form(found, self.parser)
            return self.parser.forms[id(found)]

    def properties(self, name: str) -> Mapping[str, Any]:
        """The property list of this name. Raises ProofError."""
        with _parsing():
            found = _looked_up(self.resources, "/Properties", name)
            if not isinstance(found, DictionaryObject):
                raise ProofError(f"found properties {name}, which the page doesn't have")
            return {key: _direct(value) for key, value in found.items()}


class Form(msgspec.Struct, frozen=True):
    """A form XObject: content that is drawn through its own matrix."""

    content: Content
    matrix: Affine


class PdfPage(msgspec.Struct, frozen=True):
    """One page: the box a viewer shows (left, bottom, right, top), in units of the page."""

    number: int  # from 1
    box: tuple[float, float, float, float]
    user_unit: float
    rotate: float  # degrees clockwise
    page: PageObject
    parser: Parser

    def content(self) -> Content:
        """Its content, read now. Raises ProofError."""
        with _parsing():
            stream = self.page.get("/Contents")
            operations = self.parser.operations(stream) if stream is not None else ()
            return Content(operations, _direct(self.page.get("/Resources")) or {}, self.parser)


class Document(msgspec.Struct, frozen=True):
    """A file that could be read. `print_scaling` is "" where the file does not say."""

    print_scaling: str
    pages: tuple[PdfPage, ...]


def opened(path: Path) -> Document:
    """The file, parsed but for its contents.

    Raises FileError where it can't be opened; ProofError where it is no PDF, is encrypted, broken,
    or too big to be a kit.
    """
    data = _bytes_of(path)
    if b"%PDF-" not in data[:1024]:
        raise ProofError("found no PDF: it doesn't begin with %PDF-")
    with _parsing():
        parser = Parser(PdfReader(BytesIO(data), strict=True))
        if parser.reader.is_encrypted:
            raise ProofError(ENCRYPTED)
        pages = parser.reader.pages
        if not 1 <= len(pages) <= MOST_PAGES:
            raise ProofError(f"found {len(pages)} pages; allowed: 1 to {MOST_PAGES}")
        preferences = _direct(parser.reader.root_object.get("/ViewerPreferences")) or {}
        scaling = str(_direct(preferences.get("/PrintScaling")) or "").removeprefix("/")
        return Document(scaling, tuple(_page(n, page, parser) for n, page in enumerate(pages, start=1)))


@contextmanager
def _parsing() -> Iterator[None]:
    """Whatever a parser meets in a broken file, it raises or logs: to the maker it is a broken file."""
    try:
        with _listening() as heard:
            yield
    except ProofError:
        raise
    except (FileNotDecryptedError, DependencyError) as error:
        raise ProofError(ENCRYPTED) from error
    except Exception as error:
        raise ProofError(BROKEN) from error
    if heard:
        raise ProofError(BROKEN)


@contextmanager
def _listening() -> Iterator[list[str]]:
    """What pypdf logs meanwhile; a handler that is there keeps it from being printed."""
    heard: list[str] = []
    ear = logging.Handler(logging.WARNING)
    ear.addFilter(lambda record: _note(record, heard))
    logger = logging.getLogger("pypdf")
    logger.addHandler(ear)
    try:
        yield heard
    finally:
        logger.removeHandler(ear)


def _note(record: logging.LogRecord, heard: list[str]) -> bool:
    heard.append(record.getMessage())
    return False


def _bytes_of(path: Path) -> bytes:
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
    unit, rotate = (_direct(page.get(key, usual)) for key, usual in (("/UserUnit", 1), ("/Rotate", 0)))
    if not all(map(is_number, (left, bottom, right, top, unit, rotate))):
        raise ProofError(f"page {number}: found a size that is no number")
    return PdfPage(number, (left, bottom, right, top), float(unit), float(rotate), page, parser)


def _overlap(first: tuple[float, float], second: tuple[float, float]) -> tuple[float, float]:
    """What two stretches share, whichever way round each is written."""
    return (
        float(max(min(first), min(second))),
        float(min(max(first), max(second))),
    )


def _form(stream: StreamObject, parser: Parser) -> Form:
    matrix = _direct(stream.get("/Matrix")) or (1, 0, 0, 1, 0, 0)
    if len(matrix) != 6 or not all(map(is_number, matrix)):
        raise ProofError("found a form whose Matrix is not six numbers")
    resources = _direct(stream.get("/Resources")) or {}
    return Form(Content(parser.operations(stream), resources, parser), Affine(*map(float, matrix)))


def is_number(value: Any) -> TypeGuard[float]:
    """Whether it is a number a drawing can have: no text, nothing infinite, nothing astronomic.

    >>> is_number(3), is_number(float("nan")), is_number(10**400), is_number("3")
    (True, False, False, False)
    """
    return isinstance(value, (int, float)) and abs(value) < MOST_NUMBER


def _direct(value: Any) -> Any:
    """What a reference stands for."""
    return value.get_object() if hasattr(value, "get_object") else value


def _looked_up(resources: Mapping[str, Any], kind: str, name: str) -> Any:
    return _direct((_direct(resources.get(kind)) or {}).get(name))
