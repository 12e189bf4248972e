"""One row holds nothing down; two rows, or one that turns, hold down what lies between."""

from __future__ import annotations

from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.geometry.affine import Affine
from handkit.geometry.region import rectangle
from handkit.stitch.order.hole_rows import HoleRow, breadth, held_area, one_row, rim_area


def line(x0: float, y0: float, x1: float, y1: float, steps: int = 10) -> HoleRow:
    return tuple((x0 + (x1 - x0) * k / steps, y0 + (y1 - y0) * k / steps) for k in range(steps + 1))


def arc(radius: float, turn: float) -> HoleRow:
    """Holes on an arc that turns by so many degrees."""
    return tuple(
        (radius * cos(radians(turn * k / 20)), radius * sin(radians(turn * k / 20))) for k in range(21)
    )


U = (*line(0, 80, 0, 0), *line(4, 0, 100, 0), *line(100, 4, 100, 80))
L = (*line(0, 80, 0, 0), *line(4, 0, 100, 0))

# What a maker finds by hand: does it fold back?
ROWS = [
    ([line(0, 0, 100, 0)], True),
    ([line(0, 0, 40, 0), line(60, 0, 100, 0)], True),  # one row, a gap
    ([line(0, 0, 40, 0), line(60, 2, 100, 2)], True),  # half a pitch out of line
    ([line(0, 0, 40, 0), line(60, 12, 100, 12)], False),
    ([line(0, 0, 100, 0), line(0, 80, 100, 80)], False),
    ([U], False),
    ([L], False),
    ([arc(200, 25)], True),  # a bowed flap: it turns less than a corner does
    ([arc(60, 180)], False),
    ([((5, 5),)], True),  # one rivet: it turns
    ([((5, 5), (95, 5))], True),  # two rivets
    ([((5, 5), (95, 5)), ((5, 75), (95, 75))], False),
    ([((5, 5), (95, 5), (5, 75), (95, 75))], False),  # the same four, set as one
]


@pytest.mark.parametrize(("runs", "row"), ROWS)
def test_rows(runs: list[HoleRow], row: bool) -> None:
    assert one_row(runs, pitch=4) is row


@settings(derandomize=True, deadline=None, max_examples=100)
@given(st.sampled_from(ROWS), st.floats(0, 360), st.booleans())
def test_a_row_stays_a_row_however_it_lies(case: tuple[list[HoleRow], bool], turn: float, over: bool) -> None:
    runs, row = case
    way = Affine.turn(turn) @ (Affine.mirror() if over else Affine())
    assert one_row([way.apply_all(run) for run in runs], pitch=4) is row


ALL = rectangle(-50, -50, 200, 200)


def test_three_sides_hold_down_the_pocket_and_its_hem_is_on_the_rim() -> None:
    within = rectangle(-4, -4, 104, 84)
    held, rim = held_area([U], within=within), rim_area([U], within=within, reach=8)
    assert held.contains((50, 40))
    assert not held.contains((50, 83))  # a hem's row between the mouth and the ends of the seam
    assert rim.contains((50, 83))
    assert not rim.contains((50, 90))


def test_two_rows_close_together_hold_down_the_strip_between() -> None:
    rows = [line(0, 0, 100, 0), line(0, 6, 100, 6)]
    assert breadth([*rows[0], *rows[1]]) == 6
    assert held_area(rows, within=ALL).bounds() == pytest.approx((0.5, 0.5, 99.5, 5.5))
    assert rim_area(rows, within=ALL, reach=8).bounds() == pytest.approx((-3, -3, 103, 9))  # half its breadth


def test_a_neighbours_row_on_the_rim_is_not_held() -> None:
    held = held_area([U], within=ALL)
    assert held.contains((50, 40))
    assert not any(held.contains(hole) for hole in line(0, 80, 100, 80))
