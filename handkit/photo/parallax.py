"""Parallax: what is higher than the paper is seen larger, and farther from the foot; this takes it back.

In: an outline as it is seen, how thick its thing is, the view. Out: the outline it has.

Of plane geometry: from a lens at height H an edge at height z is seen on the paper at H ÷ (H − z) of its
distance from the foot. Square sides are seen from the paper up to z, and what is the thing's own lies within
both: what is seen, and what is seen brought back from z. A round side is seen where a ray touches it, about
half-way up; at an angle θ from upright a ball of radius r is seen √(1 + tan²θ·cos²φ) as wide, φ being the
angle of its rim's normal from the way out from the foot.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, sqrt

from handkit.geometry.affine import Affine, Point
from handkit.geometry.polygon import signed_area
from handkit.geometry.region import Region, region_of_points
from handkit.photo.traced import PhotoView, Thick


def corrected(seen: Sequence[Point], thick: Thick, view: PhotoView) -> tuple[Point, ...]:
    """The outline at true size on the mat, counter-clockwise; its largest part, without holes.

    >>> above = PhotoView((0.0, 0.0), 400.0, 0.0, 0.0, 5.0, 0.0, 0.0, 0.0, 0.0)
    >>> corrected([(200, 0), (250, 0), (250, 40), (200, 40)], Thick(0.0), above)[0]
    (200.0, 0.0)
    >>> seen = [(100, 0), (200, 0), (200, 40), (100, 20)]  # 100 to 150, and 0 to 20 or 30, of height 100
    >>> sorted(corrected(seen, Thick(100.0), above))
    [(100.0, 0.0), (100.0, 20.0), (150.0, 0.0), (150.0, 30.0)]
    """
    if thick.round:
        return _touched(_brought_back(seen, thick.mm / 2, view), thick.mm / 2, view)
    return largest(_area(seen).common(_area(_brought_back(seen, thick.mm, view))))


def largest(region: Region) -> tuple[Point, ...]:
    """The outer ring of a region's largest part, counter-clockwise; () where it is empty."""
    ring = max(region.rings(), key=lambda each: abs(signed_area(each)), default=())
    return ring if not ring or signed_area(ring) > 0 else tuple(reversed(ring))


def _brought_back(seen: Sequence[Point], z: float, view: PhotoView) -> list[Point]:
    (x, y), share = view.foot, 1 - z / view.height
    back = Affine.shift(x, y) @ Affine(share, 0.0, 0.0, share) @ Affine.shift(-x, -y)
    return [back.apply(point) for point in seen]


def _touched(rim: Sequence[Point], radius: float, view: PhotoView) -> tuple[Point, ...]:
    """A round thing's rim, moved in by what its slant makes it wider."""
    count, reach = len(rim), max(1, len(rim) // 60)
    moved: list[Point] = []
    for index, (x, y) in enumerate(rim):
        (ax, ay), (bx, by) = rim[index - reach], rim[(index + reach) % count]
        along = hypot(bx - ax, by - ay) or 1.0
        nx, ny = (by - ay) / along, (ax - bx) / along
        out = ((x - view.foot[0]) * nx + (y - view.foot[1]) * ny) / (view.height - radius)
        wider = radius * (sqrt(1 + out * out) - 1)
        moved.append((x - nx * wider, y - ny * wider))
    return largest(_area(moved))


def _area(rim: Sequence[Point]) -> Region:
    """Inside a rim, which may cross itself by less than a dot."""
    return region_of_points(rim).grown(0.0)
