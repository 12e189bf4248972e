"""Sets of pieces to lay out, as the bench reads them from `sets.json`.

In: the file. Out: `Case`s: plain rings in mm, the holes in them, and paper. All mm.

Words: a *drawing* is one piece drawn once: a piece with quantity ten is ten drawings here, because
every piece of a case is drawn.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import shapely

SETS = Path(__file__).with_name("sets.json")
EDGE = 5.0  # nothing is printed nearer to the sheet's edge

Point = tuple[float, float]
Line = tuple[Point, Point]


@dataclass(frozen=True)
class Drawing:
    """A piece: its ring, and its holes as x, y, diameter."""

    name: str
    ring: tuple[Point, ...]
    holes: tuple[tuple[float, float, float], ...] = ()
    quantity: int = 1

    @cached_property
    def area(self) -> shapely.Polygon:
        """The piece as a region."""
        return shapely.Polygon(self.ring)


@dataclass(frozen=True)
class Case:
    """Pieces and the paper they go on; `width` and `height` are the paper's."""

    name: str
    paper: str
    width: float
    height: float
    margin: float
    overlap: float
    gap: float
    pieces: tuple[Drawing, ...]

    @property
    def drawn(self) -> tuple[float, float]:
        """Width and height of what may be drawn on."""
        return (self.width - 2 * self.margin, self.height - 2 * self.margin)

    @property
    def drawings(self) -> tuple[Drawing, ...]:
        """Every piece as often as it is wanted."""
        return tuple(piece for piece in self.pieces for _ in range(piece.quantity))


@dataclass(frozen=True)
class Count:
    """What a layout costs."""

    sheets: int
    joins: int
    through: int  # joins whose cut line comes nearer than 3 mm to a hole's edge


def cases(file: Path = SETS) -> tuple[Case, ...]:
    """Every set of the file, in its order."""
    return tuple(case_of(found) for found in json.loads(file.read_text("utf-8")))


def case_of(found: dict[str, Any]) -> Case:
    """One set."""
    return Case(
        name=found["name"],
        paper=found["paper"]["name"],
        width=found["paper"]["w"],
        height=found["paper"]["h"],
        margin=found["margin"],
        overlap=found["overlap"],
        gap=found["gap"],
        pieces=tuple(_piece(piece) for piece in found["pieces"]),
    )


def _piece(found: dict[str, Any]) -> Drawing:
    return Drawing(
        name=found["name"],
        ring=tuple((x, y) for x, y in found["points"]),
        holes=tuple((x, y, d) for x, y, d in found.get("holes", ())),
        quantity=found["quantity"],
    )
