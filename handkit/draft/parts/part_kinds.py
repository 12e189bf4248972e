"""Part kinds: which module drafts which kind of part; one row for each.

A new kind is a module with a function of the type `Drafting`, and a row here. What it promises and
which keys it has stand in `read/parts/part_kinds.py`.
"""

from __future__ import annotations

from handkit.draft.cases.bag import draft_bag
from handkit.draft.cases.fold_cover import draft_fold_cover
from handkit.draft.parts.lining import draft_lining
from handkit.draft.parts.room import draft_room
from handkit.draft.parts.strap import draft_strap
from handkit.draft.pockets.bowed_pocket import draft_bowed_pocket
from handkit.draft.pockets.boxed_pocket import draft_boxed_pocket
from handkit.draft.pockets.flat_pocket import draft_flat_pocket
from handkit.draft.pockets.holder_row import draft_holder_row
from handkit.draft.pockets.roll import draft_roll
from handkit.draft.pockets.stepped_pockets import draft_stepped_pockets
from handkit.draft.worn.flap import draft_flap
from handkit.draft.worn.loop import draft_loop
from handkit.draft.worn.sheath import draft_sheath
from handkit.kinds.rows import table
from handkit.read.project import PartKind

DRAFTINGS = table(
    PartKind,
    {
        PartKind.FLAT_POCKET: draft_flat_pocket,
        PartKind.BOWED_POCKET: draft_bowed_pocket,
        PartKind.BOXED_POCKET: draft_boxed_pocket,
        PartKind.HOLDER_ROW: draft_holder_row,
        PartKind.STEPPED_POCKETS: draft_stepped_pockets,
        PartKind.BAG: draft_bag,
        PartKind.FOLD_COVER: draft_fold_cover,
        PartKind.LINING: draft_lining,
        PartKind.LOOP: draft_loop,
        PartKind.SHEATH: draft_sheath,
        PartKind.STRAP: draft_strap,
        PartKind.FLAP: draft_flap,
        PartKind.ROLL: draft_roll,
        PartKind.ROOM: draft_room,
    },
)

# Kinds that are drafted over what others hold, and so after them.
CLOSES_OVER = frozenset({PartKind.FLAP})
