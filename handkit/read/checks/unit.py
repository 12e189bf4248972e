"""The unit: a file that says none, and whose sizes are too small for mm.

In: the file's top, before anything of it is checked. Out: one finding in place of all that would follow.
"""

from __future__ import annotations

from collections.abc import Iterator

from handkit.errors import ProjectError
from handkit.read.entries.entry import Entry
from handkit.units import LENGTH_UNITS

# Nothing that is made by hand is so small all over, mm; an inch project without one larger is no rarity.
SMALLEST = 20.0

_OUTLINES = {"piece": ("rectangle", "points", "circle"), "item": ("size", "diameter", "length")}


def check_unit(top: Entry) -> None:
    """Raise ProjectError where no unit is written and the largest plain number of all outlines and items is
    less than SMALLEST."""
    if top.has("unit"):
        return
    sizes = [abs(number) for number in _numbers(top)]
    if len(sizes) > 1 and 0 < max(sizes) < SMALLEST:
        top.at("unit").report("unit-forgotten", largest=max(sizes), units=tuple(LENGTH_UNITS))
        raise ProjectError([each for each in top.location.file.findings if each.code == "unit-forgotten"])


def _numbers(top: Entry) -> Iterator[float]:
    """The plain numbers of outlines and items; none where any of them is text, which has its own unit."""
    found: list[float] = []
    for key, names in _OUTLINES.items():
        listed = top.table.get(key)
        for each in listed if isinstance(listed, list) else []:
            left = [each[name] for name in names if isinstance(each, dict) and name in each]
            while left:
                value = left.pop()
                if isinstance(value, list):
                    left += value
                elif isinstance(value, int | float) and not isinstance(value, bool):
                    found.append(float(value))
                else:
                    return
    yield from found
