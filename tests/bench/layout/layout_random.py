"""Sets drawn by lot: the same for the same number, on any machine.

In: a number, or how many pieces. Out: a `Case`. All mm.

Pieces are what a bench makes: panels with round corners, straps, corners, open rings, stars, and
odd shapes with notches; some with a row of holes; most small, some larger than a sheet.
"""

from __future__ import annotations

from math import cos, pi, sin
from random import Random

from layout_case import Case, Drawing, Point

PAPERS = (("a4", 210.0, 297.0), ("letter", 215.9, 279.4), ("a3", 297.0, 420.0))
Hole = tuple[float, float, float]


def random_case(seed: int, *, most: int = 40) -> Case:
    """2 to `most` pieces on one of three papers."""
    lot = Random(seed)
    count = round(2 * (most / 2) ** lot.random())
    large = lot.choice((0.0, 0.1, 0.3, 0.6))
    pieces = [_piece(lot, f"piece {k}", large) for k in range(1, count + 1)]
    return _case(f"random {seed}", lot.choice(PAPERS), pieces)


def growing_case(count: int) -> Case:
    """So many different pieces, one in ten of them larger than a sheet."""
    lot = Random(count)
    pieces = [_piece(lot, f"piece {k}", 1.0 if k % 10 == 0 else 0.0) for k in range(1, count + 1)]
    return _case(f"{count} pieces", PAPERS[0], pieces)


def _case(name: str, paper: tuple[str, float, float], pieces: list[Drawing]) -> Case:
    return Case(name, *paper, margin=10.0, overlap=10.0, gap=2.0, pieces=tuple(pieces))


def _piece(lot: Random, name: str, large: float) -> Drawing:
    most = 520.0 if lot.random() < large else 170.0
    w, h = lot.uniform(25, most), lot.uniform(25, most)
    kind = lot.choice((_panel, _panel, _strap, _corner, _ring, _star, _notched, _notched))
    ring, holes = kind(lot, w, h)
    tidy = tuple((round(x, 3), round(y, 3)) for x, y in ring)
    row = holes if lot.random() < 0.3 else []
    return Drawing(name, tidy, tuple((round(x, 3), round(y, 3), d) for x, y, d in row))


def _arc(r: float, start: float, end: float, bits: int, at: Point = (0.0, 0.0)) -> list[Point]:
    angles = [start + (end - start) * k / bits for k in range(bits + 1)]
    return [(at[0] + r * cos(angle), at[1] + r * sin(angle)) for angle in angles]


def _row(length: float, y: float, pitch: float) -> list[Hole]:
    """Holes of 3 mm along a piece."""
    return [(8 + pitch * k, y, 3.0) for k in range(int((length - 16) / pitch) + 1)] if length > 16 else []


def _panel(lot: Random, w: float, h: float) -> tuple[list[Point], list[Hole]]:
    r = lot.uniform(2, min(w, h) / 3)
    corners = [(w - r, r, -90), (w - r, h - r, 0), (r, h - r, 90), (r, r, 180)]
    ring = [p for x, y, turn in corners for p in _arc(r, turn * pi / 180, (turn + 90) * pi / 180, 5, (x, y))]
    return ring, _row(w, h / 2, lot.uniform(14, 30))


def _strap(lot: Random, w: float, h: float) -> tuple[list[Point], list[Hole]]:
    length, wide = 2 * max(w, h), lot.uniform(15, 50)
    ring = [(0.0, 0.0), (length - wide / 2, 0.0), (length, wide / 2), (length - wide / 2, wide), (0.0, wide)]
    return ring, _row(length, wide / 2, lot.uniform(14, 30))


def _corner(lot: Random, w: float, h: float) -> tuple[list[Point], list[Hole]]:
    wide = min(w, h) * lot.uniform(0.2, 0.6)
    return [(0, 0), (w, 0), (w, wide), (wide, wide), (wide, h), (0, h)], _row(w, wide / 2, 20.0)


def _ring(lot: Random, w: float, h: float) -> tuple[list[Point], list[Hole]]:
    r = min(w, h) / 2
    inner, mouth = r * lot.uniform(0.4, 0.8), lot.uniform(0.3, 3.0)
    outer = _arc(r, mouth / 2, 2 * pi - mouth / 2, 40)
    return [*outer, *reversed(_arc(inner, mouth / 2, 2 * pi - mouth / 2, 40))], []


def _star(lot: Random, w: float, h: float) -> tuple[list[Point], list[Hole]]:
    points = lot.randint(4, 9)
    deep = lot.uniform(0.4, 0.8)
    angles = [pi * k / points for k in range(2 * points)]
    return [
        (w / 2 * (deep if k % 2 else 1) * cos(angle), h / 2 * (deep if k % 2 else 1) * sin(angle))
        for k, angle in enumerate(angles)
    ], []


def _notched(lot: Random, w: float, h: float) -> tuple[list[Point], list[Hole]]:
    """Odd at its four sides, with a notch in its upper edge."""

    def lean() -> float:
        return lot.uniform(0, 0.12) * min(w, h)

    left, right = w * lot.uniform(0.2, 0.45), w * lot.uniform(0.55, 0.8)
    deep = h * lot.uniform(0.4, 0.85)
    upper = [
        (w - lean(), h - lean()),
        (right, h * 0.88),
        (right - lean() / 2, deep),
        (left, deep),
        (left, h * 0.88),
    ]
    return [(lean(), lean()), (w - lean(), lean()), *upper, (lean(), h - lean())], []
