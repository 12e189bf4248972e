"""The drawing: where the pen stands and what it has drawn, operator by operator.

In: the operands of q, Q, cm, w, d and of m, l, c, v, y, re, h, after ISO 32000-1, 8.4 and 8.5.
Out: painted paths in mm, each point led through the transformation that stood when it was named.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import sqrt
from typing import Any

import msgspec

from handkit.errors import ProofError
from handkit.geometry.affine import Affine, Point
from handkit.proof.content.document import is_number
from handkit.proof.content.marks import Painted
from handkit.proof.content.pen import Pen

# q in one another; PDF writers stay under 28.
MOST_SAVED = 256

# No page is larger than 200 inches: a coordinate beyond this is no drawing.
MOST_MM = 1e6


class Graphics(msgspec.Struct, frozen=True):
    """The part of the graphics state that moves or widens a line; `matrix` leads to mm."""

    matrix: Affine
    width: float = 1.0
    dash: tuple[float, ...] = ()

    def within(self, inner: Affine) -> Graphics:
        """The state in which `inner` is done before all that stood."""
        return msgspec.structs.replace(self, matrix=self.matrix @ inner)


class PathDrawing(msgspec.Struct):
    """The state, those saved, and the path so far. All operators take their operands as they come."""

    graphics: Graphics
    saved: list[Graphics] = msgspec.field(default_factory=list)
    pen: Pen = msgspec.field(default_factory=Pen)

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
        self.graphics = msgspec.structs.replace(self.graphics, width=width)

    def set_dash(self, operands: Sequence[Any]) -> None:
        """d: lengths, and where they begin, which is not kept."""
        if len(operands) != 2 or not isinstance(operands[0], list):
            raise ProofError("found d without its lengths")
        lengths = numbers("d", operands[0], len(operands[0]))
        self.graphics = msgspec.structs.replace(self.graphics, dash=tuple(lengths))

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
        self.pen.taken()

    def painted(self, *, close: bool, stroke: bool, fill: bool) -> Painted | None:
        """The path as a painting operator leaves it on paper; None where there is none."""
        if close:
            self.pen.close()
        path = self.pen.taken()
        scale = sqrt(abs(self.graphics.matrix.determinant))
        dash = tuple(length * scale for length in self.graphics.dash)
        return Painted(path, stroke, fill, self.graphics.width * scale, dash) if path else None

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
}


def numbers(operator: str, operands: Sequence[Any], count: int) -> list[float]:
    """The operands as numbers, exactly `count` of them. Raises ProofError."""
    found = [float(x) for x in operands if is_number(x)]
    if len(operands) != count or len(found) != count:
        raise ProofError(f"found {operator} without its {count} numbers")
    return found
