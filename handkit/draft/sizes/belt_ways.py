"""Belt ways: how long leather is that goes round a belt.

In: the belt's width and thickness with its ease, the leather's thickness. Out: mm on the middle of the
leather, which neither stretches nor shrinks (common practice, no source).

An *upright* loop is a strap over the belt, sewn down on both sides: the hull rule, with the belt lying on its
broad side. A *slung* one goes round a belt that lies over the edge which it hangs from:

       ╭──╮
       │▒▒│     half of it, seen along the belt: from the row up to the edge, out to the belt's corner, up
       │▒▒│     along its side, and over to the middle; taut, it bridges what lies lower.
    ───┘  └───
       ││       what hangs lies between both its ends
"""

from __future__ import annotations

from handkit.draft.sizes.hull_rule import least_base, strap_way
from handkit.draft.sizes.section import Section, rectangle_section
from handkit.geometry.laid.taut import taut, taut_length


def belt_section(width: float, thickness: float, ease: float) -> Section:
    """A belt that lies flat, with room of half its ease on all sides.

    >>> belt_section(40, 4, 3).width, belt_section(40, 4, 3).height
    (43.0, 7.0)
    """
    return rectangle_section(width + ease, thickness + ease)


def upright_span(belt: Section, leather: float) -> float:
    """Between the ends of both rows: the belt, and half the strap on either side."""
    return least_base(belt, leather)


def upright_way(belt: Section, leather: float) -> float:
    """Of the strap's middle from row to row.

    >>> round(upright_way(belt_section(60, 4, 0), 2.4), 3)  # 60 + 2 x (4 - 1.2) + 1.2 x pi
    69.37
    """
    return strap_way(belt, base=upright_span(belt, leather), thickness=leather).length


def slung_half(belt: Section, *, hung: float, rise: float, leather: float) -> float:
    """From the row to the middle of the fold; `hung` is how thick what hangs is, `rise` from the row to its
    edge.

    >>> round(slung_half(belt_section(40, 4, 0), hung=4, rise=5, leather=0), 3)  # 5 + 40 + 2
    47.0
    """
    side, out = belt.height / 2, hung / 2
    points = ((0.0, out), (rise, out), (rise, side), (rise + belt.width, side), (rise + belt.width, 0.0))
    return taut_length(taut(points), off=leather / 2, end=(0.0, -1.0))
