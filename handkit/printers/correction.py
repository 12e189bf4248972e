"""Correction: what one printer does to a page, and the map that takes it out again.

In: shares and degrees that were measured of a printed test page. Out: maps of the page, in mm, origin at the
lower left, y up: `drawn` is what a page's marks go through, so that what is printed measures what they say.

A printer's error is taken as the same all over the page: lengths across come out `across` times as long,
lengths up the page `down` times, and what is drawn upright leans. That is an affine map of the page; any
turn or shift of it as a whole changes no length and is left alone, so that lines across stay level.

           drawn          printed
          ┌─────┐         ╱─────╱
          │     │   →    ╱ skew╱   down × as high, across × as wide
          └─────┘       └─────┘
"""

from __future__ import annotations

from math import atan, ceil, cos, degrees, radians, sin

import msgspec

from handkit.geometry.affine import Affine
from handkit.printers.fits import HONEST, NOISE

# The lean that is corrected, in degrees, up to the next figure that is kept.
MOST_SKEW = degrees(atan(HONEST)) + 0.0001


class Correction(msgspec.Struct, frozen=True):
    """The error of the printer of this name. `skew` is how far uprights lean to the right, in degrees."""

    name: str
    across: float = 1.0  # mm on paper for each mm drawn
    down: float = 1.0
    skew: float = 0.0

    @property
    def corrects(self) -> bool:
        """Whether there is any error to take out."""
        return (self.across, self.down, self.skew) != (1.0, 1.0, 0.0)

    def faults(self) -> list[str]:
        """Which of its values are more than is ever corrected, or no numbers.

        >>> Correction("", 0.992, 1.2, -3.0).faults()
        ['down = 1.2', 'skew = -3.0']
        """
        shares = {"across": self.across, "down": self.down}
        odd = [f"{key} = {share}" for key, share in shares.items() if not abs(share - 1) <= HONEST + NOISE]
        return odd + [f"skew = {self.skew}"] * (not abs(self.skew) <= MOST_SKEW)

    @property
    def printed(self) -> Affine:
        """What the printer does about any point that stays in its place.

        A vector (x, y) becomes x·across·(1, 0) + y·down·(sin skew, cos skew): plane geometry.

        >>> Correction("", 0.5, 2.0).printed.apply((10, 10))
        (5.0, 20.0)
        """
        lean = radians(self.skew)
        return Affine(self.across, 0.0, self.down * sin(lean), self.down * cos(lean))

    def drawn(self, width: float, height: float) -> Affine:
        """What the marks of a page so wide and high go through: the inverse, about the page's middle.

        >>> half = Correction("", 0.5).drawn(200, 300)
        >>> half.apply((100, 50)), half.apply((110, 50))
        ((100.0, 50.0), (120.0, 50.0))
        """
        x, y = width / 2, height / 2
        return Affine.shift(x, y) @ self.printed.inverse() @ Affine.shift(-x, -y)

    @property
    def factors(self) -> str:
        """By how much the drawing is larger than it will be on paper, as far as a rule can tell.

        >>> Correction("", 0.992, 0.989, 0.2).factors
        'across × 1.008, down × 1.011, against a lean of 0.2° to the right'
        """
        side = "right" if self.skew > 0 else "left"
        lean = f", against a lean of {abs(self.skew):.1f}° to the {side}" if self.skew else ""
        return f"across × {1 / self.across:.3f}, down × {1 / self.down:.3f}{lean}"


class Printer(msgspec.Struct, frozen=True):
    """A printer as it was measured. `edges` are how much of a page it loses at the left, the right, the top
    and the bottom, in mm; None where that was not looked at."""

    correction: Correction
    edges: tuple[float, float, float, float] | None = None

    @property
    def needed(self) -> Correction | None:
        """What is to be corrected; None of a printer that is true."""
        return self.correction if self.correction.corrects else None

    def least_edge(self, width: float, height: float, usual: float) -> float:
        """How far from the paper's edges all must stay, in mm, so that none of it is drawn where this printer
        prints nothing: a corrected page is a little larger or smaller than its paper. `usual` is what a
        printer is taken to lose of which that is not known. Up to the next 0.1 mm.

        Of the corners of a page less an edge e on all sides, the map moves none farther from the middle
        than a·(w/2 − e) + |c|·(h/2 − e) across and d·(h/2 − e) down: e where these reach what is printed.

        >>> Printer(Correction("", 0.99), (4, 5, 4, 4)).least_edge(200, 300, 5)  # 100 − 95·0.99 = 5.95
        6.0
        """
        left, right, top, bottom = self.edges or (usual,) * 4
        way, (x, y) = self.correction.printed.inverse(), (width / 2, height / 2)
        lean = abs(way.c)
        across = (way.a * x + lean * y - x + max(left, right)) / (way.a + lean)
        down = (way.d * y - y + max(top, bottom)) / way.d
        return ceil(max(across, down) * 10 - 1e-6) / 10
