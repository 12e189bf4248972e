"""What of a thing is where: on its way to the mouth, and at heights at which it is narrower.

In: a thing in its place. Out: outlines and strips of the plan.
"""

from __future__ import annotations

from handkit.assemble.article import Thing
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
    for (x0, z0), (x1, z1) in sides(ring):
        if min(z0, z1) < level < max(z0, z1):
            near.append(x0 + (x1 - x0) * (level - z0) / (z1 - z0))
    ends, widths = (min(near), max(near)), [x for x, _ in ring]
    return None if ends == (min(widths), max(widths)) else ends


def strip(thing: Thing, left: float, right: float) -> Region:
    """All of the plan between two x of a thing's room."""
    return region_of_points(thing.lie.apply_all(((left, -_FAR), (right, -_FAR), (right, _FAR), (left, _FAR))))
