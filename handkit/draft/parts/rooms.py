"""Rooms: what a part's cover leaves over its base, and its items in it.

In: a part as drafted, in its own frame, and its items. Out: the part's `Room`s; profiles, as lines from
left to right, (x, z) in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import asin, cos, inf, pi, sin, tan

from msgspec.structs import replace

from handkit.draft.parts.drafted import DraftedPart
from handkit.draft.pattern import HeldItem, Room
from handkit.draft.sizes.bow import bow_radius
from handkit.draft.sizes.section import Section, section_of
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path, circle, polyline
from handkit.geometry.polygon import hull, widths_below
from handkit.geometry.segment import Segment
from handkit.read.project import Item, Part
from handkit.tolerances import SAGITTA, SAME_POINT

# Into how many lines an arc of a profile is parted: one of 200 mm then leaves it by 0.1 mm.
LINES = 48


def rooms_of(part: Part, items: Sequence[Item], given: DraftedPart, lie: Affine) -> Iterator[Room]:
    """The rooms of a part; `lie` leads from the part's frame into its base's."""
    if given.standing is not None:
        yield _standing_room(part, items, given, lie)
    for each in given.rooms:
        behind = each.behind if each.base else part.flag("behind")
        way = each.lie if each.base else lie @ each.lie
        base = each.base or part.on or ""
        room = Room(part.name, base, each.cover, behind, way, each.place, each.profiles, each.items)
        yield replace(room, passes=each.passes)


def _standing_room(part: Part, items: Sequence[Item], given: DraftedPart, lie: Affine) -> Room:
    standing = given.standing
    assert standing is not None
    mouth = standing.place.bounds()[3]
    held = tuple(held_item(item, each.path, mouth) for item, each in zip(items, given.items, strict=True))
    return Room(
        part.name,
        standing.base or part.on or "",
        standing.cover,
        part.flag("behind"),
        lie,
        standing.place,
        standing.profiles,
        held,
        standing.wall,
    )


def held_item(item: Item, outline: Path, mouth: float = inf) -> HeldItem:
    """An item as a room holds it, standing along y where its outline is; its section is that of what of it
    lies under the room's mouth."""
    left, low, right, _ = outline.bounds()
    if item.plan:
        item = item.going_in(mouth - low)
        left, right = widths_below(outline.flattened(sagitta=SAGITTA), mouth) or (left, right)
    return HeldItem(item.name, outline, section_path(section_of(item), middle=(left + right) / 2))


def section_path(section: Section, *, middle: float) -> Path:
    """An item's section, standing on the base about x = `middle`: a round thing's or that of its corners."""
    places = [(x + middle, z) for x, z in section.centres]
    return circle(places[0], section.radius) if len(places) == 1 else polyline(places, closed=True)


def bowed(left: float, right: float, height: float) -> tuple[Point, ...]:
    """An arc over a base; flat where its height is 0.

    >>> [(round(x, 6), round(z, 6)) for x, z in bowed(-40, 40, 20)[:: LINES // 2]]
    [(-40.0, 0.0), (0.0, 20.0), (40.0, 0.0)]
    """
    if height <= 0:
        return ((left, 0.0), (right, 0.0))
    base, middle = right - left, (left + right) / 2
    radius = bow_radius(base, height)
    half = asin(min(1.0, base / (2 * radius)))
    half = pi - half if height > radius else half
    turns = (half * (2 * k / LINES - 1) for k in range(LINES + 1))
    low = radius - height
    return tuple((middle + radius * sin(turn), max(0.0, radius * cos(turn) - low)) for turn in turns)


def draped(sections: Sequence[tuple[Section, float]], left: float, right: float) -> tuple[Point, ...]:
    """Tight over sections, each about its middle x, from one row of stitches to the other: their hull.

    >>> from handkit.draft.sizes.section import rectangle_section
    >>> draped([(rectangle_section(30, 5), 0.0)], -27, 27)
    ((-27, 0.0), (-15.0, 5.0), (15.0, 5.0), (27, 0.0))
    """
    points = [(left, 0.0), (right, 0.0)]
    for section, middle in sections:
        points += [
            (x + middle + section.radius * cos(turn), z + section.radius * sin(turn))
            for x, z in section.centres
            for turn in ([pi * k / LINES for k in range(LINES + 1)] if section.radius else [0.0])
        ]
    upper = [point for point in hull(points) if point[1] > 0 or point[0] in (left, right)]
    return tuple(sorted(upper))


def pocket_place(width: float, height: float, foot: tuple[float, float] = (0.0, 0.0)) -> Path:
    """A rectangle from the origin with two radii at its foot, left and right.

    >>> round(pocket_place(40, 30, (4, 0)).signed_area(), 3)  # 1200 - 4² + 4²·π/4
    1196.566
    """
    (left, right), quarter = foot, tan(pi / 8)
    ends = ((0.0, left), (left, 0.0), (width - right, 0.0), (width, right))
    segments = [
        Segment(ends[0], ends[1], quarter) if left else None,
        Segment(ends[1], ends[2]),
        Segment(ends[2], ends[3], quarter) if right else None,
        Segment(ends[3], (width, height)),
        Segment((width, height), (0.0, height)),
        Segment((0.0, height), ends[0]),
    ]
    real = (each for each in segments if each is not None and each.chord > SAME_POINT)
    return Path(tuple(real), closed=True)
