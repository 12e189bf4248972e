"""Which of the lines and arcs that are expected are drawn: tables of segments, as a page draws them."""

from __future__ import annotations

import pytest

from handkit.geometry.segment import Segment
from handkit.proof.audit.matching import MOST_LOOKS, matched
from handkit.proof.content.objects import Allowance
from handkit.proof.content.paths import PathSegment

# A circle of 10 about the origin, as handkit lists it: its upper half, its lower half.
CIRCLE = (Segment((10, 0), (-10, 0), 1.0), Segment((-10, 0), (10, 0), 1.0))
K = 5.522847498  # the handle of a quarter of it: 4/3 (√2 − 1) of the radius, any handbook


def quarter(number: int) -> PathSegment:
    """One of its quarters as a cubic, from the right counter-clockwise."""
    x, y = ((1, 0), (0, 1), (-1, 0), (0, -1))[number]
    at = ((10, 0), (10, K), (K, 10), (0, 10))
    return tuple((x * a - y * b, y * a + x * b) for a, b in at)


# What is drawn: quarters by their number; places of what is missing, and how many are strange or drawn again.
CASES = [
    ((0, 1, 2, 3), (), 0, 0),
    ((2, 3, 0, 1), (), 0, 0),  # begun elsewhere
    ((0, 1), (1,), 0, 0),  # a window that shows the upper half alone: only the lower is missing
    ((2, 3), (0,), 0, 0),
    ((0,), (0, 1), 0, 0),
    ((0, 1, 3), (1,), 0, 0),
    ((), (0, 1), 0, 0),
    ((0, 1, 2, 3, 3), (), 0, 1),
]


@pytest.mark.parametrize(("drawn", "missing", "strange", "again"), CASES)
def test_halves_of_a_circle(
    drawn: tuple[int, ...], missing: tuple[int, ...], strange: int, again: int
) -> None:
    found = matched(CIRCLE, map(quarter, drawn), Allowance(MOST_LOOKS))
    assert (found.missing, len(found.strange), len(found.again)) == (missing, strange, again)


def test_a_line_and_a_short_arc_that_are_not_drawn_are_missing() -> None:
    assert matched(
        (Segment((0, 0), (5, 0)), Segment((5, 0), (5, 0.05), 1.0)), (), Allowance(MOST_LOOKS)
    ).missing == (0, 1)
