"""Cases: what wallets, covers and bags, and the pockets in them, stand for in a file.

In: a part and its items. Out: its `PartEntries`. A stepped pocket's *foot* is its row of
stitches on the base.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.read.parts.promises import PartEntries, Placeholder, promised_seam
from handkit.read.project import Item, Part


def stepped_pockets(part: Part, items: Sequence[Item]) -> PartEntries:
    """Pockets from the highest down, the feet of all but the lowest, and a row round all of them."""
    name, seams, beside = part.name, part.names("seams"), part.word("beside")
    pockets = tuple(f"{name} {k}" for k in range(1, (part.count("steps") or max(len(items), 1)) + 1))
    row = () if beside == "none" else (f"{name}, {beside}",)
    rows = row if seams else (name, *row)
    return PartEntries(
        pieces=tuple(
            Placeholder(pocket, letters=8 if part.flag("tees") and pocket != pockets[-1] else 4)
            for pocket in pockets
        ),
        base_lines=rows,
        seams=(
            *(promised_seam(f"{pocket}, foot", f"{pocket}: A-B", f"{part.on}") for pocket in pockets[:-1]),
            *(promised_seam(line, f"{part.on}: {line}", *pockets) for line in rows),
        ),
        joining=pockets if seams else (),
        joins=seams,
        pulled=rows,
    )
