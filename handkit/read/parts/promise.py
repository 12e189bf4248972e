"""Promises: what a part will draft, by name, known before anything is drafted.

In: nothing. Out: the types. The file's own seams, openings and places can name what is promised,
and are checked against it.
"""

from __future__ import annotations

from dataclasses import dataclass

from handkit.read.project import OpeningKind

# In a run of a promised seam: all edges of the piece, from A round to A.
ALL_ROUND = "all round"


@dataclass(frozen=True, slots=True)
class PromisedPiece:
    """A piece with so many corner letters, or the letters of the piece it is `like`."""

    name: str
    letters: int = 4
    like: str | None = None
    lines: tuple[str, ...] = ()
    flat: bool = True
    behind: bool = False  # and turned over: its showing side is the far one


@dataclass(frozen=True, slots=True)
class PromisedSeam:
    """A seam with its runs as a file would have them."""

    name: str
    runs: tuple[str, ...]
    bowed: bool = False


@dataclass(frozen=True, slots=True)
class PromisedOpening:
    """An opening; where its holes are is drafted."""

    name: str
    kind: OpeningKind
    hole: float
    cap: float
    through: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Promise:
    """All that a part drafts. `base_lines` are lines on its base."""

    pieces: tuple[PromisedPiece, ...] = ()
    base_lines: tuple[str, ...] = ()
    seams: tuple[PromisedSeam, ...] = ()
    openings: tuple[PromisedOpening, ...] = ()
    joins: tuple[str, ...] = ()  # the file's seams that its first piece is sewn in with
