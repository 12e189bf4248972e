"""Makes the later six sets and writes them into `sets.json`, after the first six, which stand there only.

Run it as it stands: `python tests/bench/layout/make_sets.py`. Nothing in it is random. All shapes
are invented; a satchel for sketching trips, things for a bindery's counter, a roll for grafting
tools, harness-like rings and corners, belts, and a mixed lot. All mm, rounded to a thousandth.

    h_satchel    long gusset, big panels, a strap with tongue holes
    i_counter    many small things, none in need of a join
    j_toolroll   one huge piece with rows of lacing holes
    k_rings      open rings, corners, a cross: much air in their boxes
    l_belts      long and narrow, studs along all of them
    m_mix        panels laced at their edges, corners, straps and small things on A3
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from math import cos, pi, radians, sin
from pathlib import Path
from typing import Any

SETS = Path(__file__).with_name("sets.json")
FIRST = 6

A4 = {"name": "a4", "w": 210, "h": 297}
A3 = {"name": "a3", "w": 297, "h": 420}
LETTER = {"name": "letter", "w": 215.9, "h": 279.4}

Point = tuple[float, float]
Ring = list[Point]
Hole = tuple[float, float, float]


def arc(r: float, start: float, end: float, bits: int, at: Point = (0.0, 0.0)) -> Ring:
    """Points of an arc from one angle to another, in degrees."""
    angles = [radians(start + (end - start) * k / bits) for k in range(bits + 1)]
    return [(at[0] + r * cos(angle), at[1] + r * sin(angle)) for angle in angles]


def rounded(w: float, h: float, r: float) -> Ring:
    """A rectangle with round corners."""
    corners = [(w - r, r, -90), (w - r, h - r, 0), (r, h - r, 90), (r, r, 180)]
    return [point for x, y, turn in corners for point in arc(r, turn, turn + 90, 6, (x, y))]


def regular(count: int, r: float) -> Ring:
    """A regular polygon, or a circle by many corners."""
    return arc(r, 0, 360, count)[:-1]


def flap(w: float, straight: float, deep: float) -> Ring:
    """Straight sides, then half an ellipse."""
    lower = [(w / 2 + w / 2 * cos(pi * k / 24), straight + deep * sin(pi * k / 24)) for k in range(25)]
    return [(0, 0), (w, 0), *lower]


def strap(length: float, w: float) -> Ring:
    """One end straight, one pointed, as wide as half its width."""
    return [(0, 0), (length - w / 2, 0), (length, w / 2), (length - w / 2, w), (0, w)]


def tapered(length: float, end: float, middle: float) -> Ring:
    """A gusset: wider in its middle third than at its ends."""
    off = (middle - end) / 2
    a, b = length / 3, 2 * length / 3
    low = [(0, off), (a, 0), (b, 0), (length, off)]
    return [*low, *((x, middle - y) for x, y in reversed(low))]


def open_ring(r: float, w: float, gap: float) -> Ring:
    """A ring with a mouth of `gap` degrees."""
    outer = arc(r, gap / 2, 360 - gap / 2, 60)
    return [*outer, *reversed(arc(r - w, gap / 2, 360 - gap / 2, 60))]


def corner(a: float, b: float, w: float) -> Ring:
    """An L."""
    return [(0, 0), (a, 0), (a, w), (w, w), (w, b), (0, b)]


def cross(a: float, w: float) -> Ring:
    """Four arms of equal length."""
    p, q = (a - w) / 2, (a + w) / 2
    return [(p, 0), (q, 0), (q, p), (a, p), (a, q), (q, q), (q, a), (p, a), (p, q), (0, q), (0, p), (p, p)]


def lens(length: float, r: float) -> Ring:
    """Two equal arcs: a leaf."""
    half = length / 2
    deep = (r * r - half * half) ** 0.5
    bits = [k / 10 for k in range(-10, 11)]
    upper = [(half * t, (r * r - (half * t) ** 2) ** 0.5 - deep) for t in bits]
    return [*((x, -y) for x, y in upper), *reversed(upper[1:-1])]


def row(first: Point, step: Point, count: int, hole: float) -> list[Hole]:
    """Equal holes in a straight row."""
    return [(first[0] + step[0] * k, first[1] + step[1] * k, hole) for k in range(count)]


def piece(
    name: str, ring: Iterable[tuple[float, float]], quantity: int = 1, holes: Iterable[Hole] = ()
) -> Any:
    """A piece as the file has it."""
    found: dict[str, Any] = {
        "name": name,
        "points": [[tidy(x), tidy(y)] for x, y in ring],
        "quantity": quantity,
    }
    if holes := list(holes):
        found["holes"] = [[tidy(x), tidy(y), tidy(d)] for x, y, d in holes]
    return found


def tidy(value: float) -> float:
    """Thousandths, and no minus before a zero."""
    return round(value, 3) + 0.0


def satchel() -> list[Any]:
    return [
        piece("back", rounded(360, 270, 30)),
        piece("front", rounded(360, 240, 30)),
        piece("flap", flap(362, 190, 110)),
        piece("gusset", tapered(870, 70, 90)),
        piece("pocket", rounded(220, 150, 20)),
        piece("pencil loop", rounded(170, 36, 5), 2),
        piece("strap", strap(1180, 32), 1, row((1000, 16), (25, 0), 7, 5)),
        piece("buckle end", strap(230, 32), 1, row((60, 16), (22, 0), 3, 3)),
        piece("ring tab", rounded(64, 25, 6), 2),
    ]


def counter() -> list[Any]:
    return [
        piece("coaster", regular(48, 47), 6),
        piece("hexagon coaster", regular(6, 52), 6),
        piece("leaf", lens(110, 75), 8),
        piece("bookmark", strap(165, 38), 6),
        piece("bag tag", [(0, 0), (70, 0), (86, 15), (86, 27), (70, 42), (0, 42)], 8),
        piece("pen wrap", corner(60, 44, 18), 6),
        piece("thimble", [(0, 0), (46, 0), (38, 30), (8, 30)], 8),
        piece("corner guard", [(0, 0), (52, 0), (0, 52)], 8),
    ]


def toolroll() -> list[Any]:
    roll: Ring = [(0, 0), (640, 0), (640, 300), (610, 380), (560, 420), (60, 420), (0, 360)]
    bays = [hole for k in range(19) for hole in row((32 + 32 * k, 14), (0, 14), 12, 3)]
    ties = [hole for k in range(7) for hole in row((60 + 80 * k, 18), (0, 16), 7, 3)]
    return [
        piece("roll", roll, 1, bays),
        piece("weather flap", rounded(600, 130, 25), 1, ties),
        piece("tie", strap(620, 20), 2, row((20, 10), (24, 0), 24, 3)),
        piece("pencil pocket", [(0, 0), (150, 0), (150, 120), (0, 90)]),
        piece("knife sheath", [(0, 0), (44, 0), (52, 60), (40, 190), (22, 214), (4, 190), (-8, 60)], 2),
    ]


def rings() -> list[Any]:
    return [
        piece("collar", open_ring(205, 55, 50)),
        piece("half collar", open_ring(150, 40, 180), 2),
        piece("corner", corner(380, 300, 60), 2),
        piece("small corner", corner(180, 150, 40), 4),
        piece("cross", cross(330, 60)),
        piece("washer", open_ring(60, 22, 20), 4),
    ]


def belts() -> list[Any]:
    return [
        piece("wide belt", strap(1210, 45), 1, row((17.5, 22.5), (24, 0), 50, 6)),
        piece("belt", strap(1060, 35), 1, row((12, 17.5), (20, 0), 52, 4)),
        piece("narrow belt", strap(980, 25), 2, row((15, 12.5), (18, 0), 53, 3)),
        piece("sling", tapered(1400, 30, 60)),
        piece("keeper", rounded(105, 16, 3), 5),
    ]


def mix() -> list[Any]:
    edge = [*row((20, 10), (15, 0), 27, 4), *row((20, 510), (15, 0), 27, 4), *row((10, 30), (0, 15), 32, 4)]
    return [
        piece("laced panel", rounded(430, 520, 12), 1, edge),
        piece("laced side", rounded(150, 520, 10), 2, row((138, 20), (0, 15), 33, 4)),
        piece("lid", flap(430, 120, 130), 1, row((20, 14), (15, 0), 27, 4)),
        piece("corner brace", corner(260, 260, 50), 2),
        piece("carrying strap", strap(900, 40), 2, row((24, 20), (16, 0), 53, 4)),
        piece("label", rounded(90, 55, 8), 4),
        piece("button", regular(24, 17), 12),
    ]


LATER: tuple[tuple[str, dict[str, Any], Callable[[], list[Any]]], ...] = (
    ("h_satchel", A4, satchel),
    ("i_counter", LETTER, counter),
    ("j_toolroll", A4, toolroll),
    ("k_rings", LETTER, rings),
    ("l_belts", A4, belts),
    ("m_mix", A3, mix),
)


def later_sets() -> list[dict[str, Any]]:
    """The later six, as the file has them."""
    page = {"margin": 10, "overlap": 10, "gap": 2}
    return [{"name": name, "paper": paper, **page, "pieces": made()} for name, paper, made in LATER]


def main() -> None:
    """Keep the first six, write the later six after them, a piece to a line."""
    sets = [*json.loads(SETS.read_text("utf-8"))[:FIRST], *later_sets()]
    SETS.write_text(text_of(sets), "utf-8")


def text_of(sets: list[dict[str, Any]]) -> str:
    """A piece to a line."""
    return "[\n" + ",\n".join(_set_text(one) for one in sets) + "\n]\n"


def _set_text(one: dict[str, Any]) -> str:
    head = json.dumps({key: value for key, value in one.items() if key != "pieces"})[:-1]
    return head + ', "pieces": [\n' + ",\n".join(json.dumps(p) for p in one["pieces"]) + "\n]}"


if __name__ == "__main__":
    main()
