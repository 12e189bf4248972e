"""Roll: what a roll of tools promises.

In: a part, its items. Out: its pieces, rows, eyelet and tie by name. Of a roll called P:

    P            the base, whose upper end folds down as a flap; the inside is seen
    P pocket     on it, flush with its foot; lines P 1, P 2 … between the tools, and beside the last one
    P strap      in its place, sewn down beside each tool: lines P 1, P 2 … on both
    P            the seam down one side, along the foot and up the other, to the pocket's mouth, or where it
                 holds what is turned, all the way; P mouth, P top: hems
    P eye        the eyelet that P tie passes
    P closing strap  in place of both, closed by a buckle: a strap with all that is its own, sewn behind P
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from handkit.kinds.fittings import FittingKind
from handkit.kinds.materials import Material
from handkit.kinds.openings import OpeningKind
from handkit.read.parts.promises import PartEntries, Placeholder, Table, promised_seam, written
from handkit.read.parts.strap import strap_entries
from handkit.read.project import Item, Part, Side

_ROUND = "D-A-B-C"
_TOP = "C-D"
_STRAP_THICK = 2.0  # of a closing strap, mm, so that its tongue holes hold (common practice, no source)


def roll_entries(part: Part, items: Sequence[Item]) -> PartEntries:
    """All that a roll stands for."""
    name, held, closed_by = part.name, part.word("holds") == "holders", part.word("closed_by")
    cover = f"{name} {'strap' if held else 'pocket'}"
    lines = tuple(f"{name} {k}" for k in range(1, len(items) + 1 + held))
    hemmed = part.length("hem") is not None
    closing = _closing(part) if closed_by == "buckle" else PartEntries()
    tied = closed_by == "tie"
    return PartEntries(
        pieces=(
            Placeholder(
                name,
                lines=(*(lines if held else ()), *((part.closing_strap.name,) if closing.pieces else ())),
                folds=("flap",),
                states={"shows": Side.FLESH.value, "turns_to": "front", **_hems(part)},
            ),
            Placeholder(
                cover, lines=lines, on=name, flat=not held, states=_strap(part) if held else _hems(part)
            ),
            *closing.pieces,
        ),
        seams=(
            *([_hem_row(part, f"{name} mouth", cover)] if hemmed and not held else []),
            *([_hem_row(part, f"{name} top", name)] if hemmed else []),
            *(promised_seam(line, f"{cover}: {line}", f"{name}: {line}" if held else name) for line in lines),
            *_row_round(part, cover),
            *closing.seams,
        ),
        openings=(_eye(part),) if tied else closing.openings,
        fittings=(_tie(part),) if tied else closing.fittings,
        pulled=() if held else (*lines, *(() if hemmed else (name,))),
    )


def _closing(part: Part) -> PartEntries:
    """The strap that closes it, of firm leather whatever the roll is of: it lies behind the base, sewn there
    by one row."""
    own, name = part.closing_strap, part.name
    strap = strap_entries(own)
    body, *others = strap.pieces
    states = {"kind": Material.FIRM_LEATHER.value, "thickness": written(_STRAP_THICK)}
    sewn = msgspec.structs.replace(body, lines=(*body.lines, own.name), on=name, behind=True, states=states)
    keepers = (msgspec.structs.replace(keeper, states=states) for keeper in others)
    fixing = promised_seam(own.name, f"{own.name}: {own.name}", f"{name}: {own.name}")
    return msgspec.structs.replace(strap, pieces=(sewn, *keepers), seams=(*strap.seams, fixing))


def _row_round(part: Part, cover: str) -> Iterator[Table]:
    """Round base and pocket; round a base with holders only to hold what is turned there."""
    if part.word("holds") == "slots":
        yield promised_seam(part.name, f"{part.name}: {_ROUND}", cover)
    elif part.length("hem") is not None:
        yield promised_seam(part.name, f"{part.name}: {_ROUND}")


def _strap(part: Part) -> Table:
    """Beside hems, which are cloth's, a strap of webbing: its long edges need none."""
    return {} if part.length("hem") is None else {"kind": Material.WEBBING.value}


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
