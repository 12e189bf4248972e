"""Values for JSON: how lengths, points and maps are written for other programs.

In: mm, points and maps. Out: numbers with three decimals, never -0.0; the four factors of a map
have nine, because 0.0005 of a factor would move a point 500 mm away by a quarter of a mm.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from handkit.geometry.affine import Affine, Point

FORMAT = 1


def mm(value: float) -> float:
    """A length, or an angle in degrees.

    >>> mm(-0.0001), mm(2.00049)
    (0.0, 2.0)
    """
    return round(value, 3) + 0.0


def point(at: Point) -> list[float]:
    """[x, y]."""
    return [mm(at[0]), mm(at[1])]


def points(all_of: Iterable[Point]) -> list[list[float]]:
    """[[x, y] …]."""
    return [point(at) for at in all_of]


def matrix(placed: Affine | None) -> list[float] | None:
    """[a, b, c, d, e, f], x' = a·x + c·y + e, y' = b·x + d·y + f; None stays None."""
    if placed is None:
        return None
    factors, shift = placed.numbers()[:4], placed.numbers()[4:]
    return [*(round(factor, 9) + 0.0 for factor in factors), *(mm(length) for length in shift)]


def document(content: dict[str, Any]) -> str:
    """The text of a JSON document, `"format": 1` first, with a line's end."""
    return json.dumps({"format": FORMAT, **content}, ensure_ascii=False, allow_nan=False) + "\n"
