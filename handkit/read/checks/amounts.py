"""Amounts: how much a project may ask for in all, where each entry by itself asks for no more than it may.

In: pieces and their entries. Out: what is too much is reported at the entry that goes beyond it.

The limits lie far above what is made by hand; twice as much would take long to lay out. How many
entries of a kind there may be, and how many points, is said by their keys (`schema/keys.py`); how many holes
and sheets, by the steps that come to know it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handkit.read.entries.entry import Entry
from handkit.read.project import Piece

MOST_CORNERS = 4_000  # of all outlines
MOST_LAYERS = 60  # pieces, each on the one before


def check_amounts(entries: Sequence[Entry], pieces: Sequence[Piece]) -> None:
    """Report the first piece with which the corners become too many, and the first that lies too high."""
    corners = 0
    for entry, piece in zip(entries, pieces, strict=True):
        before, corners = corners, corners + len(piece.corners)
        if before <= MOST_CORNERS < corners:
            entry.at("points").report("too-many/corners", count=corners, most=MOST_CORNERS)
    bases = {piece.name: piece.on for piece in reversed(pieces)}
    heights: dict[str, int] = {}
    for entry, piece in zip(entries, pieces, strict=True):
        if _height(piece.name, bases, heights) > MOST_LAYERS:
            entry.at("on").report("too-many/layers", count=heights[piece.name], most=MOST_LAYERS)
            return


def _height(name: str, bases: Mapping[str, str | None], heights: dict[str, int]) -> int:
    """How many pieces lie on one another up to this one; 1 of one in a circle, which is told elsewhere."""
    way: list[str] = []
    at: str | None = name
    while at is not None and at not in heights and at not in way:
        way.append(at)
        at = bases.get(at)
    height = heights.get(at, 0) if at is not None else 0
    for each in reversed(way):
        height += 1
        heights[each] = height
    return heights[name]
