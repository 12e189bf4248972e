"""Matches: points of a seam that must meet.

In: a [[seam]] entry and its layers. Out: `MatchPoint`s: for each layer a corner letter of its run, a
point in its piece's frame, or None.

    match = [["A", [30, 20]], ["B", ""]]    two points of a seam with two runs
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handkit.quoting import quoted, shown, words
from handkit.read.entries.entry import Entry
from handkit.read.project import Edges, Layer, MatchPoint, Piece, Point
from handkit.read.schema.rules import point_key
from handkit.read.values.spot import Fault, Spot
from handkit.read.values.values import read_pair

_POINT = point_key("place", "")
_ALLOWED = 'a letter, a point [x, y] or ""'


def read_matches(
    entry: Entry, layers: Sequence[Layer | None], pieces: Mapping[str, Piece]
) -> tuple[MatchPoint, ...]:
    """The points that must meet; a faulty one is left out."""
    points = (_match_point(value, spot, layers) for value, spot in entry.listed("match", what="point"))
    return tuple(point for point in points if point is not None)


def _match_point(value: object, spot: Spot, layers: Sequence[Layer | None]) -> MatchPoint | None:
    if not isinstance(value, list):
        spot.refuse(
            Fault(
                "not-a-list", shown(value), f"a list with {_ALLOWED} for every run", "put brackets round it"
            )
        )
        return None
    if len(value) != len(layers):
        if layers:
            found = f"{len(value)} place{'s' if len(value) != 1 else ''} for {len(layers)} runs"
            remedy = 'write one for each run in order, "" for none'
            spot.refuse(Fault("match-count", found, f"{len(layers)} places", remedy))
        return None
    places = tuple(
        _place(each, spot.down(i, f"place {i + 1}"), layer)
        for i, (each, layer) in enumerate(zip(value, layers, strict=True))
    )
    if all(each == "" for each in value):
        spot.refuse(
            Fault("match-empty", "a point without a place", "a place on at least one run", "take it out")
        )
    return MatchPoint(places)


def _place(value: object, spot: Spot, layer: Layer | None) -> str | Point | None:
    """Where the point lies on one layer; None for nowhere, and where it is faulty."""
    if value == "":
        return None
    if not isinstance(value, str | list):
        spot.refuse(Fault("match-place", shown(value), _ALLOWED, "write one of these"))
        return None
    if layer is not None and layer.run is None:
        found = f"a place on {quoted(layer.text)}, which takes the holes of another run"
        spot.refuse(Fault("match-of-carried", found, '""', 'write ""'))
        return None
    if isinstance(value, list):
        return read_pair(value, spot, _POINT)
    if layer is not None:
        letters = layer.run.letters if isinstance(layer.run, Edges) else ()
        if value not in letters:
            spot.refuse(_no_letter(value, letters))
    return value


def _no_letter(value: str, letters: Sequence[str]) -> Fault:
    """The letter is not on the run."""
    if not letters:
        return Fault(
            "match-letter",
            quoted(value),
            "a point [x, y]; the run is a line without letters",
            "write a point",
        )
    allowed = words(dict.fromkeys(letters))
    return Fault("match-letter", quoted(value), f"{allowed}, or a point [x, y]", "write a letter of this run")
