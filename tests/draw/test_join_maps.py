"""Join maps: the small picture of a piece's portions is never like a line to cut, and in nothing's way."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from handkit.draw.kit_pdf import kit_pages
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import Ink, Mark, Page, Words
from handkit.geometry.box import Box, box_of
from handkit.ink import Tag

NARROW_AND_WIDE = """
format = 1
title = "Seed apron"
[material]
thickness = 2
[[piece]]
name = "bib"
rectangle = [{width}, 420]
[[opening]]
name = "studs"
kind = "rivet"
hole = 3
cap = 9
through = ["bib"]
at = [[{middle}, 60], [{middle}, 90], [{middle}, 330], [{middle}, 360]]
"""

CLEAR = 2.0  # mm of free paper round a map


def sheets_of(products: Any) -> list[Page]:
    return [page for page in kit_pages(*products, shipped_fonts()) if page.label.startswith("Sheet ")]


def marks_of(page: Page, *kinds: Tag) -> list[Mark]:
    return [mark for group in page.groups for mark in group.marks if mark.tag in kinds]


def inks_of(page: Page, *kinds: Tag) -> list[Ink]:
    return [part for mark in marks_of(page, *kinds) for part in mark.parts if isinstance(part, Ink)]


def bounds(ink: Ink) -> Box:
    return box_of(list(zip(ink.path.numbers[::2], ink.path.numbers[1::2], strict=True)))


@pytest.fixture(scope="module", params=[60, 100, 180])
def pages(request: pytest.FixtureRequest, products_of: Callable[..., Any]) -> list[Page]:
    """A piece in two portions: both on one sheet, and on two, with much bare paper beside them and with
    none."""
    width = request.param
    return sheets_of(products_of(NARROW_AND_WIDE.format(width=width, middle=width / 2)))


def test_each_sheet_has_one_map_of_the_piece_and_says_not_to_cut_it(pages: list[Page]) -> None:
    for page in pages:
        words = [p for mark in marks_of(page, Tag.MAP) for p in mark.parts if isinstance(p, Words)]
        assert [word.text for word in words].count("map: don't cut") == 1


def test_a_map_is_darker_where_the_sheet_has_the_portion(pages: list[Page]) -> None:
    for page in pages:
        here = {dict(mark.properties)["Window"] for mark in marks_of(page, Tag.OUTLINE)}
        darker = [ink for ink in inks_of(page, Tag.MAP) if ink.fill is not None and ink.fill < 0.8]
        assert len(darker) == len(here)
        words = [p for mark in marks_of(page, Tag.MAP) for p in mark.parts if isinstance(p, Words)]
        assert {int(word.text) for word in words if word.bold and word.text.isdigit()} <= here


def test_a_map_has_no_outline(pages: list[Page]) -> None:
    inks = [ink for page in pages for ink in inks_of(page, Tag.MAP)]
    areas = [ink for ink in inks if ink.stroke is None]
    assert areas
    assert all(ink.fill is not None and ink.fill >= 0.6 for ink in areas)
    lines = [ink for ink in inks if ink.stroke is not None]
    assert lines
    for ink in lines:
        assert ink.stroke is not None
        assert ink.fill is None and ink.stroke.width <= 0.13 and ink.stroke.dash
        assert "h" not in ink.path.operators


def test_a_map_is_clear_of_all_that_is_cut_or_pierced(pages: list[Page]) -> None:
    for page in pages:
        maps = [bounds(ink).grown(CLEAR) for ink in inks_of(page, Tag.MAP) if ink.stroke is None]
        for ink in inks_of(page, Tag.OPENING, Tag.CENTRE, Tag.MARK, Tag.HOLE):
            assert not any(bounds(ink).meets(box) for box in maps)


def test_a_map_stands_on_bare_paper_where_there_is_some(products_of: Callable[..., Any]) -> None:
    for page in sheets_of(products_of(NARROW_AND_WIDE.format(width=100, middle=50))):
        outline = [bounds(ink) for ink in inks_of(page, Tag.OUTLINE)]
        for ink in inks_of(page, Tag.MAP):
            assert not any(bounds(ink).meets(box) for box in outline)
        texts = [p.text for mark in marks_of(page, Tag.MAP) for p in mark.parts if isinstance(p, Words)]
        assert "bib" in texts  # named where it stands beside its piece
