"""The drawing: where the pen stands and what it has drawn, operator by operator.

In: the operands of q, Q, cm, w, d and of m, l, c, v, y, re, h, n, W, W*, after ISO 32000-1, 8.4 and 8.5.
Out: painted paths in mm, each point led through the transformation that stood when it was named.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import hypot, sqrt
from types import MappingProxyType
from typing import Any

import msgspec

from handkit.errors import ProofError
from handkit.geometry.affine import Affine, Point
from handkit.proof.content.colours import dashed
from handkit.proof.content.graphics import Graphics, numbers
from handkit.proof.content.marks import Laid, Painted
from handkit.proof.content.paths import PaintedArea, Subpath
from handkit.proof.content.pen import Pen

# q in one another; PDF writers stay under 28.
MOST_SAVED = 256

# No page is larger than 200 inches: a coordinate beyond this is no drawing.
MOST_MM = 1e6


# Paths that cut one another, one after another, and the bits of them in all: far above any kit.
MOST_CLIPS = 64

# A matrix whose sides differ by more than this share makes pen and letters uneven: a page corrected for a
# printer is drawn up to 1.5 % larger one way, and smaller the other, than it is.
UNEVEN = 0.04


class PathDrawing(msgspec.Struct):
    """The state, those saved, and the path so far; `clipping` is "" or the rule by which the path will be
    a clip once it is painted; `order` counts what is painted. All operators take their operands as they
    come."""

    graphics: Graphics
    saved: list[Graphics] = msgspec.field(default_factory=list)
    pen: Pen = msgspec.field(default_factory=Pen)
    clipping: str = ""
    order: int = 0

    def next_order(self) -> int:
        """The place of what is painted now in the page's order."""
        self.order += 1
        return self.order

    def save(self, _: Sequence[Any]) -> None:
        """q."""
        if len(self.saved) >= MOST_SAVED:
            raise ProofError(f"found more than {MOST_SAVED} q in one another")
        self.saved.append(self.graphics)

    def restore(self, _: Sequence[Any]) -> None:
        """Q."""
        if not self.saved:
            raise ProofError("found Q that closes nothing")
        self.graphics = self.saved.pop()

    def transform(self, operands: Sequence[Any]) -> None:
        """cm."""
        self.graphics = self.graphics.within(Affine(*numbers("cm", operands, 6)))

    def set_width(self, operands: Sequence[Any]) -> None:
        """w, in units of the time it paints."""
        (width,) = numbers("w", operands, 1)
        self.graphics = self.graphics.changed(width=width)

    def set_dash(self, operands: Sequence[Any]) -> None:
        """d."""
        self.graphics = dashed(self.graphics, operands)

    def curve_to_there(self, operands: Sequence[Any]) -> None:
        """y: the second handle is where the curve ends."""
        handle, end = self.points("y", operands, 2)
        self.pen.draw(handle, end, end)

    def rectangle(self, operands: Sequence[Any]) -> None:
        """re: a subpath of its own, closed."""
        x, y, width, height = numbers("re", operands, 4)
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        first, *others = (self._placed(corner) for corner in corners)
        self.pen.move(first)
        for corner in others:
            self.pen.draw(corner)
        self.pen.close()

    def drop(self, _: Sequence[Any]) -> None:
        """n: the path ends and nothing of it is seen."""
        self._clip(self.pen.taken())

    def clip(self, _: Sequence[Any]) -> None:
        """W: what is painted next is seen inside this path alone, once it is painted itself."""
        self.clipping = "W"

    def clip_even_odd(self, _: Sequence[Any]) -> None:
        """W*."""
        self.clipping = "W*"

    def painted(self, paint: Painting) -> Painted | None:
        """The path as a painting operator leaves it on paper; None where there is none."""
        graphics = self.graphics
        if paint.close:
            self.pen.close()
        path = self.pen.taken()
        self._clip(path)
        if not path:
            return None
        matrix = graphics.matrix
        scale = sqrt(abs(matrix.determinant))
        return Painted(
            path,
            paint.stroke,
            paint.fill,
            graphics.width * scale,
            tuple([length * scale for length in graphics.dash]),
            graphics.phase * scale,
            _is_uneven(matrix),
            paint.even_odd,
            Laid(graphics.look, graphics.clips, self.next_order()),
        )

    def add_clip(self, area: PaintedArea) -> None:
        """What follows is seen inside of this, too."""
        clips = self.graphics.clips
        if len(clips) >= MOST_CLIPS:
            raise ProofError(f"found more than {MOST_CLIPS} clips in one another")
        self.graphics = self.graphics.changed(clips=(*clips, area))

    def quad(self, box: tuple[float, float, float, float]) -> PaintedArea:
        """A box (left, bottom, right, top) of the present frame, as an area on paper."""
        left, bottom, right, top = box
        corners = ((left, bottom), (right, bottom), (right, top), (left, top))
        a, b, c, d = (self._placed(corner) for corner in corners)
        return PaintedArea((Subpath(((a, b), (b, c), (c, d), (d, a)), closed=True),))

    def _clip(self, path: tuple[Subpath, ...]) -> None:
        if self.clipping:
            rule, self.clipping = self.clipping, ""
            self.add_clip(PaintedArea(path, even_odd=rule == "W*"))

    def points(self, operator: str, operands: Sequence[Any], count: int) -> list[Point]:
        """The operands as points on paper, exactly `count` of them. Raises ProofError."""
        flat = numbers(operator, operands, 2 * count)
        return [self._placed(point) for point in zip(flat[::2], flat[1::2], strict=True)]

    def _placed(self, point: Point) -> Point:
        x, y = self.graphics.matrix.apply(point)
        if not (abs(x) < MOST_MM and abs(y) < MOST_MM):
            raise ProofError("found a point that lies on no paper")
        return x, y


OPERATORS: dict[str, Callable[[PathDrawing, Sequence[Any]], None]] = {
    "q": PathDrawing.save,
    "Q": PathDrawing.restore,
    "cm": PathDrawing.transform,
    "w": PathDrawing.set_width,
    "d": PathDrawing.set_dash,
    "m": lambda drawing, at: drawing.pen.move(*drawing.points("m", at, 1)),
    "l": lambda drawing, at: drawing.pen.draw(*drawing.points("l", at, 1)),
    "c": lambda drawing, at: drawing.pen.draw(*drawing.points("c", at, 3)),
    # The first handle is where the pen stands.
    "v": lambda drawing, at: drawing.pen.draw(drawing.pen.here, *drawing.points("v", at, 2)),
    "y": PathDrawing.curve_to_there,
    "re": PathDrawing.rectangle,
    "h": lambda drawing, _: drawing.pen.close(),
    "n": PathDrawing.drop,
    "W": PathDrawing.clip,
    "W*": PathDrawing.clip_even_odd,
}


class Painting(msgspec.Struct, frozen=True):
    """What a painting operator does: closes the subpath first, strokes, fills by which rule."""

    close: bool = False
    stroke: bool = False
    fill: bool = False
    even_odd: bool = False


PAINTING: Mapping[str, Painting] = MappingProxyType(
    {
        "S": Painting(stroke=True),
        "s": Painting(close=True, stroke=True),
        "f": Painting(fill=True),
        "F": Painting(fill=True),
        "f*": Painting(fill=True, even_odd=True),
        "B": Painting(stroke=True, fill=True),
        "B*": Painting(stroke=True, fill=True, even_odd=True),
        "b": Painting(close=True, stroke=True, fill=True),
        "b*": Painting(close=True, stroke=True, fill=True, even_odd=True),
    }
)


def _is_uneven(matrix: Affine) -> bool:
    """Whether it makes a round pen an ellipse: its sides unlike, or not square to each other."""
    a, b, c, d = matrix.a, matrix.b, matrix.c, matrix.d
    along, across = hypot(a, b), hypot(c, d)
    return abs(along - across) > UNEVEN * along or abs(a * c + b * d) > UNEVEN * along * across
