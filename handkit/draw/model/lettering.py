"""Lettering: lines of text measured, broken and set beside a point.

In: text, fonts, sizes in mm. Out: `Words`.

Words: the *size* of letters is the font's, of which capitals take 0.73 (`fonts.CAPITAL`); a line
stands on its *base line*; *leading* is the distance from one base line to the next.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE, Fonts
from handkit.draw.model.marks import Words
from handkit.geometry.affine import Point

BODY = 3.5
HEAD = 4.6
TITLE = 7.0

# For what is read at arm's length, with both hands at work: capitals of 3.6 mm, and of 5 mm for
# numbers and lengths.
BENCH = 5.0
FAR = 7.0
LEADING = 1.32

# What letters reach below their base line, as a share of the size.
DESCENT = 0.24


def capital_height(size: float) -> float:
    """Height of capitals and figures."""
    return CAPITAL * size


def centred(  # noqa: PLR0913 - a text's looks, each with a default
    text: str,
    at: Point,
    fonts: Fonts,
    *,
    size: float = LEAST_SIZE,
    bold: bool = False,
    upright: bool = False,
) -> Words:
    """Text whose capitals have their middle at a point; upright text is read from the right."""
    width = fonts.width(text, size, bold=bold)
    if upright:
        return Words(text, (at[0] + capital_height(size) / 2, at[1] - width / 2), size, bold, 90.0)
    return Words(text, (at[0] - width / 2, at[1] - capital_height(size) / 2), size, bold)


def right_aligned(
    text: str, at: Point, fonts: Fonts, *, size: float = LEAST_SIZE, bold: bool = False
) -> Words:
    """Text whose base line ends at a point."""
    return Words(text, (at[0] - fonts.width(text, size, bold=bold), at[1]), size, bold)


def shortened(text: str, width: float, fonts: Fonts, *, size: float, bold: bool = False) -> str:
    """Text cut to a width, with an ellipsis where something was cut; "" where nothing fits."""
    if fonts.width(text, size, bold=bold) <= width:
        return text
    for kept in range(len(text) - 1, 0, -1):
        short = text[:kept].rstrip() + "…"
        if fonts.width(short, size, bold=bold) <= width:
            return short
    return ""


def wrapped(text: str, width: float, fonts: Fonts, *, size: float, bold: bool = False) -> tuple[str, ...]:
    """Text broken into lines no wider than `width`, at spaces, or within a word that is too long.

    A line keeps at least one character, however narrow the column is.
    """
    space = fonts.width(" ", size, bold=bold)
    lines: list[str] = []
    line: list[str] = []
    filled = -space
    for word in text.split():
        wide = fonts.width(word, size, bold=bold)
        if line and filled + space + wide > width:
            lines.append(" ".join(line))
            line, filled = [], -space
        if wide > width:
            *full, last = _broken(word, width, fonts, size, bold)
            lines.extend(full)
            line, wide = [last], fonts.width(last, size, bold=bold)
        else:
            line.append(word)
        filled += space + wide
    return (*lines, " ".join(line)) if line else tuple(lines)


def _broken(word: str, width: float, fonts: Fonts, size: float, bold: bool) -> Iterator[str]:
    """A word in pieces that fit."""
    rest = word
    while fonts.width(rest, size, bold=bold) > width and len(rest) > 1:
        kept = len(rest) - 1
        while kept > 1 and fonts.width(rest[:kept], size, bold=bold) > width:
            kept -= 1
        yield rest[:kept]
        rest = rest[kept:]
    yield rest
