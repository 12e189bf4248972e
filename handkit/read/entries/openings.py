"""Openings: every [[opening]] of the project file, rows written out.

In: the entries and the pieces. Out: `Opening`s in the file's order.

    at = [[80, 250], [120, 250]]     two openings, in the frame of the first piece in `through`
    row = [7, 25, 0]                 each of them seven times, 25 mm apart along x
    places = { front = [[…], …] }    the same openings on a piece that does not lie flat on it
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.kinds.openings import OPENINGS, OpeningKind, OpeningTraits
from handkit.read.entries.entry import Entry, check_keys_of_kind
from handkit.read.entries.layers import check_quantity
from handkit.read.file.project_file import unknown
from handkit.read.parts.promises import CAP_KEYS
from handkit.read.project import Opening, Piece
from handkit.read.schema.rules import Kind, points_key
from handkit.read.values.lengths import CLEAN
from handkit.read.values.plain import read_points
from handkit.units import MM_PER_LINE

MOST_PLACES = 1000  # of one entry
MOST_MARKS = 2000  # of all entries, on every piece they go through
_POINTS = points_key("places", Kind.POINTS, "", few=1, many=MOST_PLACES)


def read_openings(entries: Sequence[Entry], pieces: Mapping[str, Piece]) -> tuple[Opening, ...]:
    """All openings; the two halves of each snap are held against each other."""
    openings = tuple(_opening(entry, pieces) for entry in entries)
    by_name = {opening.name: opening for opening in reversed(openings) if opening.name}
    marks = 0
    for entry, opening in zip(entries, openings, strict=True):
        if opening.mate is not None and "mate" in opening.traits.keys:
            _check_mate(entry, opening, opening.mate, by_name)
        before, marks = marks, marks + len(opening.at) * len(opening.through)
        if before <= MOST_MARKS < marks:  # more than anyone punches
            entry.at("at").report("too-many/marks", count=marks, most=MOST_MARKS)
    return openings


def _opening(entry: Entry, pieces: Mapping[str, Piece]) -> Opening:
    kind: OpeningKind = entry.get("kind")
    knows_kind = (
        entry.table.get("kind") == kind
    )  # an unknown kind is reported elsewhere, and read as the first
    if knows_kind:
        check_keys_of_kind(entry, kind, OPENINGS)
    through = _through(entry, pieces)
    at = _rows(entry, entry.get("at") or ())
    length, width = entry.get("slot") or (0.0, 0.0)
    if width > length:
        entry.at("slot").report("slot-wider-than-long", length=length, width=width)
    hole = entry.get("hole") or 0.0
    is_slot = OPENINGS[kind].long
    return entry.record(
        Opening,
        source=entry.source(),
        name=entry.name() or "",
        kind=kind,
        diameter=width if is_slot else hole,
        length=length if is_slot else hole,
        turn_degrees=entry.get("turn"),
        cap=_cap(entry, OPENINGS[kind] if knows_kind else None, hole=hole),
        through=through,
        at=at,
        places=_places(entry, through, count=len(at)),
        part=entry.drafted.part.name if entry.drafted is not None else None,
    )


def _cap(entry: Entry, traits: OpeningTraits | None, *, hole: float) -> float:
    """The cap's diameter, from `cap` or from a snap's size in lines; 0 for none."""
    if entry.has("cap") and entry.has("line") and traits is not None and "line" in traits.keys:
        entry.at("line").report("cap-and-line")
    cap = 0.0
    if entry.has("cap"):
        cap = entry.get("cap")
    elif entry.has("line"):
        cap = round(entry.get("line") * MM_PER_LINE, CLEAN)
    elif traits is not None and traits.cap_expected:
        entry.at("cap").report(
            "cap-missing", allowed=entry.schema.keys["cap"].allowed_in(entry.location.units)
        )
    if 0 < cap <= hole:
        _report_cap(entry, finding("cap-under-hole", cap=cap, hole=hole))
    return cap


def _report_cap(entry: Entry, told: Finding) -> None:
    """A cap's size is at fault where it is written: of what a part drafts that may be a key of the part."""
    made, written = entry.drafted, "cap" if entry.has("cap") else "line"
    own = made is None or any(made.table.get(key) != entry.table.get(key) for key in ("cap", "hole"))
    key = None if own else CAP_KEYS.get(entry.get("kind"))
    if made is None or key is None:
        entry.at(written).report(told)
    else:  # once for both halves of a snap
        part = made.part.source
        entry.location.file.report(told.placed(part.at(key)).once(f"{part.path}: {key}"))


def _through(entry: Entry, pieces: Mapping[str, Piece]) -> tuple[str, ...]:
    names: list[str] = []
    for field in entry.texts("through"):
        name = str(field.value)
        folds = pieces[name].folds if name in pieces else ()
        if names.count(name) > bool(folds):
            field.reject("through-twice", name=name)
        elif name not in pieces and pieces:
            field.location.report(unknown("unknown-piece", name, tuple(pieces)))
        names.append(name)
    check_quantity(entry, names, pieces)
    return tuple(names)


def _rows(entry: Entry, places: tuple[Point, ...]) -> tuple[Point, ...]:
    """Each place, and its row behind it."""
    row: tuple[int, float, float] | None = entry.get("row")
    if row is None:
        return places
    count, dx, dy = row
    if count * len(places) > MOST_PLACES:
        entry.at("row").report("too-many/places", count=count * len(places), most=MOST_PLACES)
        return places
    return tuple(
        (round(x + step * dx, CLEAN), round(y + step * dy, CLEAN)) for x, y in places for step in range(count)
    )


def _places(entry: Entry, through: Sequence[str], *, count: int) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """The places on other pieces; `count` is how many there are on the first."""
    placed: list[tuple[str, tuple[Point, ...]]] = []
    for name, field in entry.get("places"):
        if name not in through:
            field.location.report(unknown("place-not-through", name, through))
        elif name == through[0]:
            field.reject("place-of-first", name=name)
        points = read_points(field.ruled(_POINTS))
        if points is None:
            continue
        if count and len(points) != count:
            message = "places-count/row" if entry.has("row") else "places-count"
            field.reject(message, count=len(points), wanted=count)
        placed.append((name, points))
    return tuple(placed)


def _check_mate(entry: Entry, opening: Opening, name: str, by_name: Mapping[str, Opening]) -> None:
    """Report what is wrong between the halves of a snap."""
    mate, place = by_name.get(name), entry.at("mate")
    own, others = (f"{each.source.path}: mate" for each in (opening, mate or opening))
    if mate is None:
        snaps = tuple(
            each.name
            for each in by_name.values()
            if each.kind is opening.traits.mates and each is not opening
        )
        place.report(unknown("unknown-mate", name, snaps[::-1]).spoiling(own))
    elif mate is opening:
        place.report(finding("mate-is-itself", mate=name).spoiling(own))
    elif mate.kind is not opening.traits.mates:
        wanted = OPENINGS[opening.traits.mates or opening.kind].noun
        place.report(finding("mate-no-snap", mate=name, kind=mate.kind, wanted=wanted).spoiling(own))
    elif mate.mate != opening.name:
        if mate.mate:  # else that one is told to lack its own
            told = finding("mate-not-mutual", mate=name, other=mate.mate, name=opening.name)
            place.report(told.following(others).spoiling(own))
    elif (
        opening.source.line < mate.source.line and len(mate.at) != len(opening.at) and opening.at and mate.at
    ):
        place.report("mate-count", here=len(opening.at), there=len(mate.at), mate=name)  # of both halves once
