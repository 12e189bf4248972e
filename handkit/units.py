"""Units: the only home of 25.4 and 72.

In: numbers in inches, ounces of leather or mm. Out: numbers in mm, or in units of a PDF page.
Every length in handkit is a float in mm; a name that ends in `_pt` is in PDF units (1/72 inch,
ISO 32000-1 Table 30, UserUnit 1).
"""

from math import ceil, floor

from handkit.tolerances import SAME_POINT

MM_PER_INCH = 25.4
PT_PER_INCH = 72.0
PT_PER_MM = PT_PER_INCH / MM_PER_INCH

# Thickness of leather: 1 oz is 1/64 inch (common practice, the tanneries' conversion charts).
MM_PER_OUNCE = MM_PER_INCH / 64

# The size of a snap is given in lines, 1/40 inch of cap diameter (button and dry-goods trade).
MM_PER_LINE = MM_PER_INCH / 40

MM2_PER_DM2 = 10_000.0
MM2_PER_IN2 = MM_PER_INCH**2
MM2_PER_FT2 = (12 * MM_PER_INCH) ** 2

# What the project file may write behind a number, and what it stands for in mm.
LENGTH_UNITS: dict[str, float] = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH}
THICKNESS_UNITS: dict[str, float] = {**LENGTH_UNITS, "oz": MM_PER_OUNCE}


def to_pt(mm: float) -> float:
    """Mm to PDF units.

    >>> round(to_pt(210), 4), round(to_pt(297), 4)  # A4, never 595 x 842
    (595.2756, 841.8898)
    """
    return mm * PT_PER_MM


def from_pt(pt: float) -> float:
    """PDF units to mm.

    >>> round(from_pt(612), 4)  # letter is 8.5 in wide
    215.9
    """
    return pt / PT_PER_MM


def without_noise(value: float) -> float:
    """A length or share as it is compared with others, without its last digits: else rounding noise
    would choose between equals, and another machine would choose another.

    >>> without_noise(0.1 + 0.2) == without_noise(0.3)
    True
    """
    return round(value, 6)


def round_half_up(value: float) -> int:
    """The nearest whole number, halves up (Python's own round() goes to the even one).

    A hair below the half counts as the half, so that 10 / 4 and its float neighbours agree.

    >>> [round_half_up(x) for x in (2.4, 2.5, 3.5, 2.4999999999)]
    [2, 3, 4, 3]
    """
    return int(value + 0.5 + 1e-9)


def tenth_above(value: float) -> float:
    """The next tenth of a mm that is no less: what is told as the least that is allowed.

    >>> tenth_above(2.41), tenth_above(2.4), tenth_above(0.1 + 0.2)
    (2.5, 2.4, 0.3)
    """
    return ceil(value * 10 - SAME_POINT) / 10


def tenth_below(value: float) -> float:
    """The tenth of a mm that is no more: what is told as the most.

    >>> tenth_below(2.49), tenth_below(2.4), tenth_below(0.7 - 0.4)
    (2.4, 2.4, 0.3)
    """
    return floor(value * 10 + SAME_POINT) / 10
