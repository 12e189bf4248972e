"""Items: every [[item]] of the project file: what is carried.

In: the entries and the names of the parts. Out: `Item`s in the file's order, their sections standing
on y = 0 about x = 0.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.geometry.affine import Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.path import polyline
from handkit.read.checks.whole_file import check_names
from handkit.read.entries.entry import Entry, check_missing
from handkit.read.entries.outline import same_neighbours
from handkit.read.file.project_file import HELD, unknown
from handkit.read.project import Item
from handkit.read.values.plain import FAULTY

_SHAPES = ("size", "diameter", "section")


def read_items(entries: Sequence[Entry], parts: Sequence[str]) -> tuple[Item, ...]:
    """All items; `parts` are the names of the parts."""
    check_names(entries, "name-taken/item")
    return tuple(_item(entry, parts) for entry in entries)


def _item(entry: Entry, parts: Sequence[str]) -> Item:
    held_by = entry.get("in") or ""
    if held_by and held_by not in parts:
        entry.at("in").report(unknown("unknown-part", held_by, parts).spoiling(HELD))
    width = thickness = length = FAULTY
    diameter: float | None = None
    section: tuple[Point, ...] = ()
    shape = entry.only(_SHAPES, missing="item-without-size", several="item-sizes")
    if shape == "size":
        width, thickness, length = entry.get("size")
        if entry.has("length"):
            entry.at("length").report("length-of-size")
    elif shape:
        check_missing(entry, ("length",))
        length, diameter, section = entry.get("length"), entry.get("diameter"), _section(entry)
        width, thickness = (diameter, diameter) if diameter is not None else _extent(section)
    return entry.record(
        Item,
        source=entry.source(),
        name=entry.name() or "",
        width=width,
        thickness=thickness,
        length=length,
        diameter=diameter,
        section=section,
        held_by=held_by,
    )


def _section(entry: Entry) -> tuple[Point, ...]:
    """The section's points, standing on y = 0 about x = 0, counter-clockwise; none where faulty."""
    points: tuple[Point, ...] | None = entry.get("section")
    if points is None:
        return ()
    same = same_neighbours(points, closed=True)
    if same is not None:
        place = entry.at("section").down(same, f"point {same + 1}")
        place.report("point-repeated", first=same or len(points), second=same + 1)
        return ()
    path = polyline(points, closed=True)
    if first_crossing(path.segments, closed=True) is not None or not path.signed_area():
        entry.at("section").report("section-crosses")
        return ()
    left, low, right, _ = path.bounds()
    middle = (left + right) / 2
    round_it = points if path.signed_area() > 0 else points[::-1]
    return tuple((x - middle, y - low) for x, y in round_it)


def _extent(section: Sequence[Point]) -> tuple[float, float]:
    """Width and thickness of a section, NaN where it is faulty."""
    if not section:
        return FAULTY, FAULTY
    xs, ys = zip(*section, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)
