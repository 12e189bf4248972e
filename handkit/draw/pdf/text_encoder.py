"""Text encoder: lines of text as operators, and the subsets of fonts that these need embedded.

In: `Words`, the fonts, a document of reportlab's. Out: text operators; at the end the fonts' objects.

A PDF font of one byte a character has at most 256 of them, so a face becomes one *subset* or more.
The first keeps 32 to 127 for ASCII; other characters take the free codes in the order in which they
are first drawn, and so by the pages alone. Code 0 is the box for what is missing, 32 of every subset a space.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain, count, groupby
from math import cos, radians, sin
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFArray, PDFStream, PDFTrueTypeFont, PDFZCompress
from reportlab.pdfbase.ttfonts import makeToUnicodeCMap

from handkit.draw.model.fonts import FontFace, Fonts
from handkit.draw.model.marks import Words
from handkit.draw.pdf.operators import number, numbers

SPACE, NO_BREAK_SPACE = 0x20, 0xA0

# Cosine and sine of the directions of most text: exact.
QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


# What a file needs of its fonts: by face in order, the characters beyond ASCII in the order of their codes.
Letters = tuple[tuple[str, tuple[int, ...]], ...]


class TextEncoder:
    """Writes the lines of one file and remembers which characters of which face it used."""

    def __init__(self, fonts: Fonts) -> None:
        self.fonts = fonts
        self.subsets: dict[str, SubsetFont] = {}

    def __call__(self, words: Words) -> str:
        """A line of text as operators."""
        turned = words.degrees % 360
        c, s = QUARTERS.get(turned) or (cos(radians(turned)), sin(radians(turned)))
        size = number(words.size)
        shown = " ".join(
            f"/{font.name}+{subset} {size} Tf <{codes.hex()}> Tj"
            for face, run in self.fonts.runs(words.text, bold=words.bold)
            for font in (self._font(face),)
            for subset, codes in font.encoded(run)
        )
        return f"BT {numbers(c, s, -s, c, *words.at)} Tm {shown} ET"

    def letters(self) -> Letters:
        """What was needed so far."""
        return tuple((label, tuple(font.taken)) for label, font in self.subsets.items())

    def learn(self, letters: Letters) -> None:
        """Need what was needed when these were drawn, after what is needed so far."""
        faces = {face.label: face for each in (self.fonts.regular, self.fonts.bold) for face in each.faces}
        for label, taken in letters:
            self._font(faces[label]).take(taken)

    def embed(self, document: Any) -> None:
        """Put the subsets of all faces that were used into the document."""
        for font in self.subsets.values():
            font.embed(document)

    def _font(self, face: FontFace) -> SubsetFont:
        if face.label not in self.subsets:
            self.subsets[face.label] = SubsetFont(face, f"F{len(self.subsets) + 1}")
        return self.subsets[face.label]


class SubsetFont:
    """One face in one file: `codes` by character, `subsets` with the characters of each in order; what has
    `taken` a code that was free, in order."""

    def __init__(self, face: FontFace, name: str) -> None:
        ascii_codes = range(SPACE, 128)
        self.face, self.name = face, name
        self.codes = {code: code for code in ascii_codes if code in face.font.charToGlyph}
        self.subsets = [[0] * SPACE + list(ascii_codes)]
        self.free = _free_codes()
        self.taken: list[int] = []

    def encoded(self, text: str) -> list[tuple[int, bytes]]:
        """Runs of a text in one subset each: the subset and a byte for each character."""
        known = self.codes
        codes = [known[c] if c in known else self._code(c) for c in map(ord, text)]
        if len(self.subsets) == 1:
            return [(0, bytes(codes))]
        runs = groupby(codes, lambda code: code >> 8)
        return [(subset, bytes([code & 0xFF for code in run])) for subset, run in runs]

    def take(self, characters: Iterable[int]) -> None:
        """Give a code to each that has none."""
        for character in characters:
            if character not in self.codes:
                self._code(character)

    def _code(self, character: int) -> int:
        """The code of a character that has none yet; 0 where the face lacks it."""
        if character == NO_BREAK_SPACE:
            return self.codes.get(SPACE, 0)
        if character not in self.face.font.charToGlyph:
            return 0
        self.taken.append(character)
        code = self.codes[character] = next(self.free)
        if code < SPACE:
            self.subsets[0][code] = character
            return code
        if code >> 8 == len(self.subsets):
            self.subsets.append([0])
        subset = self.subsets[code >> 8]
        if len(subset) == SPACE < code & 0xFF:
            subset.append(SPACE)
        subset.append(character)
        return code

    def embed(self, document: Any) -> None:
        """Each subset as a font, its descriptor, its file, and its way back to Unicode."""
        for index, subset in enumerate(self.subsets):
            font: Any = PDFTrueTypeFont()
            font.Name = f"{self.name}+{index}"
            font.BaseFont = f"{_subset_tag(index)}+{self.face.font.name.decode('latin-1')}"
            font.FirstChar, font.LastChar = 0, len(subset) - 1
            font.Widths = PDFArray([self.face.font.getCharWidth(code) for code in subset])
            text = makeToUnicodeCMap(font.BaseFont, subset)
            to_unicode = PDFStream(content=text, filters=[PDFZCompress])
            font.ToUnicode = document.Reference(to_unicode, f"toUnicodeCMap:{font.BaseFont}")
            font.FontDescriptor = self.face.font.addSubsetObjects(document, font.BaseFont, subset)
            document.Reference(font, font.Name)
            document.idToObject["BasicFonts"].dict[font.Name] = font


def _free_codes() -> Iterator[int]:
    """Codes after those of ASCII, subset by subset; code 0 and 32 of each are taken.

    >>> codes = list(zip(range(400), _free_codes()))
    >>> codes[0], codes[31], codes[159], codes[190]
    ((0, 1), (31, 128), (159, 257), (190, 289))
    """
    later = (code for code in count(257) if code & 0xFF not in (0, SPACE))
    return chain(range(1, SPACE), range(128, 256), later)


def _subset_tag(index: int) -> str:
    """Six capitals before a subset's name (ISO 32000-1 9.6.4)."""
    return f"{index:06d}".translate(str.maketrans("0123456789", "ABCDEFGIJK"))
