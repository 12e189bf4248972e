"""What a corrected page keeps clear of: nothing is drawn where the printer prints nothing."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.printers.correction import Correction, Printer

SHARES = st.floats(0.985, 1.015)


@settings(max_examples=30)
@given(
    size=st.sampled_from([(210.0, 297.0), (297.0, 420.0), (215.9, 279.4)]),
    off=st.tuples(SHARES, SHARES, st.floats(-0.8, 0.8)),
    edges=st.none() | st.tuples(*[st.floats(0, 15)] * 4),
    usual=st.floats(3, 8),
)
def test_nothing_is_drawn_where_the_printer_prints_nothing(
    size: tuple[float, float], off: tuple[float, float, float], edges: Any, usual: float
) -> None:
    """All four corners of what is drawn on, and no tenth of a mm is given away."""
    width, height = size
    correction = Correction("", *off)
    printer = Printer(correction, edges)
    left, right, top, bottom = edges or (usual,) * 4
    edge = printer.least_edge(width, height, usual)

    def within(edge: float) -> bool:
        ends = [(x, y) for x in (edge, width - edge) for y in (edge, height - edge)]
        drawn = correction.drawn(width, height).apply_all(ends)
        wide, high = width - 2 * max(left, right), height - 2 * max(top, bottom)
        return all(
            abs(x - width / 2) <= wide / 2 + 1e-6 and abs(y - height / 2) <= high / 2 + 1e-6 for x, y in drawn
        )

    assert within(edge)
    assert not within(edge - 0.11)


# By hand: 105 − (105 − 5)·0.99 = 6; 148.5 − (148.5 − 4)·0.989 = 5.59, up to 5.6; a true one loses as much.
@pytest.mark.parametrize(
    ("across", "down", "edges", "edge"),
    [
        (0.99, 1, (5, 4, 4, 4), 6),
        (1, 0.989, (4, 4, 4, 4), 5.6),
        (1, 1, (3, 3, 4, 12.7), 12.7),
        (1, 1, None, 5),
    ],
)
def test_the_edge_that_a_printer_asks_for(
    across: float, down: float, edges: tuple[float, float, float, float] | None, edge: float
) -> None:
    assert Printer(Correction("", across, down), edges).least_edge(210, 297, 5) == edge
