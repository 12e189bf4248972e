"""Marks: what a page's operators draw, measured, and what each mark says it is.

In: points in mm from the page's lower left corner, y up. Out: painted paths, words, marks and the drawing
of a page, with the few measures the checks need.

Words: a *painted* path is all subpaths of one painting operator; *words* are what is shown in a row, from
one placing of text to the next; a *mark* is what stands between a tag's BDC and its EMC (ISO 32000-1 14.6);
*loose* is what is drawn outside of any tag of handkit's; a *veil* is what of the graphics state can hide or
lighten ink besides its colour. A *placed* picture is an image, a shading or an annotation: not looked into.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from handkit.geometry.affine import Point
from handkit.ink import Tag
from handkit.proof.content.paths import Bounds, PaintedArea, Subpath

# What a tag's property may be: a text, a number, or numbers in a row.
PropertyValue = str | float | tuple[float, ...]


class InkLook(msgspec.Struct, frozen=True):
    """How ink looks: greys, 0 black to 1 white (None: a colour that can't be told), how much it covers
    (1 is all), and the veils over it."""

    stroke: float | None = 0.0
    fill: float | None = 0.0
    stroke_alpha: float = 1.0
    fill_alpha: float = 1.0
    veils: frozenset[str] = frozenset()


BLACK = InkLook()

# What is placed on a page by its annotations.
ANNOTATION = "an annotation"


class Laid(msgspec.Struct, frozen=True):
    """How and where in a page's order ink was laid: `order` counts what is painted, from 1."""

    look: InkLook = BLACK
    clips: tuple[PaintedArea, ...] = ()
    order: int = 0


class Painted(msgspec.Struct, frozen=True):
    """A path as it was painted; where it was stroked `width` of the pen and `dash` in mm, with how far
    into the dashes it begins. `uneven`: the pen is wider one way than the other."""

    subpaths: tuple[Subpath, ...]
    stroked: bool
    filled: bool
    width: float
    dash: tuple[float, ...]
    phase: float = 0.0
    uneven: bool = False
    even_odd: bool = False
    laid: Laid = Laid()


class ShownWords(msgspec.Struct, frozen=True):
    """Letters shown in a row: `at` is the left end of their base line, `size` the font's in mm, `length`
    along the base line, `degrees` its direction; what a font doesn't tell is U+FFFD in `text`."""

    text: str
    at: Point
    size: float
    length: float
    degrees: float
    fonts: tuple[str, ...]  # names as the file has them, in the order used
    uneven: bool = False  # squeezed, slanted or mirrored
    inked: bool = True  # filled, as ordinary letters are
    lettered: bool = True  # in a font that there is
    laid: Laid = Laid()

    @property
    def bold(self) -> bool:
        """Whether it begins in a bold face, by that face's name."""
        return bool(self.fonts) and "bold" in self.fonts[0].lower()


class PlacedPicture(msgspec.Struct, frozen=True):
    """What is drawn and not looked into: `what` says which; None for an area is all of the page."""

    what: str
    area: PaintedArea | None
    laid: Laid


class MeasuredMark(msgspec.Struct, frozen=True):
    """One tagged mark of a page, with the properties its tag carries."""

    page: int  # from 1
    tag: Tag
    properties: Mapping[str, PropertyValue]
    painted: tuple[Painted, ...]
    words: tuple[ShownWords, ...] = ()

    @property
    def subpaths(self) -> tuple[Subpath, ...]:
        """All that was painted, in order."""
        return tuple(subpath for painted in self.painted for subpath in painted.subpaths)

    @property
    def lines(self) -> tuple[Subpath, ...]:
        """The straight lines that were stroked."""
        return tuple(s for p in self.painted if p.stroked for s in p.subpaths if s.is_line)

    def text(self, name: str) -> str | None:
        """A property that is a text, or None."""
        value = self.properties.get(name)
        return value if isinstance(value, str) else None

    def number(self, name: str) -> float | None:
        """A property that is a number, or None."""
        value = self.properties.get(name)
        return value if isinstance(value, float) else None

    def count(self, name: str) -> int | None:
        """A property that is a whole number from 1, or None."""
        value = self.number(name)
        return int(value) if value is not None and value >= 1 and value.is_integer() else None

    def pair(self, name: str) -> tuple[int, int] | None:
        """A property that is two whole numbers, the lower first, or None."""
        value = self.properties.get(name)
        if not isinstance(value, tuple) or len(value) != 2 or not all(x.is_integer() for x in value):
            return None
        first, second = value
        return (int(first), int(second)) if first < second else None


class PageDrawing(msgspec.Struct, frozen=True):
    """All that one page draws, in mm from the lower left corner of what a viewer shows; `sheet` is all of its
    paper, whatever its boxes cut away."""

    number: int  # from 1
    sheet: Bounds
    marks: tuple[MeasuredMark, ...]
    loose: tuple[Painted, ...] = ()
    loose_words: tuple[ShownWords, ...] = ()
    pictures: tuple[PlacedPicture, ...] = ()
