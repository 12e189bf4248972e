"""Figures: numbers as texts show them, for findings, the plan and the drawing alike.

In: lengths in mm, areas in mm², shares, points, counts. Out: text, with no zeros that say nothing and
never −0. In which unit and with how many decimals a length is written for the reader stands here, as
a `Measure` for what always has so many; all else is `plain`.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from handkit.units import MM2_PER_DM2, MM2_PER_FT2


class Measure(msgspec.Struct, frozen=True):
    """How something is written: its unit, how many mm or mm² that is, how many decimals."""

    unit: str
    size: float
    decimals: int

    def number(self, value: float) -> str:
        """Of mm or mm², the number alone; what is there is never written as nothing.

        >>> CUT_THREAD.number(1025.6), THREAD.text(12345.0), AREA.text(54321.0)
        ('1026', '12.35 m', '5.43 dm²')
        >>> AREA.text(49.0), AREA.text(0.0)
        ('<0.01 dm²', '0.00 dm²')
        """
        text = f"{value / self.size:.{self.decimals}f}"
        return f"<{10.0**-self.decimals:.{self.decimals}f}" if value > 0 and not float(text) else text

    def text(self, value: float) -> str:
        """The number and its unit."""
        return f"{self.number(value)} {self.unit}"

    def several(self, values: Iterable[float], between: str = " and ") -> str:
        """Several that belong together.

        >>> CUT_THREAD.several([1026.2, 880])
        '1026 and 880 mm'
        """
        return f"{between.join(map(self.number, values))} {self.unit}"


CUT_THREAD = Measure("mm", 1.0, 0)  # one thread to cut
THREAD = Measure("m", 1000.0, 2)  # threads together
PITCH = Measure("mm", 1.0, 2)
TENTHS = Measure("mm", 1.0, 1)  # sizes of pieces, room for items
AREA = Measure("dm²", MM2_PER_DM2, 2)
MATERIAL = Measure("dm²", MM2_PER_DM2, 1)  # what to buy
MATERIAL_FT = Measure("sq ft", MM2_PER_FT2, 2)


def plain(value: float, decimals: int = 2) -> str:
    """A number with so many decimals at most.

    >>> plain(12.0), plain(2.40), plain(0.3333, 3), plain(-0.001)
    ('12', '2.4', '0.333', '0')
    """
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def counted(number: int, one: str, many: str = "") -> str:
    """A number with its noun.

    >>> counted(1, "hole"), counted(3, "hole"), counted(2, "stitch", "stitches")
    ('1 hole', '3 holes', '2 stitches')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def mm(length: float, *, decimals: int = 2) -> str:
    """A length.

    >>> mm(12), mm(4.5), mm(0.3333), mm(3.1392, decimals=3)
    ('12 mm', '4.5 mm', '0.33 mm', '3.139 mm')
    """
    return f"{plain(length, decimals)} mm"


def point(at: tuple[float, float], *, decimals: int = 2) -> str:
    """A point as the project file writes it.

    >>> point((3.0, -0.25))
    '[3, -0.25]'
    """
    return f"[{plain(at[0], decimals)}, {plain(at[1], decimals)}]"


def percent(share: float) -> str:
    """A share in percent, to a tenth.

    >>> percent(0.00867)
    '0.9 %'
    """
    return f"{share * 100:.1f} %"


def and_more(count: int) -> str:
    """What stands behind the worst of several; nothing where it is the only one.

    >>> and_more(1), and_more(4)
    ('', '; and 3 more')
    """
    return f"; and {count - 1} more" if count > 1 else ""
