"""Readings: what a rule says of a printed test page, and what the printer does by that.

In: lengths in mm as they were read. Out: `Measured`: shares across and down, the lean of uprights in degrees,
each with how far off it may be; or what is wrong with the readings.

A steel rule is read to `READING`; nothing is claimed that this could have made up.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, degrees, hypot, sqrt

import msgspec

from handkit.findings import Finding, finding
from handkit.printers.page import PrinterPage

# What is read of a steel rule may be off by so much, in mm.
READING = 0.25

# A reading outside these shares of what was drawn is of another line, or in another unit. Of the known
# papers fitted to one another the least is A3 on letter, edges of 12.7 mm: 0.605, the most A4 on A3: 1.414.
LEAST_SHARE, MOST_SHARE = 0.5, 1.6


class Readings(msgspec.Struct, frozen=True):
    """Lengths read of a test page; `diagonals` are A and B."""

    page: PrinterPage
    across: float
    down: float
    diagonals: tuple[float, float] | None = None


class Share(msgspec.Struct, frozen=True):
    """How much of 1 came out, and by how much that may be off."""

    value: float
    within: float

    @property
    def low(self) -> float:
        """The least it may be."""
        return self.value - self.within

    @property
    def high(self) -> float:
        """The most it may be."""
        return self.value + self.within

    def told(self, true: float) -> float:
        """What a rule has shown: the true value where it may be that."""
        return true if self.low <= true <= self.high else self.value


class Measured(msgspec.Struct, frozen=True):
    """What the printer does by the readings. `lean` is the sine of the uprights' lean to the right."""

    across: Share
    down: Share
    lean: Share | None


def measured(readings: Readings) -> Measured:
    """Shares and lean, with their bounds.

    Shares: read ÷ drawn, ± `READING` ÷ drawn. Lean: the box of sides w and h is printed as a parallelogram of
    sides a and b whose angle is 90° less the lean; by the law of cosines A² = a² + b² + 2·a·b·sin lean and
    B² = a² + b² − 2·a·b·sin lean, so sin lean = (A² − B²) ÷ (4·a·b). Diagonals off by `READING` each, against
    one another, make it off by `READING`·(A + B) ÷ (2·a·b).

    >>> from handkit.paper import paper_named
    >>> page = PrinterPage(paper_named("A4"))
    >>> page.across, page.down, page.box
    (180.0, 260.0, (170.0, 230.0))
    >>> found = measured(Readings(page, 178.6, 257.2, (283.9, 282.8)))
    >>> round(found.across.value, 4), round(found.across.within, 4), round(found.lean.value, 4)
    (0.9922, 0.0014, 0.0041)
    """
    page = readings.page
    across, down = (
        Share(read / drawn, READING / drawn)
        for read, drawn in ((readings.across, page.across), (readings.down, page.down))
    )
    if readings.diagonals is None:
        return Measured(across, down, None)
    first, second = readings.diagonals
    sides = across.value * page.box[0] * down.value * page.box[1]
    lean = (first**2 - second**2) / (4 * sides)
    return Measured(across, down, Share(lean, READING * (first + second) / (2 * sides)))


def faults(readings: Readings) -> Iterator[Finding]:
    """Readings that can't be of this page: far from what was drawn, or diagonals of no box with such sides.

    In a parallelogram A² + B² = 2·(a² + b²), which a lean does not change.
    """
    page = readings.page
    box = hypot(*page.box)
    listed = [("across", readings.across, page.across), ("down", readings.down, page.down)]
    listed += [
        (f"diagonal {name}", read, box) for name, read in zip("AB", readings.diagonals or (), strict=False)
    ]
    far = [one for one in listed if not LEAST_SHARE <= one[1] / one[2] <= MOST_SHARE]
    for what, read, drawn in far:
        yield finding("reading-far", what=what, read=read, drawn=drawn, paper=page.paper.name)
    if readings.diagonals is None or far:
        return
    found = measured(readings)
    a, b = found.across.value * page.box[0], found.down.value * page.box[1]
    wanted, read = hypot(a, b), sqrt(sum(each**2 for each in readings.diagonals) / 2)
    slack = READING + (a * page.box[0] * found.across.within + b * page.box[1] * found.down.within) / wanted
    if abs(read - wanted) > slack:
        yield finding("diagonals-off", read=read, wanted=wanted)


def lean_degrees(lean: float) -> float:
    """Of a lean's sine.

    >>> round(lean_degrees(0.00349), 2)
    0.2
    """
    return degrees(asin(lean))
