"""Figures: numbers as texts show them, for findings, the plan and the drawing alike.

In: lengths in mm, shares, points. Out: text, with no zeros that say nothing and never −0.
"""

from __future__ import annotations


def plain(value: float, *, decimals: int) -> str:
    """A number with so many decimals at most.

    >>> plain(12.0, decimals=2), plain(0.3333, decimals=3), plain(-0.001, decimals=2)
    ('12', '0.333', '0')
    """
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def mm(length: float, *, decimals: int = 2) -> str:
    """A length.

    >>> mm(12), mm(4.5), mm(0.3333), mm(3.1392, decimals=3)
    ('12 mm', '4.5 mm', '0.33 mm', '3.139 mm')
    """
    return f"{plain(length, decimals=decimals)} mm"


def point(at: tuple[float, float], *, decimals: int = 2) -> str:
    """A point as the project file writes it.

    >>> point((3.0, -0.25))
    '[3, -0.25]'
    """
    return f"[{plain(at[0], decimals=decimals)}, {plain(at[1], decimals=decimals)}]"


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
