"""Saying: numbers and names as the findings of this step write them."""

from __future__ import annotations

from handkit.draft.pattern import PatternOpening, PatternSeam, Run
from handkit.figures import plain


def mm(value: float) -> str:
    """A length, to a thousandth where there is one.

    >>> mm(4.0), mm(3.1392), mm(-0.0001)
    ('4 mm', '3.139 mm', '0 mm')
    """
    return f"{number(value)} mm"


def number(value: float) -> str:
    """A number to three decimals, without the zeros."""
    return plain(value, decimals=3)


def percent(share: float) -> str:
    """A share in percent, to a tenth.

    >>> percent(0.00867)
    '0.9 %'
    """
    return f"{share * 100:.1f} %"


def even_ground(value: float) -> float:
    """A length or share as it is compared to name the worst of several: without its last digits.

    Else rounding noise would choose between equals, and another machine would choose another.
    """
    return round(value, 6)


def label(run: Run) -> str:
    """A run as the maker wrote it: the piece, and its letters or line where it has them."""
    return f'"{run.piece}: {run.text}"' if run.text else f'"{run.piece}"'


def hole_label(seam: PatternSeam, number: int) -> str:
    """A stitch hole as it is named to the maker."""
    return f'hole {number} of seam "{seam.name}"'


def opening_label(opening: PatternOpening, number: int) -> str:
    """An opening as it is named to the maker, with its number where there are several."""
    several_places = any(place.number > 1 for place in opening.places)
    return f'{f"number {number} of " if several_places else ""}opening "{opening.name}"'


def named(seam: PatternSeam) -> str:
    """A seam's name in a sentence."""
    return f'seam "{seam.name}"'


def several(count: int, what: str) -> str:
    """A number of things.

    >>> several(1, "hole"), several(3, "hole")
    ('1 hole', '3 holes')
    """
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def and_more(count: int) -> str:
    """What stands behind the worst of several; nothing where it is the only one.

    >>> and_more(1), and_more(4)
    ('', '; and 3 more')
    """
    return f"; and {count - 1} more" if count > 1 else ""
