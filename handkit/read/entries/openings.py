"""Openings: every [[opening]] of the project file, rows written out.

In: the entries and the pieces. Out: `Opening`s in the file's order.

    at = [[80, 250], [120, 250]]     two openings, in the frame of the first piece in `through`
    row = [7, 25, 0]                 each of them seven times, 25 mm apart along x
    places = { front = [[…], …] }    the same openings on a piece that does not lie flat on it
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handkit.kinds.openings import OPENINGS, OpeningKind, OpeningShape, OpeningTraits
from handkit.quoting import quoted, shown, words
from handkit.read.entries.entry import Entry, tell_missing
from handkit.read.entries.layers import tell_quantity
from handkit.read.project import Opening, Piece, Point
from handkit.read.schema.rules import MOST_LENGTH, Kind, length_key, points_key
from handkit.read.values import values
from handkit.read.values.lengths import CLEAN
from handkit.read.values.spot import Fault, Spot, unknown
from handkit.units import MM_PER_LINE

MOST_PLACES = 1000  # of one entry
MOST_MARKS = 2000  # of all entries, on every piece they go through
_POINTS = points_key("places", Kind.POINTS, "", few=1, many=MOST_PLACES)
_STEP = length_key("step", -MOST_LENGTH, MOST_LENGTH, "")

# The keys that only some kinds have, and the kinds that have them.
_KINDS_WITH: Mapping[str, tuple[OpeningKind, ...]] = {
    key: tuple(kind for kind, traits in OPENINGS.items() if key in traits.keys)
    for key in ("hole", "cap", "slot", "turn", "line", "mate")
}


def read_openings(entries: Sequence[Entry], pieces: Mapping[str, Piece]) -> tuple[Opening, ...]:
    """All openings; the two halves of each snap are held against each other."""
    openings = tuple(_opening(entry, pieces) for entry in entries)
    by_name = {opening.name: opening for opening in reversed(openings) if opening.name}
    for entry, opening in zip(entries, openings, strict=True):
        if opening.mate is not None and "mate" in opening.traits.keys:
            _tell_mate(entry, opening, by_name)
    _tell_too_many(entries, openings)
    return openings


def _tell_too_many(entries: Sequence[Entry], openings: Sequence[Opening]) -> None:
    """Tell the entry with which there are more openings than anyone punches."""
    marks = 0
    for entry, opening in zip(entries, openings, strict=True):
        marks += len(opening.at) * len(opening.through)
        if marks > MOST_MARKS:
            found = f"{marks} openings up to here, on all pieces they go through"
            entry.at("at").refuse(Fault("too-many", found, f"at most {MOST_MARKS}", "split the project"))
            return


def _opening(entry: Entry, pieces: Mapping[str, Piece]) -> Opening:
    kind = entry.choice("kind", OpeningKind)
    knows_kind = entry.value("kind") == kind.value  # else that is told, and the first stands in
    if knows_kind:
        _tell_keys_of_kind(entry, kind)
    through = _through(entry, pieces)
    first_places = _rows(entry, entry.points("at") or ())
    slot = entry.pair("slot") or (0.0, 0.0)
    if slot[1] > slot[0]:
        found = f"{slot[0]:.10g} mm long, {slot[1]:.10g} mm wide"
        fault = Fault("slot-wider-than-long", found, "[length, width]", "put the length first")
        entry.at("slot").refuse(fault)
    hole = entry.length("hole") if entry.has("hole") else 0.0
    is_slot = OPENINGS[kind].shape is OpeningShape.SLOT
    return Opening(
        source=entry.source(),
        name=entry.name() or "",
        kind=kind,
        diameter=slot[1] if is_slot else hole,
        length=slot[0] if is_slot else hole,
        turn_degrees=entry.number("turn"),
        cap=_cap(entry, OPENINGS[kind] if knows_kind else None, hole=hole),
        through=through,
        at=first_places,
        places=_places(entry, through, count=len(first_places)),
        mate=entry.optional_text("mate"),
        note=entry.text("note"),
    )


def _tell_keys_of_kind(entry: Entry, kind: OpeningKind) -> None:
    for key, kinds in _KINDS_WITH.items():
        if entry.has(key) and kind not in kinds:
            allowed = f"{key} for kind {words(quoted(each.value) for each in kinds)}"
            fault = Fault("key-of-other-kind", f"{key} of kind {quoted(kind.value)}", allowed, "take it out")
            entry.at(key).refuse(fault)
    tell_missing(entry, OPENINGS[kind].needs)


def _cap(entry: Entry, traits: OpeningTraits | None, *, hole: float) -> float:
    """The cap's diameter, from `cap` or from a snap's size in lines; 0 for none."""
    if entry.has("cap") and entry.has("line") and traits is not None and "line" in traits.keys:
        fault = Fault("cap-and-line", "cap and line", "one of them", "take one of them out")
        entry.at("line").refuse(fault)
    cap = 0.0
    if entry.has("cap"):
        cap = entry.length("cap")
    elif entry.has("line"):
        cap = round(entry.count("line") * MM_PER_LINE, CLEAN)
    elif traits is not None and traits.cap_expected:
        remedy = "add cap = …, so that room is kept for it"
        entry.spot.down("cap").remark(Fault("cap-missing", "no cap", entry.rule("cap").allowed, remedy))
    if 0 < cap <= hole:
        found, allowed = f"cap {cap:.10g} mm, hole {hole:.10g} mm", "a cap larger than its hole"
        remedy = "make the cap larger, or the hole smaller"
        fault = Fault("cap-under-hole", found, allowed, remedy)
        entry.at(entry.first_of("cap", "line") or "cap").refuse(fault)
    return cap


def _through(entry: Entry, pieces: Mapping[str, Piece]) -> tuple[str, ...]:
    names: list[str] = []
    for name, spot in entry.texts("through"):
        if name in names:
            remedy = "name it once; for a piece folded over write an opening of its own"
            spot.refuse(Fault("through-twice", f"{quoted(name)} again", "each piece once", remedy))
        elif name not in pieces and pieces:
            spot.refuse(unknown("unknown-piece", name, tuple(pieces), what="piece"))
        names.append(name)
    tell_quantity(entry, names, pieces)
    return tuple(names)


def _rows(entry: Entry, places: tuple[Point, ...]) -> tuple[Point, ...]:
    """Each place, and its row behind it."""
    if not entry.has("row"):
        return places
    row, spot, rule = entry.value("row"), entry.at("row"), entry.rule("row")
    if not isinstance(row, list) or len(row) != 3:
        spot.refuse(
            Fault("not-a-row", shown(row), rule.allowed, "write the count and the step along x and y")
        )
        return places
    count = values.read_count(row[0], spot.down(0, "count"), rule.of_one(Kind.COUNT))
    dx = values.read_length(row[1], spot.down(1, "dx"), _STEP)
    dy = values.read_length(row[2], spot.down(2, "dy"), _STEP)
    if count > 1 and dx == 0 == dy:
        spot.refuse(
            Fault(
                "row-without-step", "a step of 0", "dx or dy other than 0", "write how far they stand apart"
            )
        )
    if count * len(places) > MOST_PLACES:
        fault = Fault(
            "too-many", f"{count * len(places)} places", f"at most {MOST_PLACES}", "make the row shorter"
        )
        spot.refuse(fault)
        return places
    return tuple(
        (round(x + step * dx, CLEAN), round(y + step * dy, CLEAN)) for x, y in places for step in range(count)
    )


def _places(entry: Entry, through: Sequence[str], *, count: int) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """The places on other pieces; `count` is how many there are on the first."""
    placed: list[tuple[str, tuple[Point, ...]]] = []
    for name, value, spot in entry.items("places"):
        if name not in through:
            spot.refuse(unknown("place-not-through", name, tuple(through), what="piece to through"))
        elif name == through[0]:
            remedy = "take it out; at says where they are"
            spot.refuse(Fault("place-of-first", quoted(name), "pieces behind the first in through", remedy))
        points = values.read_points(value, spot, _POINTS)
        if points is None:
            continue
        if count and len(points) != count:
            _tell_count(spot, len(points), count, entry)
        placed.append((name, points))
    return tuple(placed)


def _tell_count(spot: Spot, found: int, wanted: int, entry: Entry) -> None:
    remedy = "write a point for each opening of the row, in the same order" if entry.has("row") else (
        "write a point for each of at, in the same order"
    )  # fmt: skip
    spot.refuse(
        Fault("places-count", f"{found} place{'s' if found > 1 else ''}", f"{wanted}, as many as at", remedy)
    )


def _tell_mate(entry: Entry, opening: Opening, by_name: Mapping[str, Opening]) -> None:
    """Tell what is wrong between the halves of a snap."""
    mate, spot = by_name.get(opening.mate or ""), entry.at("mate")
    if mate is None:
        snaps = tuple(
            each.name for each in by_name.values() if "mate" in each.traits.keys and each is not opening
        )
        spot.refuse(unknown("unknown-mate", opening.mate or "", snaps[::-1], what="snap"))
    elif mate is opening:
        spot.refuse(Fault("mate-is-itself", quoted(mate.name), "another snap", "name the other half"))
    elif "mate" not in mate.traits.keys:
        found = f"{quoted(mate.name)}, of kind {quoted(mate.kind.value)}"
        spot.refuse(Fault("mate-no-snap", found, "a snap", "name the other half"))
    elif mate.mate != opening.name:
        found = f"{quoted(mate.name)}, whose mate is {quoted(mate.mate) if mate.mate else 'not named'}"
        remedy = f"write mate = {quoted(opening.name)} there"
        spot.refuse(Fault("mate-not-mutual", found, "two snaps that name each other", remedy))
    elif len(mate.at) != len(opening.at) and opening.at and mate.at:
        found = f"{len(opening.at)} here and {len(mate.at)} of {quoted(mate.name)}"
        spot.refuse(Fault("mate-count", found, "as many of both halves", "add the missing, or take some out"))
