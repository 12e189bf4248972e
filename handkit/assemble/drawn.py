"""What of a thing is where: on its way to the mouth, and at heights at which it is narrower.

In: a thing in its place. Out: outlines and strips of the plan.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.assemble.article import Thing
from handkit.geometry.affine import Point
from handkit.geometry.path import Path, polyline
from handkit.geometry.polygon import hull, sides
from handkit.geometry.region import Region, region_of_points
from handkit.tolerances import SAGITTA

_FAR = 1e4


def drawn(thing: Thing) -> Path:
    """A thing's outline from where it lies to its mouth, which it is drawn out through; its own where it
    stands out there."""
    held, mouth = thing.held, thing.room.place.bounds()[3]
    if held.outline.bounds()[3] >= mouth:
        return thing.outline
    corners = held.outline.flattened(sagitta=SAGITTA)
    ring = hull([*corners, *((x, max(y, mouth)) for x, y in corners)])
    return polyline(thing.lie.apply_all(ring), closed=True)


def swept(thing: Thing) -> Region:
    """All of the plan that a thing passes from where it lies until its foot is at the mouth."""
    _, low, _, _ = thing.held.outline.bounds()
    free = max(thing.room.place.bounds()[3] - low, 0.0)
    corners = thing.held.outline.flattened(sagitta=SAGITTA)
    return region_of_points(thing.lie.apply_all(hull([*corners, *((x, y + free) for x, y in corners)])))


def reached(thing: Thing, height: float, *, from_top: bool = False) -> tuple[float, float] | None:
    """From which x to which of its room's frame a thing comes as low as a height over what it lies on, or as
    high as one under its top; None where that is all its width, as it is of a box.
    """
    ring = hull(thing.held.section.flattened(sagitta=SAGITTA))
    top = max(z for _, z in ring)
    level = top - height if from_top else height
    if not 0.0 < level < top:
        return None
    near = [x for x, z in ring if (z >= level if from_top else z <= level)]
    near += crossings(ring, level)
    ends, widths = (min(near), max(near)), [x for x, _ in ring]
    return None if ends == (min(widths), max(widths)) else ends


def crossings(ring: Sequence[Point], level: float) -> list[float]:
    """At which x the sides of a ring go through a height."""
    found: list[float] = []
    for (x0, z0), (x1, z1) in sides(ring):
        if min(z0, z1) < level < max(z0, z1):
            found.append(x0 + (x1 - x0) * (level - z0) / (z1 - z0))
    return found


def section_of(thing: Thing, across: Point) -> tuple[Point, ...]:
    """A thing's section in its place, convex: how far along a unit vector of the plan, and how far off the
    base's face, outwards."""
    low = thing.low if thing.in_front else -thing.high
    ring = hull(thing.held.section.flattened(sagitta=SAGITTA))
    places = thing.lie.apply_all([(x, 0.0) for x, _ in ring])
    return tuple(
        (px * across[0] + py * across[1], low + z) for (px, py), (_, z) in zip(places, ring, strict=True)
    )


def sideways(one: Sequence[Point], other: Sequence[Point]) -> tuple[float, float]:
    """How far a convex section is moved to the left, and to the right, until it is clear of another: 0 where
    it is clear as it is.

    >>> box, roof = [(0, 0), (4, 0), (4, 4), (0, 4)], [(3, 0), (9, 0), (6, 4)]
    >>> sideways(box, roof), sideways(roof, [(10, 0), (12, 0), (12, 2)])
    ((1, 9), (0.0, 0.0))
    """
    low, high = (
        max(min(z for _, z in ring) for ring in (one, other)),
        min(max(z for _, z in ring) for ring in (one, other)),
    )
    levels = [low, high, *(z for _, z in (*one, *other) if low < z < high)]
    left = right = 0.0
    met = low < high
    for level in levels if met else ():
        spans = []
        for ring in (one, other):
            xs = [*crossings(ring, level), *(x for x, z in ring if z == level)]
            spans.append((min(xs), max(xs)))
        (a, b), (c, d) = spans
        left, right = max(left, b - c), max(right, d - a)
    return (left, right) if min(left, right) > 0.0 else (0.0, 0.0)


def strip(thing: Thing, left: float, right: float) -> Region:
    """All of the plan between two x of a thing's room."""
    return region_of_points(thing.lie.apply_all(((left, -_FAR), (right, -_FAR), (right, _FAR), (left, _FAR))))
