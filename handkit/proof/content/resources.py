"""Resources: the operations of pages and forms, and what their names stand for.

In: streams and dictionaries as pypdf gives them. Out: `Content`, that is asked for a name's form, font,
state or properties. Each is read once.

A hostile file meets a limit: the bytes that its contents unpack to.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

import msgspec
from pypdf import PdfReader
from pypdf.generic import (
    ArrayObject,
    ContentStream,
    DictionaryObject,
    StreamObject,
    TextStringObject,
    create_string_object,
)

from handkit.errors import ProofError
from handkit.geometry.affine import Affine
from handkit.proof.content.fonts import PdfFont, pdf_font
from handkit.proof.content.objects import direct, is_number, parsing, rectangle
from handkit.proof.content.operations import Operation, plain_operations

# What contents may unpack to: so much, and so much for each byte of the file, of which a kit's unpack to 3 or
# 4. What isn't plain takes a general reader a second for some hundred kB; a kit has nothing of that.
LEAST_CONTENT_BYTES = 4_000_000
CONTENT_BYTES_PER_BYTE = 8
MOST_GENERAL_BYTES = 1_000_000

Found = TypeVar("Found")


class Parser(msgspec.Struct):
    """The reader of one file, with the forms and fonts it has read so far, the bytes that it has unpacked,
    and those of them that a general reader went through. The reader keeps every object it has read, so
    that an id names an object for good."""

    reader: PdfReader
    forms: dict[int, Form] = msgspec.field(default_factory=dict)
    fonts: dict[int, PdfFont] = msgspec.field(default_factory=dict)
    most_bytes: int = LEAST_CONTENT_BYTES
    bytes_used: int = 0
    general_used: int = 0

    def operations(self, stream: Any) -> Sequence[Operation]:
        """The operations of a stream or a row of streams. Raises ProofError."""
        for part in stream if isinstance(stream, ArrayObject) else (stream,):
            self.unpacked(direct(part))
        content = ContentStream(stream, self.reader)
        data = content.get_data()
        plain = plain_operations(data, create_string_object)
        if plain is not None:
            return plain
        self.general_used += len(data)
        if self.general_used > MOST_GENERAL_BYTES:
            most = MOST_GENERAL_BYTES // 1_000_000
            raise ProofError(f"found more than {most} MB of drawing that no kit would hold like this")
        return [(operands, operator.decode("latin-1")) for operands, operator in content.operations]

    def font(self, found: DictionaryObject) -> PdfFont:
        """A font by its dictionary. Raises ProofError."""
        parts = {key: direct(value) for key, value in found.items()}
        widths = [direct(width) for width in parts.get("/Widths") or ()]
        descriptor, to_unicode = parts.get("/FontDescriptor") or {}, parts.get("/ToUnicode")
        missing = direct(descriptor.get("/MissingWidth", 0))
        return pdf_font(
            str(parts.get("/BaseFont", "")).removeprefix("/"),
            first=int(parts["/FirstChar"]) if is_number(parts.get("/FirstChar")) else 0,
            widths=[float(width) if is_number(width) else 0.0 for width in widths],
            missing_width=float(missing) if is_number(missing) else 0.0,
            to_unicode=self.unpacked(to_unicode) if isinstance(to_unicode, StreamObject) else b"",
        )

    def unpacked(self, stream: StreamObject) -> bytes:
        """What a stream holds. Raises ProofError where all of them hold too much."""
        if "/F" in stream:
            raise ProofError("found a stream whose data is in another file")
        data = stream.get_data()
        self.bytes_used += len(data)
        if self.bytes_used > self.most_bytes:
            most = self.most_bytes // 1_000_000
            raise ProofError(f"found more than {most} MB of drawing; too much for a kit of this size")
        return data


class Content(msgspec.Struct, frozen=True):
    """The operations of a page or a form, and the resources their names are looked up in."""

    operations: Sequence[Operation]
    resources: Mapping[str, Any]
    parser: Parser
    known: dict[tuple[str, str], Any] = msgspec.field(default_factory=dict)

    def form(self, name: str) -> Form | None:
        """The form XObject of this name; None for one that is an image. Raises ProofError."""
        return self._found("/XObject", name, lambda found: self._form(found, name))

    def font(self, name: str) -> PdfFont | None:
        """The font of this name; None where there is none. Raises ProofError."""
        return self._found("/Font", name, self._font)

    def parameters(self, name: str) -> Mapping[str, Any]:
        """The graphics state dictionary of this name. Raises ProofError."""
        return self._found("/ExtGState", name, lambda found: _dictionary(found, f"gs {name}"))

    def properties(self, name: str) -> Mapping[str, Any]:
        """The property list of this name. Raises ProofError."""
        return self._found("/Properties", name, lambda found: _dictionary(found, f"properties {name}"))

    @property
    def mixes_colours(self) -> bool:
        """Whether other colours are put in the place of the device's (ISO 32000-1, 8.6.5.6)."""
        with parsing():
            spaces = direct(self.resources.get("/ColorSpace")) or {}
            return any(name in spaces for name in ("/DefaultGray", "/DefaultRGB", "/DefaultCMYK"))

    def _found(self, kind: str, name: str, made: Callable[[Any], Found]) -> Found:
        """What is made of a resource, once."""
        if (kind, name) not in self.known:
            with parsing():
                self.known[kind, name] = made(_looked_up(self.resources, kind, name))
        found: Found = self.known[kind, name]
        return found

    def _form(self, found: Any, name: str) -> Form | None:
        if not isinstance(found, StreamObject):
            raise ProofError(f"found Do {name}, which the page doesn't have")
        if found.get("/Subtype") != "/Form":
            return None
        if id(found) not in self.parser.forms:
            self.parser.forms[id(found)] = _form(found, self.parser)
        return self.parser.forms[id(found)]

    def _font(self, found: Any) -> PdfFont | None:
        if not isinstance(found, DictionaryObject):
            return None
        if id(found) not in self.parser.fonts:
            self.parser.fonts[id(found)] = self.parser.font(found)
        return self.parser.fonts[id(found)]


class Form(msgspec.Struct, frozen=True):
    """A form XObject: content that is drawn through its own matrix and inside of its own box. A *group* is
    painted as one thing; what is *layered* may be switched off in a viewer."""

    content: Content
    matrix: Affine
    box: tuple[float, float, float, float]
    group: bool
    layered: bool


def _form(stream: StreamObject, parser: Parser) -> Form:
    matrix = direct(stream.get("/Matrix")) or (1, 0, 0, 1, 0, 0)
    if len(matrix) != 6 or not all(map(is_number, matrix)):
        raise ProofError("found a form whose Matrix is not six numbers")
    resources = direct(stream.get("/Resources")) or {}
    return Form(
        Content(parser.operations(stream), resources, parser),
        Affine(*map(float, matrix)),
        rectangle(stream.get("/BBox"), "a form", "BBox"),
        group="/Group" in stream,
        layered="/OC" in stream,
    )


def bytes_of_text(text: Any) -> bytes:
    """The bytes of a text operand, as they stood in the file."""
    if isinstance(text, bytes):
        return bytes(text)
    if isinstance(text, TextStringObject):
        return text.original_bytes
    if isinstance(text, str):
        return text.encode("latin-1")
    raise ProofError("found Tj without its text")


def _dictionary(found: Any, what: str) -> Mapping[str, Any]:
    if not isinstance(found, DictionaryObject):
        raise ProofError(f"found {what}, which the page doesn't have")
    return {key: direct(value) for key, value in found.items()}


def _looked_up(resources: Mapping[str, Any], kind: str, name: str) -> Any:
    return direct((direct(resources.get(kind)) or {}).get(name))
