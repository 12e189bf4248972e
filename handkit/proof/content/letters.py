"""Letters: what text operators show, where, and how large (ISO 32000-1, 9.3 and 9.4).

In: the operands of BT, ET, Tc, Tw, Tz, TL, Tf, Tr, Ts, Td, TD, Tm, T*, Tj, TJ, \' and \". Out: words in mm
of the page. What is shown without a new placing between, even in another font, is one row of words.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import atan2, degrees, hypot
from types import MappingProxyType
from typing import Any

import msgspec

from handkit.errors import ProofError
from handkit.geometry.affine import Affine
from handkit.proof.content.drawing import UNEVEN, PathDrawing
from handkit.proof.content.fonts import UNITS, UNKNOWN
from handkit.proof.content.graphics import Graphics, TextState, named, numbers
from handkit.proof.content.marks import Laid, ShownWords
from handkit.proof.content.objects import is_number
from handkit.proof.content.paths import PaintedArea
from handkit.proof.content.resources import Content, bytes_of_text

SPACE = 32

# Modes of 9.3.6: filled letters alone; of these on the letters become a clip.
FILLED, CLIPPING = 0, 4


class Letters(msgspec.Struct):
    """Where letters stand: the matrices of the text and of its line, and the words so far: those that are
    `done`, and those that may still go on."""

    matrix: Affine = Affine()
    line: Affine = Affine()
    words: ShownWords | None = None
    done: list[ShownWords] = msgspec.field(default_factory=list)
    clipping: bool = False

    def move(self, x: float, y: float) -> None:
        """To a new line, from where this one begins."""
        self.place(self.line @ Affine.shift(x, y))

    def place(self, matrix: Affine) -> None:
        """To a line that begins there."""
        self.end_words()
        self.matrix = self.line = matrix

    def show(self, shown: Any, drawing: PathDrawing) -> None:
        """One text; the words that it doesn't go on are done."""
        state = drawing.graphics.text
        codes = _codes(shown, state)
        text = state.font.text(codes) if state.font else UNKNOWN * len(codes)
        wide = state.font.width(codes) * state.size if state.font else 0.0
        spaces = codes.count(SPACE) if state.word_spacing else 0
        wide = (wide + state.spacing * len(codes) + state.word_spacing * spaces) * state.scale
        self.clipping |= state.mode >= CLIPPING
        before, new = self.words, self._words(text, wide, drawing.graphics, drawing.next_order())
        self.matrix = self.matrix @ Affine.shift(wide, 0.0)
        if before is None or not _alike(before, new):
            self.end_words()
            self.words = new
            return
        fonts = before.fonts if new.fonts[0] in before.fonts else before.fonts + new.fonts
        self.words = msgspec.structs.replace(
            before, text=before.text + text, length=before.length + new.length, fonts=fonts
        )

    def skip(self, thousandths: float, state: TextState) -> None:
        """Back by so many thousandths of the size."""
        self.matrix = self.matrix @ Affine.shift(-thousandths / UNITS * state.size * state.scale, 0.0)

    def end_words(self) -> None:
        """What comes next are other words."""
        if self.words is not None:
            self.done.append(self.words)
            self.words = None

    def _words(self, text: str, wide: float, graphics: Graphics, order: int) -> ShownWords:
        state, to_paper = graphics.text, graphics.matrix @ self.matrix
        x, y = to_paper.a, to_paper.b
        scale = hypot(x, y)
        off = abs(to_paper.c + y) + abs(to_paper.d - x)  # of a matrix that turns and enlarges: nothing
        return ShownWords(
            text=text,
            at=to_paper.apply((0.0, state.rise)),
            size=abs(state.size) * scale,
            length=wide * scale,
            degrees=degrees(atan2(y, x)),
            fonts=(state.font.name if state.font else "",),
            uneven=off > UNEVEN * scale or state.scale != 1 or state.size < 0,
            inked=state.mode == FILLED,
            lettered=state.font is not None,
            laid=Laid(graphics.look, graphics.clips, order),
        )


def _codes(shown: Any, state: TextState) -> Sequence[int]:
    raw = bytes_of_text(shown)
    return state.font.codes(raw) if state.font else raw


def _alike(before: ShownWords, new: ShownWords) -> bool:
    """Whether letters go on as they began."""
    return (
        before.laid.look == new.laid.look
        and before.laid.clips == new.laid.clips
        and abs(before.size - new.size) < 1e-6
        and (before.uneven, before.inked, before.lettered) == (new.uneven, new.inked, new.lettered)
    )


def _begin(letters: Letters, _: PathDrawing, __: Sequence[Any], ___: Content) -> None:
    letters.place(Affine())


def _end(letters: Letters, drawing: PathDrawing, _: Sequence[Any], __: Content) -> None:
    """ET. Letters that become a clip leave nothing that could be told to be seen."""
    letters.end_words()
    if letters.clipping:
        letters.clipping = False
        drawing.add_clip(PaintedArea(()))


def _set_font(_: Letters, drawing: PathDrawing, operands: Sequence[Any], content: Content) -> None:
    (size,) = numbers("Tf", operands[1:], 1)
    drawing.graphics = drawing.graphics.lettered(font=content.font(named("Tf", operands[:1])), size=size)


def _place(letters: Letters, _: PathDrawing, operands: Sequence[Any], __: Content) -> None:
    letters.place(Affine(*numbers("Tm", operands, 6)))


def _move(letters: Letters, _: PathDrawing, operands: Sequence[Any], __: Content) -> None:
    letters.move(*numbers("Td", operands, 2))


def _move_and_lead(letters: Letters, drawing: PathDrawing, operands: Sequence[Any], _: Content) -> None:
    x, y = numbers("TD", operands, 2)
    drawing.graphics = drawing.graphics.lettered(leading=-y)
    letters.move(x, y)


def _next_line(letters: Letters, drawing: PathDrawing, _: Sequence[Any], __: Content) -> None:
    letters.move(0.0, -drawing.graphics.text.leading)


def _show(letters: Letters, drawing: PathDrawing, operands: Sequence[Any], _: Content) -> None:
    if len(operands) != 1:
        raise ProofError("found Tj without its text")
    letters.show(operands[0], drawing)


def _show_parts(letters: Letters, drawing: PathDrawing, operands: Sequence[Any], _: Content) -> None:
    """TJ: texts, and numbers that lead back."""
    if len(operands) != 1 or not isinstance(operands[0], list):
        raise ProofError("found TJ without its texts")
    for part in operands[0]:
        if is_number(part):
            letters.skip(part, drawing.graphics.text)
        else:
            letters.show(part, drawing)


def _show_on_next_line(
    letters: Letters, drawing: PathDrawing, operands: Sequence[Any], content: Content
) -> None:
    """' and ", which first sets what is added after spaces and letters."""
    if len(operands) == 3:
        words, each = numbers('"', operands[:2], 2)
        drawing.graphics = drawing.graphics.lettered(word_spacing=words, spacing=each)
    _next_line(letters, drawing, (), content)
    _show(letters, drawing, operands[-1:], content)


Acting = Callable[[Letters, PathDrawing, Sequence[Any], Content], None]


def _set(operator: str, field: str, meant: Callable[[float], Any] = float) -> Acting:
    """An operator that sets a number of the text's state."""

    def act(_: Letters, drawing: PathDrawing, operands: Sequence[Any], __: Content) -> None:
        (value,) = numbers(operator, operands, 1)
        drawing.graphics = drawing.graphics.lettered(**{field: meant(value)})

    return act


TEXT: Mapping[str, Acting] = MappingProxyType(
    {
        "BT": _begin,
        "ET": _end,
        "Tf": _set_font,
        "Tm": _place,
        "Td": _move,
        "TD": _move_and_lead,
        "T*": _next_line,
        "Tj": _show,
        "TJ": _show_parts,
        "'": _show_on_next_line,
        '"': _show_on_next_line,
        "Tc": _set("Tc", "spacing"),
        "Tw": _set("Tw", "word_spacing"),
        "Tz": _set("Tz", "scale", lambda percent: percent / 100),
        "TL": _set("TL", "leading"),
        "Ts": _set("Ts", "rise"),
        "Tr": _set("Tr", "mode", int),
    }
)
