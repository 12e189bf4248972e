"""Products to draw: small projects taken down the road."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import NamedTuple

import pytest

from handkit.draft.drafter import draft
from handkit.draw.kit_pdf import KitFile, kit_pdf
from handkit.paper import paper_named
from handkit.punch.punched import Punched
from handkit.punch.puncher import punch
from handkit.read.reader import read_project
from handkit.sheets.laid import Sheets
from handkit.sheets.layout import lay_out
from handkit.stitch.plan import StitchPlan
from handkit.stitch.planner import plan

WALLET = """
format = 1
title = "Sketching wallet"
[material]
thickness = 2
[stitching]
hole = { slit = 2.5, slant = 45 }
[page]
paper = "A4"
[[piece]]
name = "back (long)"
rectangle = [120, 330]
round = 10
arc = { "B-C" = 4 }
skive = { "C-D" = { width = 12, to = 1 } }
folds = { middle = [[0, 165], [120, 165]] }
trim = { "D-A" = 2 }
lines = { "middle line" = [[20, 200], [100, 205]] }
[[piece]]
name = "étui ⌀"
rectangle = [100, 80]
round = { A = 8, B = 8 }
on = "back (long)"
at = [10, 6]
note = "the softest part"
[[piece]]
name = "lining"
rectangle = [40, 40]
mark = "flesh"
grain = 30
quantity = 2
[[seam]]
name = "étui seam"
runs = ["étui ⌀: D-A-B-C", "back (long)"]
[[seam]]
name = "hem"
runs = ["back (long): middle line"]
hole = { round = 1.6 }
[[opening]]
name = "stud"
kind = "rivet"
hole = 3
cap = 9
through = ["back (long)"]
at = [[60, 310]]
row = [3, -20, 0]
[[opening]]
name = "strap slot"
kind = "slot"
slot = [26, 4]
turn = 20
through = ["back (long)"]
at = [[60, 250]]
"""


class Products(NamedTuple):
    punched: Punched
    plan: StitchPlan
    sheets: Sheets


@pytest.fixture(scope="session")
def products_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Products]:
    """The road from a project's text to what is drawn, gone once; keywords go over the page."""

    @cache
    def make(text: str, *, paper: str = "") -> Products:
        file = tmp_path_factory.mktemp("project") / "project.toml"
        file.write_text(text, encoding="utf-8")
        punched = punch(draft(read_project(file)))
        page = punched.pattern.project.page
        size = paper_named(paper) if paper else page.paper
        room = {"edge": page.edge, "margin": page.margin, "overlap": page.overlap}
        sheets = lay_out(punched, paper=size, layout=page.layout, **room)
        return Products(punched, plan(punched), sheets)

    return make


@pytest.fixture(scope="session")
def wallet(products_of: Callable[..., Products]) -> Products:
    """A project of every kind of mark: windows, joins, slits, slots, trims, skives, folds."""
    return products_of(WALLET)


@pytest.fixture(scope="session")
def wallet_kit(wallet: Products) -> KitFile:
    return kit_pdf(*wallet)
