"""Part kinds: one row for each kind of part: its keys, its items, what it promises.

In: a part and how many items it holds. Out: its `Promise`. The names follow one rule: everything is
called after the part; where a part drafts several of a sort, each has a word or a number more.

A new kind is a row here, its keys in `keys.py`, and a module in `draft/` (see there).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

import msgspec

from handkit.kinds.openings import OpeningKind
from handkit.read.parts.promise import ALL_ROUND, Promise, PromisedOpening, PromisedPiece, PromisedSeam
from handkit.read.project import Part, PartKind

MOST_ITEMS = 40  # of one part: more than any strap or pocket row holds


class KindRow(msgspec.Struct, frozen=True):
    """A kind: the keys it has beside name, kind and those that it `needs`; how many items."""

    why: str
    keys: tuple[str, ...]
    needs: tuple[str, ...]
    items: tuple[int, int]
    promise: Callable[[Part, int], Promise]
    drafts: str  # for the reference, of a part that is called P


def _flat_pocket(part: Part, count: int) -> Promise:
    name = part.name
    numbered = tuple(f"{name} {k}" for k in range(1, count)) if part.flag("dividers") else ()
    return Promise(
        pieces=(PromisedPiece(name, lines=numbered),),
        seams=(
            PromisedSeam(name, (f"{name}: D-A-B-C", f"{part.on}")),
            *(PromisedSeam(each, (f"{name}: {each}", f"{part.on}")) for each in numbered),
        ),
    )


def _bowed_pocket(part: Part, count: int) -> Promise:
    name, hemmed = part.name, part.length("hem") is not None
    lines = tuple(f"{name} {side}" for side in ("left", "foot", "right"))
    runs = ("H-A" if hemmed else "D-A", "A-B", "B-C")
    seams = tuple(
        PromisedSeam(
            f"{name}, {line.removeprefix(name + ' ')}",
            (f"{name}: {run}", f"{part.on}: {line}"),
            bowed=run != "A-B" or part.length("round") is not None,  # round corners are not quite alike
        )
        for line, run in zip(lines, runs, strict=True)
    )
    return Promise(
        pieces=(PromisedPiece(name, letters=8 if hemmed else 4, flat=False),),
        base_lines=lines,
        seams=seams,
        openings=_mouth_rivets(part, name) if part.flag("rivets") else (),
    )


def _mouth_rivets(part: Part, piece: str) -> tuple[PromisedOpening, ...]:
    hole, cap = part.length("rivet_hole") or 0.0, part.length("rivet_cap") or 0.0
    through = (piece, f"{part.on}")
    return (PromisedOpening(f"{part.name} rivets", OpeningKind.RIVET, hole, cap, through),)


def _boxed_pocket(part: Part, count: int) -> Promise:
    name = part.name
    front, gusset = f"{name} front", f"{name} gusset"
    turned = part.word("gusset") == "turned"  # its flanges are meant to be longer round the corners
    return Promise(
        pieces=(PromisedPiece(front, flat=False), PromisedPiece(gusset, flat=False)),
        base_lines=(name,),
        seams=(
            PromisedSeam(f"{name}, front", (f"{front}: D-A-B-C", f"{gusset}: A-B"), bowed=turned),
            PromisedSeam(f"{name}, base", (f"{part.on}: {name}", f"{gusset}: D-C"), bowed=turned),
        ),
    )


def _holder_row(part: Part, count: int) -> Promise:
    name, strap = part.name, f"{part.name} strap"
    lines = tuple(f"{name} {k}" for k in range(1, count + 2))
    return Promise(
        pieces=(PromisedPiece(strap, lines=lines, flat=False),),
        base_lines=lines,
        seams=tuple(PromisedSeam(line, (f"{strap}: {line}", f"{part.on}: {line}")) for line in lines),
    )


def _lining(part: Part, count: int) -> Promise:
    name, seams = part.name, part.names("seams")
    own = PromisedSeam(name, (f"{name}: {ALL_ROUND}", f"{part.on}"))
    return Promise(
        pieces=(PromisedPiece(name, like=part.on, behind=True),),
        seams=() if seams else (own,),
        joins=seams,
    )


_PLACE = ("at", "turn", "behind")
_POCKET = (*_PLACE, "ease", "shows", "width", "height", "round")

KINDS: Mapping[PartKind, KindRow] = MappingProxyType(
    {
        PartKind.FLAT_POCKET: KindRow(
            "For thin things beside one another.",
            (*_POCKET, "dividers"),
            ("on",),
            (1, MOST_ITEMS),
            _flat_pocket,
            "piece P, seam P; lines and seams P 1, P 2 … between its items",
        ),
        PartKind.BOWED_POCKET: KindRow(
            "For thick things: a front that stands off its base at the mouth.",
            (*_POCKET, "mouth", "hem", "rivets", "rivet_hole", "rivet_cap"),
            ("on",),
            (1, MOST_ITEMS),
            _bowed_pocket,
            "piece P; lines P left, P foot and P right on its base; seams P, left and P, foot and P, right; "
            "opening P rivets",
        ),
        PartKind.BOXED_POCKET: KindRow(
            "For things as thick as wide: a front and a gusset strip round it.",
            (*_POCKET, "depth", "gusset"),
            ("on",),
            (1, MOST_ITEMS),
            _boxed_pocket,
            "pieces P front and P gusset; line P on its base; seams P, front and P, base",
        ),
        PartKind.HOLDER_ROW: KindRow(
            "For tools side by side under one strap that is stitched down between them.",
            (*_PLACE, "ease", "strap", "gap", "shows", "round"),
            ("on",),
            (1, MOST_ITEMS),
            _holder_row,
            "piece P strap; lines P 1, P 2 … on strap and base, a seam of each name",
        ),
        PartKind.LINING: KindRow(
            "Behind another piece, of its shape.",
            ("inset_by", "seams"),
            ("of",),
            (0, 0),
            _lining,
            "piece P, seam P unless `seams` names others",
        ),
    }
)
