"""Fonts: which letters the codes of a shown text stand for, and how wide they are.

In: what a font says of itself: its name, widths, and the bytes of its ToUnicode map (ISO 32000-1, 9.10.3).
Out: `PdfFont`. The shapes of its letters are not looked at: a font that draws a 6 for its 5 is not found out.

What the map doesn't tell is read as U+FFFD. Codes are of one byte or of two, as the map's code space says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

import msgspec

UNKNOWN = "\ufffd"

# A font's units to its size (ISO 32000-1, 9.2.4).
UNITS = 1000.0

# Of a map: far above the 256 letters of a simple font, and all there are of two bytes.
MOST_MAP_BYTES = 1_000_000
MOST_CODES = 65_536

_SECTION = re.compile(r"begin(codespacerange|bfchar|bfrange)(.*?)end\1", re.DOTALL)
_TOKEN = re.compile(r"<([0-9A-Fa-f\s]*)>|([\[\]])")


class PdfFont(msgspec.Struct, frozen=True):
    """A font: `letters` and `widths` (shares of its size) by code; `bytes_a_code` is 1 or 2."""

    name: str
    letters: Mapping[int, str]
    widths: Mapping[int, float]
    missing_width: float = 0.0
    bytes_a_code: int = 1

    def codes(self, shown: bytes) -> Sequence[int]:
        """The codes of a shown text."""
        if self.bytes_a_code == 1:
            return shown
        return [int.from_bytes(shown[k : k + 2]) for k in range(0, len(shown), 2)]

    def text(self, codes: Sequence[int]) -> str:
        """The letters of codes.

        >>> PdfFont("F", {65: "A"}, {}).text(b"A?")
        'A\ufffd'
        """
        letters = self.letters
        return "".join([letters.get(code, UNKNOWN) for code in codes])

    def width(self, codes: Sequence[int]) -> float:
        """How far codes lead on, as a share of the font's size."""
        widths, missing = self.widths, self.missing_width
        return sum([widths.get(code, missing) for code in codes])


def pdf_font(
    name: str, *, first: int, widths: Sequence[float], missing_width: float, to_unicode: bytes
) -> PdfFont:
    """A font of these widths, in thousandths of its size, from the `first` code on."""
    text = to_unicode[:MOST_MAP_BYTES].decode("latin-1")
    letters = dict(_letters(text))
    two = any(len(code) > 2 for section, code in _codes(text) if section == "codespacerange")
    known = {first + k: width / UNITS for k, width in enumerate(widths[:MOST_CODES])}
    return PdfFont(name, letters, known, missing_width / UNITS, 2 if two else 1)


def _codes(text: str) -> Iterator[tuple[str, str]]:
    for section in _SECTION.finditer(text):
        for token in _TOKEN.finditer(section[2]):
            yield section[1], token[1] or ""


def _letters(text: str) -> Iterator[tuple[int, str]]:
    left = MOST_CODES
    for section in _SECTION.finditer(text):
        tokens = iter([token[2] or token[1] for token in _TOKEN.finditer(section[2])])
        for code, letter in _pairs(section[1], tokens):
            left -= 1
            if left < 0:
                return
            yield code, letter


def _pairs(section: str, tokens: Iterator[str]) -> Iterator[tuple[int, str]]:
    """Codes with their letters: one after another, or a range that counts on, or a range with a row."""
    for start in tokens:
        if section == "bfchar":
            yield _code(start), _letter(next(tokens, ""))
        elif section == "bfrange":
            end, letter = next(tokens, ""), next(tokens, "")
            span = range(_code(start), min(_code(end), _code(start) + MOST_CODES) + 1)
            if letter == "[":
                row = iter(lambda: next(tokens, "]"), "]")
                yield from ((code, _letter(each)) for code, each in zip(span, row, strict=False))
            else:
                first = _letter(letter)
                yield from ((code, _counted(first, code - span[0])) for code in span)


def _code(token: str) -> int:
    digits = "".join(token.split())
    return int(digits[:8] or "0", 16) if digits not in ("[", "]") else 0


def _letter(token: str) -> str:
    digits = "".join(token.split())
    if not digits or digits in ("[", "]"):
        return UNKNOWN
    return bytes.fromhex(digits[: len(digits) // 4 * 4]).decode("utf-16-be", "replace") or UNKNOWN


def _counted(first: str, steps: int) -> str:
    """The letter so many code points on."""
    last = ord(first[-1]) + steps
    return first[:-1] + (chr(last) if last < 0x110000 else UNKNOWN)
