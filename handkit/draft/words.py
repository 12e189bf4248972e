"""How findings of the drafting say lengths. In: mm. Out: text."""

from __future__ import annotations

from handkit.units import plain


def mm(length: float) -> str:
    """A length as findings say it: two decimals, without those that say nothing.

    >>> mm(12), mm(4.5), mm(0.3333), mm(-0.001)
    ('12 mm', '4.5 mm', '0.33 mm', '0 mm')
    """
    return f"{plain(length, decimals=2)} mm"


def at_most(length: float, *, smallest: str) -> str:
    """What is allowed, where `length` is the most that fits; `smallest` where nothing does."""
    return f"at most {mm(length)}" if length > 0 else smallest


def point(at: tuple[float, float]) -> str:
    """A point as the file writes it.

    >>> point((3.0, -0.25))
    '[3, -0.25]'
    """
    x, y = (mm(value).removesuffix(" mm") for value in at)
    return f"[{x}, {y}]"
