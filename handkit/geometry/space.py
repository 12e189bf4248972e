"""Space: rigid motions, and sheets that are bent round straight lines.

In: points in mm, (x, y) on a sheet that lies flat, z from the middle of its thickness towards the eye.
Out: places and directions in space. The base of a model of the article put together.

Words: a *bend* turns a sheet about a line on it: what is *beyond* the line moves, the rest keeps its
place. The bent zone lies half on either side of the line; its middle neither stretches nor shrinks. A
*panel* is what lies between bent zones and stays plane; one whose plane is the sheet's own is a *leaf*.

        beyond, after 180°        z
        ───────────────╮          │
                        )         │
        keeps its place ╯ line    └── x
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot, radians

import msgspec

from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path
from handkit.geometry.polygon import parts_left_of
from handkit.geometry.straight import Straight
from handkit.tolerances import EDGE_SLACK

# By how much the cosine of two planes' angle may differ from 1 where they are parallel: rounding noise.
_PARALLEL = 1e-9

Place = tuple[float, float, float]


class Motion(msgspec.Struct, frozen=True):
    """A turn, by the rows of its matrix, and then a shift."""

    rows: tuple[Place, Place, Place] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    by: Place = (0.0, 0.0, 0.0)

    @staticmethod
    def about(at: Place, axis: Place, degrees: float) -> Motion:
        """A turn about a line through a point along a unit vector, by the right hand (Rodrigues).

        >>> [round(v, 9) for v in Motion.about((1, 0, 0), (0, 1, 0), 90).apply((3, 0, 0))]
        [1.0, 0.0, -2.0]
        """
        quarters, (x, y, z) = Affine.turn(degrees), axis  # exact at whole quarters
        c, s = quarters.a, quarters.b
        k = 1 - c
        turn = Motion(
            (
                (c + x * x * k, x * y * k - z * s, x * z * k + y * s),
                (y * x * k + z * s, c + y * y * k, y * z * k - x * s),
                (z * x * k - y * s, z * y * k + x * s, c + z * z * k),
            )
        )
        back = turn.apply(at)
        return Motion(turn.rows, (at[0] - back[0], at[1] - back[1], at[2] - back[2]))

    @staticmethod
    def of_plane(lie: Affine) -> Motion:
        """How a map of the plane that keeps shapes moves what lies in it, turned over where it mirrors."""
        up = -1.0 if lie.turns_over else 1.0
        return Motion(((lie.a, lie.c, 0.0), (lie.b, lie.d, 0.0), (0.0, 0.0, up)), (lie.e, lie.f, 0.0))

    @property
    def plan(self) -> Affine | None:
        """The map of the plane that it is seen as from above; None where it leaves what was level aslant."""
        (a, c, _), (b, d, _), (_, _, up) = self.rows
        return Affine(a, b, c, d, *self.by[:2]) if abs(up) > 1 - _PARALLEL else None

    @property
    def turns_over(self) -> bool:
        """Whether what looked up looks down."""
        return self.rows[2][2] < 0

    def apply(self, place: Place) -> Place:
        """Where a place comes to."""
        x, y, z = self.turned(place)
        return (x + self.by[0], y + self.by[1], z + self.by[2])

    def turned(self, way: Place) -> Place:
        """Where a direction comes to."""
        x, y, z = (row[0] * way[0] + row[1] * way[1] + row[2] * way[2] for row in self.rows)
        return (x, y, z)

    def inverse(self) -> Motion:
        """The way back.

        >>> there = Motion.about((1, 0, 0), (0, 1, 0), 90)
        >>> (there.inverse() @ there).apply((3, 4, 5))
        (3.0, 4.0, 5.0)
        """
        (a, b, c), (d, e, f), (g, h, i) = self.rows
        back = Motion(((a, d, g), (b, e, h), (c, f, i)))
        x, y, z = back.turned(self.by)
        return Motion(back.rows, (-x, -y, -z))

    def __matmul__(self, first: Motion) -> Motion:
        """This motion after another."""
        columns = [self.turned((first.rows[0][k], first.rows[1][k], first.rows[2][k])) for k in range(3)]
        (a, d, g), (b, e, h), (c, f, i) = columns
        return Motion(((a, b, c), (d, e, f), (g, h, i)), self.apply(first.by))


class Bend(msgspec.Struct, frozen=True):
    """A bend about the line through `at` along the unit vector `way`; what lies left of it moves.

    `degrees` is how far, positive towards the eye; `half` is half the zone's width on the flat sheet.
    """

    at: Point
    way: Point
    degrees: float
    half: float

    def beyond(self, point: Point) -> float:
        """How far a point lies beyond the line, mm; negative on the side that keeps its place."""
        return (point[1] - self.at[1]) * self.way[0] - (point[0] - self.at[0]) * self.way[1]

    def is_bent(self, point: Point) -> bool:
        """Whether a point lies inside the zone."""
        return abs(self.beyond(point)) < self.half

    def parallel(self, off: float) -> Straight:
        """The line that lies so far beyond its own, mm, along its way."""
        (x, y), (u, v) = self.at, self.way
        return (x - v * off, y + u * off), (x - v * off + u, y + u * off + v)

    def motion(self, point: Point) -> Motion:
        """How the sheet moves at a point."""
        return self.rolled(min(max(self.beyond(point) + self.half, 0.0), 2 * self.half))

    def rolled(self, rolled: float) -> Motion:
        """How the sheet moves so far into the zone: rolled back through it, then turned about its middle.

        A zone that is 2·half wide on the middle of the sheet turns by `degrees` on a radius of
        2·half ÷ degrees (in radians): the sheet-metal handbooks' bend allowance the other way round.
        """
        if not rolled or not self.degrees:
            return Motion()
        radius = 2 * self.half / radians(self.degrees)  # its sign is the centre's side
        (nx, ny) = (-self.way[1], self.way[0])
        back = Motion(by=(-nx * rolled, -ny * rolled, 0.0))
        centre = (self.at[0] - nx * self.half, self.at[1] - ny * self.half, radius)
        return Motion.about(centre, (ny, -nx, 0.0), self.degrees * rolled / (2 * self.half)) @ back


class Panel(msgspec.Struct, frozen=True):
    """A part of a sheet that stays plane: its outline on the flat sheet, closed, and how it moves.

    `beyond` are the indices of the bends that it lies beyond.
    """

    outline: Path
    motion: Motion = Motion()
    beyond: tuple[int, ...] = ()

    @property
    def plan(self) -> Affine | None:
        """From the flat sheet to where a leaf lies in plan; None of what stands at an angle to it."""
        return self.motion.plan

    @property
    def turned(self) -> bool:
        """Whether its other side is towards the eye."""
        return self.motion.turns_over

    @property
    def height(self) -> float:
        """How high the middle of a leaf's thickness lies over that of what keeps its place, mm."""
        return self.motion.by[2]


class FoldedSheet(msgspec.Struct, frozen=True):
    """A sheet with its bends, in panels: what keeps its place comes first."""

    bends: tuple[Bend, ...]
    panels: tuple[Panel, ...]

    def panel_of(self, points: Sequence[Point]) -> int:
        """The index of the panel that points lie on, a bent zone counted half to either side of its line;
        0 where they lie on several.
        """
        beyond: list[int] = []
        for k, bend in enumerate(self.bends):
            offs = [bend.beyond(at) for at in points]
            if min(offs) >= -EDGE_SLACK:
                beyond.append(k)
            elif max(offs) > EDGE_SLACK:
                return 0
        return next((k for k, panel in enumerate(self.panels) if panel.beyond == tuple(beyond)), 0)


def folded_sheet(outline: Path, bends: Sequence[Bend]) -> FoldedSheet:
    """What a sheet's bends leave plane, without the bent zones.

    >>> from handkit.geometry.path import polyline
    >>> strip = polyline([(0, 0), (30, 0), (30, 5), (0, 5)], closed=True)
    >>> stays, leaf = folded_sheet(strip, [Bend((10.0, 0.0), (0.0, -1.0), 180.0, 2.0)]).panels
    >>> stays.outline.length, leaf.outline.length, leaf.turned, round(leaf.height, 3)
    (26.0, 46.0, True, 2.546)
    >>> leaf.plan.apply((15.0, 2.0))
    (5.0, 2.0)
    """
    parts: list[tuple[Path, tuple[int, ...]]] = [(outline, ())]
    for k, bend in enumerate(bends):
        (a, b), far = bend.parallel(-bend.half), bend.parallel(bend.half)
        parts = [
            *((part, beyond) for path, beyond in parts for part in parts_left_of(path, (b, a))),
            *((part, (*beyond, k)) for path, beyond in parts for part in parts_left_of(path, far)),
        ]
    panels = (
        Panel(part, _all_the_way([bends[k] for k in beyond]) if beyond else Motion(), beyond)
        for part, beyond in parts
    )
    return FoldedSheet(tuple(bends), tuple(panels))


def _all_the_way(bends: Sequence[Bend]) -> Motion:
    """How what lies beyond all of some bends moves."""
    motion = Motion()
    for bend in _furthest_first(bends):
        motion = bend.rolled(2 * bend.half) @ motion
    return motion


def _furthest_first(bends: Sequence[Bend]) -> list[Bend]:
    """Bends in the order they are made in: what lies furthest beyond first, while the rest is flat."""
    return sorted(bends, key=lambda bend: -sum(other.beyond(bend.at) > 0 for other in bends))


def bent(bends: Iterable[Bend], point: Point) -> Motion:
    """How a sheet with several bends moves at a point; none of the bends' lines cross.

    >>> once = Bend((10.0, 0.0), (0.0, -1.0), 180.0, 2.0)
    >>> [round(v, 6) + 0.0 for v in bent((once,), (25.0, 3.0)).apply((25.0, 3.0, 0.0))]
    [-5.0, 3.0, 2.546479]
    """
    moving = [bend for bend in bends if bend.beyond(point) > -bend.half]
    motion = Motion()
    for bend in _furthest_first(moving):
        motion = bend.motion(point) @ motion
    return motion


def apart(a: Place, b: Place) -> float:
    """The distance of two places, mm."""
    return hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])
