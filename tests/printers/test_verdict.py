"""Fitted pages and honest printers told from one another: tables of all papers, laws with a rule's error."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.messages.message import Severity
from handkit.paper import paper_named
from handkit.printers.page import PrinterPage
from handkit.printers.readings import READING, Readings, measured
from handkit.printers.verdict import CORRECTED, Cause, Edges, Verdict, judged

PAPERS = ("A4", "A3", "letter", "legal")
SIZES = {"A4": (210, 297), "A3": (297, 420), "letter": (215.9, 279.4), "legal": (215.9, 355.6)}
WRONG = (-READING, 0.0, READING)  # what a rule may be misread by

# Printed on: shares at edges of 3 mm and 12.7 mm all round, by hand: the smaller of
# (paper's width − 2·edge) ÷ page's width and the same of heights.
FITS = [
    ("A4", "A4", 0.9714, 0.8790),  # 204/210, 184.6/210
    ("A4", "A3", 1.3857, 1.2933),  # 291/210, 271.6/210
    ("A4", "letter", 0.9205, 0.8552),  # 273.4/297, 254/297
    ("A4", "legal", 0.9995, 0.9071),  # 209.9/210, 190.5/210
    ("A3", "A4", 0.6869, 0.6215),  # 204/297, 184.6/297
    ("A3", "A3", 0.9798, 0.9145),  # 291/297, 271.6/297
    ("A3", "letter", 0.6510, 0.6048),  # 273.4/420, 254/420
    ("A3", "legal", 0.7067, 0.6414),  # 209.9/297, 190.5/297
    ("letter", "A4", 0.9449, 0.8550),  # 204/215.9, 184.6/215.9
    ("letter", "A3", 1.3478, 1.2580),  # 291/215.9, 271.6/215.9
    ("letter", "letter", 0.9722, 0.8823),  # 209.9/215.9, 190.5/215.9
    ("letter", "legal", 0.9722, 0.8823),
    ("legal", "A4", 0.8183, 0.7638),  # 291/355.6, 271.6/355.6
    ("legal", "A3", 1.1642, 1.1097),  # 414/355.6, 394.6/355.6
    ("legal", "letter", 0.7688, 0.7143),  # 273.4/355.6, 254/355.6
    ("legal", "legal", 0.9722, 0.8823),
]
# What a rule can't tell from an honest printer: an A4 page fitted to legal where that loses so much at the
# left and the right: by hand, (215.9 − 2·3) ÷ 210 = 0.9995 and (215.9 − 2·4.5) ÷ 210 = 0.9852.
UNDECIDABLE = {("A4", "legal"): (3.0, 4.5)}


def share(page: str, paper: str, across: float, down: float) -> float:
    """By how much a page is fitted to a paper that loses so much in all across and down."""
    (width, height), (wide, high) = SIZES[page], SIZES[paper]
    return min((wide - across) / width, (high - down) / height)


def verdict(
    page: str, across: float, down: float, off: tuple[float, float] = (0, 0), edges: Edges | None = None
) -> Verdict:
    """Of a page that came out so, the bars misread by so much."""
    test = PrinterPage(paper_named(page))
    read = Readings(test, test.across * across + off[0], test.down * down + off[1])
    return judged(measured(read), test.paper, edges)


@pytest.mark.parametrize(("page", "paper", "widest", "narrowest"), FITS)
def test_every_fit_of_a_paper_to_a_paper_is_told(
    page: str, paper: str, widest: float, narrowest: float
) -> None:
    assert share(page, paper, 6, 6) == pytest.approx(widest, abs=0.00006)
    assert share(page, paper, 25.4, 25.4) == pytest.approx(narrowest, abs=0.00006)
    unsure = UNDECIDABLE.get((page, paper), (0, 0))
    steps = [3 + k * 0.1 for k in range(98)]
    for edge, off in product(steps, product(WRONG, WRONG)):
        size = share(page, paper, 2 * edge, 2 * edge)
        found = verdict(page, size, size, off)
        if unsure[0] - 0.2 <= edge <= unsure[1] + 0.2:
            assert found.cause in {Cause.EITHER, Cause.TRUE, Cause.FITTED, Cause.SCALED, Cause.UNEVEN}
            assert found.cause is not Cause.EITHER or "legal" in {fit.paper for fit in found.fits}
        else:
            assert found.cause is Cause.FITTED
            edges = {fit.paper: fit.edge for fit in found.fits}
            assert edges[paper] == pytest.approx(edge, abs=0.5)


def test_what_cannot_be_decided_is_all_named() -> None:
    """Every pair of papers and every edge from 3 to 12.7 mm: no other fit comes within 1.5 % of full size."""
    near = {
        (page, paper): [
            edge
            for edge in (3 + k * 0.1 for k in range(98))
            if abs(share(page, paper, 2 * edge, 2 * edge) - 1) <= 0.015
        ]
        for page, paper in product(PAPERS, PAPERS)
    }
    found = {pair: (edges[0], round(edges[-1], 1)) for pair, edges in near.items() if edges}
    assert found == UNDECIDABLE


SHARES = [-0.015, -0.01, -0.005, -0.002, 0.0, 0.002, 0.005, 0.01, 0.015]


@pytest.mark.parametrize("page", PAPERS)
def test_no_honest_printer_is_taken_for_a_fit(page: str) -> None:
    bars = PrinterPage(paper_named(page))
    unseen = READING / bars.across + READING / bars.down  # so far apart two shares may be taken for one
    for across, down, off in product(SHARES, SHARES, product(WRONG, WRONG)):
        beyond = max(abs(across), abs(down)) >= 0.013  # so near to the limit that a misreading may pass it
        bare = verdict(page, 1 + across, 1 + down, off)
        assert bare.cause in CORRECTED or beyond
        assert bare.cause is not Cause.EITHER or abs(across - down) <= 2 * unseen
        edged = verdict(page, 1 + across, 1 + down, off, (3.0, 3.0, 3.0, 12.7))
        assert edged.cause in {Cause.TRUE, Cause.OWN} or beyond


@pytest.mark.parametrize("page", PAPERS)
@pytest.mark.parametrize("share", [each for each in SHARES if each < 0])
def test_alike_and_too_small_is_either_and_said_to_be(page: str, share: float) -> None:
    """A fit to some edge of its own paper always explains it: by hand, that edge is width × share ÷ 2."""
    found = verdict(page, 1 + share, 1 + share)
    assert found.cause is Cause.EITHER
    (own,) = [fit.edge for fit in found.fits if fit.paper == page]
    assert own == pytest.approx(SIZES[page][0] * -share / 2, abs=0.13)


# By hand, of bars 180 and 260 on A4: a rule's error is 0.14 % across and 0.1 % down.
@pytest.mark.parametrize(
    ("across", "down", "edges", "cause"),
    [
        (1.0, 1.0, None, Cause.TRUE),
        (0.999, 1.0009, None, Cause.TRUE),
        (0.997, 0.997, None, Cause.EITHER),  # a fit to edges of 0.3 mm: 210 × 0.003 ÷ 2
        (0.997, 0.997, (0, 0, 0, 0), Cause.EITHER),
        (0.997, 0.997, (0, 0, 0, 3), Cause.OWN),  # a fitted page loses no step
        (0.997, 1.002, None, Cause.OWN),
        (0.992, 0.989, None, Cause.OWN),
        (1.003, 1.003, None, Cause.EITHER),  # A4 on legal with edges of 2.6: (215.9 − 210.63) ÷ 2
        (0.985, 0.985, None, Cause.EITHER),
        (0.984, 0.984, None, Cause.FITTED),  # of all fits only to legal: edges of 4.6
        (0.98, 0.98, None, Cause.FITTED),
        (0.9714, 0.9714, None, Cause.FITTED),
        (0.9714, 0.98, None, Cause.FITTED),  # with a printer's own 0.9 % on top
        (0.97, 1.0, None, Cause.UNEVEN),
        (0.97, 1.03, None, Cause.UNEVEN),
        (1.1, 1.1, None, Cause.SCALED),  # no known paper gives that
    ],
)
def test_what_a_page_that_came_out_so_is_taken_for(
    across: float, down: float, edges: Edges | None, cause: Cause
) -> None:
    found = verdict("A4", across, down, edges=edges)
    assert found.cause is cause
    told = found.finding()
    severities = {None: CORRECTED - {Cause.EITHER}, Severity.WARNING: {Cause.EITHER}}
    assert cause in severities.get(told.severity if told else None, set(Cause) - CORRECTED)


MISREAD = st.floats(-READING, READING)
SOME = settings(max_examples=40)


@SOME
@given(
    page=st.sampled_from(PAPERS),
    paper=st.sampled_from(PAPERS),
    off=st.tuples(MISREAD, MISREAD),
    data=st.data(),
)
def test_a_fit_is_never_taken_for_the_printers_own(
    page: str, paper: str, off: tuple[float, float], data: st.DataObject
) -> None:
    """With edges from 3 to 12.7 mm, unlike at every side."""
    across, down = (data.draw(st.floats(6, 25.4)) for _ in range(2))
    size = share(page, paper, across, down)
    found = verdict(page, size, size, off)
    assert found.cause is not Cause.OWN or abs(size - 1) < 0.003
    assert found.cause not in CORRECTED or abs(size - 1) <= 0.015 + READING / 180
    for_sure = abs(size - 1) > 0.018
    assert not for_sure or found.cause is Cause.FITTED


@SOME
@given(
    page=st.sampled_from(PAPERS),
    across=st.floats(-0.015, 0.015),
    down=st.floats(-0.015, 0.015),
    off=st.tuples(MISREAD, MISREAD),
)
def test_what_a_rule_misreads_is_all_that_is_left(
    page: str, across: float, down: float, off: tuple[float, float]
) -> None:
    """Nothing is corrected that a rule can't show, and what stays is within twice what a rule is read to."""
    found = verdict(page, 1 + across, 1 + down, off, (3, 3, 3, 3))
    test = PrinterPage(paper_named(page))
    if found.cause not in CORRECTED:
        assert max(abs(across) + READING / test.across, abs(down) + READING / test.down) > 0.015
        return
    for true, taken, bar in ((across, found.across, test.across), (down, found.down, test.down)):
        assert abs((1 + true) / taken - 1) <= 2 * READING / bar + 1e-4
        assert taken == 1.0 or abs(taken - 1) > READING / bar
