"""Tape text: which seam a piece of tape holds, beside its mark on a paper trial.

In: a piece as a window shows it, the codes of the seams, the free space. Out: texts; where there is no room
the mark stands alone, for its seam is named at its start anyway.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

from handkit.draw.model.free_space import FreeSpace
from handkit.draw.model.label_search import put
from handkit.draw.model.marks import Mark
from handkit.draw.model.view import View
from handkit.draw.words.names import Codes
from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.read.project import MarkKind

# How far from the middle of a mark its text may stand, in how many directions.
REACHES = (4.6, 6.5, 9.0, 12.0)
DIRECTIONS = 16


def tape_marks(view: View, codes: Codes, space: FreeSpace) -> tuple[Mark, ...]:
    """The texts of a window's marks."""
    return view.label(
        words
        for mark in view.piece.marks
        if mark.kind is MarkKind.TAPE and mark.seam and view.holds(_middle(mark.path))
        for words in put(
            space, f"tape {codes.seams[mark.seam]}", _round(view.to_sheet.apply(_middle(mark.path)))
        )
    )


def _middle(path: Path) -> Point:
    left, low, right, high = path.bounds()
    return (left + right) / 2, (low + high) / 2


def _round(at: Point) -> Iterator[Point]:
    for reach in REACHES:
        for k in range(DIRECTIONS):
            turn = pi / 2 + 2 * pi * k / DIRECTIONS
            yield at[0] + 1.6 * reach * cos(turn), at[1] + reach * sin(turn)
