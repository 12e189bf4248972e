"""Random projects of which nothing is wrong, over the whole language of the project file.

In: a number, from which all follows. Out: the text of a project file. It is put together from blocks that
have nothing to do with one another: those of `test_one_message.py`, and more here. Each draws its sizes from
ranges in which the trade's rules hold, so that what refuses such a project is at fault, or this module is.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import cos, pi, sin
from random import Random
from typing import Any

from test_one_message import BLOCKS, Sizes, Table, item, part, piece, seam

# Numbers that are no lengths, by their key: an inch file has them as they are.
PLAIN = frozenset(
    (
        "format",
        "copies",
        "waste",
        "tries",
        "back",
        "start_back",
        "wrap_start",
        "wrap_end",
        "turn",
        "grain",
        "slant",
        "angle",
        "teeth",
        "turns",
        "line",
        "leaves",
        "quantity",
        "spool",
    )
)
PAPERS = ("A4", "A3", "letter", "legal", "tabloid", "190x280mm")
# What the blocks call their pieces, in other scripts and with signs in it; a number follows.
NAMES = (
    "back",
    "front",
    "pocket",
    "holder",
    "strap",
    "lid",
    "lining",
    "thing",
    "bend",
    "rim",
    "rivet",
    "left",
    "right",
    "foot",
    "top",
    "holes",
    "board",
    "patch",
    "roll",
    "leaf",
)
SCRIPTS = (
    {},
    {
        "back": "Rücken",
        "front": "Vorderteil ",
        "pocket": "Täschchen",
        "thing": "Schäufelchen",
        "lid": "Deckel",
    },
    {"back": "спинка", "pocket": "карман", "strap": "ремень", "rim": "край ", "lining": "подкладка"},
    {"back": "πλάτη", "front": "εμπρός", "holder": "θήκη", "roll": "ρολό", "leaf": "φύλλο"},
    {
        "back": "back, the wide one ",
        "front": "front (1/2) ",
        "thing": 'o\\"dd ',
        "rim": "rim → ",
        "lid": "=lid",
    },
)


def opening(name: str, kind: str, through: list[str], at: Any, **keys: Any) -> Table:
    return ("[[opening]]", {"name": name, "kind": kind, "through": through, "at": at, **keys})


def fitting(name: str, kind: str, **keys: Any) -> Table:
    return ("[[fitting]]", {"name": name, "kind": kind, **keys})


def shaped(n: int, size: Sizes) -> list[Table]:
    """A piece of five to eight corners, some of them round and one edge an arc, sewn flat on a back."""
    corners, wide = int(size(5, 8)), size(45, 80)
    turns = [2 * pi * k / corners for k in range(corners)]
    points = [[round(wide * (1 + cos(t)), 1), round(wide * (1 + sin(t)), 1)] for t in turns]
    letters = "ABCDEFGH"[:corners]
    keys: dict[str, Any] = {"points": points, "round": {each: size(5, 9) for each in letters[2:4]}}
    if size(0, 1):
        keys["arc"] = {f"{letters[-2]}-{letters[-1]}": size(2, 6)}
    way = f"{'-'.join(letters)}-A" if size(0, 1) else "-".join(letters[: int(size(3, corners))])
    return [
        piece(f"back{n}", rectangle=[2 * wide + 60, 2 * wide + 60], round=size(1, 20)),
        piece(f"patch{n}", on=f"back{n}", at=[30, 30], turn=size(-2, 2), **keys),
        seam(f"rim{n}", f"patch{n}: {way}", f"back{n}", stitch=("saddle", "running")[int(size(0, 1))]),
    ]


def discs(n: int, size: Sizes) -> list[Table]:
    """Round leaves on one another, sewn all round or by a line across; with an eyelet amidst."""
    wide = size(60, 260)
    return [
        piece(f"board{n}", circle=wide),
        piece(f"leaf{n}", circle=wide, on=f"board{n}", lines={f"top{n}": [[-wide / 3, 9], [wide / 3, 9]]}),
        seam(f"rim{n}", f"leaf{n}: A-A", f"board{n}"),
        seam(f"top{n}", f"leaf{n}: top{n}", f"board{n}", pitch=4, hole={"slit": 2.2, "slant": size(30, 60)}),
        opening(f"holes{n}", "eyelet", [f"leaf{n}", f"board{n}"], [[0, -6]], hole=size(3, 6), cap=9),
    ]


def twins(n: int, size: Sizes) -> list[Table]:
    """A piece and its mirrored copy, sewn along an edge in a way of their own."""
    wide, high = size(60, 200), size(60, 280)
    way = ("saddle", "running", "whip", "cross", "box")[int(size(0, 4))]
    return [
        piece(
            f"left{n}",
            points=[[0, 0], [wide, 0], [wide, high], [size(5, 20), high + size(0, 9)]],
            round={"D": size(2, 8)},
            note="the grain's way",
        ),
        piece(f"right{n}", copy=f"left{n}", mirrored=True),
        seam(f"rim{n}", f"left{n}: B-C", f"right{n}: B-C", stitch=way, note="well waxed"),
    ]


def cloth(n: int, size: Sizes) -> list[Table]:
    """Canvas, hemmed, turned, bound and with an allowance, with a hemmed pocket sewn on it."""
    wide, high, kind = size(120, 420), size(120, 330), ("canvas", "felt", "webbing")[int(size(0, 2))]
    turn_in = size(6, 9)  # felt is too thick to be turned twice
    twice = {"turns": 1} if kind == "felt" else {"turns": 2, "turn_in": turn_in}
    edges = [
        {"hem": {"C-D": {"width": 14, **twice}}, "turned": {"D-A-B-C": 10}},
        {"binding": {"D-A-B-C": {"width": size(16, 24), "thickness": 0.5}}, "hem": {"C-D": 14}},
        {"turned": {"A-B": size(8, 12)}, "allowance": {"B-C": size(4, 12)}},
        {},
    ][int(size(0, 3))]
    tables = [
        piece(f"roll{n}", rectangle=[wide, high], kind=kind, thickness=0.7, shows="back", **edges),
        piece(
            f"pocket{n}",
            rectangle=[wide - 30, 80],
            kind="canvas",
            thickness=0.6,
            on=f"roll{n}",
            at=[15, 15],
            hem={"C-D": {"width": 15, "turns": 2, "turn_in": 8}},
            turned={"D-A-B-C": 10},
        ),
        seam(f"top{n}", {"run": f"pocket{n}: C-D", "from_start": 2, "from_end": 2}, inset=12),
        seam(f"foot{n}", f"pocket{n}: D-A-B-C", f"roll{n}", inset=6, hold="tape"),
    ]
    if "hem" in edges:
        tables.append(seam(f"rim{n}", {"run": f"roll{n}: C-D", "from_start": 2, "from_end": 2}, inset=11))
    return tables


def belt(n: int, size: Sizes) -> list[Table]:
    """A strap with a buckle at its fold, tongue holes, a keeper, and its end sewn down."""
    long, wide = size(320, 900), size(25, 40)
    middle = wide / 2
    closed = {"holes": f"holes{n}", "girth": [long - 200, long - 150]} if size(0, 1) else {}
    return [
        piece(
            f"strap{n}",
            points=[[0, 0], [long - 14, 0], [long, middle], [long - 14, wide], [0, wide]],
            grain=0,
            folds={f"bend{n}": [[50, 0], [50, wide]]},
            lines={
                f"left{n}": [[8, 6], [32, 6]],
                f"right{n}": [[92, 6], [68, 6]],
            },
        ),
        seam(f"foot{n}", f"strap{n}: left{n}", f"strap{n}: right{n}"),
        opening(f"slot{n}", "slot", [f"strap{n}"], [[50, middle]], slot=[22, 4]),
        opening(
            f"holes{n}", "tongue", [f"strap{n}"], [[long - 160, middle]], hole=4, row=[int(size(3, 5)), 25, 0]
        ),
        fitting(f"buckle{n}", "buckle", on=f"strap{n}", fold=f"bend{n}", inside=wide, bar=4, **closed),
        fitting(f"loop{n}", "keeper", on=f"strap{n}", inside=wide + 1, thickness=8, leaves=3),
    ]


def shut(n: int, size: Sizes) -> list[Table]:
    """A leaf folded by some angle, with halves of a snap, a magnet and a cord through an eyelet."""
    wide, high = size(90, 190), size(160, 380)
    angle = (30, 90, 150, 180)[int(size(0, 3))]
    bend = {"line": [[0, high - 55], [wide, high - 55]], "angle": angle, "radius": size(0, 3), "out": "grain"}
    return [
        piece(f"leaf{n}", rectangle=[wide, high], round=size(3, 12), folds={f"bend{n}": bend}),
        opening(
            f"ball{n}", "snap", [f"leaf{n}"], [[wide / 2, high - 20]], hole=4, line=20, mate=f"socket{n}"
        ),
        opening(
            f"socket{n}", "snap", [f"leaf{n}"], [[wide / 2, high - 90]], hole=4, line=20, mate=f"ball{n}"
        ),
        opening(f"holes{n}", "eyelet", [f"leaf{n}"], [[20, 20]], hole=5, cap=10),
        fitting(f"cord{n}", "cord", length=600, diameter=3, through=f"holes{n}"),
        fitting(f"magnet{n}", "magnet", diameter=8, thickness=2, on=f"leaf{n}", at=[[wide - 25, 25]]),
        seam(f"rim{n}", f"leaf{n}: D-A-B-C", back=int(size(0, 4)), wrap_end=int(size(0, 2))),
    ]


def many(n: int, size: Sizes) -> list[Table]:
    """A tag that is cut many times, with what can be done to a piece by itself."""
    wide, high = size(25, 120), size(25, 90)
    return [
        piece(
            f"lid{n}",
            rectangle=[wide, high],
            quantity=int(size(1, 9)),
            mark=("grain", "flesh")[int(size(0, 1))],
            thickness="4 oz",
            skive={"A-B": {"width": 8, "to": 0.8}},
            trim={"B-C": 2},
        ),
        opening(f"slot{n}", "slot", [f"lid{n}"], [[wide / 2, high / 2]], slot=[12, 3], turn=size(0, 180)),
    ]


def large(n: int, size: Sizes) -> list[Table]:
    """What fits no sheet: a panel or a long strap, with seams along its edges, one of them by an iron."""
    wide, high = (size(230, 520), size(300, 620)) if size(0, 1) else (size(700, 1500), size(20, 45))
    return [
        piece(f"board{n}", rectangle=[wide, high], round=(2, 9)[int(size(0, 1))], grain=0),
        seam(
            f"foot{n}",
            f"board{n}: A-B",
            spacing="iron",
            iron={"teeth": 6, "pitch": 4},
            longest=size(400, 2000),
        ),
        seam(f"top{n}", f"board{n}: C-D", after=[f"foot{n}"], thread=0.6, tail=size(0, 200)),
    ]


def bag(n: int, size: Sizes) -> list[Table]:
    """Back, front and a gusset between them, and a zip at the mouth."""
    wide, high, bow = size(160, 320), size(120, 220), size(16, 30)
    long = 2 * (high - 8 - bow) + (wide - 2 * bow) + pi * (bow - 4) + 8
    return [
        piece(f"back{n}", rectangle=[wide, high], round={"A": bow, "B": bow}, shows="flesh"),
        piece(f"front{n}", rectangle=[wide, high], round={"A": bow, "B": bow}, on=f"back{n}", flat=False),
        piece(f"strap{n}", rectangle=[round(long, 2), size(30, 70)], grain=0, on=f"back{n}", flat=False),
        seam(f"top{n}", f"front{n}: D-C"),
        seam(f"rim{n}", f"back{n}: D-C"),
        seam(f"left{n}", {"run": f"front{n}: D-A-B-C", "from_start": 4, "from_end": 4}, f"strap{n}: A-B"),
        seam(f"right{n}", {"run": f"back{n}: D-A-B-C", "from_start": 4, "from_end": 4}, f"strap{n}: D-C"),
        fitting(f"zip{n}", "zip", length=wide - 20, tape=14, thickness=0.8, seams=[f"top{n}", f"rim{n}"]),
    ]


def odd(n: int, size: Sizes) -> list[Table]:
    """Pockets round things of any section, one lined, behind or turned on their base."""
    section = [[0, 0], [size(30, 50), 0], [size(25, 30), size(6, 9)], [size(5, 10), size(3, 6)]]
    return [
        piece(f"back{n}", rectangle=[330, 300]),
        part(
            f"pocket{n}",
            "flat pocket",
            on=f"back{n}",
            at=[20, 20],
            dividers=bool(size(0, 1)),
            round=size(4, 9),
        ),
        item(f"thing{n}a", f"pocket{n}", section=section, length=size(90, 160)),
        item(f"thing{n}b", f"pocket{n}", diameter=size(4, 14), length=size(90, 160)),
        part(
            f"holder{n}",
            "holder row",
            on=f"back{n}",
            at=[200, 40],
            turn=90 * int(size(0, 1)),
            strap=size(24, 36),
        ),
        item(f"thing{n}c", f"holder{n}", diameter=size(8, 14), length=90),
        part(f"lining{n}", "lining", of=f"pocket{n}", inset_by=0),
    ]


MORE: dict[str, Callable[[int, Sizes], list[Table]]] = {
    each.__name__: each for each in (shaped, discs, twins, cloth, belt, shut, many, large, bag, odd)
}
ALL = {**BLOCKS, **MORE}


def page(rng: Random) -> dict[str, Any]:
    """Options of the page."""
    edge = rng.choice((0, 3, 5, 8))
    options: dict[str, Any] = {
        "paper": rng.choice(PAPERS),
        "edge": edge,
        "margin": edge + rng.randint(4, 12),
        "overlap": rng.randint(9, 16),
        "windows": rng.choice(("shared", "one a sheet")),
        "draw": rng.choice(("once", "each")),
        "straights": rng.choice(("whole", "shortened")),
        "measured": rng.random() < 0.3,
        "tries": rng.choice((0, 0, 0, 0, 0, 5)),
    }
    return {key: options[key] for key in options if rng.random() < 0.5 or key in ("edge", "margin")}


def stitching(rng: Random) -> dict[str, Any]:
    """What holds for all seams."""
    options: dict[str, Any] = {
        "pitch": rng.choice((3.5, 4, 4, 4.5)),
        "thread": rng.choice((0.6, 0.8)),
        "hole": rng.choice(({"round": 1.6}, {"round": 1.4}, {"slit": 2.2, "slant": 45})),
        "punch": rng.choice(("apart", "through")),
        "needle": 0.9,
        "tail": rng.choice((60, 180)),
        "back": rng.randint(0, 4),
        "start_back": rng.randint(0, 3),
        "wrap_start": rng.randint(0, 2),
        "wrap_end": rng.randint(0, 2),
        "longest": rng.choice((500, 900, 1500)),
        "hand": rng.choice(("left", "right")),
        "fibre": rng.choice(("synthetic", "linen")),
        "spool": rng.choice((10, 25)),
        "iron": {"teeth": rng.randint(2, 8), "pitch": 4},
        "hold": rng.choice(("cement", "tape")),
        "glue": 1.5,
    }
    chosen = {key: options[key] for key in options if rng.random() < 0.35}
    if "slit" in chosen.get("hole", ()):
        chosen["pitch"] = max(chosen.get("pitch", 0), 4)  # round a corner slits come nearer to one another
    return chosen


def project(seed: int) -> str:
    """The project of this number."""
    rng = Random(seed)
    kinds = rng.choices(list(ALL), k=rng.randint(1, 4))
    tables: list[Table] = [
        ("[material]", {"thickness": rng.choice((1.2, 1.6, 2, 2)), "waste": rng.randint(0, 60)}),
        ("[stitching]", stitching(rng)),
        ("[page]", page(rng)),
        ("[make]", {"copies": rng.choice((1, 1, 1, 2, 5))}),
    ]
    for number, kind in enumerate(kinds, 1):
        block = ALL[kind](number, lambda low, high: float(rng.randint(int(low), int(high))))
        # Tables of one heading stand together or not: TOML doesn't mind, and reading must not.
        tables += block
    return written(tables, unit=rng.choice(("mm", "mm", "mm", "in", "cm")), script=rng.choice(SCRIPTS))


PER = {"mm": 1.0, "cm": 10.0, "in": 25.4}


def written(tables: list[Table], *, unit: str, script: dict[str, str]) -> str:
    """The project file, its lengths in this unit and its names in this script."""
    out = ["format = 1", f'unit = "{unit}"']
    for heading, keys in tables:
        out += [heading, *(f"{key} = {value_text(value, key, PER[unit])}" for key, value in keys.items())]
    text = "\n".join(out) + "\n"
    return re.sub(rf"\b({'|'.join(NAMES)})(?=\d)", lambda found: script.get(found[1], found[1]), text)


def value_text(value: Any, key: str, per: float) -> str:
    """As TOML writes it; numbers that are lengths are so many of the unit."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        pairs = (f'"{name}" = {value_text(each, name, per)}' for name, each in value.items())
        return "{ " + ", ".join(pairs) + " }"
    if isinstance(value, list | tuple):
        if key == "row":
            return f"[{int(value[0])}, {value[1] / per:.10g}, {value[2] / per:.10g}]"
        inner = "at" if key == "line" else key
        return "[" + ", ".join(value_text(each, inner, per) for each in value) + "]"
    return f"{value:.10g}" if key in PLAIN else f"{value / per:.10g}"
