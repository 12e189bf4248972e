"""The walker: a page's content operations followed one by one, into marks measured in mm.

In: a page. Out: what it draws, mm from the page's lower left corner, y up: its tagged marks in the order
in which they are drawn, and what stands in no tag of handkit's.

It follows the drawing (see `drawing.py`), how ink looks (`colours.py`), letters (`letters.py`), what is
painted (S, s, f, F, f*, B, B*, b, b*), the tags (BMC, BDC, EMC), and what is drawn inside (Do, with a form's
Matrix and BBox; images, shadings, annotations as areas), after ISO 32000-1, 8.5, 8.10 and 14.6. Ink belongs
to the innermost tag of handkit's it stands in. What stands in a tag /OC can be switched off.

A hostile file meets a limit: operations, forms in forms and open tags are counted.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any, TypeVar

import msgspec

from handkit.errors import ProofError
from handkit.geometry.affine import Affine
from handkit.ink import Tag
from handkit.proof.content.colours import COLOURS, with_parameters
from handkit.proof.content.document import PdfPage
from handkit.proof.content.drawing import OPERATORS, PAINTING, PathDrawing
from handkit.proof.content.graphics import Graphics, named
from handkit.proof.content.letters import TEXT, Letters
from handkit.proof.content.marks import (
    ANNOTATION,
    Laid,
    MeasuredMark,
    PageDrawing,
    Painted,
    PlacedPicture,
    PropertyValue,
    ShownWords,
)
from handkit.proof.content.objects import Allowance, is_number
from handkit.proof.content.paths import PaintedArea
from handkit.proof.content.resources import Content, Form
from handkit.units import MM_PER_INCH, PT_PER_INCH

# So many operations, and so many for each byte of the file: a kit has one for six or seven bytes (a hole
# takes about 20). Drawing a form spends more, for each time it is drawn.
LEAST_OPERATIONS = 200_000
OPERATIONS_PER_BYTE = 0.4
SPENT_BY_A_FORM = 10
MOST_NESTED_FORMS = 12
MOST_OPEN_TAGS = 256

# What is drawn in a square of one unit (ISO 32000-1, 8.9.5).
UNIT_BOX = (0.0, 0.0, 1.0, 1.0)

_TAGS = {f"/{tag.value}": tag for tag in Tag}

Inked = TypeVar("Inked", Painted, ShownWords)


# A printer that keeps full scale.
AS_DRAWN = Affine()


def budget_of(size: int) -> Allowance:
    """The operations that may be walked of a file of so many bytes."""
    most = LEAST_OPERATIONS + int(OPERATIONS_PER_BYTE * size)
    return Allowance(most, f"found more than {most} operations; too many for a kit of this size")


def walked(page: PdfPage, *, budget: Allowance, printed: Affine = AS_DRAWN) -> PageDrawing:
    """What a page draws, in mm, led through `printed`: what a printer does to it. Raises ProofError, with the
    page's number, for what is no drawing."""
    left, bottom, _, _ = page.box
    scale = page.user_unit * MM_PER_INCH / PT_PER_INCH
    to_mm = printed @ Affine(a=scale, d=scale) @ Affine.shift(-left, -bottom)
    walk = _Walk(budget, PathDrawing(Graphics(to_mm)))
    try:
        walk.follow(page.content(), depth=0)
        walk.drawing.graphics = Graphics(to_mm)
        for box in page.annotations():
            walk.place(ANNOTATION, walk.drawing.quad(box))
    except ProofError as error:
        raise ProofError(f"page {page.number}: {error}") from error
    marks = (
        MeasuredMark(page.number, m.tag, m.properties, tuple(m.painted), tuple(m.words)) for m in walk.marks
    )
    x0, y0, x1, y1 = dict(page.boxes)["MediaBox"]
    sheet = ((x0 - left) * scale, (y0 - bottom) * scale, (x1 - left) * scale, (y1 - bottom) * scale)
    loose = walk.loose
    return PageDrawing(
        page.number, sheet, tuple(marks), tuple(loose.painted), tuple(loose.words), tuple(walk.pictures)
    )


class _Tagged(msgspec.Struct, frozen=True):
    """A mark while it is drawn; what is loose has a tag that nobody reads."""

    tag: Tag
    properties: Mapping[str, PropertyValue]
    painted: list[Painted] = msgspec.field(default_factory=list)
    words: list[ShownWords] = msgspec.field(default_factory=list)


class _Walk(msgspec.Struct):
    """Where the walk stands: the drawing, the open tags (None for other people's) and how many of them are
    layers, and what was found."""

    budget: Allowance
    drawing: PathDrawing
    letters: Letters = msgspec.field(default_factory=Letters)
    open: list[tuple[_Tagged | None, bool]] = msgspec.field(default_factory=list)
    layers: int = 0
    marks: list[_Tagged] = msgspec.field(default_factory=list)
    loose: _Tagged = msgspec.field(default_factory=lambda: _Tagged(Tag.PAGE, {}))
    pictures: list[PlacedPicture] = msgspec.field(default_factory=list)

    def follow(self, content: Content, *, depth: int) -> None:
        """All operations of a page or form, which closes what it opens, and no more than that."""
        if depth > MOST_NESTED_FORMS:
            raise ProofError(f"found forms nested deeper than {MOST_NESTED_FORMS}")
        if content.mixes_colours:
            self._veil("colour")
        before = (len(self.drawing.saved), len(self.open))
        for operands, name in content.operations:
            self.budget.spend()
            self._step(name, operands, content, depth)
            if len(self.drawing.saved) < before[0] or len(self.open) < before[1]:
                raise ProofError(f"found {name} that closes nothing")
        if (len(self.drawing.saved), len(self.open)) != before:
            raise ProofError("found q or a tag that is never closed")
        self._end_words()

    def place(self, what: str, area: PaintedArea | None) -> None:
        """Something that is not looked into."""
        graphics, order = self.drawing.graphics, self.drawing.next_order()
        self.pictures.append(PlacedPicture(what, area, Laid(graphics.look, graphics.clips, order)))

    def _step(self, name: str, operands: Sequence[Any], content: Content, depth: int) -> None:
        if name in OPERATORS:
            OPERATORS[name](self.drawing, operands)
        elif name in PAINTING:
            self._paint(name)
        elif name in COLOURS:
            self.drawing.graphics = COLOURS[name](self.drawing.graphics, operands)
        elif name in TEXT:
            TEXT[name](self.letters, self.drawing, operands, content)
            self._keep_words()
        elif name in _OTHERS:
            _OTHERS[name](self, operands, content)
        elif name == "Do":
            self._draw(operands, content, depth)

    def _paint(self, name: str) -> None:
        painted = self.drawing.painted(PAINTING[name])
        if painted is not None:
            self._mark.painted.append(self._layered(painted))

    def begin_tag(self, operands: Sequence[Any], content: Content) -> None:
        """BDC and BMC."""
        if len(self.open) >= MOST_OPEN_TAGS:
            raise ProofError(f"found more than {MOST_OPEN_TAGS} tags in one another")
        self._end_words()
        name = named("a tag", operands[:1])
        tag, layer = _TAGS.get(name), name == "/OC"
        self.layers += layer
        if tag is None:
            self.open.append((None, layer))
            return
        listed = operands[1] if len(operands) > 1 else {}
        properties = listed if isinstance(listed, Mapping) else content.properties(named("BDC", [listed]))
        mark = _Tagged(tag, _plain(properties))
        self.open.append((mark, False))
        self.marks.append(mark)

    def end_tag(self, _: Sequence[Any], __: Content) -> None:
        """EMC."""
        if not self.open:
            raise ProofError("found EMC that closes nothing")
        self._end_words()
        self.layers -= self.open.pop()[1]

    def set_parameters(self, operands: Sequence[Any], content: Content) -> None:
        """gs."""
        parameters = content.parameters(named("gs", operands))
        self.drawing.graphics = with_parameters(self.drawing.graphics, parameters)
        if "/Font" in parameters:
            self.drawing.graphics = self.drawing.graphics.lettered(font=None)

    def place_image(self, _: Sequence[Any], __: Content) -> None:
        """An image in the content."""
        self.place("an image", self.drawing.quad(UNIT_BOX))

    def place_shading(self, _: Sequence[Any], __: Content) -> None:
        """sh."""
        self.place("a shading", None)

    @property
    def _mark(self) -> _Tagged:
        """What ink goes to."""
        return next((tagged for tagged, _ in reversed(self.open) if tagged is not None), self.loose)

    def _draw(self, operands: Sequence[Any], content: Content, depth: int) -> None:
        self.budget.spend(SPENT_BY_A_FORM)
        form = content.form(named("Do", operands))
        self._end_words()
        if form is None:
            self.place("an image", self.drawing.quad(UNIT_BOX))
            return
        outside = self.drawing.graphics
        self.layers += form.layered
        self.drawing.graphics = _inside(form, outside)
        self.drawing.add_clip(self.drawing.quad(form.box))
        self.follow(form.content, depth=depth + 1)
        self.layers -= form.layered
        self.drawing.graphics = outside

    def _end_words(self) -> None:
        self.letters.end_words()
        self._keep_words()

    def _keep_words(self) -> None:
        if self.letters.done:
            self._mark.words.extend(map(self._layered, self.letters.done))
            self.letters.done.clear()

    def _layered(self, ink: Inked) -> Inked:
        """What was painted, with what its layers do to it."""
        if not self.layers:
            return ink
        look = msgspec.structs.replace(ink.laid.look, veils=ink.laid.look.veils | {"layer"})
        return msgspec.structs.replace(ink, laid=msgspec.structs.replace(ink.laid, look=look))

    def _veil(self, veil: str) -> None:
        graphics = self.drawing.graphics
        self.drawing.graphics = graphics.looking(veils=graphics.look.veils | {veil})


_OTHERS: Mapping[str, Callable[[_Walk, Sequence[Any], Content], None]] = MappingProxyType(
    {
        "BDC": _Walk.begin_tag,
        "BMC": _Walk.begin_tag,
        "EMC": _Walk.end_tag,
        "gs": _Walk.set_parameters,
        "sh": _Walk.place_shading,
        "INLINE IMAGE": _Walk.place_image,
    }
)


def _inside(form: Form, outside: Graphics) -> Graphics:
    """The state in which a form begins. A group is painted through what stood when it was drawn."""
    inner = outside.within(form.matrix)
    if not form.group:
        return inner
    look = outside.look
    veiled = look.fill_alpha < 1 or bool(look.veils)
    return inner.looking(stroke_alpha=1.0, fill_alpha=1.0, veils=frozenset({"group"} if veiled else ()))


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
