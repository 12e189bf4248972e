"""Things written: a file of [[item]] tables, as a project takes it by `items`.

In: names, thicknesses, outlines in mm, what is told beside each. Out: the file's text in its unit.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.geometry.affine import Point
from handkit.read.schema.keys import FORMAT
from handkit.read.written.toml_text import array, comment, fact, number, string
from handkit.units import LENGTH_UNITS

# Decimals of the file's unit: outlines are kept within 0.005 mm, of inches a little better.
DECIMALS = {"mm": 2, "cm": 3, "in": 4}


class WrittenThing(msgspec.Struct, frozen=True):
    """A thing to be written, in mm; `told` are comments over it."""

    name: str
    thickness: float
    uncertainty: float
    outline: tuple[Point, ...]
    told: tuple[str, ...] = ()


def things_text(things: Sequence[WrittenThing], told: Sequence[str], unit: str = "mm") -> str:
    """The file; `told` are comments at its head.

    >>> ruler = WrittenThing("ruler", 1, 0.5, ((0, 0), (300, 0), (300, 30), (0, 30)), ("1: bench.jpg",))
    >>> print(things_text([ruler], ["Traced."]))
    # Traced.
    format = 1
    unit = "mm"
    <BLANKLINE>
    # 1: bench.jpg
    [[item]]
    name = "ruler"
    thickness = 1
    uncertainty = 0.5
    outline = [[0, 0], [300, 0], [300, 30], [0, 30]]
    <BLANKLINE>
    """
    size, decimals = LENGTH_UNITS[unit], DECIMALS[unit]

    def length(mm: float) -> str:
        return number(mm / size, decimals)

    lines = [line for text in told for line in comment(text)]
    lines += fact("format", str(FORMAT)) + fact("unit", string(unit))
    for thing in things:
        points = [array([length(x), length(y)]) for x, y in thing.outline]
        lines += ["", *(line for text in thing.told for line in comment(text)), "[[item]]"]
        lines += fact("name", string(thing.name)) + fact("thickness", length(thing.thickness))
        lines += fact("uncertainty", length(thing.uncertainty)) + fact("outline", array(points), points)
    return "\n".join(lines) + "\n"
