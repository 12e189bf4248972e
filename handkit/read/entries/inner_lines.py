"""Inner lines: named lines inside a piece, for seams and for folds.

In: a table by name, { divider = [[60, 0], [60, 120]] }. Out: names with their points; no points
where they were faulty, so that the name is known all the same.
"""

from __future__ import annotations

from string import ascii_uppercase

from handkit.quoting import quoted
from handkit.read.entries.edges import looks_like_edges
from handkit.read.entries.entry import Entry
from handkit.read.entries.outline import same_neighbours
from handkit.read.project import Point
from handkit.read.schema.keys import SECTIONS
from handkit.read.schema.rules import Kind, points_key
from handkit.read.values import values
from handkit.read.values.spot import Fault, Spot

_POINTS = points_key("points", Kind.POINTS, "", few=2, many=2000)


def read_lines(entry: Entry, key: str) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """The lines of `lines` or `folds` in the order written."""
    lines: list[tuple[str, tuple[Point, ...]]] = []
    for name, value, spot in entry.items(key):
        points = _line_points(value, spot)
        lines.append((name, points if _is_line_name(name, spot) else ()))
    return tuple(lines)


def _is_line_name(name: str, spot: Spot) -> bool:
    """Whether it is a name, and none that could be taken for corner letters: A, or A-B."""
    if values.read_name(name, spot, SECTIONS["piece"].keys["name"]) is None:
        return False
    if looks_like_edges(name) or name in ascii_uppercase:
        remedy = f"write {quoted(name.lower())}"
        spot.refuse(Fault("name-of-letters", quoted(name), "a name that is no corner letters", remedy))
        return False
    return True


def _line_points(value: object, spot: Spot) -> tuple[Point, ...]:
    points = values.read_points(value, spot, _POINTS)
    if points is None:
        return ()
    same = same_neighbours(points, closed=False)
    if same is not None:
        found = f"points {same} and {same + 1} at one place"
        spot.down(same, f"point {same + 1}").refuse(
            Fault("point-repeated", found, "points apart", "leave one of them out")
        )
    return points
