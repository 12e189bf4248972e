"""The print check's ratios against published tables, and the words for the needles' way."""

from __future__ import annotations

from typing import Any

import pytest

from handkit.draw.kit_pdf import kit_pages
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import words_of
from handkit.draw.pages.print_check import page_fits
from handkit.draw.words.names import codes_of, kit_plan
from handkit.draw.words.needle_words import seam_lines, walk_words
from handkit.paper import paper_named

# A4 on A4 with 1/6 in margins: a printer manual's table of "fit to cut sheet" says 96 % for the short
# edge, letter on letter 96, which fits min() of both; the others by the formula, worked out by hand.
RATIOS = [
    ("A4", "fitted, 3 mm margins", 0.9714),
    ("A4", "fitted, 1/6 in margins", 0.9597),
    ("A4", "fitted, 1/4 in margins", 0.9395),
    ("A4", "letter, no margins", 0.9407),
    ("A4", "letter, 1/6 in margins", 0.9122),
    ("letter", "fitted, 1/6 in margins", 0.9608),
    ("letter", "A4, no margins", 0.9727),
    ("A3", "fitted, 3 mm margins", 0.9798),
]


@pytest.mark.parametrize(("paper", "what", "ratio"), RATIOS)
def test_fitted_pages_are_known_by_their_ratio(paper: str, what: str, ratio: float) -> None:
    found = {fit.what: fit.ratio for fit in page_fits(paper_named(paper))}
    assert found[what] == pytest.approx(ratio, abs=0.00006)


def test_a_paper_of_ones_own_is_compared_with_itself_only() -> None:
    assert len(page_fits(paper_named("200x300mm"))) == 3


@pytest.mark.parametrize(
    ("walk", "words"),
    [
        ((1, 2, 3, 4, 5), "1 → 5"),
        ((1, 2, 3, 4, 5, 4, 3), "1 → 5, back to 3"),
        ((3, 2, 1, 2, 3, 4, 5), "3 → 1, on to 5"),
        ((1, 2, 3, 4, 1), "1 → 4, then 1"),
        ((1, 2, 3, 4, 1, 2, 3), "1 → 4, then 1, on to 3"),
        ((1,), "1"),
        ((1, 2), "1 → 2"),
    ],
)
def test_the_needles_way_in_words(walk: tuple[int, ...], words: str) -> None:
    assert walk_words(walk) == words


def test_a_seams_lines_have_what_the_plan_has(wallet: Any) -> None:
    kit = kit_plan(wallet.punched, wallet.plan)
    for seam in wallet.plan.seams:
        lines = {line.key: line.text for line in seam_lines(kit, seam)}
        assert f"{seam.punched.count} in each layer" in lines["Holes"]
        assert f"{seam.walk[0]} →" in lines["Way"]
        assert f" {seam.walk[-1]}" in lines["Way"]


def test_the_plan_tells_every_step_and_every_opening(wallet: Any) -> None:
    pages = kit_pages(*wallet, shipped_fonts())
    plan = [page for page in pages if page.label.startswith("Plan")]
    text = " ".join(words.text for words in words_of(plan))
    for number, _ in enumerate(wallet.plan.steps, start=1):
        assert f" {number} " in f" {text} "
    codes = codes_of(wallet.plan)
    for code in (*codes.seams.values(), *codes.openings.values()):
        assert code in text
