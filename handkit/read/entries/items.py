"""Items: every [[item]] of the project file: what is carried.

In: the entries and the names of the parts. Out: `Item`s in the file's order, their sections standing
on y = 0 about x = 0, what is seen of them from above from the origin to the right and up.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.geometry.affine import Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.path import polyline
from handkit.geometry.polygon import signed_area
from handkit.read.checks.whole_file import check_names
from handkit.read.entries.entry import Entry, check_missing
from handkit.read.entries.outline import same_neighbours
from handkit.read.entries.things import SHAPES
from handkit.read.file.project_file import HELD, unknown
from handkit.read.project import Item
from handkit.read.schema.keys import TURNS
from handkit.read.values.plain import FAULTY

# The keys that only some shapes have.
_OF_SHAPES = {
    "thickness": ("outline",),
    "uncertainty": ("outline",),
    "up": ("outline",),
    "turned_over": ("outline",),
    "blade": ("outline",),
    "tip": ("size",),
    "handle": ("size", "outline"),
}


def read_items(entries: Sequence[Entry], parts: Sequence[str]) -> tuple[Item, ...]:
    """All items, their shapes from their common entries where they have one; `parts` are the names of the
    parts."""
    check_names(entries, "name-taken/item")
    return tuple(_item(entry, parts) for entry in entries)


def _item(entry: Entry, parts: Sequence[str]) -> Item:
    held_by = entry.get("in") or ""
    if held_by and held_by not in parts:
        entry.at("in").report(unknown("unknown-part", held_by, parts).spoiling(HELD))
    width = thickness = length = FAULTY
    diameter: float | None = None
    section: tuple[Point, ...] = ()
    plan: tuple[Point, ...] = ()
    thing = entry.common or entry
    shape = thing.only(SHAPES, missing="item-without-size", several="item-sizes")
    if shape == "size":
        width, thickness, length = thing.get("size")
        if thing.has("length"):
            thing.at("length").report("length-of-size")
        plan = _pointed(thing, width, length)
    elif shape == "outline":
        if not entry.has("thickness"):
            check_missing(thing, ("thickness",))
        thickness, plan = entry.get("thickness"), _seen(thing, entry)
        thickness = FAULTY if thickness is None else thickness
        width, length = _extent(plan)
        if (blade := entry.get("blade")) is not None and blade > length:
            entry.at("blade").report("tip-too-long", tip=blade, length=length)
        if thing.has("length"):
            thing.at("length").report("length-of-size/outline")
    elif shape:
        check_missing(thing, ("length",))
        length, diameter, section = thing.get("length"), thing.get("diameter"), _section(thing)
        width, thickness = (diameter, diameter) if diameter is not None else _extent(section)
    _check_keys_of_shape(entry, shape)
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
        plan=plan,
        cutting=entry.get("cutting") if entry.field("cutting") else None,
    )


def _check_keys_of_shape(entry: Entry, shape: str) -> None:
    """Report keys that only other shapes have; "" is a shape that is missing, and reported."""
    for key, shapes in _OF_SHAPES.items():
        field = entry.field(key)
        if field is not None and shape and shape not in shapes:
            field.location.report("item-key-of-other-shape", key=key, shapes=shapes)


def _pointed(entry: Entry, width: float, length: float) -> tuple[Point, ...]:
    """The plan of a blade whose point lies at its back; none of what has no tip, or a faulty one."""
    tip: float | None = entry.get("tip")
    if tip is None:
        return ()
    if tip > length:
        entry.at("tip").report("tip-too-long", tip=tip, length=length)
        return ()
    upper = ((width, length), (0.0, length))
    return ((0.0, 0.0), *upper) if tip == length else ((0.0, 0.0), (width, tip), *upper)


def _section(entry: Entry) -> tuple[Point, ...]:
    """The section's points, standing on y = 0 about x = 0, counter-clockwise; none where faulty."""
    points = _ring(entry, "section")
    middle = max((x for x, _ in points), default=0.0) / 2
    return tuple((x - middle, y) for x, y in points)


def _seen(thing: Entry, entry: Entry) -> tuple[Point, ...]:
    """The thing's outline as it stands in its place, which the entry says, from x = 0 and y = 0 on,
    counter-clockwise; none where faulty."""
    ring = _ring(thing, "outline")
    wide, high = _extent(ring)
    stated = entry.field("up")
    a, b, c, d = TURNS[entry.get("up") if stated else "right" if wide > high else "top"]
    over = -1 if entry.get("turned_over") else 1
    return _placed([(over * (a * x + b * y), c * x + d * y) for x, y in ring])


def _ring(entry: Entry, key: str) -> tuple[Point, ...]:
    """The points of a key, moved to lie right of and above the origin, counter-clockwise; none where
    faulty."""
    points: tuple[Point, ...] | None = entry.get(key)
    if points is None:
        return ()
    same = same_neighbours(points, closed=True)
    if same is not None:
        place = entry.at(key).down(same, f"point {same + 1}")
        place.report("point-repeated", first=same or len(points), second=same + 1)
        return ()
    path = polyline(points, closed=True)
    if first_crossing(path.segments, closed=True) is not None or not path.signed_area():
        entry.at(key).report("section-crosses" if key == "section" else "section-crosses/outline")
        return ()
    return _placed(points)


def _placed(points: Sequence[Point]) -> tuple[Point, ...]:
    """A ring moved to lie right of and above the origin, counter-clockwise."""
    if not points:
        return ()
    left, low = min(x for x, _ in points), min(y for _, y in points)
    round_it = points if signed_area(points) > 0 else points[::-1]
    return tuple((x - left, y - low) for x, y in round_it)


def _extent(section: Sequence[Point]) -> tuple[float, float]:
    """Width and thickness of a section, NaN where it is faulty."""
    if not section:
        return FAULTY, FAULTY
    xs, ys = zip(*section, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)
