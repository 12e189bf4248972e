"""Promises: what a part will draft, by name, known before anything is drafted.

In: nothing. Out: the types. The file's own seams, openings and places can name what is promised,
and are checked against it.
"""

from __future__ import annotations

import msgspec

from handkit.kinds.openings import OpeningKind

# In a run of a promised seam: all edges of the piece, from A round to A.
ALL_ROUND = "all round"


class PromisedPiece(msgspec.Struct, frozen=True):
    """A piece with so many corner letters, or the letters of the piece it is `like`."""

    name: str
    letters: int = 4
    like: str | None = None
    lines: tuple[str, ...] = ()
    flat: bool = True
    behind: bool = False  # and turned over: its showing side is the far one


class PromisedSeam(msgspec.Struct, frozen=True):
    """A seam with its runs as a file would have them."""

    name: str
    runs: tuple[str, ...]
    bowed: bool = False


class PromisedOpening(msgspec.Struct, frozen=True):
    """An opening; where its holes are is drafted."""

    name: str
    kind: OpeningKind
    hole: float
    cap: float
    through: tuple[str, ...]


class Promise(msgspec.Struct, frozen=True):
    """All that a part drafts. `base_lines` are lines on its base."""

    pieces: tuple[PromisedPiece, ...] = ()
    base_lines: tuple[str, ...] = ()
    seams: tuple[PromisedSeam, ...] = ()
    openings: tuple[PromisedOpening, ...] = ()
    joins: tuple[str, ...] = ()  # the file's seams that its first piece is sewn in with
