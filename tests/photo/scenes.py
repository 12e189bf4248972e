"""Random benches of things: a number gives a scene, what a rule reads of its bars, its lens as told."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from math import hypot
from random import Random

from rendering import Body, Scene, placed
from shapely import LineString, Point, Polygon, box, unary_union

from handkit.photo.mat import mat_of

MATERIALS = {
    "coloured": [
        (0.45, 0.05, 0.05),
        (0.50, 0.32, 0.16),
        (0.62, 0.50, 0.06),
        (0.25, 0.14, 0.08),
        (0.5, 0.2, 0.3),
    ],
    "white": [(0.80, 0.80, 0.78), (0.65, 0.64, 0.60)],
    "black": [(0.035, 0.035, 0.035), (0.06, 0.055, 0.05)],
    "metal": [(0.30, 0.30, 0.31), (0.36, 0.33, 0.28)],
}

# A name, an outline in mm, the range of its thickness, whether it is round, and the radius of its upper edge.
SHAPES = [
    ("card", box(0, 0, 86, 54), (0.8, 3), False, 0.0),
    ("rule", box(0, 0, 150, 26), (1, 2), False, 0.0),
    ("block", box(0, 0, 62, 38), (8, 28), False, 0.5),
    ("notebook", box(0, 0, 105, 74), (6, 14), False, 0.5),
    ("tin", Point(0, 0).buffer(24, quad_segs=32), (8, 24), False, 1.5),
    ("pencil", box(0, 0, 150, 7.4), (7.4, 7.4), True, 0.0),
    ("pen", LineString([(0, 0), (118, 0)]).buffer(6.2), (12.4, 12.4), True, 0.0),
    ("bone", LineString([(0, 0), (120, 0)]).buffer(9).intersection(box(-9, -9, 140, 9)), (2, 4), False, 1.0),
    (
        "knife",
        Polygon([(0, 0), (82, 1), (88, 4), (160, 3), (172, 11), (160, 19), (92, 20), (84, 22), (0, 20)]),
        (6, 14),
        False,
        1.5,
    ),
    (
        "shears",
        unary_union(
            [
                Polygon([(50, 18), (58, 6), (152, 11), (150, 15), (58, 32)]),
                Point(30, 5).buffer(17),
                Point(30, 33).buffer(17),
                box(40, 10, 62, 28),
            ]
        ),
        (5, 11),
        False,
        1.5,
    ),
    (
        "awl",
        unary_union(
            [
                Point(0, 0).buffer(13),
                Polygon([(0, -13), (48, -7), (48, 7), (0, 13)]),
                Polygon([(46, -2.2), (104, -0.8), (104, 0.8), (46, 2.2)]),
            ]
        ),
        (24, 28),
        True,
        0.0,
    ),
    ("key", unary_union([Point(0, 0).buffer(12), box(8, -4, 58, 4), box(44, -9, 50, 0)]), (2, 3), False, 0.3),
]


@dataclass(frozen=True)
class Case:
    """A scene with its words: which light; what things are of; the bars as read; the focal length in whole mm
    of film, 0 where the file does not tell."""

    scene: Scene
    light: str
    materials: tuple[str, ...]
    bars: tuple[float, float]
    film: int


LIGHTS = {
    "even": {"sun": 0.15, "soft": 6.0, "uneven": 0.12},
    "soft shadow": {"sun": 0.45, "soft": 4.0, "uneven": 0.25},
    "hard shadow": {"sun": 0.72, "soft": 0.35, "uneven": 0.3},
}


def case(seed: int, *, paper: str = "", megapixels: float = 0.0) -> Case:
    """The case of this number."""
    chance = Random(seed)
    mat = mat_of(297, 420) if chance.random() < 0.35 else mat_of(210, 297)
    light = list(LIGHTS)[seed % 3]
    colour = chance.choice(["blue", "blue", "green", "red"])
    bodies, materials = _things(chance, mat, 3 if mat.width < 250 else 6, colour)
    share = chance.uniform(0.55, 0.66)
    pixels = (megapixels or chance.choice([2.0, 3.0, 4.0])) * 1e6
    wide = round((pixels * 0.75) ** 0.5)
    high = round(wide / 0.75)
    focal = share * hypot(wide, high)
    quarter = chance.choice([0, 90, 180, 270]) if seed % 4 == 0 else 0
    fill = chance.uniform(0.6, 0.9)
    height = max(focal * mat.height / (high * fill), focal * mat.width / (wide * fill))
    printed = (chance.uniform(0.993, 1.004), chance.uniform(0.993, 1.004), chance.uniform(-0.0008, 0.0008))
    scene = Scene(
        mat,
        bodies,
        paper or colour,
        (high, wide) if quarter % 180 else (wide, high),
        share,
        k1=chance.uniform(-0.06, 0.05),
        k2=chance.uniform(-0.02, 0.02),
        height=height,
        tilt=chance.uniform(0.5, 12.0) if chance.random() < 0.85 else chance.uniform(12.0, 15.0),
        towards=chance.uniform(0, 360),
        turn=quarter + chance.uniform(-4, 4),
        aim=(chance.uniform(-8, 8), chance.uniform(-8, 8)),
        printed=printed,
        bow=chance.choice([0.0, 0.0, 0.3]),
        lamp=(chance.uniform(20, 50), chance.uniform(0, 360)),
        exposure=chance.uniform(0.75, 1.15),
        blur=chance.uniform(0.6, 1.4),
        noise=chance.uniform(0.003, 0.012),
        quality=chance.choice([85, 92, 96]),
        seed=seed,
        **LIGHTS[light],
    )
    read = [
        round((bar.length * share + chance.uniform(-0.15, 0.15)) * 4) / 4
        for bar, share in ((mat.across, printed[0]), (mat.up, printed[1]))
    ]
    told = round(share * hypot(36, 24)) if chance.random() < 0.7 else 0
    return Case(scene, light, materials, (read[0], read[1]), told)


def _things(chance: Random, mat, count: int, paper: str) -> tuple[tuple[Body, ...], tuple[str, ...]]:
    """As many as go in beside one another, tall ones in the middle half as makers are told to."""
    bodies: list[Body] = []
    materials: list[str] = []
    field = box(*mat.field.corners[0], *mat.field.corners[2])
    for _ in range(400):
        if len(bodies) == count:
            break
        name, shape, thin, rod, edge = chance.choice(SHAPES)
        kind = chance.choice(list(MATERIALS))
        albedo = chance.choice(MATERIALS[kind])
        if paper == "red" and kind == "coloured":
            albedo = chance.choice([(0.05, 0.25, 0.10), (0.6, 0.5, 0.06), (0.05, 0.1, 0.4)])
        thick = chance.uniform(*thin)
        middle = 0.28 if thick > 12 else 0.5
        x = mat.width / 2 + chance.uniform(-middle, middle) * (mat.width - 46)
        y = mat.height / 2 + chance.uniform(-middle, middle) * (mat.height - 46)
        outline = placed(shape, x, y, chance.uniform(0, 360))
        room = outline.buffer(7)
        if field.contains(outline.buffer(2 + 0.35 * thick)) and not any(
            room.intersects(body.outline) for body in bodies
        ):
            metal = chance.uniform(0.4, 0.75) if kind == "metal" else 0.0
            bodies.append(Body(name, outline, thick, albedo, metal, edge, rod))
            materials.append(kind)
    return tuple(bodies), tuple(materials)


def with_lens(photo: bytes, film: int) -> bytes:
    """A JPEG with what a camera says of its lens (Exif 2.32: FocalLengthIn35mmFilm)."""
    if not film:
        return photo
    entries = struct.pack("<HHHII", 1, 0x8769, 4, 1, 26) + struct.pack("<I", 0)
    deeper = struct.pack("<HHHIHH", 1, 0xA405, 3, 1, film, 0) + struct.pack("<I", 0)
    exif = b"Exif\0\0" + b"II*\0" + struct.pack("<I", 8) + entries + deeper
    return photo[:2] + b"\xff\xe1" + struct.pack(">H", len(exif) + 2) + exif + photo[2:]
