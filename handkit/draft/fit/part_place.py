"""The place of a part: what its cover takes of the base, and whether that lies on the base.

In: a part as drafted, its base. Out: the place in the part's frame, and yes or no. All mm.

Words: a place *lies on* its base where it reaches as far on it as it is wide and high, and every row of
stitches lies inside the base's edge. A corner of the cover alone may stand out, as a square pocket's
does on a rounded back: it is trimmed with the back.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draft.parts.drafted import DraftedPart
from handkit.draft.pieces.outline import draft_outline
from handkit.geometry.affine import Affine, Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.polygon import hull
from handkit.geometry.region import Region, region_of, region_of_points
from handkit.read.project import Part, Piece
from handkit.tolerances import EDGE_SLACK, SAGITTA, SAME_POINT

Bounds = tuple[float, float, float, float]


class PartPlace(msgspec.Struct, frozen=True):
    """What a part takes of its base, in the part's frame; `rows` are its stitches there, `items` the outlines
    of what it holds, where they are asked for: they are part of the area then.
    """

    area: Region
    rows: tuple[tuple[Point, ...], ...]
    items: tuple[tuple[Point, ...], ...] = ()

    @property
    def size(self) -> tuple[float, float]:
        """How wide and how high it is."""
        left, low, right, high = self.area.bounds()
        return right - left, high - low

    def lies_on(self, base: Region, lie: Affine, *, keep: float = 0.0) -> bool:
        """Whether it lies on a base with its items, its rows `keep` inside the edge; `lie` leads to the frame
        of the base."""
        under = base.moved(lie.inverse())
        kept = self.area.common(under)
        if not all(under.covers(item, slack=EDGE_SLACK) for item in self.items) or kept.empty:
            return False
        if any(abs(a - b) > EDGE_SLACK for a, b in zip(kept.bounds(), self.area.bounds(), strict=True)):
            return False
        held = under.grown(-keep) if keep else under
        return all(held.covers(row, slack=EDGE_SLACK) for row in self.rows)

    def past(self, base: Region, lie: Affine) -> float:
        """How far it reaches past the base's edge, at its farthest place."""
        points = [lie.apply(at) for ring in self.area.rings() for at in ring]
        return max((base.edge_distance(at) for at in points if not base.contains(at)), default=0.0)


def place_of(given: DraftedPart, inset: float) -> PartPlace | None:
    """The place of a part as drafted; None of what stands on no base, or has a cover too round to be drawn,
    of which its own findings tell. Of what is held by a row alone it is that, and the `inset` round it.
    Without lines of its own on the base it takes the holes of its cover's rows, `inset` inside three of its
    edges.
    """
    place = given.place if given.standing is None else given.standing.place
    if place is None and given.held:
        return PartPlace(region_of_points(hull(given.held)).grown(inset), (given.held,))
    if place is None or first_crossing(place.segments, closed=True) is not None:
        return None
    area = region_of(place)
    rows = tuple(line.points for line in given.base_lines) or (_three_sides(area, inset),)
    return PartPlace(area, rows)


def with_items(place: PartPlace, given: DraftedPart) -> PartPlace:
    """A place together with the items on it."""
    area, items = place.area, tuple(each.path.flattened(sagitta=SAGITTA) for each in given.items)
    for item in items:
        area = area.joined(region_of_points(item))
    return PartPlace(area, place.rows, items)


def _three_sides(area: Region, inset: float) -> tuple[Point, ...]:
    """Down, along the foot and up again, inside a place's edge."""
    inner = area.grown(-inset)
    if inner.empty:
        return ()
    ring, top = inner.rings()[0], inner.bounds()[3]
    start = min((x, k) for k, (x, y) in enumerate(ring) if top - y <= SAME_POINT)[1]
    row = (*ring[start:], *ring[:start])
    before, after = row[-1], row[1 % len(row)]
    return row if before[1] > after[1] or before[0] > after[0] else (row[0], *reversed(row[1:]))


def frame_of(part: Part, at: Point | None = None) -> Affine:
    """From a part's frame to its base's; with another `at` than it has."""
    over = Affine.mirror() if part.flag("behind") else Affine()
    return Affine.shift(*(at or part.at)) @ Affine.turn(part.turn_degrees) @ over


def body_of(piece: Piece) -> Region | None:
    """The area of a piece; None where its outline can't be drawn."""
    outline, _ = draft_outline(piece)
    return None if outline is None else region_of(outline.path)


def bounds_of(place: PartPlace, lie: Affine) -> Bounds:
    """The place's in the frame of its base."""
    return place.area.moved(lie).bounds()


def sides_past(place: Bounds, base: Bounds) -> Sequence[tuple[str, float]]:
    """The sides of a base that a place reaches past, and by how much, the farthest first."""
    over = (
        ("left", base[0] - place[0]),
        ("lower", base[1] - place[1]),
        ("right", place[2] - base[2]),
        ("upper", place[3] - base[3]),
    )
    return sorted((one for one in over if one[1] > EDGE_SLACK), key=lambda one: -one[1])
