"""Fonts: the shipped letters, the project's own font, and whether they have what is to be written.

In: a project (its names and notes, and `[page] font`). Out: `Fonts`, which measure text and say
which face draws which character; or findings that name the characters no face has.

Shipped is DejaVu Sans, regular and bold: Latin, Greek, Cyrillic, arrows, ⌀. A project's own
TrueType font is used for every character it has, the shipped one for the rest. Text is put into
composed form first (e and an accent become é) and is written from left to right, letter by letter:
scripts that run the other way or join their letters come out unjoined, and a note says so.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Mapping
from functools import cache
from importlib import resources
from io import BytesIO
from itertools import groupby
from pathlib import Path
from struct import error as struct_error
from struct import unpack_from
from sys import byteorder
from typing import Any
from unicodedata import bidirectional, category, name, normalize

import msgspec
from reportlab.pdfbase.pdfdoc import PDFError
from reportlab.pdfbase.ttfonts import TTFontFace

from handkit.errors import refuse_errors
from handkit.findings import Finding, Source, finding
from handkit.read.project import Project

REGULAR = "DejaVuSans.ttf"
BOLD = "DejaVuSans-Bold.ttf"

# A capital's height as a share of the font's size: 1493 of 2048 in the shipped font.
CAPITAL = 1493 / 2048

# The smallest capitals a maker should have to read at a bench, and the size that gives them.
LEAST_CAPITAL = 2.5
LEAST_SIZE = 3.45

# Larger than any honest font (those of all Chinese characters have some 20 MB).
MOST_BYTES = 64_000_000

# What reading a file that is no TrueType font, or a broken one, may end in.
_BROKEN = (
    PDFError,
    struct_error,
    OSError,
    ValueError,
    LookupError,
    TypeError,
    AttributeError,
    AssertionError,
    ArithmeticError,
)


class FontFace(msgspec.Struct, frozen=True, eq=False):
    """One font file, read: `widths` in thousandths of the size, by character."""

    label: str
    font: Any  # a TTFontFace: the library's own types leave its methods untyped
    widths: Mapping[str, float]
    default: float


class Lettering(msgspec.Struct, frozen=True, eq=False):
    """The faces for one weight, in the order they are asked, with the widths of all together.

    Widths of whole texts are remembered: one is asked for at every place where it might stand.
    """

    faces: tuple[FontFace, ...]
    widths: Mapping[str, float]
    _known: dict[str, float] = msgspec.field(default_factory=dict)

    def thousandths(self, text: str) -> float:
        """Width of a line in thousandths of the size."""
        found = self._known.get(text)
        if found is None:
            default = self.faces[-1].default
            found = sum([self.widths.get(character, default) for character in written(text)])
            self._known[text] = found
        return found

    def face_of(self, character: str) -> FontFace:
        """The first face that has it; the last where none has."""
        return next((face for face in self.faces if character in face.widths), self.faces[-1])


class Fonts(msgspec.Struct, frozen=True, eq=False):
    """The letters of one file, in two weights."""

    regular: Lettering
    bold: Lettering

    def runs(self, text: str, *, bold: bool = False) -> Iterator[tuple[FontFace, str]]:
        """Text cut where the face changes; what no face has goes to the last."""
        weight, whole = self.bold if bold else self.regular, written(text)
        if len(weight.faces) == 1:
            yield weight.faces[0], whole
            return
        pairs = ((weight.face_of(character), character) for character in whole)
        for _, same in groupby(pairs, key=lambda pair: id(pair[0])):
            run = list(same)
            yield run[0][0], "".join(character for _, character in run)

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """Width of a line in mm; letters are not kerned."""
        return (self.bold if bold else self.regular).thousandths(text) * size / 1000

    def lacking(self, text: str) -> tuple[str, ...]:
        """Characters of a text that no face has in both weights, each once, in order."""
        known = (self.regular.widths, self.bold.widths)
        missing = (c for c in written(text) if not all(c in widths for widths in known))
        return tuple(dict.fromkeys(missing))


def written(text: str) -> str:
    """Text as it is drawn: composed, and every kind of white space a space.

    >>> written("caf\\u0065\\u0301\\n2")
    'café 2'
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(" " if c in "\t\n\r" else c for c in normalize("NFC", text))


def shipped_fonts() -> Fonts:
    """The letters that come with handkit."""
    return _fonts((_shipped(REGULAR),), (_shipped(BOLD),))


def load_fonts(project: Project) -> Fonts:
    """The letters for a project.

    Raises ProjectError where its font can't be used, or a text has characters that no face has.
    """
    fonts, findings = _loaded(project)
    refuse_errors(findings or _findings(fonts, project))
    return fonts


def missing_glyphs(project: Project) -> tuple[Finding, ...]:
    """What is wrong with the letters: an error for each text that can't be written whole, a note
    for each that runs from right to left."""
    fonts, findings = _loaded(project)
    return findings or _findings(fonts, project)


def _findings(fonts: Fonts, project: Project) -> tuple[Finding, ...]:
    return tuple(each for source, key, text in _texts(project) for each in _of_text(fonts, source, key, text))


def _of_text(fonts: Fonts, source: Source, key: str, text: str) -> Iterator[Finding]:
    lacking = fonts.lacking(text)
    if lacking:
        characters = ", ".join(map(_named, lacking))
        yield finding("font-lacks-characters", source.at(key), characters=characters, text=text)
    if any(bidirectional(character) in ("R", "AL") for character in text):
        yield finding("written-left-to-right", source.at(key), text=text)


def _named(character: str) -> str:
    """A character for a message: shown where it can be, always with its number and name.

    >>> _named("中"), _named("\\x07")
    ('中 (U+4E2D CJK UNIFIED IDEOGRAPH-4E2D)', 'U+0007')
    """
    code = f"U+{ord(character):04X}"
    if category(character) in ("Cc", "Cf", "Cs", "Co", "Cn"):
        return code
    return f"{character} ({code} {name(character, 'no name')})"


def _texts(project: Project) -> Iterator[tuple[Source, str, str]]:
    """Every text of the maker's that a kit writes, with where it stands."""
    yield project.source, "title", project.title
    for piece in project.pieces:
        yield piece.source, "name", piece.name
        yield piece.source, "note", piece.note
        yield from ((piece.source, "lines", line.name) for line in piece.lines)
        yield from ((piece.source, "folds", fold.name) for fold in piece.folds)
    for seam in project.seams:
        yield seam.source, "name", seam.name
        yield seam.source, "note", seam.note
    for opening in project.openings:
        yield opening.source, "name", opening.name
        yield opening.source, "note", opening.note
        yield opening.source, "mate", opening.mate or ""


def _loaded(project: Project) -> tuple[Fonts, tuple[Finding, ...]]:
    if project.page.font is None:
        return shipped_fonts(), ()
    try:
        own = _face("Own", TTFontFace(BytesIO(_font_bytes(Path(project.page.font)))))
    except _BROKEN as reason:
        return shipped_fonts(), (_unusable(project, reason),)
    return _fonts((own, _shipped(REGULAR)), (own, _shipped(BOLD))), ()


def _fonts(regular: tuple[FontFace, ...], bold: tuple[FontFace, ...]) -> Fonts:
    return Fonts(*(Lettering(faces, _together(faces)) for faces in (regular, bold)))


def _together(faces: tuple[FontFace, ...]) -> Mapping[str, float]:
    """All widths, the first face's word the one that counts."""
    if len(faces) == 1:
        return faces[0].widths
    return {**faces[1].widths, **faces[0].widths}


def _unusable(project: Project, reason: Exception) -> Finding:
    why = f": {reason}" if isinstance(reason, PDFError | OSError) and str(reason) else ""
    file = Path(project.page.font or "").name
    return finding("font-unusable", project.page.source.at("font"), file=file, why=why)


def _font_bytes(path: Path) -> bytes:
    if path.stat().st_size > MOST_BYTES:
        raise ValueError(f"larger than {MOST_BYTES} bytes")
    return path.read_bytes()


@cache
def _shipped(file: str) -> FontFace:
    """A shipped font, read once a process: it is the same for all kits. From memory, so that no
    machine's path gets into the file."""
    data = resources.files("handkit").joinpath("fonts", file).read_bytes()
    return _face(file.removesuffix(".ttf"), _ShippedFace(BytesIO(data)))


def _face(label: str, font: TTFontFace) -> FontFace:
    widths = {chr(code): float(width) for code, width in font.charWidths.items()}
    return FontFace(label, font, widths, float(font.defaultWidth))


class _ShippedFace(TTFontFace):
    """A face whose tables for each character are taken whole, not number by number, which is much
    sooner done; only for a font that is known: characters in ranges (`cmap` format 12, the last of
    its tables), places of glyphs in four bytes."""

    def extractInfo(self, charInfo: int = 1) -> None:  # noqa: N802, N803 - the library's names
        """Read what does not belong to one character, then the rest."""
        super().extractInfo(charInfo=0)
        table: Any = self.get_table
        self.charToGlyph = _glyphs_of_characters(table("cmap"))
        self.glyphPos = _numbers("I", table("loca"))
        full = _numbers("H", table("hhea"))[-1]
        metrics = _numbers("H", table("hmtx"))
        last = metrics[2 * full - 2]
        advances = [*metrics[: 2 * full : 2], *[last] * (self.numGlyphs - full)]
        self.hmetrics = list(zip(advances, [*metrics[1 : 2 * full : 2], *metrics[2 * full :]], strict=True))
        mult = 1000 / self.unitsPerEm
        widths = [advance * mult for advance in advances]
        self.defaultWidth = widths[0]
        self.charWidths = {character: widths[glyph] for character, glyph in self.charToGlyph.items()}


def _glyphs_of_characters(cmap: bytes) -> dict[int, int]:
    """Glyph numbers by character, of the last table (of format 12)."""
    tables = _numbers("H", cmap)[1]
    (offset,) = unpack_from(">I", cmap, 8 * tables)
    (count,) = unpack_from(">I", cmap, offset + 12)
    groups = _numbers("I", cmap[offset + 16 : offset + 16 + 12 * count])
    glyphs: dict[int, int] = {}
    for first, last, glyph in zip(groups[::3], groups[1::3], groups[2::3], strict=True):
        glyphs.update(zip(range(first, last + 1), range(glyph, glyph + last + 1 - first), strict=True))
    return {**glyphs, 0xA0: glyphs[0x20]}


def _numbers(kind: str, table: bytes) -> array[int]:
    """A table of unsigned numbers, the high byte first."""
    found = array(kind, table)
    if byteorder == "little":
        found.byteswap()
    return found
