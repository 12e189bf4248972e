"""Operators: numbers, pens, tags and groups as a content stream has them."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf.generic import ContentStream, DecodedStreamObject

from handkit.draw.model import tags
from handkit.draw.model.marks import Group, Ink, Mark, Properties, Words
from handkit.draw.model.path_ops import box_ops, dot_ops, line_ops
from handkit.draw.pdf.operators import group_operators, number, page_operators
from handkit.ink import NARROW, WIDE, Tag


def spell(words: Words) -> str:
    return f"({words.text}) Tj"


def parsed(operators: str) -> list[tuple[Any, str]]:
    """The operations as pypdf reads them."""
    stream = DecodedStreamObject()
    stream.set_data(operators.encode("latin-1"))
    writer = pypdf.PdfWriter(BytesIO())
    return [(operands, name.decode()) for operands, name in ContentStream(stream, writer).operations]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (-0.00004, "0"),
        (0.00006, "0.0001"),
        (12.0, "12.0000"),
        (-3.14159265, "-3.1416"),
        (5080.00005, "5080.0000"),
    ],
)
def test_numbers_have_four_decimals_and_no_minus_nought(value: float, text: str) -> None:
    assert number(value) == text


def test_one_scale_for_the_page_makes_all_operands_mm() -> None:
    group = Group((Mark(Tag.SQUARE, tags.square(50.0), (Ink(box_ops(10, 20, 60, 70), NARROW),)),))
    operations = parsed(page_operators([group_operators([group], spell)]))
    scales = [operands for operands, name in operations if name == "cm"]
    assert len(scales) == 1
    # 72 / 25.4 by hand
    assert [float(x) for x in scales[0]] == pytest.approx([2.8346456693, 0, 0, 2.8346456693, 0, 0])
    corners = [tuple(map(float, operands)) for operands, name in operations if name in ("m", "l")]
    assert corners == [(10, 20), (60, 20), (60, 70), (10, 70)]


def test_a_pen_is_set_only_where_it_changes_and_anew_in_each_group() -> None:
    line = Ink(line_ops((0, 0), (1, 0)), WIDE)
    thin = Ink(line_ops((0, 0), (1, 0)), NARROW)
    dot = Ink(dot_ops((0, 0), 0.4))
    marks = tuple(Mark(Tag.LABEL, (), (ink,)) for ink in (line, dot, line, thin, thin, line))
    text = page_operators([group_operators([Group(marks), Group((marks[0],))], spell)])
    widths = [float(operands[0]) for operands, name in parsed(text) if name == "w"]
    assert widths == [0.5, 0.25, 0.5, 0.5]


def test_marks_and_groups_are_balanced_and_clips_come_first() -> None:
    inner = Mark(
        Tag.HOLE, tags.hole(tags.window("a", 1), seam="s", run=1, hole_number=2), (Words("x", (0, 0), 3),)
    )
    group = Group((inner, inner), (box_ops(0, 0, 9, 9), box_ops(1, 1, 8, 8)))
    names = [name for _, name in parsed(page_operators([group_operators([group, group], spell)]))]
    assert names.count("BDC") == names.count("EMC") == 4
    assert names.count("q") == names.count("Q") == 3
    assert names.count("W") == 4
    assert names.index("W") < names.index("BDC")


@pytest.mark.parametrize(
    ("properties", "read"),
    [
        (tags.square(50.8), {"/Side": 50.8}),
        (tags.bar(190.0), {"/Length": 190}),
        (tags.window("a (b) \\ c", 2), {"/Piece": "a (b) \\ c", "/Window": 2}),
        (
            tags.hole(tags.window("étui", 1), seam="→ 中", run=2, hole_number=31),
            {"/Piece": "étui", "/Window": 1, "/Seam": "→ 中", "/Run": 2, "/Number": 31},
        ),
        (
            tags.mark(tags.window("p", 1), (1, 2), 3),
            {"/Piece": "p", "/Window": 1, "/Join": [1, 2], "/Mark": 3},
        ),
        (
            tags.break_line(tags.window("p", 2, copy=3), 1, 449.0),
            {"/Piece": "p", "/Window": 2, "/Copy": 3, "/Break": 1, "/Length": 449},
        ),
        (
            tags.opening(tags.window("p", 1), name="o", place=4, diameter=4.0, length=26.0),
            {"/Piece": "p", "/Window": 1, "/Opening": "o", "/Number": 4, "/Diameter": 4, "/Length": 26},
        ),
    ],
)
def test_tags_read_back_as_they_were_meant(properties: Properties, read: dict[str, Any]) -> None:
    text = page_operators([group_operators([Group((Mark(Tag.LABEL, properties, ()),))], spell)])
    operands = next(operands for operands, name in parsed(text) if name == "BDC")
    assert operands[0] == "/hkLabel"
    assert {key: plain(value) for key, value in operands[1].items()} == read


@given(st.text(st.characters(exclude_categories=("Cs",)), max_size=20))
@settings(derandomize=True, deadline=None, max_examples=150)
def test_any_name_survives_in_a_tag(name: str) -> None:
    text = page_operators([group_operators([Group((Mark(Tag.LABEL, tags.window(name, 1), ()),))], spell)])
    operands = next(operands for operands, operator in parsed(text) if operator == "BDC")
    assert plain(operands[1]["/Piece"]) == name


def plain(value: Any) -> Any:
    """A PDF object as Python has it."""
    if isinstance(value, list):
        return [plain(part) for part in value]
    return str(value) if isinstance(value, str) else float(value)
