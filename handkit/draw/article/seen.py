"""Seen: which cells of a picture show which group, and where lines are that nothing hides.

In: groups on the paper, drawn from the back to the face. Out: rasters, for names to keep off lines and to
stand in what they name.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draw.model.free_space import rings_of, take_path
from handkit.draw.model.marks import Group, Ink
from handkit.geometry.box import Box
from handkit.geometry.raster import Raster

# Cells of a picture, mm: coarser than a sheet's, for no name here has to stand so near to a line.
CELL = 0.8

# Round lines kept free of names, mm.
BESIDE = 0.1


class Seen(msgspec.Struct, frozen=True):
    """`lines` has what is drawn and seen, `covered` what any shape covers, `groups` the cells of
    each: of what fills nothing those of its lines."""

    lines: Raster
    covered: Raster
    groups: tuple[tuple[int, ...], ...]

    def around(self, group: int) -> Box | None:
        """The box round what is seen of a group, None where nothing is."""
        rows = [(k, row) for k, row in enumerate(self.groups[group]) if row]
        if not rows:
            return None
        every = 0
        for _, row in rows:
            every |= row
        left, bottom, cell = self.lines.left, self.lines.bottom, self.lines.cell
        first, last = (every & -every).bit_length() - 1, every.bit_length()
        low, high = rows[0][0], rows[-1][0] + 1
        return Box(left + first * cell, bottom + low * cell, left + last * cell, bottom + high * cell)

    def all_but(self, group: int) -> Raster:
        """A raster in which what is seen of a group is free, and nothing else."""
        raster = Raster(self.lines.area, cell=self.lines.cell)
        raster.take_all_but(self.groups[group])
        return raster


def seen(groups: Sequence[Group], room: Box) -> Seen:
    """From the face to the back: what is covered by then is not seen."""
    found, covered = Raster(room, cell=CELL), Raster(room, cell=CELL)
    shown: list[tuple[int, ...]] = []
    for group in reversed(groups):
        clip = _clip(group, room)
        own, line = [0] * len(covered.rows), [0] * len(covered.rows)
        drawn = Raster(room, cell=CELL)
        for mark in reversed(group.marks):
            for ink in reversed([part for part in mark.parts if isinstance(part, Ink)]):
                if ink.stroke is not None or ink.fill is None:
                    take_path(drawn, ink.path, reach=BESIDE + (ink.stroke.width / 2 if ink.stroke else 0.0))
                if ink.fill is not None:  # what was drawn till now lies over it, and is hidden by no less
                    line = _shown(found, covered, clip, drawn, line)
                    drawn = Raster(room, cell=CELL)
                    inside = _inside(covered, ink)
                    own = [
                        o | (i & c & ~t) for o, i, c, t in zip(own, inside, clip, covered.rows, strict=True)
                    ]
                    covered.take_cells(i & c for i, c in zip(inside, clip, strict=True))
        line = _shown(found, covered, clip, drawn, line)
        shown.append(tuple(own if any(own) else line))
    return Seen(found, covered, tuple(reversed(shown)))


def _clip(group: Group, room: Box) -> list[int]:
    """The cells that a group may draw in."""
    blank = Raster(room, cell=CELL)
    rows = [(1 << blank.columns) - 1] * len(blank.rows)
    for clip in group.clips:
        rows = [a & b for a, b in zip(rows, _inside(blank, Ink(clip)), strict=True)]
    return rows


def _shown(
    found: Raster, covered: Raster, clip: Sequence[int], drawn: Raster, line: Sequence[int]
) -> list[int]:
    """Take the cells of drawn lines that nothing covers; the same joined with those of a group before."""
    seen_of = [a & b & ~c for a, b, c in zip(drawn.rows, clip, covered.rows, strict=True)]
    found.take_cells(seen_of)
    return [a | b for a, b in zip(line, seen_of, strict=True)]


def _inside(raster: Raster, ink: Ink) -> list[int]:
    rows = [0] * len(raster.rows)
    for ring in rings_of(ink.path):
        rows = [a | b for a, b in zip(rows, raster.inside(ring), strict=True)]
    return rows
