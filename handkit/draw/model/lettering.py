"""Lettering: lines of text measured, broken and set beside a point.

In: text, fonts, sizes in mm. Out: `Words`, and lines and blocks that can be set anywhere.

Words: the *size* of letters is the font's, of which capitals take 0.73 (`fonts.CAPITAL`); a line
stands on its *base line*; *leading* is the distance from one base line to the next.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import msgspec

from handkit.draw.model.fonts import CAPITAL, LEAST_SIZE, Fonts
from handkit.draw.model.marks import Words
from handkit.geometry.affine import Point
from handkit.geometry.box import Box

BODY = 3.5
HEAD = 4.6
TITLE = 7.0

# For what is read at arm's length, with both hands at work: capitals of 3.6 mm.
BENCH = 5.0
LEADING = 1.25

# A word, a count of several, or a figure with its fraction, its unit and what it is multiplied by.
_WHOLE = re.compile(r"\(\d+ of \d+\)\S*|(?:\S*\d (?=\d+/\d|(?:mm|cm|m|in|dm²|ft²)\b))*\S+")

# What letters reach below their base line, as a share of the size.
DESCENT = 0.24


def capital_height(size: float) -> float:
    """Height of capitals and figures."""
    return CAPITAL * size


class TextLine(msgspec.Struct, frozen=True):
    """A line of text before it is placed."""

    text: str
    size: float = LEAST_SIZE
    bold: bool = False

    def measured(self, fonts: Fonts, *, upright: bool = False) -> MeasuredLine:
        """The line with its width, level or upright; upright text is read from the right."""
        width = fonts.width(self.text, self.size, bold=self.bold)
        low = 0.0 if self.text.isupper() or self.text.isdigit() else DESCENT * self.size
        return MeasuredLine(self, width, low, CAPITAL * self.size, upright)


class MeasuredLine(msgspec.Struct, frozen=True):
    """A line of text with its width, and what it covers below and above its base line. It is placed
    by the middle of its capitals."""

    line: TextLine
    width: float
    low: float
    high: float
    upright: bool

    def box_at(self, middle: Point) -> Box:
        """What it covers."""
        (x, y), width, low, high = self._start(middle), self.width, self.low, self.high
        if self.upright:
            return Box(x - high, y, x + low, y + width)
        return Box(x, y - low, x + width, y + high)

    def words_at(self, middle: Point) -> tuple[Words]:
        """The line, set."""
        line = self.line
        return (Words(line.text, self._start(middle), line.size, line.bold, 90.0 if self.upright else 0.0),)

    def _start(self, middle: Point) -> Point:
        if self.upright:
            return (middle[0] + self.high / 2, middle[1] - self.width / 2)
        return (middle[0] - self.width / 2, middle[1] - self.high / 2)


class TextBlock(msgspec.Struct, frozen=True):
    """Lines of text one below another, with the room they take, level or upright. They are placed by
    the lower left corner of that."""

    lines: tuple[TextLine, ...]
    width: float
    height: float
    upright: bool = False

    def turned(self) -> TextBlock:
        """The same lines upright."""
        return TextBlock(self.lines, self.height, self.width, upright=True)

    def box_at(self, corner: Point) -> Box:
        """What they cover."""
        return Box(corner[0], corner[1], corner[0] + self.width, corner[1] + self.height)

    def words_at(self, corner: Point) -> tuple[Words, ...]:
        """The lines, set from the top of their box; upright text reads from the right."""
        box, words, depth = self.box_at(corner), [], 0.0
        for line in self.lines:
            base = depth + (line.size * LEADING + capital_height(line.size)) / 2
            depth += line.size * LEADING
            at = (box.left + base, box.bottom) if self.upright else (box.left, box.top - base)
            words.append(Words(line.text, at, line.size, line.bold, 90.0 if self.upright else 0.0))
        return tuple(words)


def text_block(lines: Sequence[TextLine], width: float, fonts: Fonts) -> TextBlock:
    """Lines broken to a width, as wide as the widest of what comes of them."""
    broken = tuple(
        TextLine(text, line.size, line.bold)
        for line in lines
        for text in wrapped(line.text, width, fonts, size=line.size, bold=line.bold)
    )
    widest = max((fonts.width(line.text, line.size, bold=line.bold) for line in broken), default=0.0)
    return TextBlock(broken, widest, sum(line.size * LEADING for line in broken))


def centred(text: str, at: Point, fonts: Fonts, *, size: float = LEAST_SIZE, bold: bool = False) -> Words:
    """Text whose capitals have their middle at a point."""
    return TextLine(text, size, bold).measured(fonts).words_at(at)[0]


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

    A line keeps at least one character, however narrow the column is. A figure keeps its fraction and its
    unit where the column is wide enough for both; a dot between two things is left out where a line ends.

    >>> from handkit.draw.model.fonts import shipped_fonts
    >>> fonts = shipped_fonts()
    >>> wrapped("tails of 7 1/8 in.", fonts.width("tails of 7 1/8", 9.0), fonts, size=9.0)
    ('tails of', '7 1/8 in.')
    >>> wrapped("tails of 7 1/8 in.", fonts.width("tails of", 9.0), fonts, size=9.0)
    ('tails of', '7 1/8', 'in.')
    >>> wrapped("fob (1 of 12), fob (2 of 12)", fonts.width("fob (1 of 12), fob", 9.0), fonts, size=9.0)
    ('fob (1 of 12), fob', '(2 of 12)')
    >>> wrapped("cut 1 (2 of 12) · 2 mm", fonts.width("(2 of 12) ·", 9.0), fonts, size=9.0)
    ('cut 1', '(2 of 12)', '2 mm')
    """
    if text and fonts.width(text, size, bold=bold) < width - 1e-6 and text == " ".join(text.split()):
        return (text,)
    space = fonts.width(" ", size, bold=bold)
    lines: list[str] = []
    line: list[str] = []
    filled = -space
    for word in _words(text, width, fonts, size, bold):
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
    told = [*lines, *([" ".join(line)] if line else [])]
    told[1:] = [each.removeprefix("· ") for each in told[1:]]
    return (*(each.removesuffix(" ·") for each in told[:-1]), *told[-1:])


def _words(text: str, width: float, fonts: Fonts, size: float, bold: bool) -> Iterator[str]:
    """Between which a line may end."""
    for whole in _WHOLE.findall(" ".join(text.split())):
        if fonts.width(whole, size, bold=bold) <= width:
            yield whole
        else:
            yield from whole.split()


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
