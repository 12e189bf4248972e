"""Cloth on paper: the cut, the folds and the finished edge apart; words of the bench by material."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from handkit.draft.drafter import draft
from handkit.draw.export.pieces_json import pieces_json
from handkit.draw.export.pieces_svg import pieces_svg
from handkit.draw.kit_pdf import kit_pages, kit_pdf
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import Page, words_of
from handkit.draw.words.cautions import AT_STEP, AT_TURNED_LEATHER, cautions
from handkit.draw.words.label_words import side_words
from handkit.draw.words.work_order import marking
from handkit.ink import STROKES, Tag
from handkit.kinds.materials import MATERIALS, Family, Material
from handkit.proof.prover import prove
from handkit.read.reader import read_project_text
from handkit.stitch.plan import StepKind

ROLL = """format = 1
title = "Canvas roll"
[material]
kind = "canvas"
thickness = 0.8
[[piece]]
name = "roll"
rectangle = [150, 120]
hem = { "C-D" = { width = 15, turns = 2, turn_in = 8 } }
turned = { "D-A" = 10 }
binding = { "A-B" = { width = 24, thickness = 0.5 } }
allowance = { "B-C" = 12 }
[[seam]]
name = "hem"
runs = [{ run = "roll: C-D", inset = 12 }]
[[seam]]
name = "binding"
runs = [{ run = "roll: A-B", inset = 9, from_end = 2 }]
[[seam]]
name = "side"
runs = [{ run = "roll: B-C", inset = 0, from_start = 14, from_end = 20 }]
"""
PATCH = """
[[piece]]
name = "patch"
rectangle = [40, 30]
kind = "firm leather"
thickness = 2
on = "roll"
at = [50, 50]
[[seam]]
name = "patch"
runs = ["patch: A-B-C-D-A", "roll"]
"""
FONTS = shipped_fonts()
LEATHER = ("hide", "leather", "grain", "flesh", "dye", "burnish", "bevel", "oil")
Products = Callable[[str], Any]


@pytest.fixture(scope="module")
def roll(products_of: Products) -> Any:
    return products_of(ROLL)


@pytest.fixture(scope="module")
def pages(roll: Any) -> tuple[Page, ...]:
    return tuple(kit_pages(roll.punched, roll.plan, roll.sheets, FONTS))


def told(pages: tuple[Page, ...]) -> str:
    return " ".join(words.text for words in words_of(pages))


def numbers(pages: tuple[Page, ...], tag: Tag) -> int:
    marks = [mark for page in pages for group in page.groups for mark in group.marks if mark.tag is tag]
    return sum(dict(mark.properties).get("Piece") == "roll" for mark in marks)


def test_cut_folds_and_finished_edge_are_marks_of_their_own(pages: tuple[Page, ...]) -> None:
    """Three finished edges inside the cut (the binding's is the cut); two folds of the hem, one turned."""
    assert (numbers(pages, Tag.OUTLINE), numbers(pages, Tag.FINISHED), numbers(pages, Tag.HEM)) == (1, 3, 3)


def test_their_lines_are_unlike_all_others() -> None:
    for tag in (Tag.FINISHED, Tag.HEM):
        alike = [other for other, stroke in STROKES.items() if stroke == STROKES[tag] and other is not tag]
        assert not {Tag.OUTLINE, Tag.TRIM, Tag.FOLD, Tag.STITCH, Tag.ONTOP, Tag.ITEM, Tag.SKIVE} & set(alike)


def test_the_legend_tells_them_and_the_warp(pages: tuple[Page, ...]) -> None:
    text = told(pages[:1])
    assert "finished edge, when it is turned or sewn" in text.replace("\n", " ")
    for words in ("turn over here, to the side named", "cloth's warp", "never punch it"):
        assert words in text, words
    assert "trim here after stitching" not in text


def test_the_template_says_what_is_done_at_which_edge(pages: tuple[Page, ...]) -> None:
    text = told(pages)
    for words in (
        "lay on the face, print up",
        "C-D: turn in 8 mm, then hem 15 mm to the back",
        "D-A: turn 10 mm to the back",
        "A-B: bind with tape 24 mm wide",
        "B-C: seam allowance 12 mm",
        "D: turn C-D over D-A",
        "arrow along the warp",
    ):
        assert words in text, words


def test_no_page_of_cloth_speaks_of_leather(pages: tuple[Page, ...]) -> None:
    found = {word.strip(".,:;()").lower() for word in told(pages).split()}
    assert found.isdisjoint(LEATHER), found.intersection(LEATHER)


def test_no_page_of_leather_speaks_of_cloth(wallet: Any) -> None:
    """What is of leather alone reads as it always did."""
    assert wallet.punched.pattern.families == (Family.LEATHER,)
    text = told(tuple(kit_pages(*wallet, FONTS))).lower()
    assert not any(word in text for word in ("warp", "chalk", "yarn", "shears", "never punch", "on the face"))


def test_in_mixed_work_each_material_has_its_own_words(products_of: Products) -> None:
    products = products_of(ROLL + PATCH)
    text = told(tuple(kit_pages(products.punched, products.plan, products.sheets, FONTS)))
    for words in ("patch 1× · 2 mm grain side", "lay on the face, print up", "on roll marked only"):
        assert words in text, words
    assert "Never punch stitch holes in cloth" in text.replace("\n", " ")


def test_the_caution_of_oil_stands_at_the_oil(products_of: Products) -> None:
    products = products_of(ROLL + PATCH)
    text = told(tuple(kit_pages(products.punched, products.plan, products.sheets, FONTS)))
    press, oil = text.index("brush and press"), text.index("Oil sparingly")
    assert press < oil < text.index("Rags with oil")


def test_sheets_have_room_for_the_cut(roll: Any) -> None:
    """Half of the outline's stroke, 0.25 mm, belongs to the piece."""
    (window,) = roll.sheets.sheets[0].windows
    xs, ys = zip(*window.polygon, strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((-11.05, 162.25, -0.25, 144.85))


def test_the_proof_passes(roll: Any, tmp_path: Path) -> None:
    file = tmp_path / "roll.pdf"
    file.write_bytes(kit_pdf(roll.punched, roll.plan, roll.sheets).data)
    assert prove(file).passed


def test_svg_has_a_class_for_each_line(roll: Any) -> None:
    root = ET.fromstring(pieces_svg(roll.punched))
    classes = [element.get("class") for element in root.iter() if element.get("class")]
    assert [classes.count(name) for name in ("outline", "finished-edge", "hem-fold")] == [1, 3, 3]


def test_json_has_the_works_of_a_piece(roll: Any) -> None:
    """By hand: 15 + 8 + 1.6 above, 10.8 to the left, 12 to the right, nothing below."""
    (piece,) = json.loads(pieces_json(roll.punched))["pieces"]
    xs, ys = zip(*piece["cut_outline"], strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == (-10.8, 162.0, 0.0, 144.6)
    hem, turned, binding, allowance = piece["edge_works"]
    assert (hem["kind"], hem["edges"], hem["width_mm"], hem["turns"], hem["turn_in_mm"]) == (
        "hem",
        "C-D",
        15,
        2,
        8,
    )
    assert hem["finished_edge"] == [[150.0, 120.0], [0.0, 120.0]]
    assert [fold[0][1] for fold in hem["fold_lines"]] == [120.4, 136.2]
    assert (turned["mitred"], hem["mitred"], binding["tape_mm"], binding["fold_lines"]) == (
        ["D"],
        ["D"],
        0.5,
        [],
    )
    assert (allowance["kind"], allowance["width_mm"], allowance["turns"]) == ("allowance", 12, 0)


def test_what_is_without_works_has_none_of_it() -> None:
    """A project without them is as it always was: no field, no class, no tag."""
    text = 'format = 1\n[[piece]]\nname = "tab"\nrectangle = [40, 20]\nthickness = 2\ntrim = { "A-B" = 2 }\n'
    pattern = draft(read_project_text(text, file="p.toml", folder=Path()))
    assert (pattern.pieces[0].works, pattern.pieces[0].raw) == ((), ())


@pytest.mark.parametrize("material", list(Material))
def test_every_material_has_its_sides(material: Material) -> None:
    words = MATERIALS[material].words
    assert (words.front, words.back) in {("grain side", "flesh side"), ("face", "back")}
    assert (words.arrow == "grain") == words.punched == MATERIALS[material].is_leather


def test_cautions_and_marking_follow_the_materials() -> None:
    leather, cloth = (Family.LEATHER,), (Family.CLOTH,)
    assert any("dust" in text for text in cautions(leather))
    assert not any("dust" in text or "Dye" in text for text in cautions(cloth))
    assert any("iron" in text for text in cautions(cloth))
    assert not any("iron" in text for text in cautions(leather))
    assert not any("cloth" in text.lower() for text in marking(leather))
    assert not any("Punch or pierce" in text for text in marking(cloth))
    both = " ".join(marking((*leather, *cloth)))
    assert "Punch or pierce" in both
    assert "Never punch stitch holes in cloth" in both
    assert StepKind.SEAL in AT_STEP
    assert StepKind.HEM in AT_STEP


@pytest.mark.parametrize("kind", ["firm leather", "canvas", "felt"])
def test_an_iron_is_cautioned_where_cloth_is_turned(products_of: Products, kind: str) -> None:
    """Leather is turned over glue with a hammer; its step has the cautions of these alone."""
    turned = f'''format = 1
[material]
kind = "{kind}"
thickness = 1.4
[[piece]]
name = "flap"
rectangle = [100, 80]
turned = {{ "A-B" = 10 }}
'''
    products = products_of(turned)
    pages = kit_pages(products.punched, products.plan, products.sheets, FONTS)
    words = " ".join(word.text for word in words_of(pages))
    assert ("flat iron burns" in words) is (kind != "firm leather")
    assert ("Hammer with the fingers clear" in words) is (kind == "firm leather")
    assert AT_TURNED_LEATHER.split(".")[0] in AT_STEP[StepKind.HEM].lower()


def test_a_template_on_the_back_of_cloth_says_so_loudly(products_of: Products) -> None:
    piece = products_of(ROLL.replace("rectangle", 'mark = "flesh"\nrectangle')).punched.pattern.pieces[0]
    assert side_words(piece) == (
        "lay on the BACK, print up (drawn mirrored)",
        "on BACK (drawn mirrored)",
        "BACK (drawn mirrored)",
    )
