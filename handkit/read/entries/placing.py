"""Placing: where a piece lies on another.

In: a [[piece]] entry and the names of all pieces. Out: `Placing`. Pieces that lie on each other in
a circle are told once all are known.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.read.checks.rings import ring_words, rings
from handkit.read.entries.entry import Entry
from handkit.read.project import Piece, Point
from handkit.read.values.spot import Fault, Reading, unknown

_NEEDS_ON = ("at", "turn", "turned_over", "behind", "glued")


class Placing(msgspec.Struct, frozen=True):
    """Where a piece lies; `on` None is a root, which lies on nothing."""

    on: str | None
    at: Point
    turn_degrees: float
    turned_over: bool
    behind: bool
    flat: bool
    glued: bool


def read_placing(entry: Entry, *, known: Sequence[str]) -> Placing:
    """The piece's place. Keys of a place without `on` are told, since they would mean nothing."""
    on = entry.optional_text("on")
    others = [each for each in known if each != entry.table.get("name")]
    if on is not None and on not in known:
        entry.at("on").refuse(unknown("unknown-piece", on, others, what="piece"))
    if not entry.has("on"):
        for key in _NEEDS_ON:
            if entry.has(key):
                remedy = 'add on = "…", or take it out'
                entry.at(key).refuse(
                    Fault("place-without-on", f"{key}, but no on", "a place on another piece", remedy)
                )
    flat, glued = entry.flag("flat"), entry.flag("glued")
    if glued and entry.has("flat") and not flat:
        remedy = "leave out flat = false, or glued"
        entry.at("glued").warn(
            Fault("glued-not-flat", "glued, and not flat", "glued where it lies flat", remedy)
        )
    return Placing(
        on=on,
        at=entry.pair("at") or (0.0, 0.0),
        turn_degrees=entry.number("turn"),
        turned_over=entry.flag("turned_over"),
        behind=entry.flag("behind"),
        flat=flat,
        glued=glued,
    )


def tell_circles(pieces: Sequence[Piece], reading: Reading) -> None:
    """Tell pieces that lie on themselves, straight or by way of others."""
    by_name = {piece.name: piece for piece in reversed(pieces) if piece.name}
    links = {piece.name: [piece.on] if piece.on else [] for piece in pieces if piece.name}
    for ring in rings(links):
        allowed, remedy = "pieces that lie on others without a circle", "let one of them lie on nothing"
        fault = Fault("on-circle", ring_words(ring), allowed, remedy)
        reading.refuse(by_name[ring[0]].source.at("on"), fault)
