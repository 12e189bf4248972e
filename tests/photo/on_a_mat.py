"""Things on a mat as a photo would show them, without a photo: their outlines are known to the last digit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import cos, pi, sin

import cv2
import numpy as np
from shapely import MultiPoint
from shapely.geometry.polygon import orient

from handkit.geometry.affine import Affine, Point
from handkit.photo.traced import Blob, Found, PhotoView

DOT = 0.2
FOOT, HIGH = (100.0, 140.0), 500.0

RULER: tuple[Point, ...] = ((0, 0), (150, 0), (150, 20), (0, 20))
TIN: tuple[Point, ...] = tuple(
    (25 + 25 * cos(2 * pi * k / 72), 25 + 25 * sin(2 * pi * k / 72)) for k in range(72)
)
KNIFE: tuple[Point, ...] = ((0, 4), (100, 0), (180, 4), (180, 16), (100, 24), (0, 16))

# What lies there, where, and how thick it is: prisms without hollows.
THINGS: Mapping[str, tuple[tuple[Point, ...], Affine, float]] = {
    "ruler": (RULER, Affine.shift(30, 230), 3.175),
    "tin": (TIN, Affine.shift(120, 150), 10.0),
    "knife": (KNIFE, Affine.shift(90, 30) @ Affine.turn(90), 2.5),
}


def found(names: Sequence[str] = tuple(THINGS), *, first: int = 1) -> Found:
    """These things as they are seen on a mat of A4, numbered from one on."""
    size = (210.0, 297.0)
    lows = [(tuple(map(place.apply, ring)), thick) for ring, place, thick in (THINGS[name] for name in names)]
    seen = [silhouette(*low) for low in lows]
    tops = [seen_at(*low) for low in lows]
    return Found(
        blobs=tuple(Blob(k, ring, 0.2) for k, ring in enumerate(seen, start=first)),
        view=PhotoView(FOOT, HIGH, 1.0, 0.03, 4.0, 0.03, 2.0, 0.06, 0.001),
        straightened=straightened(seen, tops, size),
        mm_per_pixel=DOT,
        width=size[0],
        height=size[1],
        advice=(),
    )


def seen_at(ring: Sequence[Point], z: float) -> tuple[Point, ...]:
    """Where places at a height are seen: farther from the foot by 1 ÷ (1 − z/H), by plane geometry."""
    (x, y), share = FOOT, 1 / (1 - z / HIGH)
    return tuple((x + (px - x) * share, y + (py - y) * share) for px, py in ring)


def silhouette(low: Sequence[Point], thick: float) -> tuple[Point, ...]:
    """The hull of what is seen of the lower edge and of the upper."""
    return tuple(orient(MultiPoint([*low, *seen_at(low, thick)]).convex_hull).exterior.coords[:-1])


def straightened(seen: Sequence[Sequence[Point]], tops: Sequence[Sequence[Point]], size: Point) -> bytes:
    """A blue sheet with yellow things, white on top, as PNG."""
    picture = np.full((round(size[1] / DOT), round(size[0] / DOT), 3), (150, 60, 20), np.uint8)
    for ring, colour in (
        *((ring, (30, 200, 230)) for ring in seen),
        *((ring, (255, 255, 255)) for ring in tops),
    ):
        dots = [((x / DOT - 0.5) * 16, ((size[1] - y) / DOT - 0.5) * 16) for x, y in ring]
        cv2.fillPoly(picture, [np.round(dots).astype(np.int32)], colour, cv2.LINE_8, 4)
    return bytes(cv2.imencode(".png", picture)[1])
