"""The walker: a page's content operations followed one by one, into marks measured in mm.

In: a page. Out: its tagged marks, in the order they are drawn, mm from the page's lower left
corner, y up.

It follows the drawing (see `drawing.py`), what is painted (S, s, f, F, f*, B, B*, b, b*), the
tags (BMC, BDC, EMC) and forms (Do, with the form's Matrix), after ISO 32000-1, 8.5, 8.10 and 14.6.
A path belongs to the innermost tag of handkit's it stands in. Clipping, colour, text and images
are passed over: they move nothing.

A hostile file meets a limit: operations, forms in forms and open tags are counted.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import msgspec

from handkit.errors import ProofError
from handkit.geometry.affine import Affine
from handkit.ink import Tag
from handkit.proof.content.document import Content, PdfPage, is_number
from handkit.proof.content.drawing import OPERATORS, Graphics, PathDrawing
from handkit.proof.content.marks import MeasuredMark, Painted, PropertyValue
from handkit.units import MM_PER_INCH, PT_PER_INCH

# Far above any kit (a hole takes about 20), and a few seconds' walk.
MOST_OPERATIONS = 2_000_000
MOST_NESTED_FORMS = 12
MOST_OPEN_TAGS = 256

_TAGS = {f"/{tag.value}": tag for tag in Tag}

# Operator to: close the subpath first, stroke, fill.
_PAINTING = {
    "S": (False, True, False),
    "s": (True, True, False),
    "f": (False, False, True),
    "F": (False, False, True),
    "f*": (False, False, True),
    "B": (False, True, True),
    "B*": (False, True, True),
    "b": (True, True, True),
    "b*": (True, True, True),
}


class Budget(msgspec.Struct):
    """Operations that may still be walked: one for a whole file, spent as it goes."""

    operations: int = MOST_OPERATIONS

    def spend(self) -> None:
        """Take one. Raises ProofError when there is none left."""
        self.operations -= 1
        if self.operations < 0:
            raise ProofError("found more operations than any kit needs")


def walked(page: PdfPage, *, budget: Budget) -> tuple[MeasuredMark, ...]:
    """The tagged marks of a page. Raises ProofError, with the page's number, for what is no drawing."""
    left, bottom, _, _ = page.box
    scale = page.user_unit * MM_PER_INCH / PT_PER_INCH
    to_mm = Affine(a=scale, d=scale) @ Affine.shift(-left, -bottom)
    walk = _Walk(budget, PathDrawing(Graphics(to_mm)))
    try:
        walk.follow(page.content(), depth=0)
    except ProofError as error:
        raise ProofError(f"page {page.number}: {error}") from error
    return tuple(MeasuredMark(page.number, m.tag, m.properties, tuple(m.painted)) for m in walk.marks)


class _Tagged(msgspec.Struct, frozen=True):
    """A mark while it is drawn."""

    tag: Tag
    properties: Mapping[str, PropertyValue]
    painted: list[Painted] = msgspec.field(default_factory=list)


class _Walk(msgspec.Struct):
    """Where the walk stands: the drawing, the open tags (None for other people's), the marks found."""

    budget: Budget
    drawing: PathDrawing
    open: list[_Tagged | None] = msgspec.field(default_factory=list)
    marks: list[_Tagged] = msgspec.field(default_factory=list)

    def follow(self, content: Content, *, depth: int) -> None:
        """All operations of a page or form, which closes what it opens, and no more than that."""
        if depth > MOST_NESTED_FORMS:
            raise ProofError(f"found forms nested deeper than {MOST_NESTED_FORMS}")
        before = (len(self.drawing.saved), len(self.open))
        for operands, name in content.operations:
            self.budget.spend()
            self._step(name, operands, content, depth)
            if len(self.drawing.saved) < before[0] or len(self.open) < before[1]:
                raise ProofError(f"found {name} that closes nothing")
        if (len(self.drawing.saved), len(self.open)) != before:
            raise ProofError("found q or a tag that is never closed")

    def _step(self, name: str, operands: Sequence[Any], content: Content, depth: int) -> None:
        if name in OPERATORS:
            OPERATORS[name](self.drawing, operands)
        elif name in _PAINTING:
            self._paint(name)
        elif name in ("BDC", "BMC"):
            self._begin(operands, content)
        elif name == "EMC":
            self._end()
        elif name == "Do":
            self._draw_form(operands, content, depth)

    def _paint(self, name: str) -> None:
        close, stroke, fill = _PAINTING[name]
        painted = self.drawing.painted(close=close, stroke=stroke, fill=fill)
        mark = next((tagged for tagged in reversed(self.open) if tagged is not None), None)
        if mark is not None and painted is not None:
            mark.painted.append(painted)

    def _begin(self, operands: Sequence[Any], content: Content) -> None:
        if len(self.open) >= MOST_OPEN_TAGS:
            raise ProofError(f"found more than {MOST_OPEN_TAGS} tags in one another")
        tag = _TAGS.get(_name("a tag", operands[:1]))
        if tag is None:
            self.open.append(None)
            return
        listed = operands[1] if len(operands) > 1 else {}
        properties = listed if isinstance(listed, Mapping) else content.properties(_name("BDC", [listed]))
        mark = _Tagged(tag, _plain(properties))
        self.open.append(mark)
        self.marks.append(mark)

    def _end(self) -> None:
        if not self.open:
            raise ProofError("found EMC that closes nothing")
        self.open.pop()

    def _draw_form(self, operands: Sequence[Any], content: Content, depth: int) -> None:
        form = content.form(_name("Do", operands))
        if form is None:
            return
        outside = self.drawing.graphics
        self.drawing.graphics = outside.within(form.matrix)
        self.follow(form.content, depth=depth + 1)
        self.drawing.graphics = outside


def _name(of: str, operands: Sequence[Any]) -> str:
    if len(operands) != 1 or not isinstance(operands[0], str) or not operands[0].startswith("/"):
        raise ProofError(f"found {of} without a name")
    return str(operands[0])


def _plain(properties: Mapping[str, Any]) -> dict[str, PropertyValue]:
    """The property list as texts, numbers and rows of numbers; what is neither is left out."""
    plain: dict[str, PropertyValue] = {}
    for key, value in properties.items():
        name = str(key).removeprefix("/")
        if isinstance(value, str):
            plain[name] = str(value)
        elif is_number(value):
            plain[name] = float(value)
        elif isinstance(value, list) and all(map(is_number, value)):
            plain[name] = tuple(float(x) for x in value)
    return plain
