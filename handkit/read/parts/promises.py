"""Promises: what a part stands for in a file, before anything of it is drafted.

In and out: the records that `part_kinds.py` fills for each kind and `expansion.py` writes out as tables.

Words: a *placeholder* is a piece without a shape; what a part *promises* it drafts later, by that name.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import ceil, isfinite, pi
from types import MappingProxyType
from typing import Any

import msgspec

from handkit.kinds.openings import OpeningKind
from handkit.read.project import Item, Part

Table = Mapping[str, Any]

NOTHING: Table = MappingProxyType({})

MOST_ITEMS = 40  # of one part: more than any strap or pocket row holds

# Which of a part's keys says how large the caps are of what it promises.
CAP_KEYS = {
    OpeningKind.RIVET: "rivet_cap",
    OpeningKind.SNAP: "snap_cap",
    OpeningKind.BUTTON_STUD: "stud_head",
    OpeningKind.EYELET: "eye_cap",
}

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
    arranges: bool = False  # its rectangle may be "arranged": parts are laid on it, which keeps its size
    inwards: bool = False  # its showing side lies towards its base, as that of a folded piece's leaf does
    states: Table = NOTHING


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
    words: Mapping[str, tuple[str, ...]] = MappingProxyType({})  # of a key's the kind's own, the usual first

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


def promised_rivets(part: Part, *through: str) -> Table:
    """The rivets that hold pieces of a part on one another or on its base, without their places."""
    return {
        "name": f"{part.name} rivets",
        "kind": OpeningKind.RIVET.value,
        **promised_sizes(part, hole="rivet_hole", cap="rivet_cap"),
        "through": [*through],
        "at": [[0, 0]],  # until it is drafted
    }


def promised_snap(part: Part, cap: Sequence[str], stud: Sequence[str]) -> tuple[Table, Table]:
    """A snap's two halves, each by the pieces that it goes through."""
    names = {half: f"{part.name} {half}" for half in ("cap", "stud")}
    sizes = promised_sizes(part, hole="snap_hole", cap="snap_cap")

    def half(name: str, mate: str, through: Sequence[str]) -> Table:
        kind = {"kind": OpeningKind.SNAP.value, "through": [*through], "at": [[0, 0]]}
        return {"name": name, "mate": mate, **kind, **sizes}

    return half(names["cap"], names["stud"], cap), half(names["stud"], names["cap"], stud)


def promised_stud(part: Part, hole: Sequence[str], stud: Sequence[str]) -> tuple[Table, Table]:
    """A buttonhole, its cut upwards on what is drawn, and the button stud that it goes over."""
    one, other, at = f"{part.name} hole", f"{part.name} stud", [[0, 0]]
    sizes = promised_sizes(part, hole="stud_hole", cap="stud_head")
    neck, head = part.size("stud_neck"), part.size("stud_head")
    cut = [written(each) for each in (buttonhole_length(neck, head), neck) if isfinite(each)]
    holed = {"kind": OpeningKind.BUTTONHOLE.value, "slot": cut, "turn": 270, "through": [*hole], "at": at}
    set_in = {"kind": OpeningKind.BUTTON_STUD.value, **sizes, "through": [*stud], "at": at}
    return {"name": one, "mate": other, **holed}, {"name": other, "mate": one, **set_in}


def buttonhole_length(neck: float, head: float) -> float:
    """How long a buttonhole is over all: the way round its hole and both sides of the cut is that round the
    head, π · neck + 2 · cut = π · head; up to the next half mm. The leather is not stretched then.

    >>> buttonhole_length(4, 8)  # a cut of 2π = 6.28
    10.5
    """
    return ceil(2 * (neck + pi * max(head - neck, 0.0) / 2)) / 2 if isfinite(neck + head) else neck
