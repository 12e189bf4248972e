"""Paper sizes and units against the standards that state them."""

from __future__ import annotations

import pytest

from handkit.errors import PaperError
from handkit.paper import PAPERS, Paper, paper_named, paper_of_size
from handkit.units import (
    LENGTH_UNITS,
    MM2_PER_DM2,
    MM2_PER_FT2,
    MM_PER_INCH,
    MM_PER_LINE,
    MM_PER_OUNCE,
    PT_PER_MM,
    from_pt,
    round_half_up,
    to_pt,
)

SIZES = [
    # name, mm, units of 1/72 in (by 72/25.4), source
    ("A4", (210, 297), (595.2756, 841.8898), "ISO 216"),
    ("A3", (297, 420), (841.8898, 1190.5512), "ISO 216"),
    ("letter", (215.9, 279.4), (612, 792), "ASME Y14.1, size A, 8.5 x 11 in"),
    ("tabloid", (279.4, 431.8), (792, 1224), "ASME Y14.1, size B, 11 x 17 in"),
    ("legal", (215.9, 355.6), (612, 1008), "customary, 8.5 x 14 in, not in Y14.1"),
]


@pytest.mark.parametrize(("name", "in_mm", "in_units", "source"), SIZES, ids=[row[0] for row in SIZES])
def test_a_paper_has_the_size_its_standard_gives(
    name: str, in_mm: tuple[float, float], in_units: tuple[float, float], source: str
) -> None:
    paper = paper_named(name)
    assert (paper.width, paper.height) == pytest.approx(in_mm, abs=1e-9), source
    assert (to_pt(paper.width), to_pt(paper.height)) == pytest.approx(in_units, abs=5e-5), source


def test_every_named_paper_has_a_row_in_the_table() -> None:
    assert {paper.name for paper in PAPERS} == {row[0] for row in SIZES}


def test_the_a_series_halves_its_long_side() -> None:
    # ISO 216: A(n+1) long = A(n) short
    assert paper_named("A4").height == paper_named("A3").width


@pytest.mark.parametrize(
    ("value", "wanted", "source"),
    [
        (MM_PER_INCH, 25.4, "the inch, by definition"),
        (to_pt(50), 141.7323, "50 mm; ISO 32000-1 Table 30, a unit is 1/72 in"),
        (PT_PER_MM, 2.834646, "ISO 32000-1 Table 30"),
        (from_pt(1), 0.352778, "ISO 32000-1 Table 30"),
        (MM_PER_OUNCE * 1, 0.396875, "1/64 in, tanneries' conversion charts"),
        (MM_PER_OUNCE * 8, 3.175, "1/8 in, tanneries' conversion charts"),
        (MM_PER_LINE * 20, 12.7, "a snap of 20 lines, 1/40 in each"),
        (MM_PER_LINE * 24, 15.24, "a snap of 24 lines, 1/40 in each"),
        (MM2_PER_FT2 / MM2_PER_DM2, 9.290304, "square foot in dm², by definition"),
        (LENGTH_UNITS["cm"], 10, "by definition"),
        (LENGTH_UNITS["in"], 25.4, "by definition"),
    ],
)
def test_units_have_their_defined_values(value: float, wanted: float, source: str) -> None:
    assert value == pytest.approx(wanted, abs=6e-7 * max(1, wanted)), source


@pytest.mark.parametrize(("value", "whole"), [(0.5, 1), (1.5, 2), (2.5, 3), (2.4999, 2), (50.75, 51)])
def test_halves_round_up(value: float, whole: int) -> None:
    assert round_half_up(value) == whole


@pytest.mark.parametrize("text", ["a4", "A4", " a4 ", "LETTER", "Tabloid"])
def test_a_name_is_known_in_any_case(text: str) -> None:
    assert paper_named(text).name.lower() == text.strip().lower()


@pytest.mark.parametrize(
    ("text", "width", "height"),
    [
        ("210x297mm", 210, 297),
        ("8.5x11in", 215.9, 279.4),
        ("30 x 40 cm", 300, 400),
        ("100x100mm", 100, 100),
        ("200x200in", 5080, 5080),
    ],
)
def test_a_size_may_be_written_out(text: str, width: float, height: float) -> None:
    paper = paper_named(text)
    assert (paper.width, paper.height) == pytest.approx((width, height))


NAMES = "A4, A3, letter, legal, tabloid or a size such as 210x297mm"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("A5", f"found paper 'A5'; allowed: {NAMES}"),
        ("", f"found paper ''; allowed: {NAMES}"),
        ("210x297", f"found paper '210x297'; allowed: {NAMES}"),
        ("210,5x297mm", f"found paper '210,5x297mm'; allowed: {NAMES}"),
        ("-210x297mm", f"found paper '-210x297mm'; allowed: {NAMES}"),
        ("nanxnanmm", f"found paper 'nanxnanmm'; allowed: {NAMES}"),
        ("99x297mm", "found paper '99x297mm'; allowed: sides from 100 to 5080 mm"),
        ("210x201in", "found paper '210x201in'; allowed: sides from 100 to 5080 mm"),
        ("٢١٠x297mm", f"found paper '٢١٠x297mm'; allowed: {NAMES}"),
    ],
)
def test_what_is_no_paper_is_refused(text: str, message: str) -> None:
    with pytest.raises(PaperError) as refused:
        paper_named(text)
    assert str(refused.value) == message


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.name)
def test_a_paper_is_known_by_its_size_and_not_turned(paper: Paper) -> None:
    width, height = paper.width, paper.height
    assert paper_of_size(width + 0.009, height, within=0.01) == paper.name
    assert paper_of_size(height, width, within=0.01) == ""
    assert paper_of_size(width - 0.1, height, within=0.01) == ""  # 595 x 842 units
