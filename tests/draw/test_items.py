"""Things carried: their outlines on the templates, and the room that each has, in words and numbers."""

from __future__ import annotations

import json
from collections.abc import Callable
from io import BytesIO
from typing import Any

import pypdf
import pytest
import shapely
from pypdf.generic import ContentStream

from handkit.draw.export.check_text import check_text
from handkit.draw.export.pieces_json import pieces_json
from handkit.draw.export.plan_json import plan_json
from handkit.draw.export.plan_text import plan_text
from handkit.draw.export.report_json import check_json
from handkit.draw.kit_pdf import kit_pages, kit_pdf
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import Words
from handkit.draw.pages.legend import entries
from handkit.ink import STROKES, Tag

CASE = """
format = 1
[material]
thickness = 1.6
[[piece]]
name = "back"
rectangle = [150, 220]
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [10, 10]
[[item]]
name = "folder"
in = "pocket"
size = [30, 4, 150]
[[item]]
name = "scriber"
in = "pocket"
diameter = 6
length = 160
"""


@pytest.fixture(scope="module")
def case(products_of: Callable[..., Any]) -> Any:
    return products_of(CASE)


@pytest.fixture(scope="module")
def outlines(case: Any) -> list[tuple[str, shapely.Polygon]]:
    """Every item's outline in the file: the piece it is drawn on, and its corners on the sheet."""
    reader = pypdf.PdfReader(BytesIO(kit_pdf(*case).data))
    found, piece, points = [], "", []
    for page in reader.pages:
        for operands, operator in ContentStream(page["/Contents"].get_object(), reader).operations:
            if operator == b"BDC":
                piece = str(operands[1]["/Piece"]) if operands[0] == f"/{Tag.ITEM.value}" else ""
                points = []
            elif piece and operator in (b"m", b"l"):
                points.append((float(operands[0]), float(operands[1])))
            elif piece and operator == b"EMC":
                found.append((piece, shapely.Polygon(points)))
                piece = ""
    return found


def test_each_item_is_outlined_on_pocket_and_base(outlines: list[tuple[str, shapely.Polygon]]) -> None:
    assert [piece for piece, _ in outlines].count("back") == 2
    assert [piece for piece, _ in outlines].count("pocket") == 2


def test_outlines_are_at_full_scale(outlines: list[tuple[str, shapely.Polygon]]) -> None:
    areas = sorted(round(outline.area, 1) for piece, outline in outlines if piece == "back")
    assert areas == [6 * 160, 30 * 150]


def test_outlines_are_told_apart_from_what_is_cut() -> None:
    """No line but an item's in a picture has their dashes, and cut lines are continuous and wider."""
    dashes = [stroke.dash for tag, stroke in STROKES.items() if tag not in (Tag.ITEM, Tag.THING)]
    assert STROKES[Tag.ITEM].dash not in dashes
    assert STROKES[Tag.ITEM].width < STROKES[Tag.OUTLINE].width
    assert STROKES[Tag.OUTLINE].dash == ()


def test_items_are_named_where_they_lie(case: Any) -> None:
    pages = [page for page in kit_pages(*case, shipped_fonts()) if page.label.startswith("Sheet ")]
    texts = [
        part.text
        for page in pages
        for group in page.groups
        for mark in group.marks
        for part in mark.parts
        if isinstance(part, Words)
    ]
    assert texts.count("(folder)") == texts.count("(scriber)") == 2


def test_the_legend_has_items_only_where_there_are_any(case: Any, wallet: Any) -> None:
    words = "(named) is carried here: don't cut"
    assert words in [text for _, text in entries(case.punched.pattern, case.sheets)]
    assert words not in [text for _, text in entries(wallet.punched.pattern, wallet.sheets)]


def test_pieces_for_programs_have_items_only_where_there_are_any(case: Any, wallet: Any) -> None:
    back = json.loads(pieces_json(case.punched))["pieces"][0]
    assert [(item["name"], len(item["outline"])) for item in back["items"]] == [("folder", 4), ("scriber", 4)]
    assert all("items" not in piece for piece in json.loads(pieces_json(wallet.punched))["pieces"])


def test_the_plan_says_how_each_item_sits(case: Any, wallet: Any) -> None:
    assert "Room for the items" in plan_text(case.plan, case.punched, whole=True)
    assert "Room for the items" not in plan_text(wallet.plan, wallet.punched, whole=True)


def test_a_check_tells_the_room_of_each_item(case: Any, wallet: Any) -> None:
    rooms = case.punched.pattern.item_fits
    # Half of 30 × 4 in leather of 1.6: 34 − 1.6 + 0.8·π = 34.913; ease 2: by hand.
    line = "  folder   pocket, width   34.9  36.9   2.0  1 to 6   fits"
    assert line in check_text((), rooms, 1).splitlines()
    told = json.loads(check_json((), rooms))
    assert told["rooms"][0] == {
        "item": "folder",
        "part": "pocket",
        "measure": "width",
        "needed_mm": 34.913,
        "given_mm": 36.913,
        "ease_mm": 2.0,
        "least_mm": 1.0,
        "most_mm": 6.0,
        "fit": "fits",
        "where": "between the rows of stitches",
    }
    assert "pocket, width: measured between the rows of stitches." in " ".join(
        check_text((), rooms, 1).split()
    )
    assert json.loads(plan_json(case.plan, case.punched))["rooms"] == told["rooms"]
    assert "rooms" not in json.loads(plan_json(wallet.plan, wallet.punched))
    assert json.loads(check_json((), wallet.punched.pattern.item_fits)) == {"format": 1, "findings": []}
    assert check_text((), (), 3) == "no errors, no warnings: the kit can be made: 3 template sheets\n"
