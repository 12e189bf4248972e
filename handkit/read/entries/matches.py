"""Matches: points of a seam that must meet.

In: a [[seam]] entry and its layers. Out: `MatchPoint`s: for each layer a corner letter of its run, a
point in its piece's frame, or None.

    match = [["A", [30, 20]], ["B", ""]]    two points of a seam with two runs
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.geometry.affine import Point
from handkit.read.entries.entry import Entry
from handkit.read.project import Edges, Layer, MatchPoint
from handkit.read.schema.rules import point_key
from handkit.read.values.field import Field
from handkit.read.values.plain import read_pair

_POINT = point_key("place", "")


def read_matches(entry: Entry, layers: Sequence[Layer | None]) -> tuple[MatchPoint, ...]:
    """The points that must meet; a faulty one is left out."""
    points = (_match_point(field, layers) for field in entry.get("match"))
    return tuple(point for point in points if point is not None)


def _match_point(field: Field, layers: Sequence[Layer | None]) -> MatchPoint | None:
    value = field.value
    if not isinstance(value, list):
        field.reject("not-a-list/match")
        return None
    if len(value) != len(layers):
        if layers:
            field.reject("match-count", count=len(value), runs=len(layers))
        return None
    places = tuple(
        _place(field.inside(i, each, f"place {i + 1}"), layer)
        for i, (each, layer) in enumerate(zip(value, layers, strict=True))
    )
    if all(each == "" for each in value):
        field.reject("match-empty")
    return MatchPoint(places)


def _place(field: Field, layer: Layer | None) -> str | Point | None:
    """Where the point lies on one layer; None for nowhere, and where it is faulty."""
    value = field.value
    if value == "":
        return None
    if not isinstance(value, str | list):
        field.reject("match-place")
        return None
    if layer is not None and layer.run is None:
        field.reject("match-of-carried", run=layer.text)
        return None
    if isinstance(value, list):
        return read_pair(field.ruled(_POINT))
    if layer is not None:
        letters = layer.run.letters if isinstance(layer.run, Edges) else ()
        if not letters:
            field.reject("match-letter/line")
        elif value not in letters:
            field.reject("match-letter", letters=dict.fromkeys(letters))
    return value
