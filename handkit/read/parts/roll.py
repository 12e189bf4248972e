"""Roll: what a roll of tools promises.

In: a part, its items. Out: its pieces, rows, eyelet and tie by name. Of a roll called P:

    P            the base, whose upper end folds down as a flap; the inside is seen
    P pocket     on it, flush with its foot; lines P 1, P 2 … between the tools, and beside the last one
    P            the seam down one side, along the foot and up the other, all the way; P mouth, P top: hems
    P eye        the eyelet that P tie passes
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.kinds.fittings import FittingKind
from handkit.kinds.openings import OpeningKind
from handkit.read.parts.promises import PartEntries, Placeholder, Table, promised_seam, written
from handkit.read.project import Item, Part, Side

_ROUND = "D-A-B-C"
_TOP = "C-D"


def roll_entries(part: Part, items: Sequence[Item]) -> PartEntries:
    """All that a roll stands for."""
    name, pocket = part.name, f"{part.name} pocket"
    lines = tuple(f"{name} {k}" for k in range(1, len(items) + 1))
    hemmed = part.length("hem") is not None
    hems = (_hem_row(part, f"{name} mouth", pocket), _hem_row(part, f"{name} top", name)) if hemmed else ()
    return PartEntries(
        pieces=(
            Placeholder(name, states={"shows": Side.FLESH.value, **_hems(part)}),
            Placeholder(pocket, lines=lines, on=name, states=_hems(part)),
        ),
        seams=(
            *hems,
            *(promised_seam(line, f"{pocket}: {line}", name) for line in lines),
            promised_seam(name, f"{name}: {_ROUND}", pocket),
        ),
        openings=(_eye(part),) if part.flag("tie") else (),
        fittings=(_tie(part),) if part.flag("tie") else (),
        pulled=lines,
    )


def _turn_in(hem: float) -> float:
    """What a hem hides that is turned twice: half of it, at most 8 mm (common practice, no source)."""
    return min(8.0, hem / 2)


def _hems(part: Part) -> Table:
    """The upper edge hemmed, turned twice; the others turned, for the seam round them to hold."""
    hem = part.length("hem")
    if hem is None:
        return {}
    turned = {"width": written(hem), "turns": 2, "turn_in": written(_turn_in(hem))}
    return {"hem": {_TOP: turned}, "turned": {_ROUND: written(hem)}}


def _hem_row(part: Part, name: str, piece: str) -> Table:
    """The row that holds a hem, through all of it."""
    hem = part.size("hem")
    return {"name": name, "runs": [f"{piece}: {_TOP}"], "inset": written(hem - _turn_in(hem) / 2)}


def _eye(part: Part) -> Table:
    return {
        "name": f"{part.name} eye",
        "kind": OpeningKind.EYELET.value,
        "hole": written(part.size("eye_hole")),
        "cap": written(part.size("eye_cap")),
        "through": [part.name],
        "at": [[0, 0]],
    }


def _tie(part: Part) -> Table:
    thick = part.size("eye_hole") - 1
    return {
        "name": f"{part.name} tie",
        "kind": FittingKind.TIE.value,
        "diameter": written(max(thick, 0.5)),
        "through": f"{part.name} eye",
    }
