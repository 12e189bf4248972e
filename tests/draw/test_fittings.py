"""Fittings on the templates: named at their fold or place, though a bar is narrower than its name."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from handkit.draw.kit_pdf import kit_pages
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import Words
from handkit.draw.pages.legend import entries

STRAP = Path(__file__).parents[2] / "samples" / "strap" / "strap.toml"
MAGNET = """
format = 1
[[piece]]
name = "flap"
rectangle = [120, 60]
thickness = 2
[[fitting]]
name = "catch"
kind = "magnet"
on = "flap"
diameter = 12
thickness = 2
at = [[100, 30]]
"""


@pytest.fixture(scope="module", params=["strap", "flap"])
def shown(products_of: Callable[..., Any], request: pytest.FixtureRequest) -> Any:
    return request.param, products_of(STRAP.read_text("utf-8") if request.param == "strap" else MAGNET)


def test_a_fitting_is_named_where_it_lies(shown: Any) -> None:
    which, products = shown
    pages = [page for page in kit_pages(*products, shipped_fonts()) if page.label.startswith("Sheet ")]
    marks = [mark for page in pages for group in page.groups for mark in group.marks]
    texts = [part.text for mark in marks for part in mark.parts if isinstance(part, Words)]
    assert texts.count("(buckle)" if which == "strap" else "(catch)") == 1


def test_the_legend_says_what_the_outline_is(shown: Any) -> None:
    _, products = shown
    told = [text for _, text in entries(products.punched.pattern, products.sheets)]
    assert "(named) is put on here: don't cut" in told
