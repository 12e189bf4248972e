"""Promises: what a part stands for in a file, before anything of it is drafted.

In and out: the records that `part_kinds.py` fills for each kind and `expansion.py` writes out as tables.

Words: a *placeholder* is a piece without a shape; what a part *promises* it drafts later, by that name.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import isfinite
from types import MappingProxyType
from typing import Any

import msgspec

from handkit.kinds.openings import OpeningKind
from handkit.read.project import Item, Part

Table = Mapping[str, Any]

MOST_ITEMS = 40  # of one part: more than any strap or pocket row holds

# In a drafted seam's run: all edges of the piece, from A round to A.
ALL_ROUND = "all round"


class Placeholder(msgspec.Struct, frozen=True):
    """A piece without a shape: its lines, and so many corner letters or those of the piece it is `like`.

    It lies on the part's base, should the part have one, or on another piece of the part. `states` are keys
    as the file would have them, and may have them otherwise.
    """

    name: str
    letters: int = 4
    like: str | None = None
    lines: tuple[str, ...] = ()
    folds: tuple[str, ...] = ()
    on: str | None = None  # None: the part's base
    flat: bool = True
    behind: bool = False  # and turned over: its showing side is the far one
    inwards: bool = False  # its showing side lies towards its base, as that of a folded piece's leaf does
    states: Table = MappingProxyType({})


class PartEntries(msgspec.Struct, frozen=True):
    """All that a part stands for. `base_lines` are lines on its base; pieces named in `joining` are sewn in
    with the file's seams that `joins` names, each as one layer more of them.

    What only the drafting can know of an opening or a fitting (a slot's size, a tie's length) is left out of
    its table.
    """

    pieces: tuple[Placeholder, ...] = ()
    base_lines: tuple[str, ...] = ()
    seams: tuple[Table, ...] = ()
    openings: tuple[Table, ...] = ()
    fittings: tuple[Table, ...] = ()
    joining: tuple[str, ...] = ()
    joins: tuple[str, ...] = ()
    pulled: tuple[str, ...] = ()  # seams that start at a pocket's mouth, or at its row: with back stitches


class KindRow(msgspec.Struct, frozen=True):
    """A kind: the keys it has beside name, kind and those that it `needs`; how many items.

    A kind that knows neither `on` nor `of` stands by itself and has no base.
    """

    why: str
    keys: tuple[str, ...]
    needs: tuple[str, ...]
    items: tuple[int, int]
    entries: Callable[[Part, Sequence[Item]], PartEntries]
    drafts: str  # for the reference, of a part that is called P
    handles: bool = False  # whether its items may have handles

    @property
    def base(self) -> str | None:
        """The key that names its base."""
        return next((key for key in ("on", "of") if key in (*self.needs, *self.keys)), None)

    @property
    def stands_alone(self) -> bool:
        """Whether it needs no base: it has none, or may be made without, as a sheath that hangs on a belt."""
        return self.base not in self.needs


def promised_seam(name: str, *runs: str, bowed: bool = False) -> Table:
    """A seam as the file would have it."""
    return {"name": name, "runs": list(runs), **({"bowed": True} if bowed else {})}


def written(length: float) -> str:
    """A length as text, which means the same whatever the file's unit; mm.

    >>> written(2.5)
    '2.500000000 mm'
    """
    return f"{length:.9f} mm"


def promised_sizes(part: Part, **keys: str) -> Table:
    """An opening's sizes, each by the part's key that states it; a faulty one is told there and left out."""
    sizes = {name: part.size(key) for name, key in keys.items()}
    return {name: written(size) for name, size in sizes.items() if isfinite(size)}


def promised_rivets(part: Part, piece: str) -> Table:
    """The rivets that hold a piece of a part on its base, without their places."""
    return {
        "name": f"{part.name} rivets",
        "kind": OpeningKind.RIVET.value,
        **promised_sizes(part, hole="rivet_hole", cap="rivet_cap"),
        "through": [piece, f"{part.on}"],
        "at": [[0, 0]],  # until it is drafted
    }
