"""Holding: the [[item]] and [[part]] tables: what is carried, and what holds it.

In: the entries and the names of the file's pieces. Out: `Item`s and `Part`s in the file's order.
What a part then drafts is the business of `promised.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from handkit.geometry.affine import Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.path import polyline
from handkit.messages.message import Severity
from handkit.quoting import quoted, shown, words
from handkit.read.entries.entry import Entry, tell_missing
from handkit.read.entries.outline import same_neighbours
from handkit.read.parts.part_kinds import KINDS, KindRow
from handkit.read.project import Ease, Item, Part, PartKind, Setting
from handkit.read.schema.rules import Key, Kind
from handkit.read.values import values
from handkit.read.values.spot import Fault, Spot, unknown

_SHAPES = ("size", "diameter", "section")
_PERCENT = re.compile(r"(\d{1,3}(?:\.\d{1,6})?)\s*%", re.ASCII)
_MOST_PERCENT = 100.0
_SIZES = ("width", "thickness", "length")


def read_items(entries: Sequence[Entry], parts: Sequence[str]) -> tuple[Item, ...]:
    """All items; `parts` are the names of the parts."""
    _tell_twice(entries, "item")
    return tuple(_item(entry, parts) for entry in entries)


def _item(entry: Entry, parts: Sequence[str]) -> Item:
    held_by = entry.optional_text("in") or ""
    if entry.has("in") and held_by and held_by not in parts:
        entry.at("in").refuse(unknown("unknown-part", held_by, parts, what="part"))
    width, thickness, length, diameter = (values.FAULTY, values.FAULTY, values.FAULTY, None)
    section: tuple[Point, ...] = ()
    written = [key for key in _SHAPES if entry.has(key)]
    if len(written) != 1:
        _tell_shapes(entry, written)
    elif written == ["size"]:
        width, thickness, length = _box(entry)
        if entry.has("length"):
            fault = Fault(
                "length-of-size", "length beside size", "length of a diameter or a section", "take it out"
            )
            entry.at("length").refuse(fault)
    else:
        tell_missing(entry, ("length",))
        length = entry.length("length")
        if written == ["diameter"]:
            diameter = width = thickness = entry.length("diameter")
        else:
            section = _section(entry)
            width, thickness = _extent(section)
    return Item(
        entry.source(),
        entry.name() or "",
        width,
        thickness,
        length,
        diameter,
        section,
        held_by,
        entry.text("note"),
    )


def _tell_shapes(entry: Entry, written: Sequence[str]) -> None:
    allowed = f"exactly one of {words(_SHAPES, last='and')}"
    if not written:
        entry.spot.refuse(Fault("item-without-size", "no size", allowed, "add one"))
    else:
        found = words(written, last="and")
        entry.at(written[1]).refuse(Fault("item-sizes", found, allowed, "take the others out"))


def _box(entry: Entry) -> tuple[float, float, float]:
    """Width, thickness and length, NaN where they are faulty."""
    value, spot, rule = entry.value("size"), entry.at("size"), entry.rule("size")
    if not isinstance(value, list) or len(value) != len(_SIZES):
        spot.refuse(Fault("not-a-size", shown(value), rule.allowed, "write three lengths in square brackets"))
        return (values.FAULTY,) * 3
    one = rule.of_one(Kind.LENGTH)
    read = [
        values.read_length(each, spot.down(i, name), one)
        for i, (each, name) in enumerate(zip(value, _SIZES, strict=True))
    ]
    return read[0], read[1], read[2]


def _section(entry: Entry) -> tuple[Point, ...]:
    """The section's points, standing on y = 0 about x = 0, counter-clockwise; none where faulty."""
    points = entry.points("section")
    if points is None:
        return ()
    spot = entry.at("section")
    same = same_neighbours(points, closed=True)
    if same is not None:
        found, remedy = f"points {same or len(points)} and {same + 1} at one place", "leave one of them out"
        spot.down(same, f"point {same + 1}").refuse(Fault("point-repeated", found, "points apart", remedy))
        return ()
    path = polyline(points, closed=True)
    if first_crossing(path.segments, closed=True) is not None or not path.signed_area():
        remedy = "list its points in their order round it"
        spot.refuse(
            Fault("section-crosses", "a section that crosses itself", "points round it in order", remedy)
        )
        return ()
    left, low, right, _ = path.bounds()
    middle = (left + right) / 2
    round_it = points if path.signed_area() > 0 else points[::-1]
    return tuple((x - middle, y - low) for x, y in round_it)


def _extent(section: Sequence[Point]) -> tuple[float, float]:
    """Width and thickness of a section, NaN where it is faulty."""
    if not section:
        return values.FAULTY, values.FAULTY
    xs, ys = zip(*section, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def read_parts(entries: Sequence[Entry]) -> tuple[Part, ...]:
    """All parts whose kind is known."""
    _tell_twice(entries, "part")
    return tuple(part for entry in entries if (part := _part(entry)) is not None)


def _part(entry: Entry) -> Part | None:
    """One part; None where its name or kind is faulty, which is told."""
    kind, name = entry.choice("kind", PartKind), entry.name()
    if entry.value("kind") != kind.value or name is None:
        return None
    row = KINDS[kind]
    _tell_keys(entry, kind, row)
    tell_missing(entry, row.needs)
    base = row.needs[0]
    settings = tuple(
        (key, value) for key in row.keys if (value := _setting(entry, entry.rule(key))) is not None
    )
    return Part(
        source=entry.source(),
        name=name,
        kind=kind,
        on=entry.optional_text(base),
        at=entry.pair("at") or (0.0, 0.0),
        turn_degrees=entry.number("turn"),
        ease=_ease(entry),
        settings=settings,
    )


def _tell_keys(entry: Entry, kind: PartKind, row: KindRow) -> None:
    """Tell keys that only other kinds have."""
    for key in entry.table:
        if key not in entry.section.keys or key in ("name", "kind", *row.needs, *row.keys):
            continue
        having = [each for each, other in KINDS.items() if key in (*other.needs, *other.keys)]
        allowed = f"{key} for kind {words(quoted(each.value) for each in having)}"
        fault = Fault("key-of-other-kind", f"{key} of kind {quoted(kind.value)}", allowed, "take it out")
        entry.at(key).refuse(fault)


def _setting(entry: Entry, key: Key) -> Setting | None:
    """A key's value, or its default; None where there is neither, or it is read elsewhere."""
    match key.kind:
        case Kind.LENGTH:
            return entry.length(key.name) if entry.has(key.name) or key.default is not None else None
        case Kind.FLAG:
            return entry.flag(key.name)
        case Kind.CHOICE:
            return values.read_choice(entry.value(key.name), entry.at(key.name), key)
        case Kind.NAMES:
            return tuple(text for text, _ in entry.texts(key.name))
        case _:
            return None


def _ease(entry: Entry) -> Ease | None:
    """The ease as written: a length, or a percentage of the size it is added to."""
    if not entry.has("ease"):
        return None
    value, spot, rule = entry.value("ease"), entry.at("ease"), entry.rule("ease")
    if isinstance(value, str) and "%" in value:
        percent = _PERCENT.fullmatch(value.strip())
        if percent is None or float(percent[1]) > _MOST_PERCENT:
            spot.refuse(Fault("not-a-percentage", quoted(value), rule.allowed, 'write it like "5 %"'))
            return None
        return Ease(share=float(percent[1]) / 100)
    return Ease(mm=values.read_length(value, spot, rule))


def tell_holding(parts: Sequence[Part], items: Sequence[Item], spot: Spot) -> None:
    """Tell parts that hold too few items, or too many."""
    held: Mapping[str, int] = {part.name: sum(item.held_by == part.name for item in items) for part in parts}
    for part in parts:
        few, many = KINDS[part.kind].items
        count = held[part.name]
        if count < few:
            remedy = f"add an [[item]] with in = {quoted(part.name)}"
            fault = Fault("part-without-items", "no item in it", f"at least {few}", remedy)
        elif count > many:
            allowed = f"at most {many}" if many else "none"
            remedy = "make two parts of it" if many else "put it into a pocket or a holder row"
            fault = Fault("part-with-items", f"{count} item{'s' if count > 1 else ''} in it", allowed, remedy)
        else:
            continue
        spot.reading.tell(Severity.ERROR, part.source.at(), fault)


def _tell_twice(entries: Sequence[Entry], what: str) -> None:
    """Tell names that two items, or two parts, share."""
    first: dict[str, Entry] = {}
    for entry in entries:
        name = entry.name()
        if name is not None and name in first:
            found = f"{quoted(name)} again, first in line {first[name].spot.where().line}"
            fault = Fault("name-taken", found, f"a name that no other {what} has", "give it another name")
            entry.at("name").refuse(fault)
        if name is not None:
            first.setdefault(name, entry)
