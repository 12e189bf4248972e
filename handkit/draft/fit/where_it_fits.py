"""Where a part's place fits on its base, and how large the base has to be for it.

In: a place and a base. Out: the nearest `at`, the least size of the base. All mm, in the base's frame.
"""

from __future__ import annotations

from itertools import product
from math import ceil, hypot

import msgspec

from handkit.draft.fit.part_place import Bounds, PartPlace, body_of, bounds_of, frame_of
from handkit.geometry.affine import Point
from handkit.geometry.region import Region
from handkit.read.project import Corner, Part, Piece
from handkit.tolerances import EDGE_SLACK, SAME_POINT

# So many places are tried in each direction where the base is no rectangle.
_TRIED = 13
DECIMALS = 9  # of mm that are kept


class PartBase(msgspec.Struct, frozen=True):
    """A base with its area, and how far inside its edge rows of stitches are wanted."""

    piece: Piece
    body: Region
    keep: float

    @property
    def size(self) -> tuple[float, float]:
        """How wide and how high it is."""
        left, low, right, high = self.body.bounds()
        return right - left, high - low


class PlacedPart(msgspec.Struct, frozen=True):
    """A place where it would lie."""

    part: Part
    place: PartPlace
    at: Point

    @property
    def bounds(self) -> Bounds:
        """In the base's frame."""
        return bounds_of(self.place, frame_of(self.part, self.at))

    def moved(self, by: Point) -> PlacedPart:
        """The same elsewhere."""
        x, y = self.at
        return self.set_at((x + by[0], y + by[1]), self.part.source.units.finest)

    def set_at(self, at: Point, step: float) -> PlacedPart:
        """The same at the nearest place of a raster with these steps."""
        x, y = (round(round(one / step) * step, DECIMALS) + 0.0 for one in at)
        return msgspec.structs.replace(self, at=(x, y))

    def fits(self, base: PartBase) -> bool:
        """Whether it lies on the base, its rows clear of the edge."""
        return self.place.lies_on(base.body, frame_of(self.part, self.at), keep=base.keep)


def where_it_fits(lying: PlacedPart, base: PartBase) -> Point | None:
    """The nearest `at` from where it lies, in whole mm (sixteenths of an inch) where there is one; None where
    none is found."""
    here, room = lying.bounds, base.body.bounds()
    lows = (room[0] - here[0], room[1] - here[1])
    highs = (room[2] - here[2], room[3] - here[3])
    if any(low > high + EDGE_SLACK for low, high in zip(lows, highs, strict=True)):
        return None
    shift = tuple(min(max(0.0, low), high) for low, high in zip(lows, highs, strict=True))
    step = lying.part.source.units.whole
    tries = [(_away(shift[0], step), _away(shift[1], step)), (shift[0], shift[1])]
    steps = [
        [low + (high - low) * k / (_TRIED - 1) for k in range(_TRIED)]
        for low, high in zip(lows, highs, strict=True)
    ]
    grid = sorted(product(*steps), key=lambda by: by[0] ** 2 + by[1] ** 2)
    places = [lying.moved((x, y)) for x, y in (*tries, *grid)]
    whole = [each.set_at(each.at, step) for each in places[len(tries) :]]
    found = (each for each in (*places[: len(tries)], *whole, *places[len(tries) :]) if each.fits(base))
    moved = next(found, None)
    return None if moved is None else moved.at


def _away(shift: float, step: float) -> float:
    """A shift in whole steps, no less than it is."""
    return ceil((abs(shift) - SAME_POINT) / step) * step * (1 if shift > 0 else -1)


def size_that_fits(lying: PlacedPart, base: PartBase) -> tuple[tuple[float, float], Point] | None:
    """The least size of a rectangular base that takes the place, in tenths of a mm (hundredths of an inch),
    and where it then lies: as it does, or no farther past its left and lower edge than its round corners
    allow.
    """
    room = base.body.bounds()
    if not _is_rectangle(base.piece, room):
        return None
    step = lying.part.source.units.part
    roundest = max(corner.radius for corner in base.piece.corners)
    for inside in range(ceil(max(roundest, base.keep)) + 1):
        here = lying.bounds
        moved = lying.moved((max(0.0, room[0] + inside - here[0]), max(0.0, room[1] + inside - here[1])))
        _, _, right, high = moved.bounds
        wide, tall = (
            max(_up(end + inside - start, step), now - start) if end + inside > now else now - start
            for start, end, now in ((room[0], right, room[2]), (room[1], high, room[3]))
        )
        piece = _resized(base.piece, room, (wide, tall))
        body = body_of(piece)
        if body is not None and moved.fits(PartBase(piece, body, base.keep)):
            return (wide, tall), moved.at
    return None


def circle_that_fits(lying: PlacedPart, base: PartBase) -> tuple[float, Point] | None:
    """The least diameter of a round base that takes the place in its middle, in whole mm (sixteenths of an
    inch), and where."""
    if base.piece.circle is None:
        return None
    left, low, right, high = lying.bounds
    moved = lying.moved((-(left + right) / 2, -(low + high) / 2))
    step = lying.part.source.units.whole
    for k in range(ceil(base.piece.circle / step), ceil(hypot(right - left, high - low) / step) + 2):
        body = body_of(msgspec.structs.replace(base.piece, circle=k * step))
        if body is not None and moved.fits(PartBase(base.piece, body, base.keep)):
            return k * step, moved.at
    return None


def _up(value: float, step: float) -> float:
    return round(ceil(value / step - EDGE_SLACK) * step, DECIMALS)


def _is_rectangle(piece: Piece, room: Bounds) -> bool:
    """Whether a piece is an upright rectangle, round corners or not."""
    places = {(round(x, 6), round(y, 6)) for x, y in (corner.at for corner in piece.corners)}
    left, low, right, high = (round(each, 6) for each in room)
    return (
        len(piece.corners) == 4
        and not any(piece.sagittas)
        and places == set(product((left, right), (low, high)))
    )


def _resized(piece: Piece, room: Bounds, size: tuple[float, float]) -> Piece:
    """A rectangle of another size, its lower left corner where it was."""

    def at(corner: Corner) -> Point:
        x, y = corner.at
        right, upper = x > (room[0] + room[2]) / 2, y > (room[1] + room[3]) / 2
        return (room[0] + size[0] if right else x, room[1] + size[1] if upper else y)

    corners = tuple(msgspec.structs.replace(each, at=at(each)) for each in piece.corners)
    return msgspec.structs.replace(piece, corners=corners)
