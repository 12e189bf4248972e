"""A kit whose pages draw what they should, in a file that would print otherwise: on other paper, with other
letters. Made by editing a finished kit with a general writer of PDF.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, FloatObject, NameObject, NumberObject, StreamObject

from handkit.errors import ProofError
from handkit.kit import make
from handkit.proof.content.carried import Carried, PageLabels
from handkit.proof.prover import prove

LEAF = """
format = 1
title = "Leaf"
[material]
thickness = 2
[[piece]]
name = "leaf"
rectangle = [60, 30]
"""
PT = 72 / 25.4

Edit = Callable[[PdfWriter], None]
FontEdit = Callable[[dict[Any, Any]], None]


@pytest.fixture(scope="module")
def kit(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("leaf")
    (folder / "leaf.toml").write_text(LEAF, encoding="utf-8")
    (folder / "kit.pdf").write_bytes(make(folder / "leaf.toml").pdf)
    return folder / "kit.pdf"


def failures(kit: Path, folder: Path, edit: Edit) -> list[str]:
    """What fails of the kit that is edited so: its code, what it is, what was found, what is wanted."""
    writer = PdfWriter(clone_from=kit)
    edit(writer)
    writer.write(folder / "edited.pdf")
    failed = [check for check in prove(folder / "edited.pdf").checks if not check.passed]
    return [f"{check.code}: {check.what}: {check.found} / {check.wanted}" for check in failed]


def on_paper(width: float, height: float, *pages: int) -> Edit:
    """Pages (all where none is named) of another size, in mm."""

    def edit(writer: PdfWriter) -> None:
        for page in [writer.pages[k - 1] for k in pages] or writer.pages:
            box = (0, 0, width * PT, height * PT)
            page[NameObject("/MediaBox")] = ArrayObject(map(FloatObject, box))

    return edit


def with_font(number: int, change: FontEdit) -> Edit:
    """A page whose first font is a changed copy of the kit's, under the same names."""

    def edit(writer: PdfWriter) -> None:
        page = writer.pages[number - 1]
        resources: Any = DictionaryObject(page["/Resources"].get_object())
        fonts: Any = DictionaryObject(resources["/Font"].get_object())
        name = sorted(fonts)[0]
        fonts[name] = DictionaryObject(fonts[name].get_object())
        change(fonts[name])
        resources[NameObject("/Font")] = fonts
        page[NameObject("/Resources")] = resources

    return edit


def not_embedded(font: dict[Any, Any]) -> None:
    del font["/FontDescriptor"]


def drawn_by_operators(font: dict[Any, Any]) -> None:
    font[NameObject("/Subtype")] = NameObject("/Type3")


def six_for_five(font: dict[Any, Any]) -> None:
    differences = ArrayObject([NumberObject(53), NameObject("/six")])
    font[NameObject("/Encoding")] = DictionaryObject({NameObject("/Differences"): differences})


def narrow(font: dict[Any, Any]) -> None:
    font[NameObject("/Widths")] = ArrayObject([NumberObject(50)] * len(font["/Widths"]))


def other_program(font: dict[Any, Any]) -> None:
    descriptor: Any = DictionaryObject(font["/FontDescriptor"].get_object())
    program = StreamObject()
    program.set_data(descriptor["/FontFile2"].get_data() + b"x")
    descriptor[NameObject("/FontFile2")] = program
    font[NameObject("/FontDescriptor")] = descriptor


A4 = "210.000 × 297.000 mm"
A3 = "297.000 × 420.000 mm"


@pytest.mark.parametrize(
    ("edit", "told"),
    [
        (lambda writer: None, []),
        (on_paper(297, 420), [f"same-paper: paper of ALL pages: {A3} / {A4}, as made"]),
        (on_paper(297, 420, 2), [f"same-paper: page 2: same as all pages: {A3} / {A4}"]),
        (on_paper(297, 420, 1), [f"same-paper: page 1: same as all pages: {A3} / {A4}"]),
    ],
)
def test_another_paper_than_the_kits_is_told(kit: Path, tmp_path: Path, edit: Edit, told: list[str]) -> None:
    count = len(PdfReader(kit).pages)
    assert failures(kit, tmp_path, edit) == [line.replace("ALL", str(count)) for line in told]


@pytest.mark.parametrize("change", [not_embedded, drawn_by_operators, six_for_five, narrow, other_program])
@pytest.mark.parametrize("page", [1, 3])
def test_a_page_with_letters_of_its_own_is_told(
    kit: Path, tmp_path: Path, page: int, change: FontEdit
) -> None:
    told = 'font "AAAAAA+DejaVuSans": another than handkit embedded / as handkit embedded it'
    assert failures(kit, tmp_path, with_font(page, change)) == [f"fonts: page {page}: {told}"]


def endless_program(font: dict[Any, Any]) -> None:
    descriptor: Any = DictionaryObject(font["/FontDescriptor"].get_object())
    program = StreamObject()
    program.set_data(bytes(20_000_000))
    descriptor[NameObject("/FontFile2")] = program.flate_encode()
    font[NameObject("/FontDescriptor")] = descriptor


def test_a_font_that_unpacks_without_end_is_refused(kit: Path, tmp_path: Path) -> None:
    with pytest.raises(ProofError, match="too much for a kit of this size"):
        failures(kit, tmp_path, with_font(1, endless_program))


def test_page_labels_go_on_until_the_next_ones() -> None:
    """ISO 32000-1, 12.4.2: a text, and numbers that count on where there is a style."""
    labels = (PageLabels(1, "Sheet ", numbered=True, first=4), PageLabels(3, "Plan", numbered=False, first=1))
    carried = Carried((), (), (), (), labels)
    assert carried.page_labels(5) == ["", "Sheet 4", "Sheet 5", "Plan", "Plan"]
    assert carried.page_labels(2) == ["", "Sheet 4"]
