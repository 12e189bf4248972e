"""How far what was traced is from what lies there."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from rendering import Body
from shapely import Polygon, affinity, distance, line_interpolate_point, line_locate_point, points

from handkit.photo.traced import Found, Thick, Traced, TracedThing


@dataclass(frozen=True)
class Measured:
    """One thing: the 95th percentile of the outlines' distance both ways, where it lies and moved onto its
    truth; how far its length is off; what was stated; whether its rim was told to mirror."""

    body: Body
    p95: float
    placed: float
    length: float
    stated: float
    shiny: bool


def thicknesses(found: Found, bodies: tuple[Body, ...]) -> dict[int, Thick]:
    """Of each number, as a maker would say it, to half a mm or a tenth of thin things."""
    said = {}
    for blob in found.blobs:
        body = nearest(blob.middle, bodies)
        step = 0.5 if body.thick > 4 else 0.1
        said[blob.number] = Thick(round(body.thick / step) * step, body.rod)
    return said


def nearest(place: tuple[float, float], bodies: tuple[Body, ...]) -> Body:
    return min(
        bodies, key=lambda body: np.hypot(*(np.array(body.outline.envelope.centroid.coords[0]) - place))
    )


def measured(thing: TracedThing, bodies: tuple[Body, ...], shiny: bool) -> Measured:
    got = Polygon([thing.place.apply(point) for point in thing.outline])
    body = nearest(got.envelope.centroid.coords[0], bodies)
    true = body.outline
    length = spread(got) - spread(true)
    return Measured(body, p95(moved_onto(got, true), true), p95(got, true), length, thing.uncertainty, shiny)


def all_measured(traced: Traced, found: Found, bodies: tuple[Body, ...]) -> list[Measured]:
    shiny = {blob.number: blob.shiny for blob in found.blobs}
    return [measured(thing, bodies, shiny[thing.number]) for thing in traced.things]


def spread(shape: Polygon) -> float:
    points = np.array(shape.exterior.coords)
    return float(np.linalg.norm(points[:, None] - points[None], axis=2).max())


def along(shape: Polygon) -> np.ndarray:
    run = np.arange(0, shape.length, 0.4)
    return np.array([shape.exterior.interpolate(at).coords[0] for at in run])


def p95(got: Polygon, true: Polygon) -> float:
    both = np.concatenate(
        [distance(points(along(got)), true.exterior), distance(points(along(true)), got.exterior)]
    )
    return float(np.percentile(both, 95))


def moved_onto(got: Polygon, true: Polygon) -> Polygon:
    """Shifted and turned so that its rim lies best on the other: nearest points and least squares in turn."""
    for _ in range(12):
        mine = along(got)
        line = true.exterior
        to = np.array(
            [p.coords[0] for p in line_interpolate_point(line, line_locate_point(line, points(mine)))]
        )
        a, b = mine - mine.mean(0), to - to.mean(0)
        turn = np.arctan2((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum(), (a * b).sum())
        got = affinity.rotate(got, float(turn), origin=tuple(mine.mean(0)), use_radians=True)
        got = affinity.translate(got, *(to.mean(0) - mine.mean(0)))
    return got
