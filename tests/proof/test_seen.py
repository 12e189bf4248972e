"""The checks of what is seen: every mark of a template, and no ink that is no mark."""

from __future__ import annotations

import re
from typing import Any

import pytest

from handkit.geometry.affine import Affine
from handkit.manifest.listed import ListedPage, ListedWindow
from handkit.proof.audit.audit import Audited
from handkit.proof.checks.seen_checks import seen_checks
from handkit.proof.content.document import opened
from handkit.proof.content.marks import PageDrawing
from handkit.proof.content.walker import budget_of, walked
from handkit.wording.figures import INCHES, METRIC

WINDOW = "<</Piece (back)/Window 1>>"
OUTLINE = f"/hkOutline {WINDOW} BDC 0.5 w 20 30 m 90 30 l S EMC"
ITEM = f"/hkItem {WINDOW} BDC 0.18 w [3 0.9 0.45 0.9 0.45 0.9] 0 d 20 30 m 90 30 l S [] 0 d EMC"
HALF = "0 0 50 99 re W n"
CUT = "cut off by a clip at 55.0, 30.0 mm"


def drawn(hand: Any, content: str) -> PageDrawing:
    return walked(
        opened(hand.pdf(f"q 2.834645669 0 0 2.834645669 0 0 cm {content} Q")).pages[0], budget=budget_of(0)
    )


def told(hand: Any, content: str, page: ListedPage) -> list[str]:
    checks = seen_checks([drawn(hand, content)], Audited(pages={0: page}))
    return [f"{check.what}: {check.found}" for check in checks if not check.passed]


PAGES = [
    (OUTLINE, []),
    (OUTLINE.replace("0.5 w", "0.5 w 1 G"), ['page 1: outline of "back": of 100 % white']),
    (
        f"{OUTLINE} 1 g 10 10 90 90 re f",
        ['page 1: outline of "back": COVERED', "page 1: ink: a line or an area at 10.0, 10.0 mm"],
    ),
    (f"/hkSheet BMC {OUTLINE} 1 g 10 10 90 90 re f EMC", ['page 1: outline of "back": COVERED']),
    # without a list a window may end anywhere; what is no window's may not
    (f"{HALF} {OUTLINE}", []),
    (
        f"{HALF} /hkScaleBar <</Length 70>> BDC 0.25 w 20 30 m 90 30 l S EMC",
        [f"page 1: scale bar, length 70 mm: {CUT}"],
    ),
    (
        f"{OUTLINE} {OUTLINE} 1 g 70 29 4 2 re f",
        ['page 1: outline of "back", and 1 more: SPOT', "page 1: ink: a line or an area at 70.0, 29.0 mm"],
    ),
    (f"{HALF} 1 g {OUTLINE.replace('0.5 w', '0.5 w 1 G')}", ['page 1: outline of "back": of 100 % white']),
    # pictures of the article have marks of no window, and paint over them
    ("/hkCentre BMC 0.18 w 20 30 m 90 30 l S EMC /hkBody BMC 1 g 10 10 90 90 re f EMC", []),
    # of a page's texts only the look is judged
    ("/hkSheet BMC BT /T 4 Tf 1 0 0 1 -30 40 Tm (A) Tj ET EMC", []),
    ("/hkSheet BMC 1 g BT /T 4 Tf 1 0 0 1 30 40 Tm (A) Tj ET EMC", ["page 1: text: of 100 % white"]),
    ("/hkSheet BMC EMC BT /T 4 Tf 1 0 0 1 30 40 Tm (A) Tj ET", ['page 1: ink: "A" at 30.0, 40.0 mm']),
    ("/hkSheet BMC BI /W 1 /H 1 /CS /G /BPC 8 ID \0 EI EMC", ["page 1: ink: an image at 0.5, 0.5 mm"]),
    ("20 30 m 90 30 l S", []),  # no kit, which is told by itself
]


@pytest.mark.parametrize(("content", "expected"), PAGES)
def test_pages(hand: Any, as_stream: Any, content: str, expected: list[str]) -> None:
    letters = as_stream("beginbfchar <41> <0041> endbfchar")
    path = hand.pdf(
        f"q 2.834645669 0 0 2.834645669 0 0 cm {content} Q",
        resources="/Font <</T <</BaseFont /B /ToUnicode 100 0 R>>>>",
        objects=(letters,),
    )
    checks = seen_checks([walked(opened(path).pages[0], budget=budget_of(0))])
    found = [f"{check.what}: {check.found}" for check in checks if not check.passed]
    covered = "covered by what is painted over it at {}, 30.0 mm"
    places = {"COVERED": covered.format("20.0"), "SPOT": covered.format("71.5")}  # 20 + 70 · 12.5 / 17
    assert found == [re.sub("COVERED|SPOT", lambda word: places[word[0]], line) for line in expected]


def listed(right: float, *, copy: int = 1) -> ListedPage:
    """A list with one window, from 5 mm to `right`, drawn 10 mm to the right of its piece."""
    rim = (-5.0, 0.0, right - 10, 0.0, right - 10, 90.0, -5.0, 90.0)
    window = ListedWindow("back", 1, 2, Affine.shift(10, 0).numbers(), rim, ((0, 0),), copy=copy)
    return ListedPage("Sheet 1", sheet=1, windows=(window,))


LISTED = [
    (f"{HALF} {OUTLINE}", listed(50), []),
    (f"{HALF} {OUTLINE}", listed(56), [f'page 1: outline of "back": {CUT}']),
    (f"{HALF} {OUTLINE}", listed(56, copy=2), []),  # of another drawing of the piece
    (f"{HALF} {ITEM}", listed(56), []),  # ends at its piece's edge, too
]


@pytest.mark.parametrize(("content", "page", "expected"), LISTED)
def test_a_window_shows_what_the_list_says(
    hand: Any, content: str, page: ListedPage, expected: list[str]
) -> None:
    assert told(hand, content, page) == expected


@pytest.mark.parametrize(
    ("tag", "told"),
    [
        ("/hkScaleBar <</Length 25.4>>", ("length 25.4 mm", "length 1 in")),
        ("/hkTestSquare <</Side 50.8>>", ("side 50.8 mm", "side 2 in")),
        (
            "/hkOpening <</Piece (b)/Window 1/Opening (o)/Number 2/Diameter 3.175>>",
            ("diameter 3.17 mm, number 2", "diameter 1/8 in, number 2"),
        ),
    ],
)
def test_what_a_tag_measures_is_told_in_the_kits_unit(hand: Any, tag: str, told: tuple[str, str]) -> None:
    checks = seen_checks([drawn(hand, f"{tag} BDC 1 G 0.25 w 20 30 m 90 30 l S EMC")])
    (unseen,) = [check for check in checks if check.code == "seen" and not check.passed]
    for units, words in zip((METRIC, INCHES), told, strict=True):
        assert words in unseen.told(unseen.wording.what, units)
