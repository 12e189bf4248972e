"""Tags: what each mark says of itself in the file, and how that is written.

In: what a mark is. Out: `Properties`, and their text as an inline dictionary. Lengths are mm.

    SQUARE    Side                          one closed square
    BAR       Length                        one straight line, as long as it claims
    BAR_TICK  (none)                        ticks of a bar
    OUTLINE   Piece Window                  the knife's line; open bits where a window has part of it
    TRIM STITCH FOLD SKIVE ONTOP ITEM GRAIN  Piece Window
    FINISHED HEM                            Piece Window
    MEET NOTCH TAPE                              Piece Window
    CENTRE    Piece Window                  centre crosses of openings
    HOLE      Piece Window Seam Run Number  first the tick, whose middle is the hole's place; then,
                                            where it is a slit, its line; last a filled point
    OPENING   Piece Window Opening Number Diameter   its rim (a slot: Diameter across, Length along)
    MARK      Piece Window Join Mark        a circle and a cross, whose centre is the mark's place
    RULE CUT  Piece Window Join             one straight line
    BREAK     Piece Window Break Length     a line with a zigzag; what is left out there
    MAP       Piece Window                  a small picture of the piece's portions: areas, dashes, texts
    LABEL PAGE                              Piece Window, or nothing
    BODY INNER                              Piece (of a hole: Opening); a body's outline is closed and filled
    THING HIDDEN                            Item; of what lies under: Item or Fitting
    CAP                                     Opening Number; the cap's circle first
    MEASURED  Piece                         not full scale, and of no check
    THREAD FITTING MEASURE                  Seam; Fitting; Length, true
    FAULT FAULTY                            Number

Ink of a template is black, its pens those of `ink.PENS`; all ink stands in a tag.

`Piece`, `Seam` and `Opening` are names as the project has them, `Window`, `Run`, `Number` and
`Mark` count from 1, `Join` is two window numbers, the lower first. Where a piece is drawn as often
as it is cut, all that has `Window` has `Copy` from the second drawing on.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.draw.model.marks import Properties, TagValue


def square(side: float) -> Properties:
    """A test square."""
    return (("Side", side),)


def bar(length: float) -> Properties:
    """A scale bar."""
    return (("Length", length),)


def window(piece: str, number: int, *, copy: int = 1) -> Properties:
    """Anything drawn of a piece in one of its windows; the first drawing of a piece is not counted."""
    counted: Properties = (("Copy", copy),) if copy > 1 else ()
    return (("Piece", piece), ("Window", number), *counted)


def hole(shown: Properties, *, seam: str, run: int, hole_number: int) -> Properties:
    """One stitch hole, after what its window says."""
    return (*shown, ("Seam", seam), ("Run", run), ("Number", hole_number))


def opening(shown: Properties, *, name: str, place: int, diameter: float, length: float) -> Properties:
    """One opening; `length` is a slot's, and the diameter where it is round."""
    kept = (("Opening", name), ("Number", place), ("Diameter", diameter))
    slot: Properties = (("Length", length),) if length != diameter else ()
    return (*shown, *kept, *slot)


def join(shown: Properties, windows: tuple[int, int]) -> Properties:
    """A line of a join."""
    return (*shown, ("Join", windows))


def mark(shown: Properties, windows: tuple[int, int], k: int) -> Properties:
    """The k-th registration mark of a join, from 1."""
    return (*join(shown, windows), ("Mark", k))


def break_line(shown: Properties, k: int, length: float) -> Properties:
    """A line of the k-th break of a piece, from 1, and how much is left out there."""
    return (*shown, ("Break", k), ("Length", length))


def dictionary(properties: Properties) -> str:
    """Properties as an inline dictionary of a content stream.

    >>> dictionary((("Piece", "tab (left)"), ("Window", 1), ("Join", (1, 2)), ("Side", 50.0)))
    '<</Piece (tab \\\\(left\\\\))/Window 1/Join [1 2]/Side 50.0000>>'
    >>> dictionary((("Piece", "é"),))
    '<</Piece <FEFF00E9>>>'
    """
    return "<<" + "".join(f"/{name} {_written(value)}" for name, value in properties) + ">>"


def _written(value: TagValue) -> str:
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, float):
        return f"{value:.4f}"
    if isinstance(value, Sequence):
        return "[" + " ".join(str(number) for number in value) + "]"
    return str(value)


def _text(text: str) -> str:
    """A text string: literal where it is plain ASCII, else UTF-16 in hexadecimal (ISO 32000-1 7.9.2)."""
    if text.isascii() and text.isprintable():
        return "(" + text.replace("\\", r"\\").replace("(", r"\(").replace(")", r"\)") + ")"
    return f"<FEFF{text.encode('utf-16-be').hex().upper()}>"
