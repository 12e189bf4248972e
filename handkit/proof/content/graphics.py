"""Graphics: the state in which a page's operators draw (ISO 32000-1, 8.4 and 9.3).

In: the operands of operators that change it. Out: `Graphics`, a new one after each change, so that saving
is keeping.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec

from handkit.errors import ProofError
from handkit.geometry.affine import Affine
from handkit.proof.content.fonts import PdfFont
from handkit.proof.content.marks import BLACK, InkLook
from handkit.proof.content.objects import is_number
from handkit.proof.content.paths import PaintedArea


class TextState(msgspec.Struct, frozen=True):
    """How letters are set: font and size, what is added after each letter and each space, how wide letters
    are drawn, from line to line, how far above the base line, and whether they are filled (mode 0)."""

    font: PdfFont | None = None
    size: float = 0.0
    spacing: float = 0.0
    word_spacing: float = 0.0
    scale: float = 1.0
    leading: float = 0.0
    rise: float = 0.0
    mode: int = 0


class Graphics(msgspec.Struct, frozen=True):
    """The state; `matrix` leads to mm, `spaces` are the colour spaces of strokes and of fills."""

    matrix: Affine
    width: float = 1.0
    dash: tuple[float, ...] = ()
    phase: float = 0.0
    look: InkLook = BLACK
    spaces: tuple[str, str] = ("/DeviceGray", "/DeviceGray")
    clips: tuple[PaintedArea, ...] = ()
    text: TextState = TextState()

    def within(self, inner: Affine) -> Graphics:
        """The state in which `inner` is done before all that stood."""
        return msgspec.structs.replace(self, matrix=self.matrix @ inner)

    def changed(self, **changes: Any) -> Graphics:
        """The same state but for these fields."""
        return msgspec.structs.replace(self, **changes)

    def looking(self, **changes: Any) -> Graphics:
        """The same state but for these fields of its look."""
        return msgspec.structs.replace(self, look=msgspec.structs.replace(self.look, **changes))

    def lettered(self, **changes: Any) -> Graphics:
        """The same state but for these fields of its text's."""
        return msgspec.structs.replace(self, text=msgspec.structs.replace(self.text, **changes))


def named(operator: str, operands: Sequence[Any]) -> str:
    """The one operand, a name. Raises ProofError."""
    if len(operands) != 1 or not isinstance(operands[0], str) or not operands[0].startswith("/"):
        raise ProofError(f"found {operator} without a name")
    return str(operands[0])


def numbers(operator: str, operands: Sequence[Any], count: int) -> list[float]:
    """The operands as numbers, exactly `count` of them. Raises ProofError."""
    found = [float(x) for x in operands if is_number(x)]
    if len(operands) != count or len(found) != count:
        raise ProofError(f"found {operator} without its {count} numbers")
    return found
