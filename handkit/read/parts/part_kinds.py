"""Part kinds: one row for each kind of part: its keys, its items, what it stands for in a file.

In: a part and the items it holds. Out: `PartEntries`: the tables that a file would have in its
place. The names follow one rule: everything is called after the part; where a part drafts several
of a sort, each has a word or a number more.

A new kind is a row here, its keys in `schema/keys.py`, and a module in `draft/` (see there). What a kind
promises stands in a module of its own beside this one where it is more than a few lines.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handkit.kinds.rows import table
from handkit.read.parts.cases import bag, fold_cover, stepped_pockets
from handkit.read.parts.promises import (
    ALL_ROUND,
    MOST_ITEMS,
    KindRow,
    PartEntries,
    Placeholder,
    promised_rivets,
    promised_seam,
)
from handkit.read.parts.roll import roll_entries
from handkit.read.parts.strap import strap_entries
from handkit.read.parts.worn import flap_entries, loop_entries, sheath_entries
from handkit.read.project import BAG_FLAPS, Item, Part, PartKind


def _flat_pocket(part: Part, items: Sequence[Item]) -> PartEntries:
    name = part.name
    numbered = tuple(f"{name} {k}" for k in range(1, len(items))) if part.flag("dividers") else ()
    between = (promised_seam(each, f"{name}: {each}", f"{part.on}") for each in numbered)
    return PartEntries(
        pieces=(Placeholder(name, lines=numbered),),
        seams=(promised_seam(name, f"{name}: D-A-B-C", f"{part.on}"), *between),
        pulled=(name, *numbered),
    )


def _bowed_pocket(part: Part, items: Sequence[Item]) -> PartEntries:
    name, hemmed = part.name, part.length("hem") is not None
    rounded = part.length("round") is not None  # then foot and base are not quite alike
    runs = {"left": "H-A" if hemmed else "D-A", "foot": "A-B", "right": "B-C"}
    return PartEntries(
        pieces=(Placeholder(name, letters=8 if hemmed else 4, flat=False),),
        base_lines=tuple(f"{name} {side}" for side in runs),
        seams=tuple(
            promised_seam(
                f"{name}, {side}",
                f"{name}: {run}",
                f"{part.on}: {name} {side}",
                bowed=side != "foot" or rounded,
            )
            for side, run in runs.items()
        ),
        openings=(promised_rivets(part, name, f"{part.on}"),) if part.flag("rivets") else (),
        pulled=(f"{name}, left",),
    )


def _boxed_pocket(part: Part, items: Sequence[Item]) -> PartEntries:
    name = part.name
    front, gusset = f"{name} front", f"{name} gusset"
    turned = part.word("gusset") == "turned"  # its flanges are meant to be longer round the corners
    return PartEntries(
        pieces=(Placeholder(front, flat=False), Placeholder(gusset, flat=False)),
        base_lines=(name,),
        seams=(
            promised_seam(f"{name}, front", f"{front}: D-A-B-C", f"{gusset}: A-B", bowed=turned),
            promised_seam(f"{name}, base", f"{part.on}: {name}", f"{gusset}: D-C", bowed=turned),
        ),
        pulled=(f"{name}, front", f"{name}, base"),
    )


def _holder_row(part: Part, items: Sequence[Item]) -> PartEntries:
    name, strap = part.name, f"{part.name} strap"
    lines = tuple(f"{name} {k}" for k in range(1, len(items) + 2))
    return PartEntries(
        pieces=(Placeholder(strap, lines=lines, flat=False),),
        base_lines=lines,
        seams=tuple(promised_seam(line, f"{strap}: {line}", f"{part.on}: {line}") for line in lines),
    )


def _lining(part: Part, items: Sequence[Item]) -> PartEntries:
    name, seams = part.name, part.names("seams")
    return PartEntries(
        pieces=(Placeholder(name, like=part.on, behind=True),),
        seams=() if seams else (promised_seam(name, f"{name}: {ALL_ROUND}", f"{part.on}"),),
        joining=(name,),
        joins=seams,
    )


_PLACE = ("at", "turn", "behind")
_POCKET = (*_PLACE, "ease", "shows", "width", "height", "round")

KINDS: Mapping[PartKind, KindRow] = table(
    PartKind,
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
        PartKind.STEPPED_POCKETS: KindRow(
            "For cards and notes: pockets one above the other, each mouth higher than the next one's.",
            (*_PLACE, "ease", "steps", "reveal", "tees", "width", "round", "seams", "beside"),
            ("on",),
            (1, MOST_ITEMS),
            stepped_pockets,
            "pieces P 1, P 2 … from the highest down, a seam P 1, foot and so on for all but the lowest; "
            "line P on its base and seam P through all, unless `seams` names others; line and seam P, left "
            "or P, right where `beside` asks for it",
        ),
        PartKind.BAG: KindRow(
            "Stands by itself: front, back, and a gusset between them in one strip or three.",
            (
                "ease",
                "width",
                "height",
                "depth",
                "round",
                "strips",
                "closed_by",
                "flap",
                "hem",
                "drop",
                "strap",
                *("allowance", "below", "band"),
                *("snap_hole", "snap_cap", "rivet_hole", "rivet_cap", "stud_hole", "stud_neck", "stud_head"),
            ),
            (),
            (1, MOST_ITEMS),
            bag,
            "pieces P back, P front, P gusset or P left, P right and P base, P front handle, P back "
            "handle, P flap of one with an allowance; seams P, front and P, back, of three strips P, "
            "front left and so on, P, left and P, right; seams P zip, front and P zip, back, fitting P "
            "zip; openings P cap or P hole, and P stud; with a tab piece P tab, opening P rivets; with a "
            "strap pieces P strap and P loop, seam P strap, opening P rivets; a seam for each hem and each "
            "handle's end",
            words={"closed_by": ("none", "zip", *BAG_FLAPS)},
        ),
        PartKind.FOLD_COVER: KindRow(
            "Stands by itself: two leaves and a spine round a book or a pad, or for other parts to lie on.",
            ("ease", "width", "height", "depth", "round", "ends", "sleeve", "board", "spine", "flap"),
            (),
            (0, 1),
            fold_cover,
            "piece P, its folds spine, left and spine, right; with sleeves pieces P left and P right, seams "
            "P, left and P, right; with turn-ins seams P, left foot and so on; where the spine is level low "
            "and high, and left and right at its ends",
        ),
        PartKind.LINING: KindRow(
            "Behind another piece, of its shape.",
            ("inset_by", "seams"),
            ("of",),
            (0, 0),
            _lining,
            "piece P, seam P unless `seams` names others; of what a pocket or a holder row drafts it has no "
            "seam: theirs go through it, and the rivets, where it lies under them",
        ),
        PartKind.LOOP: KindRow(
            "For a belt: a strip that it goes through.",
            (
                *_PLACE,
                "ease",
                "strap",
                "round",
                "belt_thickness",
                "hang",
                "fixing",
                "rivet_hole",
                "rivet_cap",
            ),
            ("on", "belt"),
            (0, 0),
            loop_entries,
            "piece P; upright: lines P low and P high on it and its base, seams P, low and P, high, or "
            "opening P rivets; slung: line P on it, seam P, fold P",
        ),
        PartKind.SHEATH: KindRow(
            "For a blade: one piece folded round its back, with a welt between its edge and the thread.",
            (
                *("on", *_PLACE, "ease", "welt", "grip", "handle_strap", "belt", "belt_thickness", "drain"),
                *("snap_hole", "snap_cap"),
            ),
            (),
            (1, 1),
            sheath_entries,
            "pieces P and P welt; fold P back, seam P; on a base line and seam P hang, for a belt line, fold "
            "and seam P loop; for a handle piece P strap, line P strap on both, seam P strap, openings P cap "
            "and P stud; where any of these goes on above the mouth piece P guard; opening P drain",
            handles=True,
        ),
        PartKind.STRAP: KindRow(
            "With a buckle at one end and tongue holes for the girths it is to close round.",
            (
                "inside",
                "tongue",
                "usual",
                "step",
                "beyond",
                "point",
                "tip",
                "keepers",
                "loose",
                "band",
                *("lined", "padding", "padding_width"),
            ),
            ("width", "bar", "girth"),
            (0, 0),
            strap_entries,
            "piece P, folded on its line buckle; P lining; P padding; P keeper, or P keeper 1, P keeper 2 …; "
            "a seam of the name of each, and P, lower and P, upper, with numbers where a fixed keeper parts "
            "them; openings P slot and P holes; fittings P buckle and those of the keepers",
        ),
        PartKind.FLAP: KindRow(
            "For closing over what the other parts hold: hinged behind the upper edge of its base.",
            (
                *("width", "continues", "closed_by", "reach", "below", "lap", "round", "rivets"),
                *("snap_hole", "snap_cap", "rivet_hole", "rivet_cap", "stud_hole", "stud_neck", "stud_head"),
                *("strap", "band"),
            ),
            ("on", "to"),
            (0, 0),
            flap_entries,
            "piece P with line P and fold P fold, seam P; openings P cap, and P stud on what it closes on; "
            "with rivets opening P hinge; "
            "with a tab piece P tab, opening P rivets; with a button stud P hole in place of P cap; with a "
            "strap pieces P strap and P loop, seam P strap, opening P rivets; one that continues its "
            "base: its fold on that, no piece P and no seam",
            words={"closed_by": ("snap", "tab", "stud", "strap")},
        ),
        PartKind.ROLL: KindRow(
            "For tools side by side in one pocket or under one strap: rolled up with a flap, and closed.",
            (
                *("ease", "shows", "height", "flap", "hem", "margin", "closed_by", "eye_hole", "eye_cap"),
                *("inside", "bar", "girth", "holds", "strap", "gap", "round"),
            ),
            (),
            (1, MOST_ITEMS),
            roll_entries,
            "piece P with fold flap, and P pocket; seam P round both; lines and seams P 1, P 2 … beside its "
            "items; with holders P strap in place of P pocket, seam P with a hem alone; with a hem seams P "
            "mouth and P top; opening P eye and fitting P tie; with a buckle all that a strap called P "
            "closing strap drafts, and a line and a seam of that name on both",
            words={"closed_by": ("tie", "buckle", "none")},
        ),
        PartKind.ROOM: KindRow(
            "For a thing between pieces that the file writes itself, so that what is in its way, and what a "
            "blade passes as it is drawn, is told there, too.",
            (*_PLACE, "height", "grip", "pieces"),
            ("on", "cover"),
            (1, 1),
            lambda _part, _items: PartEntries(),
            "nothing: its thing lies with its lower left corner at its `at`",
            handles=True,
        ),
    },
)
