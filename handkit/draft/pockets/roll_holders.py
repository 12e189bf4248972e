"""Roll holders: tools of a roll under one strap that is sewn to its base between them, in place of a pocket.

In: a roll's part, its items, its context. Out: what a holder row drafts, moved to its place on that base.

    ┌──────────────────┐    The strap stands so high that the longest tool's end is clear of the foot; at the
    │  ‖  ‖  ‖         │    left it begins at the edge, or beside what is turned there.
    │╞═╪══╪══╪═╡       │
    │  ‖  ‖  ‖         │
    └──────────────────┘
"""

from __future__ import annotations

import msgspec

from handkit.draft.parts.drafted import DraftedPart, PartContext
from handkit.draft.pattern import RoomProfile
from handkit.draft.pockets.holder_row import draft_holder_row
from handkit.geometry.affine import Affine
from handkit.read.project import Item, Part

# From the foot, or what is turned there, to the longest tool's end, mm (common practice, no source).
OVER_FOOT = 10.0

BESIDE_HEM = 2.0


def draft_holders(part: Part, items: tuple[Item, ...], context: PartContext) -> DraftedPart:
    """The row with its lines and tools in the frame of the roll's base; what it refuses as it is."""
    row = draft_holder_row(part, items, context)
    if row.standing is None:
        return row
    hem, lowest = part.size("hem"), min(each.path.bounds()[1] for each in row.items)
    foot = hem + OVER_FOOT
    left, low = hem + BESIDE_HEM if hem else 0.0, max(foot, foot - lowest)
    lie, (strap,) = Affine.shift(left, low), row.pieces
    standing = msgspec.structs.replace(
        row.standing,
        place=row.standing.place.moved(lie),
        profiles=tuple(
            RoomProfile(each.at + low, tuple((x + left, z) for x, z in each.inside))
            for each in row.standing.profiles
        ),
        base=part.name,
    )
    return msgspec.structs.replace(
        row,
        pieces=(msgspec.structs.replace(strap, at=(left, low)),),
        base_lines=tuple(
            msgspec.structs.replace(line, points=lie.apply_all(line.points)) for line in row.base_lines
        ),
        items=tuple(msgspec.structs.replace(each, path=each.path.moved(lie)) for each in row.items),
        standing=standing,
    )
