"""The front of a bowed pocket: its measures, and the points that follow from them.

In: its place's width and height, the seams' inset, where rivets stand, the mouth's length. Out: corners,
rivets and hem in the front's frame, which lies on the base's place with its foot.
"""

from __future__ import annotations

from math import atan, cos, hypot, pi, radians, sin, sqrt, tan

import msgspec

from handkit.draft.parts.outlines import corners_of
from handkit.geometry.affine import Point
from handkit.geometry.segment import Segment
from handkit.read.project import Corner
from handkit.tolerances import SAGITTA, SAME_POINT
from handkit.units import round_half_up


class Front(msgspec.Struct, frozen=True):
    """A front over a place of `width` × `height`; `mouth` is its length from stitch line to stitch line.

    `rivet` is how far rivets stand inside the edges of side and mouth, 0 for none; `clear` is how far
    a stitch hole keeps from a rivet's centre.
    """

    width: float
    height: float
    inset: float
    rivet: float
    clear: float
    mouth: float = 0.0

    @property
    def base(self) -> float:
        """From stitch line to stitch line on the base."""
        return self.width - 2 * self.inset

    @property
    def beside(self) -> float:
        """How far a rivet stands inside the stitch line."""
        return max(self.rivet - self.inset, 0.0)

    @property
    def mouth_base(self) -> float:
        """What the mouth's bow stands over: the base between its rivets, or between the stitch lines."""
        return self.base - 2 * self.beside

    def with_mouth(self, bow: float) -> Front:
        """The front whose mouth is a bow of this length, and what lies flat beside it."""
        return msgspec.structs.replace(self, mouth=bow + 2 * self.beside)

    @property
    def spread(self) -> float:
        """By how much the mouth stands out at either side."""
        return (self.mouth - self.base) / 2

    @property
    def side_share(self) -> float:
        """How many times as long as the base's line a side is."""
        return hypot(self._slant, 1)

    @property
    def _slant(self) -> float:
        """How far a side stands out for each mm that it rises; 0 while the mouth lies flat."""
        return self.spread / (self.height - self.inset) if self.spread else 0.0

    @property
    def first_stitch(self) -> float:
        """How far from its end a side seam on the base begins, so that on the base and on the slanted
        front it keeps clear of the rivet."""
        if not self.rivet:
            return 0.0
        along = sqrt(max(self.clear**2 - self.beside**2, 0.0))
        slanted = (along + self.beside * self._slant) / self.side_share
        return max(self.rivet + max(along, slanted) - self.inset, 0.0)

    def side_lengths(self, radius: float) -> tuple[float, float]:
        """How long a side's stitches run on the front and on the base; `radius` rounds the foot."""
        r, turn = max(radius - self.inset, 0.0), pi / 2 - atan(self._slant)
        straight = self.height - 2 * self.inset - self.first_stitch
        on_front = straight * self.side_share - r * (tan(turn / 2) - turn / 2)
        return on_front, straight - r * (1 - pi / 4)

    def stitches_apart(self, pitch: float, radius: float) -> float:
        """How far apart a side's stitches stand on the base, as many as the front's side takes at a pitch."""
        on_front, on_base = self.side_lengths(radius)
        return on_base / max(1, round_half_up(on_front / pitch))

    def side(self, y: float, *, inside: float) -> float:
        """Where the left side is at a height, so far inside its edge (across the edge)."""
        stitched = self.inset - self._slant * (y - self.inset)
        return stitched + (inside - self.inset) * self.side_share

    def rivets(self) -> tuple[Point, Point]:
        """One at each end of the mouth."""
        y = self.height - self.rivet
        x = self.side(y, inside=self.rivet)
        return ((x, y), (self.width - x, y))

    def hem_ends(self) -> tuple[Point, Point]:
        """Where the hem begins on the mouth: clear of the holes at its ends, and of the rivets' caps."""
        x = self.side(self.height, inside=max(2 * self.inset, self.rivet + self.clear))
        return ((x, self.height), (self.width - x, self.height))

    @property
    def hem_length(self) -> float:
        """Of the hem along the mouth; 0 or less where seams and rivets leave no room for one."""
        (left, _), (right, _) = self.hem_ends()
        return right - left

    def corners(self, hem: float | None, radius: float) -> tuple[Corner, ...]:
        """A to D, or A to H with a hem; `radius` rounds the foot."""
        foot, mouth = self.side(0.0, inside=0.0), self.side(self.height, inside=0.0)
        right_up = [(foot, 0.0), (self.width - foot, 0.0), (self.width - mouth, self.height)]
        if hem is not None:
            (left, y), (right, _) = self.hem_ends()
            right_up += [(right, y), (right, y + hem), (left, y + hem), (left, y)]
        points = [*right_up, (mouth, self.height)]
        return corners_of(points, (radius, radius, *([0.0] * (len(points) - 2))))

    def base_lines(self, radius: float) -> tuple[tuple[Point, ...], ...]:
        """On the base: the left side downwards, the foot, the right side upwards.

        A round corner of the edge's `radius` is followed by straight lines that leave its stitch line by
        no more than `SAGITTA`; half of it belongs to the side, half to the foot.
        """
        r = max(radius - self.inset, 0.0)
        left, right = self.inset, self.width - self.inset
        low, high = self.inset, self.height - self.inset
        side = _eighth((left + r, low + r), r, from_degrees=180)
        foot = _eighth((left + r, low + r), r, from_degrees=225)
        mirrored_foot = tuple((self.width - x, y) for x, y in reversed(foot))
        mirrored_side = tuple((self.width - x, y) for x, y in reversed(side))
        return ((left, high), *side), (*foot, *mirrored_foot), (*mirrored_side, (right, high))


def _eighth(centre: Point, radius: float, *, from_degrees: float) -> tuple[Point, ...]:
    """An eighth of a circle, counter-clockwise; its centre alone where the radius is 0."""
    if radius <= SAME_POINT:
        return (centre,)
    (x, y), ends = centre, (radians(from_degrees), radians(from_degrees + 45))
    start, end = ((x + radius * cos(turn), y + radius * sin(turn)) for turn in ends)
    return Segment(start, end, tan(pi / 16)).flattened(sagitta=SAGITTA)
