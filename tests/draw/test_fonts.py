"""Fonts: widths, faces, and what is said where a text can't be written."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdf
import pytest
import reportlab
from msgspec.structs import replace
from PIL import ImageFont

import handkit
from handkit.draw.kit_pdf import kit_pages, kit_pdf
from handkit.draw.model.fonts import (
    CAPITAL,
    LEAST_CAPITAL,
    LEAST_SIZE,
    missing_glyphs,
    shipped_fonts,
    written,
)
from handkit.draw.model.marks import words_of
from handkit.errors import ProjectError
from handkit.read.project import Project
from handkit.read.reader import read_project

FOLDER = Path(handkit.__file__).parent / "fonts"
# A small Latin-1 font that comes with the PDF library: it lacks Greek, Cyrillic, arrows.
LATIN = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"

BARE = 'format = 1\n{page}\n[material]\nthickness = 2\n[[piece]]\nname = "{name}"\nrectangle = [90, 60]\n'


@pytest.fixture
def project_named(tmp_path: Path) -> Callable[..., Project]:
    def make(name: str, *, font: bytes | None = None) -> Project:
        page = ""
        if font is not None:
            (tmp_path / "own.ttf").write_bytes(font)
            page = '[page]\nfont = "own.ttf"'
        file = tmp_path / "p.toml"
        file.write_text(BARE.format(name=name, page=page), encoding="utf-8")
        return read_project(file)

    return make


def said(project: Project) -> list[str]:
    folder = str(Path(project.source.file).parent) + "/"
    return [str(finding).replace(folder, "") for finding in missing_glyphs(project)]


@pytest.mark.parametrize("name", ["back", "étui", "Rückenteil", "ремень", "θήκη", "⌀ → “pocket” 3⁄4"])
def test_the_shipped_font_has_what_makers_of_many_places_write(
    project_named: Callable[..., Project], name: str
) -> None:
    assert said(project_named(name)) == []


@pytest.mark.parametrize(
    ("name", "lines"),
    [
        (
            "袋 a 袋",
            [
                'p.toml:6: error: piece "袋 a 袋": name: found 袋 (U+888B CJK UNIFIED IDEOGRAPH-888B) in '
                "'袋 a 袋'; allowed: characters of the shipped DejaVu Sans, or of the font that [page] "
                'names; name a TrueType font that has them: [page] font = "some.ttf" '
                "[font-lacks-characters]"
            ],
        ),
        (
            "a\u0e16\U0001f9f5",
            [
                'p.toml:6: error: piece "a\u0e16\U0001f9f5": name: found \u0e16 (U+0E16 THAI CHARACTER THO '
                "THUNG), \U0001f9f5 (U+1F9F5 SPOOL OF THREAD) in 'a\u0e16\U0001f9f5'; allowed: characters of "
                "the shipped DejaVu Sans, or of the font that [page] names; name a TrueType font that has "
                'them: [page] font = "some.ttf" [font-lacks-characters]',
            ],
        ),
        (
            "حقيبة",
            [
                "p.toml:6: note: piece \"حقيبة\": name: found text that runs from right to left, 'حقيبة'; "
                "allowed: text that runs from left to right; its letters stand unjoined and in the order "
                "they were typed [written-left-to-right]"
            ],
        ),
    ],
)
def test_what_cannot_be_written_is_named(
    project_named: Callable[..., Project], name: str, lines: list[str]
) -> None:
    assert said(project_named(name)) == lines


def test_a_kit_is_not_drawn_with_boxes_for_letters(
    wallet: Any, project_named: Callable[..., Project]
) -> None:
    with pytest.raises(ProjectError, match="font-lacks-characters"):
        kit_pdf(*_with_project(wallet, project_named("袋")))


def test_the_projects_font_is_used_where_it_covers(
    project_named: Callable[..., Project], products_of: Callable[..., Any], wallet: Any
) -> None:
    """Latin from its own file, Greek from the shipped one; both embedded."""
    project = project_named("back θήκη", font=LATIN.read_bytes())
    assert said(project) == []
    kit = kit_pdf(*_with_project(wallet, project))
    names: set[str] = set()
    page: Any
    for page in pypdf.PdfReader(BytesIO(kit.data)).pages:
        names |= {str(font.get_object()["/BaseFont"]) for font in page["/Resources"]["/Font"].values()}
    assert {name.partition("+")[2] for name in names} >= {"BitstreamVeraSans-Roman", "DejaVuSans"}


@pytest.mark.parametrize(
    "data",
    [b"", b"no font at all", b"\x00\x01\x00\x00" + b"\xff" * 200, b"OTTO" + b"\0" * 100],
    ids=["empty", "text", "noise", "postscript outlines"],
)
def test_a_broken_font_is_refused(project_named: Callable[..., Project], data: bytes) -> None:
    (finding,) = missing_glyphs(project_named("back", font=data))
    assert finding.code == "font-unusable"
    assert finding.where.key == "page: font"
    assert "own.ttf" in finding.found
    assert "/" not in finding.found


@pytest.mark.parametrize("cut", [100, 1000, 5000, 20000, 60000])
def test_a_font_cut_short_is_refused_or_read(project_named: Callable[..., Project], cut: int) -> None:
    """Never anything but a finding, wherever the file ends."""
    codes = [finding.code for finding in missing_glyphs(project_named("back", font=LATIN.read_bytes()[:cut]))]
    assert codes in ([], ["font-unusable"])


def test_widths_are_the_font_files() -> None:
    """Against another reader of the same file, at one pixel a font unit."""
    other = ImageFont.truetype(FOLDER / "DejaVuSans.ttf", 2048)
    text = "Ahle 12,5 — ⌀ и → λ"
    wanted = sum(other.getlength(character) for character in text) * 3.5 / 2048
    assert shipped_fonts().width(text, 3.5) == pytest.approx(wanted, rel=0.002)


def test_letters_for_the_bench_are_large_enough() -> None:
    """Capitals of the shipped font, as its outlines are: 1493 of 2048."""
    _, top, _, bottom = ImageFont.truetype(FOLDER / "DejaVuSans.ttf", 2048).getbbox("H")
    assert bottom - top == CAPITAL * 2048
    assert CAPITAL * LEAST_SIZE >= LEAST_CAPITAL


def test_all_text_of_a_kit_has_glyphs_and_size(wallet: Any) -> None:
    fonts = shipped_fonts()
    words = words_of(kit_pages(*wallet, fonts))
    assert len(words) > 200
    for one in words:
        assert fonts.lacking(one.text) == ()
        assert one.size * CAPITAL >= LEAST_CAPITAL


def test_text_is_composed_before_it_is_drawn() -> None:
    assert written("cafe\u0301") == "café"
    assert shipped_fonts().width("cafe\u0301", 10) == shipped_fonts().width("café", 10)


def test_the_licence_lies_beside_the_fonts() -> None:
    licence = (FOLDER / "LICENSE").read_text(encoding="utf-8")
    for holder in ("Bitstream Vera Fonts Copyright", "Arev Fonts Copyright", "DejaVu"):
        assert holder in licence


def _with_project(products: Any, project: Project) -> Any:
    """The same products, said to come from another project."""
    punched = products.punched
    pattern = replace(punched.pattern, project=project)
    return products._replace(punched=replace(punched, pattern=pattern))
