"""The letters that codes stand for, by maps as ISO 32000-1, 9.10.3 writes them."""

from __future__ import annotations

import pytest

from handkit.proof.content.fonts import MOST_CODES, PdfFont, pdf_font


def font(to_unicode: str) -> PdfFont:
    return pdf_font("F", first=0, widths=(), missing_width=0, to_unicode=to_unicode.encode("latin-1"))


TWO_BYTES = "1 begincodespacerange <0000> <FFFF> endcodespacerange 1 beginbfchar <0141> <0062> endbfchar"
ONE_BYTE = "1 begincodespacerange <00> <FF> endcodespacerange 1 beginbfchar <41> <0062> endbfchar"

# A map, codes shown, and the text.
MAPS = [
    ("1 beginbfchar <41> <0062> endbfchar", b"A", "b"),
    ("1 beginbfchar <41> <00660066> endbfchar", b"A", "ff"),  # one code, two letters
    ("1 beginbfchar <41> <D83DDE00> endbfchar", b"A", "\U0001f600"),  # UTF-16, two halves
    ("1 beginbfchar <41> <0062> endbfchar", b"AB", "b\ufffd"),
    ("1 beginbfrange <41> <43> <0061> endbfrange", b"ABCD", "abc\ufffd"),
    ("1 beginbfrange <41> <43> [<0078> <0079> <007A>] endbfrange", b"ABC", "xyz"),
    ("1 beginbfrange <41> <43> [<0078>] endbfrange 1 beginbfchar <50> <0070> endbfchar", b"ABP", "x\ufffdp"),
    ("1 beginbfrange\n<41><42>\n<00 61>\nendbfrange", b"AB", "ab"),
    (TWO_BYTES, b"\1A", "b"),
    (ONE_BYTE, b"A", "b"),
    ("", b"A", "\ufffd"),
    ("beginbfchar <41> endbfchar", b"A", "\ufffd"),
    ("beginbfchar [ ] endbfchar beginbfrange <41> endbfrange", b"A", "\ufffd"),
    ("beginbfchar <41> <0062>", b"A", "\ufffd"),  # never ends
]


@pytest.mark.parametrize(("to_unicode", "shown", "expected"), MAPS)
def test_maps(to_unicode: str, shown: bytes, expected: str) -> None:
    found = font(to_unicode)
    assert found.text(found.codes(shown)) == expected


def test_a_hostile_map_is_read_no_further_than_its_limit() -> None:
    found = font("beginbfrange <0000> <FFFFFFFF> <0041> <00> <FFFFFFFF> <0041> endbfrange")
    assert len(found.letters) <= MOST_CODES


def test_widths_are_those_of_the_row_and_else_the_missing_one() -> None:
    found = pdf_font("F", first=65, widths=(600.0, 500.0), missing_width=250.0, to_unicode=b"")
    assert found.width(b"AB") == pytest.approx(1.1)
    assert found.width(b"C") == pytest.approx(0.25)
