"""A drawing: the SVG file in which a maker has traced things, and one shape of it.

In: a path and a shape's id. Out: the elements that draw it, each with the map from its own units to mm; or
`ShapeError`. The file is read as data (expat, of the standard library): a document type or an entity ends
the reading, nothing it names is opened or run, and pictures, texts and styles in it are passed over.

Words: *user units* are the numbers in a drawing; the root's width and height, in mm, cm, in, pt, pc or px of
1/96 in (CSS), and its viewBox say how long they are.
"""

from __future__ import annotations

import pathlib
import re
from collections.abc import Mapping
from xml.parsers import expat

import msgspec

from handkit.errors import ShapeError
from handkit.findings import nearest
from handkit.geometry.affine import Affine
from handkit.read.svg.svg_units import length_mm, scale_of, transform_of

MOST_BYTES = 16 << 20  # a tracing may carry its photo
MOST_NESTED = 64
MOST_ELEMENTS = 100_000

SHAPES = ("path", "polygon", "polyline", "rect", "circle", "ellipse")
# Whose content is drawn elsewhere, in other units, or not at all.
_UNDRAWN = frozenset({"defs", "symbol", "clipPath", "mask", "pattern", "marker", "svg"})
_NAMESPACES = ("http://www.w3.org/2000/svg", "")
_SEPARATOR = "\n"  # in no name
_STYLED = re.compile(r"(?<![\w-])transform\s*:", re.IGNORECASE)


class DrawnShape(msgspec.Struct, frozen=True):
    """An element that draws, its attributes, and the map to mm, y down as in the file."""

    kind: str
    attributes: Mapping[str, str]
    lie: Affine


class _Open(msgspec.Struct, frozen=True):
    """An element whose end is still to come."""

    lie: Affine
    drawn: bool
    wanted: bool  # it, or one around it, has the id


class _Reading(msgspec.Struct):
    """What is known so far of a file."""

    shape: str
    file: str
    opened: list[_Open] = msgspec.field(default_factory=list)
    found: list[DrawnShape] = msgspec.field(default_factory=list)
    ids: list[str] = msgspec.field(default_factory=list)  # of what draws
    styles: list[str] = msgspec.field(default_factory=list)
    styling: bool = False
    count: int = 0
    met: int = 0  # how often the id was

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        namespace, _, kind = f"{_SEPARATOR}{name}".rpartition(_SEPARATOR)
        namespace = namespace.removeprefix(_SEPARATOR)
        self.count += 1
        if self.count > MOST_ELEMENTS:
            raise ShapeError("svg-too-large/elements", file=self.file, most=MOST_ELEMENTS)
        if len(self.opened) >= MOST_NESTED:
            raise ShapeError("svg-too-large/nested", file=self.file, most=MOST_NESTED)
        ours = namespace in _NAMESPACES
        self.styling = ours and kind == "style"
        if not self.opened:
            if not ours or kind != "svg":
                raise ShapeError("svg-unreadable/other", file=self.file, element=kind)
            self.opened.append(_Open(self._root(attributes), drawn=True, wanted=False))
            return
        around = self.opened[-1]
        named = ours and attributes.get("id") == self.shape
        self.met += named
        inside = _Open(around.lie, around.drawn and ours and kind not in _UNDRAWN, around.wanted or named)
        if inside.wanted and ours:
            inside = self._wanted(kind, attributes, inside)
        elif ours and kind in (*SHAPES, "g") and inside.drawn and len(self.ids) < 200:
            self.ids += [attributes["id"]] if attributes.get("id") else []
        self.opened.append(
            inside if inside.wanted else msgspec.structs.replace(inside, lie=self._moved(around, attributes))
        )

    def _wanted(self, kind: str, attributes: dict[str, str], inside: _Open) -> _Open:
        """An element of the shape, or of a group that is."""
        if kind in ("use", "svg", "image", "text", "line", "foreignObject"):
            raise ShapeError("svg-kind", shape=self.shape, element=kind, shapes=SHAPES)
        inside = msgspec.structs.replace(inside, lie=self._moved(self.opened[-1], attributes))
        if kind in SHAPES:
            if not inside.drawn:
                raise ShapeError("svg-undrawn", shape=self.shape)
            self.found.append(DrawnShape(kind, attributes, inside.lie))
        return inside

    def _moved(self, around: _Open, attributes: dict[str, str]) -> Affine:
        """Where what stands inside an element lies."""
        written = attributes.get("transform", "")
        turned = transform_of(written) if written else Affine()
        styled = attributes.get("style", "")
        origin = attributes.get("transform-origin", "")
        if turned is None or origin or _STYLED.search(styled):
            found = written if turned is None else origin or styled
            raise ShapeError("svg-transform", file=self.file, transform=found[:60])
        return around.lie @ turned

    def _root(self, attributes: dict[str, str]) -> Affine:
        """From user units to mm."""
        sizes = {key: length_mm(attributes[key]) for key in ("width", "height") if key in attributes}
        wrong = [key for key in ("width", "height") if not sizes.get(key)]
        if wrong:
            raise ShapeError(
                "svg-size", file=self.file, key=wrong[0], value=attributes.get(wrong[0], "")[:40]
            )
        box, fitted = attributes.get("viewBox", ""), attributes.get("preserveAspectRatio", "")
        scale = scale_of((sizes["width"] or 0.0, sizes["height"] or 0.0), box, fitted)
        if scale is None:
            raise ShapeError("svg-size", file=self.file, key="viewBox", value=box[:40])
        return Affine(a=scale[0], d=scale[1])

    def end(self, _: str) -> None:
        """An element ends."""
        self.styling = False
        self.opened.pop()

    def text(self, found: str) -> None:
        """Text, of which only a style sheet's may say something of shapes."""
        if self.styling:
            self.styles.append(found)


def drawn_in(path: pathlib.Path, shape: str, *, file: str) -> tuple[DrawnShape, ...]:
    """The elements that draw the shape of an id; of a group all in it. Raises ShapeError."""
    reading = _Reading(shape, file)
    parser = expat.ParserCreate(namespace_separator=_SEPARATOR)
    parser.StartElementHandler, parser.EndElementHandler = reading.start, reading.end
    parser.CharacterDataHandler = reading.text
    parser.StartDoctypeDeclHandler = parser.EntityDeclHandler = _refuse_declaration
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
        if len(data) > MOST_BYTES:
            raise ShapeError("svg-too-large", file=file, most=MOST_BYTES)
        parser.Parse(data, True)
    except expat.ExpatError as wrong:
        reason = expat.ErrorString(wrong.code)
        raise ShapeError("svg-unreadable", file=file, line=wrong.lineno, reason=reason) from None
    except OSError as wrong:
        raise ShapeError(
            "svg-unreadable/closed", file=file, reason=wrong.strerror or "no reason told"
        ) from None
    if styled := _STYLED.search("".join(reading.styles)):
        raise ShapeError("svg-transform", file=file, transform=styled[0])
    if reading.met > 1:
        raise ShapeError("svg-id-twice", shape=shape, file=file)
    if not reading.met and not reading.ids:
        raise ShapeError("svg-id-unknown/none", shape=shape, file=file)
    if not reading.met:
        near = nearest(shape, reading.ids)
        raise ShapeError("svg-id-unknown", shape=shape, file=file, near=near, known=reading.ids)
    if not reading.found:
        raise ShapeError("svg-kind/none", shape=shape, shapes=SHAPES)
    return tuple(reading.found)


def _refuse_declaration(*_: object) -> None:
    raise ShapeError("svg-declares")
