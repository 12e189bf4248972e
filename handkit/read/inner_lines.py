"""Inner lines: named lines inside a piece, for seams and for folds.

In: a table by name, { divider = [[60, 0], [60, 120]] }. Out: names with their points; no points
where they were faulty, so that the name is known all the same.
"""

from __future__ import annotations

from string import ascii_uppercase

from handkit.read import values
from handkit.read.edges import looks_like_edges
from handkit.read.entry import Entry
from handkit.read.keys import MOST_LENGTH, SECTIONS, Key, Kind
from handkit.read.outline import same_neighbours
from handkit.read.project import Point
from handkit.read.shown import quoted
from handkit.read.spot import Fault, Spot

_POINTS = Key("points", Kind.POINTS, "", least=-MOST_LENGTH, most=MOST_LENGTH, few=2, many=2000)


def read_lines(entry: Entry, key: str) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """The lines of `lines` or `folds` in the order written."""
    return tuple(
        (_line_name(name, spot) or name, _line_points(value, spot)) for name, value, spot in entry.items(key)
    )


def _line_name(name: str, spot: Spot) -> str | None:
    """The name, told where it could be taken for corner letters: A, or A-B."""
    read = values.read_name(name, spot, SECTIONS["piece"].keys["name"])
    if read is not None and (looks_like_edges(read) or read in ascii_uppercase):
        remedy = f"write {quoted(read.lower())}"
        spot.refuse(Fault("name-of-letters", quoted(read), "a name that is no corner letters", remedy))
    return read


def _line_points(value: object, spot: Spot) -> tuple[Point, ...]:
    points = values.read_points(value, spot, _POINTS)
    if points is None:
        return ()
    same = same_neighbours(points, closed=False)
    if same is not None:
        found = f"points {same} and {same + 1} at one place"
        spot.down(same).refuse(Fault("point-repeated", found, "points apart", "leave one of them out"))
    return points
