"""What a rule says of the test page: lengths that are drawn, shares, leans, and readings that can't be."""

from __future__ import annotations

from math import cos, hypot, radians, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.paper import paper_named
from handkit.printers.page import MOST_LENGTH, PrinterPage
from handkit.printers.readings import READING, Readings, faults, lean_degrees, measured

# By hand: bars are the paper less 15 mm at either end, in whole tens, 290 at most; the box is at most as wide
# as from 25 mm to the bar's end, and as high; its diagonal at most 290.
PAGES = [
    ("A4", 180, 260, (170, 230)),
    ("letter", 180, 240, (170, 230)),
    ("legal", 180, 290, (170, 230)),
    ("A3", 260, 290, (210, 200)),
    ("100x150mm", 70, 120, (60, 110)),
]


@pytest.mark.parametrize(("paper", "across", "down", "box"), PAGES)
def test_the_bars_are_the_longest_that_fit_and_a_rule_reads(
    paper: str, across: float, down: float, box: tuple[float, float]
) -> None:
    page = PrinterPage(paper_named(paper))
    assert (page.across, page.down) == (across, down)
    assert page.box == box
    assert max(page.across, page.down, hypot(*page.box)) <= MOST_LENGTH
    assert all(
        right <= page.paper.width - 15 and top <= page.paper.height - 15 for right, top in page.corners
    )


@settings(max_examples=30)
@given(
    paper=st.sampled_from(["A4", "A3", "letter"]),
    across=st.floats(0.985, 1.015),
    down=st.floats(0.985, 1.015),
    lean=st.floats(-0.8, 0.8),
    off=st.tuples(*[st.floats(-READING, READING)] * 4),
)
def test_a_printer_is_found_within_what_a_rule_may_be_off(
    paper: str, across: float, down: float, lean: float, off: tuple[float, float, float, float]
) -> None:
    """The box's corners by plane geometry, its diagonals as they lie on paper."""
    page = PrinterPage(paper_named(paper))
    width, height = page.box[0] * across, page.box[1] * down
    x, y = height * sin(radians(lean)), height * cos(radians(lean))
    a, b = hypot(width + x, y), hypot(width - x, y)
    read = Readings(page, page.across * across + off[0], page.down * down + off[1], (a + off[2], b + off[3]))
    found = measured(read)
    assert not list(faults(read))
    assert abs(found.across.value - across) <= found.across.within + 1e-9
    assert abs(found.down.value - down) <= found.down.within + 1e-9
    assert found.lean is not None
    assert abs(lean_degrees(found.lean.value) - lean) <= lean_degrees(found.lean.within) * 1.01 + 0.01


# On A4: bars 180 and 260, box 170 × 230 with diagonals of 286.01; wrong ones with what is told.
@pytest.mark.parametrize(
    ("across", "down", "diagonals", "told"),
    [
        (7.1, 260, None, "across 7.1 mm, where 180 mm are drawn"),  # inches without their unit
        (180, 420, None, "down 420 mm, where 260 mm are drawn"),
        (180, 260, (286, 11), "diagonal B 11 mm, where 286.01 mm are drawn"),
        (180, 260, (288, 286), "diagonals of 287 mm in the mean, where the bars make it 286.01 mm"),
        (178, 260, (286, 286), "diagonals of 286 mm in the mean, where the bars make it 284.89 mm"),
    ],
)
def test_readings_that_cannot_be_of_this_page_are_refused(
    across: float, down: float, diagonals: tuple[float, float] | None, told: str
) -> None:
    (found,) = faults(Readings(PrinterPage(paper_named("A4")), across, down, diagonals))
    assert found.found == told


def test_the_bound_of_the_diagonals_is_the_rules_own() -> None:
    """By hand: bars are true, so only the rule's error at the diagonals and the bars' own is left, 0.25 and
    0.25 × (170² ÷ 180 + 230² ÷ 260) ÷ 286.01 = 0.32."""
    page = PrinterPage(paper_named("A4"))
    for off, wrong in ((0.56, False), (0.58, True)):
        read = sqrt(170**2 + 230**2) + off
        assert bool(list(faults(Readings(page, 180, 260, (read, read))))) is wrong
