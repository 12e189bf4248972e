"""How much of a glued piece must lie in a closed area before it is shut in there."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from handkit.stitch.order.enclosure import enclosures
from handkit.stitch.order.tasks import tasks_of

LABEL = """
[[piece]]
name = "label"
rectangle = [20, 20]
on = "back"
at = [80, {bottom}]
glued = true
"""


# The front lies on the back from y = 16 to 166; its holes, 4 mm in, hold down all to half a millimetre
# below the first and last of them, 166 − 4 − 0.5 = 161.5. A label 20 mm wide stands over that. By hand.
@pytest.mark.parametrize(
    ("bottom", "enclosed"),
    [
        (166.5, False),
        (161.5, False),  # it touches
        (161.455, False),  # 20 × 0.045 = 0.9 mm²
        (161.445, True),  # 20 × 0.055 = 1.1 mm²
        (150.0, True),
    ],
)
def test_a_glued_piece_is_shut_by_more_than_a_square_millimetre(
    planned: Callable[[str], Any], pocket: str, bottom: float, enclosed: bool
) -> None:
    under = pocket.replace(
        '[[piece]]\nname = "front"', LABEL.format(bottom=bottom) + '[[piece]]\nname = "front"'
    )
    punched = planned(under).punched
    (front,) = (c for c in enclosures(punched.pattern, tasks_of(punched)) if c.pieces == ("back", "front"))
    assert [work.name for work in front.enclosed] == ["label"] * enclosed
