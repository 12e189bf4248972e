"""Marks of drafted parts: where mates' middles meet and where flanges are notched, drawn and told."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from io import BytesIO
from typing import Any

import pypdf
import pytest
from pypdf.generic import ContentStream

from handkit.draw.export.pieces_json import pieces_json
from handkit.draw.export.pieces_svg import pieces_svg
from handkit.draw.kit_pdf import kit_pdf
from handkit.draw.pages.legend import entries
from handkit.ink import Tag

CASE = """
format = 1
[material]
thickness = 1.6
[[piece]]
name = "back"
rectangle = [150, 180]
[[part]]
name = "box"
kind = "boxed pocket"
on = "back"
at = [10, 10]
gusset = "{gusset}"
[[item]]
name = "tin"
in = "box"
size = [90, 30, 120]
"""


@pytest.fixture(scope="module", params=["plain", "turned"])
def case(products_of: Callable[..., Any], request: pytest.FixtureRequest) -> tuple[str, Any]:
    return request.param, products_of(CASE.format(gusset=request.param))


def test_marks_are_drawn_on_their_pieces(case: tuple[str, Any]) -> None:
    """One on front and base, two on the gusset; notches at two corners of two flanges."""
    gusset, products = case
    reader = pypdf.PdfReader(BytesIO(kit_pdf(*products).data))
    found: Counter[tuple[str, str]] = Counter()
    for page in reader.pages:
        for operands, operator in ContentStream(page["/Contents"].get_object(), reader).operations:
            if operator == b"BDC" and operands[0] in (f"/{Tag.MEET.value}", f"/{Tag.NOTCH.value}"):
                found[str(operands[0]), str(operands[1]["/Piece"])] += 1
    pieces = json.loads(pieces_json(products.punched))["pieces"]
    told = {piece["name"]: Counter(mark["kind"] for mark in piece.get("marks", [])) for piece in pieces}
    assert found == Counter(
        {
            (f"/{Tag[kind.upper()].value}", name): count
            for name, kinds in told.items()
            for kind, count in kinds.items()
        }
    )
    assert {name: kinds["meet"] for name, kinds in told.items()} == {
        "back": 1,
        "box front": 1,
        "box gusset": 2,
    }
    assert (told["box gusset"]["notch"] > 0) == (gusset == "turned")
    assert told["box gusset"]["notch"] % 4 == 0


def test_the_legend_tells_what_is_there(case: tuple[str, Any]) -> None:
    gusset, products = case
    words = [text for _, text in entries(products.punched.pattern, products.sheets)]
    assert "across a seam: mates' middles meet here" in words
    assert ("cut these notches out of the edge" in words) == (gusset == "turned")


def test_a_drawing_program_gets_them_too(case: tuple[str, Any]) -> None:
    gusset, products = case
    svg = pieces_svg(products.punched)
    assert svg.count('class="meet"') == 4
    assert ('class="notch"' in svg) == (gusset == "turned")
