"""What is worn and closed: what loops, sheaths and flaps stand for in a file.

In: a part and the items it holds. Out: `PartEntries`. See `draft/worn/` for what is drafted of them.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.read.parts.promises import PartEntries, Placeholder, promised_rivets, promised_seam
from handkit.read.project import Item, Part


def loop_entries(part: Part, items: Sequence[Item]) -> PartEntries:
    """A strip; upright held at both its ends, slung by one row through both and what lies between."""
    name = part.name
    if part.word("hang") == "slung":
        sewn = promised_seam(name, f"{name}: {name}", f"{part.on}", name)
        return PartEntries((Placeholder(name, lines=(name,), folds=(name,)),), seams=(sewn,))
    if part.word("fixing") == "rivets":
        return PartEntries((Placeholder(name, flat=False),), openings=(promised_rivets(part, name),))
    ends = {end: f"{name} {end}" for end in ("low", "high")}
    return PartEntries(
        pieces=(Placeholder(name, lines=tuple(ends.values()), flat=False),),
        base_lines=tuple(ends.values()),
        seams=tuple(
            promised_seam(f"{name}, {end}", f"{name}: {line}", f"{part.on}: {line}")
            for end, line in ends.items()
        ),
    )
