"""A camera, a light and a bench of things, drawn by sums of their own: photos whose truth is known.

In: a `Scene`. Out: a JPEG's bytes. Of handkit it knows the mat's record and no more. A thing is a body over
an outline: at each height it is cut back from the outline by so much (`cut_back`), so that prisms, rods and
rounded edges are one case. A ray of the camera meets the highest cut that it comes into. Light is reckoned
linear; what a thing takes from the light is traced towards the lamp; metal mirrors a room and the paper.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import cos, radians, sin

import cv2
import numpy as np
from shapely import Polygon, affinity

from handkit.photo.mat import Mat

RASTER = 8.0  # dots to a mm of the sheet, and of the outlines' distances
LEVELS = 12  # cuts through a body

PAPERS = {
    "blue": (0.018, 0.10, 0.42),
    "green": (0.03, 0.30, 0.09),
    "red": (0.46, 0.03, 0.04),
    "white": (0.80, 0.80, 0.78),
}


@dataclass(frozen=True)
class Body:
    """A thing: its outline on the mat in mm, how thick it is, what it is made of."""

    name: str
    outline: Polygon
    thick: float
    albedo: tuple[float, float, float]
    metal: float = 0.0  # share of light that is mirrored
    edge: float = 0.0  # radius of the upper edge; with `rod` all is round
    rod: bool = False

    def cut_back(self, z: float) -> float:
        """How far inside the outline the body begins at this height."""
        radius = self.thick / 2 if self.rod else self.edge
        above = z - (self.thick - radius)
        below = radius - z if self.rod else 0.0
        off = max(above, below, 0.0)
        return radius - float(np.sqrt(max(radius**2 - off**2, 0.0)))


@dataclass(frozen=True)
class Scene:
    """What is photographed, and how."""

    mat: Mat
    bodies: tuple[Body, ...]
    paper: str = "blue"
    pixels: tuple[int, int] = (2000, 1500)
    focal: float = 0.62  # of the picture's diagonal
    k1: float = 0.0
    k2: float = 0.0
    height: float = 450.0
    tilt: float = 3.0
    towards: float = 40.0  # degrees: where to the camera leans
    turn: float = 2.0  # of the picture
    aim: tuple[float, float] = (0.0, 0.0)  # off the sheet's middle
    printed: tuple[float, float, float] = (1.0, 1.0, 0.0)  # across, up, lean
    bow: float = 0.0  # how far the paper's middle stands up
    sun: float = 0.6  # share of light that comes from the lamp
    lamp: tuple[float, float] = (35.0, 40.0)  # degrees: off upright, towards
    soft: float = 3.0  # mm of blur of shadows
    uneven: float = 0.25
    tint: tuple[float, float, float] = (0.97, 1.0, 1.06)  # of the light that is left in shadow
    exposure: float = 1.0
    blur: float = 0.8  # pixels, sigma
    noise: float = 0.006
    quality: int = 92
    seed: int = 1
    marks_hidden: tuple[int, ...] = field(default=())


def photographed(scene: Scene) -> bytes:
    """The photo, as a JPEG."""
    ok, coded = cv2.imencode(".jpg", developed(scene, seen(scene)), [cv2.IMWRITE_JPEG_QUALITY, scene.quality])
    assert ok
    return coded.tobytes()


# --- the sheet -------------------------------------------------------------------------------------------


def distances(outline: Polygon, pad: float) -> tuple[np.ndarray, float, float]:
    """How far inside an outline each dot of a raster lies, with the raster's lower left corner in mm."""
    left, bottom, right, top = outline.bounds
    left, bottom = left - pad, bottom - pad
    size = (int((right + pad - left) * RASTER) + 2, int((top + pad - bottom) * RASTER) + 2)
    mask = np.zeros(size[::-1], np.uint8)
    for ring, value in [(outline.exterior, 1), *((hole, 0) for hole in outline.interiors)]:
        points = (np.array(ring.coords) - (left, bottom)) * RASTER - 0.5
        cv2.fillPoly(mask, [np.round(points * 256).astype(np.int32)], value, shift=8)
    inside = cv2.distanceTransform(mask, cv2.DIST_L2, cv2.DIST_MASK_PRECISE)
    outside = cv2.distanceTransform(1 - mask, cv2.DIST_L2, cv2.DIST_MASK_PRECISE)
    far = cv2.GaussianBlur(inside - outside, (0, 0), 1.0)
    far -= 0.5 * np.sign(far) * (np.abs(far) > 1.5)
    return far / RASTER, left, bottom


def sampled(raster: np.ndarray, left: float, bottom: float, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    columns = ((x - left) * RASTER - 0.5).astype(np.float32)
    rows = ((y - bottom) * RASTER - 0.5).astype(np.float32)
    return cv2.remap(
        raster, columns, rows, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=(-99.0,) * 4
    )


def sheet(scene: Scene) -> np.ndarray:
    """The light that the bare sheet sends back, in dots of the raster, row 0 at its lower edge."""
    mat = scene.mat
    high, wide = int(mat.height * RASTER), int(mat.width * RASTER)
    ink = np.zeros((high, wide), np.float32)

    def fill(x0: float, y0: float, x1: float, y1: float, value: float) -> None:
        corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]) * RASTER - 0.5
        cv2.fillPoly(ink, [np.round(corners * 256).astype(np.int32)], value, cv2.LINE_AA, shift=8)

    for index, mark in enumerate(mat.marks):
        if index in scene.marks_hidden:
            continue
        (x, y), half = mark.centre, mark.size / 2
        fill(x - half, y - half, x + half, y + half, 1.0)
        if mark.hollow:
            fill(x - half / 2, y - half / 2, x + half / 2, y + half / 2, 0.0)
    for bar in (mat.across, mat.up):
        (x0, y0), (x1, y1) = bar.start, bar.end
        fill(x0 - 0.15, y0 - 0.15, x1 + 0.15, y1 + 0.15, 1.0)
        for x, y in (bar.start, bar.end):
            fill(
                x - 1.5 * (y1 > y0) - 0.1,
                y - 1.5 * (x1 > x0),
                x + 1.5 * (y1 > y0) + 0.1,
                y + 1.5 * (x1 > x0),
                1.0,
            )
    for x in np.arange(30.0, mat.width - 30, 2.2):  # a line of words
        fill(x, mat.height - 20.6, x + 1.3, mat.height - 18.4, 0.7)
    colour = np.array(PAPERS[scene.paper], np.float32)
    return colour * (1 - ink[..., None]) + np.float32(0.035) * ink[..., None]


def lamp_way(scene: Scene) -> np.ndarray:
    off, towards = map(radians, scene.lamp)
    return np.array([sin(off) * cos(towards), sin(off) * sin(towards), cos(off)])


def lit(scene: Scene, shapes: list[tuple[Body, np.ndarray, float, float]]) -> np.ndarray:
    """How much light of each colour falls on each dot of the sheet."""
    high, wide = int(scene.mat.height * 2), int(scene.mat.width * 2)
    y, x = np.mgrid[0:high, 0:wide].astype(np.float32) / 2 + 0.25
    way = lamp_way(scene)
    shadow, near = np.zeros((high, wide), np.float32), np.zeros((high, wide), np.float32)
    for body, far, left, bottom in shapes:
        for z in np.linspace(0.3, body.thick, 10):
            moved = sampled(far, left, bottom, x + way[0] / way[2] * z, y + way[1] / way[2] * z)
            shadow = np.maximum(shadow, np.clip((moved - body.cut_back(float(z))) * 2 + 0.5, 0, 1))
        beside = sampled(far, left, bottom, x, y)
        near = np.maximum(near, np.exp(np.minimum(beside, 0) / (0.35 * body.thick + 0.3)) * (beside > -90))
    if scene.soft:
        shadow = cv2.GaussianBlur(shadow, (0, 0), scene.soft * 2)
    rise = 1 + scene.uneven * ((x / scene.mat.width - 0.5) * 0.8 - (y / scene.mat.height - 0.5) * 0.5)
    sun = scene.sun * (1 - shadow)
    rest = (1 - scene.sun) * (1 - 0.35 * near)
    light = (sun[..., None] + rest[..., None] * np.array(scene.tint)) * rise[..., None]
    return light.astype(np.float32)


# --- the camera ------------------------------------------------------------------------------------------


def turned(axis: str, degrees: float) -> np.ndarray:
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return np.array({"x": [[1, 0, 0], [0, c, -s], [0, s, c]], "z": [[c, -s, 0], [s, c, 0], [0, 0, 1]]}[axis])


def camera(scene: Scene) -> tuple[np.ndarray, np.ndarray, float]:
    """Rows: the picture's right, its down, the way it looks; the lens's place; the focal length in pixels."""
    lean = turned("z", scene.towards) @ turned("x", scene.tilt) @ turned("z", -scene.towards)
    upright = np.array([[1.0, 0, 0], [0, -1, 0], [0, 0, -1]])
    rows = (lean @ turned("z", scene.turn) @ upright.T).T
    aim = np.array([scene.mat.width / 2 + scene.aim[0], scene.mat.height / 2 + scene.aim[1], 0])
    place = aim - rows[2] * scene.height / -rows[2][2]
    return rows, place, scene.focal * float(np.hypot(*scene.pixels))


def rays(scene: Scene, fine: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Where the ray of each dot meets the paper, x and y in mm; and the lens's place. Reckoned at every
    eighth dot and evenly between."""
    rows, place, focal = camera(scene)
    wide, high = scene.pixels
    v, u = np.mgrid[0 : high * fine + 8 : 8, 0 : wide * fine + 8 : 8].astype(np.float64)
    u, v = ((u + 0.5) / fine - wide / 2) / focal, ((v + 0.5) / fine - high / 2) / focal
    x, y = u.copy(), v.copy()
    for _ in range(12):  # the lens: undone by going round
        square = x * x + y * y
        bent = 1 + scene.k1 * square + scene.k2 * square * square
        x, y = u / bent, v / bent
    way = [rows[0][i] * x + rows[1][i] * y + rows[2][i] for i in range(3)]
    z = np.zeros_like(x)
    for _ in range(6):  # a sheet that stands up in the middle
        far = (z - place[2]) / way[2]
        gx, gy = place[0] + way[0] * far, place[1] + way[1] * far
        z = scene.bow * np.cos(np.clip(gx / scene.mat.width - 0.5, -0.5, 0.5) * np.pi)
    u = np.arange(wide * fine, dtype=np.float32) / 8
    v = np.arange(high * fine, dtype=np.float32)[:, None] / 8
    u, v = np.broadcast_to(u, (len(v), len(u))), np.broadcast_to(v, (len(v), len(u)))
    gx, gy = (cv2.remap(g.astype(np.float32), u.copy(), v.copy(), cv2.INTER_LINEAR) for g in (gx, gy))
    return gx, gy, place


def seen(scene: Scene, fine: int = 2) -> np.ndarray:
    """The linear light that reaches each pixel, blue first."""
    shapes = [(body, *distances(body.outline, 4.0 + 1.2 * body.thick)) for body in scene.bodies]
    light = lit(scene, shapes)
    across, up, lean = scene.printed
    gx, gy, lens = rays(scene, fine)
    high, wide = gx.shape
    out = np.zeros((high // fine, wide // fine, 3), np.float32)
    paper = sheet(scene)
    band = 200
    for top in range(0, high // fine, band):
        rows = slice(top * fine, min((top + band) * fine, high))
        x, y = gx[rows], gy[rows]
        drawn_y = y / up
        drawn_x = (x - lean * y) / across
        columns, lines = drawn_x * RASTER - 0.5, drawn_y * RASTER - 0.5
        colour = cv2.remap(paper, columns, lines, cv2.INTER_LINEAR, borderValue=(-1, -1, -1))
        table = colour[..., :1] < -0.01
        falls = cv2.remap(light, x * 2 - 0.5, y * 2 - 0.5, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        grain = 0.15 + 0.03 * np.sin(x * 0.7) * np.sin(y * 0.05)
        colour = np.where(table, grain[..., None] * np.array([1.3, 1.0, 0.7], np.float32), colour) * falls
        for shape in shapes:
            draw(colour, scene, shape, (x, y), lens)
        size = (colour.shape[1] // fine, colour.shape[0] // fine)
        out[top : top + band] = cv2.resize(colour, size, interpolation=cv2.INTER_AREA)
    return out[..., ::-1]


def draw(
    colour: np.ndarray,
    scene: Scene,
    shape: tuple[Body, np.ndarray, float, float],
    met_at: tuple[np.ndarray, np.ndarray],
    lens: np.ndarray,
) -> None:
    """Put a body into what is seen, where a ray comes into one of its cuts; `met_at` is where rays would meet
    the paper."""
    x, y = met_at
    body, far, left, bottom = shape
    reach = 1 + 0.7 * body.thick
    x0, y0, x1, y1 = body.outline.bounds
    some_x, some_y = x[::16, ::16], y[::16, ::16]
    box = (some_x > x0 - reach) & (some_y > y0 - reach) & (some_x < x1 + reach) & (some_y < y1 + reach)
    lines, columns = np.where(box.any(1))[0] * 16, np.where(box.any(0))[0] * 16
    if not len(lines):
        return
    part = slice(max(lines[0] - 16, 0), lines[-1] + 17), slice(max(columns[0] - 16, 0), columns[-1] + 17)
    x, y = x[part], y[part]
    near = sampled(far, left, bottom, *raised(x, y, lens, body.thick / 2)) > -1 - 0.7 * body.thick
    todo = np.flatnonzero(near)
    flat_x, flat_y = x.ravel(), y.ravel()
    height, slope = np.full(x.size, -1.0, np.float32), np.zeros(x.size, np.float32)
    radius = body.thick / 2 if body.rod else body.edge
    for z in map(float, np.linspace(body.thick, 0.0, LEVELS * (3 if radius else 1))):
        at_x, at_y = raised(flat_x[todo], flat_y[todo], lens, z)
        if not len(todo):
            break
        inside = listed(far, left, bottom, at_x, at_y) > body.cut_back(z)
        met, todo = todo[inside], todo[~inside]
        height[met] = z
        over = z - (body.thick - radius)
        slope[met] = 1.0 if z == body.thick else np.clip(over / radius, 0, 1) if radius else 0.0
    met = np.flatnonzero(height >= 0)
    if len(met):
        hits = Hits(flat_x[met], flat_y[met], height[met], slope[met])
        some = colour[part].reshape(-1, 3)
        some[met] = shaded(scene, shape, hits, lens)
        colour[part] = some.reshape(*x.shape, 3)


@dataclass(frozen=True)
class Hits:
    """Where rays meet a body: where they would meet the paper, how high they meet it, and the upright part of
    its surface's normal there."""

    x: np.ndarray
    y: np.ndarray
    height: np.ndarray
    slope: np.ndarray


def raised(x: np.ndarray, y: np.ndarray, lens: np.ndarray, z) -> tuple[np.ndarray, np.ndarray]:
    """Where rays that meet the paper at a place are at this height."""
    return x + (lens[0] - x) * z / lens[2], y + (lens[1] - y) * z / lens[2]


def listed(raster: np.ndarray, left: float, bottom: float, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """`sampled` of a list of places."""
    wide = 1024
    pad = -len(x) % wide
    full = (np.pad(each, (0, pad)).reshape(-1, wide) for each in (x, y))
    return sampled(raster, left, bottom, *full).ravel()[: len(x)]


def shaded(scene: Scene, shape: tuple, hits: Hits, lens: np.ndarray) -> np.ndarray:
    """The light that a body sends to the lens."""
    body, far, left, bottom = shape
    slopes = np.gradient(cv2.GaussianBlur(far, (0, 0), 3.0), 1 / RASTER)
    at_x, at_y = raised(hits.x, hits.y, lens, hits.height)
    out = np.stack([-listed(g.astype(np.float32), left, bottom, at_x, at_y) for g in slopes[::-1]], -1)
    out = np.clip(out, -1, 1)
    out /= np.maximum(np.linalg.norm(out, axis=-1, keepdims=True), 1e-3)
    level = np.sqrt(np.maximum(1 - hits.slope**2, 0))
    normal = np.concatenate([out * level[..., None], hits.slope[..., None]], -1)
    way = lamp_way(scene)
    faces = np.clip(normal @ way, 0, 1) / way[2]
    paper = np.array(PAPERS[scene.paper])
    rise = 1 + scene.uneven * (
        (hits.x / scene.mat.width - 0.5) * 0.8 - (hits.y / scene.mat.height - 0.5) * 0.5
    )
    open_sky = 0.5 + 0.5 * hits.slope
    light = scene.sun * faces[..., None] + (1 - scene.sun) * open_sky[..., None] * np.array(scene.tint)
    light = light + ((1 - open_sky) * 0.5)[..., None] * paper  # what the paper throws back
    matt = light * rise[..., None] * np.array(body.albedo)
    if not body.metal:
        return matt
    look = np.stack([at_x - lens[0], at_y - lens[1], hits.height - lens[2]], -1)
    look /= np.linalg.norm(look, axis=-1, keepdims=True)
    back = look - 2 * (look * normal).sum(-1, keepdims=True) * normal
    window = np.clip((back @ way - 0.75) * 4, 0, 1)
    room = (0.35 + 0.25 * back[..., 2] + 1.6 * window)[..., None] * np.ones(3)
    mirrored = np.where(back[..., 2:] < 0.02, paper * 0.8, room)
    return matt * (1 - body.metal) + mirrored * body.metal * rise[..., None]


def developed(scene: Scene, light: np.ndarray) -> np.ndarray:
    """Blurred, noisy, coded by sRGB's curve (IEC 61966-2-1) in bytes."""
    chance = np.random.default_rng(scene.seed)
    if scene.blur:
        light = cv2.GaussianBlur(light, (0, 0), scene.blur)
    light = light * scene.exposure
    spread = scene.noise * np.sqrt(0.1 + np.maximum(light, 0))
    light = light + chance.standard_normal(light.shape, np.float32) * spread
    light = np.clip(light, 0, 1)
    coded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.round(coded * 255).astype(np.uint8)


def placed(outline: Polygon, x: float, y: float, turn: float) -> Polygon:
    """An outline about its middle, turned, its middle at a place."""
    middle = outline.envelope.centroid
    return affinity.translate(affinity.rotate(outline, turn, middle), x - middle.x, y - middle.y)
