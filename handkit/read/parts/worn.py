"""What is worn and closed: what loops, sheaths and flaps stand for in a file.

In: a part and the items it holds. Out: `PartEntries`. See `draft/worn/` for what is drafted of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import isfinite

from handkit.kinds.openings import OpeningKind
from handkit.read.parts.promises import (
    NOTHING,
    PartEntries,
    Placeholder,
    Table,
    promised_rivets,
    promised_seam,
    promised_sizes,
    promised_snap,
    promised_stud,
)
from handkit.read.project import Item, Part
from handkit.read.values.letters import letter_names

# What no place tells of a strap that goes round a handle: which of a snap's halves comes to lie outside.
_LAPPED = (
    "its cap on the side that shows: this end laps over the other",
    "it stands out of the side that shows, under the other end",
)


def loop_entries(part: Part, items: Sequence[Item]) -> PartEntries:
    """A strip; upright held at both its ends, slung by one row through both and what lies between."""
    name = part.name
    if part.word("hang") == "slung" and part.word("fixing") == "rivets":
        rivets = promised_rivets(part, name, f"{part.on}", name)
        return PartEntries((Placeholder(name, folds=(name,)),), openings=(rivets,))
    if part.word("hang") == "slung":
        sewn = promised_seam(name, f"{name}: {name}", f"{part.on}", name)
        return PartEntries((Placeholder(name, lines=(name,), folds=(name,)),), seams=(sewn,))
    if part.word("fixing") == "rivets":
        return PartEntries(
            (Placeholder(name, flat=False),), openings=(promised_rivets(part, name, f"{part.on}"),)
        )
    ends = {end: f"{name} {end}" for end in ("low", "high")}
    return PartEntries(
        pieces=(Placeholder(name, lines=tuple(ends.values()), flat=False),),
        base_lines=tuple(ends.values()),
        seams=tuple(
            promised_seam(f"{name}, {end}", f"{name}: {line}", f"{part.on}: {line}")
            for end, line in ends.items()
        ),
    )


def sheath_entries(part: Part, items: Sequence[Item]) -> PartEntries:
    """One piece that is folded, its welt, and what its back leaf goes on above the mouth for."""
    name, corners = part.name, _leaf_corners(part, items)
    hung, looped, strapped = part.on is not None, bool(part.size("belt")), bool(part.size("handle_strap"))
    goes_on = hung or looped or strapped
    letters = letter_names(2 * corners + (4 if goes_on else 0) + 1)
    edge = "-".join(letters[: corners + 1])
    lines = [
        f"{name} {each}" for each, there in (("hang", hung), ("loop", looped), ("strap", strapped)) if there
    ]
    welt, strap, guard = f"{name} welt", f"{name} strap", f"{name} guard"
    pieces = [
        Placeholder(
            name,
            letters=len(letters),
            lines=tuple(lines),
            folds=(f"{name} back", *([f"{name} loop"] if looped else [])),
            inwards=True,
        ),
        Placeholder(welt, letters=2 * corners + 2, on=name, states={"behind": True}),
    ]
    seams = [promised_seam(name, f"{name}: {edge}", welt, name)]
    if hung:
        seams.append(promised_seam(f"{name} hang", f"{name}: {name} hang", f"{part.on}"))
    if looped:
        seams.append(promised_seam(f"{name} loop", f"{name}: {name} loop", name))
    openings: list[Table] = []
    if strapped:
        pieces.append(Placeholder(strap, lines=(strap,), on=name, flat=False))
        seams.append(promised_seam(strap, f"{strap}: {strap}", f"{name}: {name} strap"))
        halves = promised_snap(part, (strap,), (strap,))
        openings += [{**half, "note": note} for half, note in zip(halves, _LAPPED, strict=True)]
    if goes_on:
        pieces.append(Placeholder(guard, on=name, behind=True, states={"glued": True}))
    if part.size("drain"):
        hole = {"kind": OpeningKind.HOLE.value, "through": [name], **promised_sizes(part, hole="drain")}
        openings.append({"name": f"{name} drain", "at": [[0, 0]], **hole})
    return PartEntries(tuple(pieces), seams=tuple(seams), openings=tuple(openings))


def _leaf_corners(part: Part, items: Sequence[Item]) -> int:
    """How many corners a leaf's edge has from its foot to its mouth; as of a chisel where it isn't known."""
    sizes = [size for item in items for point in item.seen for size in (*point, item.thickness)]
    grip, drain = part.size("grip"), part.size("drain")
    if len(items) != 1 or not all(map(isfinite, (*sizes, *(items[0].handle or ()), grip, drain))):
        return 2
    edge = items[0].edge(grip=grip, drain=drain)
    return 1 + sum(b[1] > a[1] for a, b in pairwise(edge))


def flap_entries(part: Part, items: Sequence[Item]) -> PartEntries:
    """One piece that is folded, sewn on behind by a row, or its base itself, whose far side is then outside;
    and what closes it."""
    name = part.name
    one, on = part.flag("continues"), f"{part.on}"
    carries, to = on if one else name, part.word("to")
    flap = Placeholder(name, lines=(name,), folds=(f"{name} fold",), behind=True)
    closing = closing_entries(part, carries, to, behind=one)
    hinge = {**promised_rivets(part, name, on), "name": f"{name} hinge"}
    return PartEntries(
        pieces=(*(() if one else (flap,)), *closing.pieces),
        seams=(*(() if one else (promised_seam(name, f"{name}: {name}", on),)), *closing.seams),
        openings=(*((hinge,) if part.flag("rivets") and not one else ()), *closing.openings),
    )


def closing_entries(
    part: Part, carries: str, to: str, *, behind: bool = False, states: Table = NOTHING
) -> PartEntries:
    """What closes a flap: further pieces, which state what they are of, seams, and openings on the piece that
    carries them and on what it closes on; `behind` that piece where its far side is outside."""
    tab, strap, loop = (f"{part.name} {word}" for word in ("tab", "strap", "loop"))
    match part.word("closed_by"):
        case "tab":
            halves = promised_snap(part, (carries, tab), (to,))
            return PartEntries(
                (Placeholder(tab, on=carries, behind=behind, states=states),),
                openings=(*halves, promised_rivets(part, carries, tab)),
            )
        case "stud":
            return PartEntries(openings=promised_stud(part, (carries,), (to,)))
        case "strap":
            held = Placeholder(strap, lines=(strap,), on=carries, behind=behind, states=states)
            return PartEntries(
                (held, Placeholder(loop, on=to, flat=False, states=states)),
                seams=(promised_seam(strap, f"{strap}: {strap}", carries),),
                openings=(promised_rivets(part, loop, to),),
            )
        case _:
            return PartEntries(openings=promised_snap(part, (carries,), (to,)))
