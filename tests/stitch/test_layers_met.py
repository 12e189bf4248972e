"""Layers met: which side of each layer of a seam lies towards which side of the next, in the plan's JSON.

Value tables are worked out by hand with scraps of leather, folded as the file says; laws hold the sides to
each other.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from io import StringIO
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draw.export.plan_csv import plan_csv

Make = Callable[[str], Any]

BACK = '[[piece]]\nname = "back"\nrectangle = [120, 150]\n'
# Two leaves of 60 x 80, folded on the line between them; its edges meet edge on edge.
COVER = '[[piece]]\nname = "cover"\npoints = [[0, 0], [60, 0], [60, 80], [0, 80], [-60, 80], [-60, 0]]\n'
FOLD = "folds = { spine = [[0, 0], [0, 80]] }\n"
FOLDED_OUT = 'folds = { spine = { line = [[0, 0], [0, 80]], out = "flesh", angle = 180, stays = "B" } }\n'
EDGE = '[[seam]]\nname = "sewn"\nruns = [{ run = "cover: B-C" }, "cover: F-E"]\n'
WELT = '[[piece]]\nname = "welt"\npoints = [[40, 0], [60, 0], [60, 80], [40, 80]]\non = "cover"\n'
WELTED = '[[seam]]\nname = "sewn"\nruns = ["cover: B-C", "welt", "cover: F-E"]\n'
TAB = '[[piece]]\nname = "tab"\nrectangle = [20, 80]\nflat = false\non = "back"\nat = [50, 60]\n'
TAB += "folds = { ring = [[0, 40], [20, 40]] }\n"
TAB += "lines = { one = [[4, 10], [16, 10]], two = [[4, 70], [16, 70]] }\n"
TABBED = '[[seam]]\nname = "sewn"\nruns = ["tab: two", "tab: one", "back: row"]\n'
STRIP = '[[piece]]\nname = "strip"\nrectangle = [120, 30]\nflat = false\non = "back"\n'
FRONT = '[[piece]]\nname = "front"\nrectangle = [120, 150]\nflat = false\non = "back"\n'

# Title: the file, then (upper, its side, lower, its side) from the face down.
MET: dict[str, tuple[str, list[tuple[str, str | None, str, str | None]]]] = {
    "a pocket on a back": (
        BACK
        + '[[piece]]\nname = "pocket"\nrectangle = [80, 60]\non = "back"\nat = [20, 20]\n'
        + '[[seam]]\nname = "sewn"\nruns = ["pocket: A-B", "back"]\n',
        [("pocket", "flesh", "back", "grain")],
    ),
    "a lining, flesh to flesh": (
        BACK
        + '[[piece]]\nname = "lining"\nrectangle = [120, 150]\non = "back"\nat = [120, 0]\nbehind = true\n'
        + 'turned_over = true\n[[seam]]\nname = "sewn"\nruns = ["back: A-B", "lining"]\n',
        [("back", "flesh", "lining", "flesh")],
    ),
    "two leaves, a line alone: the far side is inside": (
        COVER + FOLD + EDGE,
        [("cover", "flesh", "cover", "flesh")],
    ),
    "two leaves of a piece that shows its flesh": (
        COVER + 'shows = "flesh"\n' + FOLD + EDGE,
        [("cover", "grain", "cover", "grain")],
    ),
    "two leaves, flesh side out as the fold says": (
        COVER
        + 'folds = { spine = { line = [[0, 0], [0, 80]], out = "flesh", angle = 180, stays = "B" } }\n'
        + EDGE,
        [("cover", "grain", "cover", "grain")],
    ),
    "a welt placed behind one leaf lies with its grain there and its flesh on the other": (
        COVER + FOLD + WELT + "behind = true\n" + WELTED,
        [("cover", "flesh", "welt", "grain"), ("welt", "flesh", "cover", "flesh")],
    ),
    "a welt placed on the grain side: that is inside then": (
        COVER + FOLD + WELT + WELTED,
        [("cover", "grain", "welt", "flesh"), ("welt", "grain", "cover", "grain")],
    ),
    "a tab round a ring: its leaves turn their flesh to each other, its grain lies on the back": (
        BACK + "lines = { row = [[54, 70], [66, 70]] }\n" + TAB + TABBED,
        [("tab", "flesh", "tab", "flesh"), ("tab", "grain", "back", "grain")],
    ),
    "a gusset's strip and a front: the file does not tell": (
        BACK + FRONT + STRIP + '[[seam]]\nname = "sewn"\nruns = ["front: A-B", "strip: A-B"]\n',
        [("strip", None, "front", None)],
    ),
    "one layer meets nothing": (BACK + '[[seam]]\nname = "sewn"\nruns = ["back: A-B"]\n', []),
}


@pytest.mark.parametrize("title", MET)
def test_which_side_meets_which(planned: Make, head: str, title: str) -> None:
    text, wanted = MET[title]
    (sewn,) = json.loads(planned(head + text).json())["seams"]
    found = [(m["upper"], m["upper_side"], m["lower"], m["lower_side"]) for m in sewn["layers_met"]]
    assert found == wanted


@settings(derandomize=True, deadline=None, max_examples=20)
@given(
    shows=st.sampled_from(["grain", "flesh"]),
    welt=st.sampled_from(["grain", "flesh"]),
    lies=st.tuples(st.booleans(), st.booleans()),
)
def test_a_layer_between_leaves_turns_a_side_to_each(
    planned: Make, head: str, shows: str, welt: str, lies: tuple[bool, bool]
) -> None:
    """The two leaves turn one side to it, it turns both its sides to them, and each is a side of one run."""
    behind, turned = lies
    more = f'shows = "{welt}"\n' + "behind = true\n" * behind
    own = WELT.replace("[[40, 0], [60, 0], [60, 80], [40, 80]]", "[[-60, 0], [-40, 0], [-40, 80], [-60, 80]]")
    text = COVER + f'shows = "{shows}"\n' + FOLD + (own + "turned_over = true\n" if turned else WELT) + more
    (sewn,) = json.loads(planned(head + text + WELTED).json())["seams"]
    first, second = sewn["layers_met"]
    assert (first["upper_run"], first["lower_run"], second["lower_run"]) == (1, 2, 3)
    assert first["upper_side"] == second["lower_side"]
    assert {first["lower_side"], second["upper_side"]} == {"grain", "flesh"}


FITTINGS = (
    BACK
    + "lines = { row = [[54, 70], [66, 70]] }\n"
    + TAB
    + TABBED
    + '[[fitting]]\nname = "loop"\nkind = "ring"\non = "tab"\nfold = "ring"\ninside = 20\nbar = 3\n'
    + '[[fitting]]\nname = "held"\nkind = "magnet"\non = "back"\nat = [[20, 20], [90, 20]]\n'
    + "diameter = 10\nthickness = 2\n"
    + '[[opening]]\nname = "eye"\nkind = "eyelet"\nhole = 5\nthrough = ["back"]\nat = [[60, 120]]\n'
)


def test_the_table_for_a_spreadsheet_has_what_is_put_on(planned: Make, head: str) -> None:
    """Own rows at the end; the columns of the threads can be summed as before."""
    made = planned(head + "[make]\ncopies = 3\n" + FITTINGS)
    rows = list(csv.DictReader(StringIO(plan_csv(made.plan, made.punched))))
    assert [(r["row"], r["what"], r["name"], r["sizes"], r["count"], r["all_copies"]) for r in rows] == [
        ("thread", "", "", "", "", ""),
        ("fitting", "ring", "loop", "inside 20 mm, bar 3 mm thick", "1", "3"),
        ("fitting", "magnet", "held", "⌀10 mm, 2 mm thick", "2", "6"),
        ("hardware", "eyelet", "", "hole 5 mm, stack 2 mm, to be tried on a scrap", "1", "3"),
    ]
    assert [r["cut_mm"] != "" for r in rows] == [True, False, False, False]
    threads = (
        "order,seam,stitch,thread,of,diameter_mm,fibre,needles,from_hole,to_hole,tails_mm,wraps_mm,cut_mm"
    )
    assert ",".join(rows[0]).startswith(f"{threads},copies,all_copies_mm,row,what,")
