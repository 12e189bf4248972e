"""Pictures of what was found: all things numbered on the straightened sheet, and each thing by itself under
its outline.

In: what was found, the things at true size. Out: PNG and JPEG.

A *cut-out* is what the straightened sheet shows of one thing, in the thing's own frame. A place at a height z
is seen farther from the foot by 1 ÷ (1 − z/H), H the lens's height: the cut-out is taken that much smaller
about the foot, so that the edge that an outline follows lies under it.
"""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from handkit.geometry.affine import Affine, Point
from handkit.geometry.box import Box, box_of
from handkit.photo.traced import CutOut, Found, TracedThing

Picture = npt.NDArray[np.uint8]

# Of lines and numbers on the picture, in dots; letters' height is about 22 times their scale.
LINE, CASING, SCALE = 1, 3, 0.8
BLACK, WHITE = (0, 0, 0), (255, 255, 255)
# Parts of a dot in which places are given.
SHIFT = 4

# How far a cut-out goes beyond its outline, in mm, and how well it is kept.
ROUND, QUALITY = 6.0, 88


def numbered(found: Found) -> bytes:
    """The straightened sheet as a PNG with each thing's outline as it is seen, and its number."""
    picture = _decoded(found.straightened)
    for blob in found.blobs:
        ring = np.array([_dots(found, point) for point in blob.seen])
        fixed = np.round(ring * 2**SHIFT).astype(np.int32)
        for colour, width in ((WHITE, CASING), (BLACK, LINE)):
            cv2.polylines(picture, [fixed], True, colour, width, cv2.LINE_AA, SHIFT)
    for blob in found.blobs:
        _number(picture, str(blob.number), _dots(found, blob.middle))
    return cv2.imencode(".png", picture)[1].tobytes()


def cut_out(found: Found, thing: TracedThing) -> CutOut:
    """What the sheet shows of a thing, under its outline."""
    box = box_of(thing.outline).grown(ROUND)
    z = thing.thick.mm / 2 if thing.thick.round else thing.thick.mm
    (x, y), share = found.view.foot, 1 / (1 - z / found.view.height)
    seen = Affine.shift(x, y) @ Affine(share, 0.0, 0.0, share) @ Affine.shift(-x, -y) @ thing.place
    dot = found.mm_per_pixel
    columns, rows = round(box.width / dot), round(box.height / dot)
    ends = ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    to = np.array(
        [_dots(found, seen.apply((box.left + (c + 0.5) * dot, box.top - (r + 0.5) * dot))) for c, r in ends]
    )
    by = np.column_stack((to[1] - to[0], to[2] - to[0], to[0]))
    picture = cv2.warpAffine(
        _decoded(found.straightened),
        by,
        (columns, rows),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderValue=WHITE,
    )
    data = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, QUALITY])[1].tobytes()
    return CutOut(data, Box(box.left, box.top - rows * dot, box.left + columns * dot, box.top))


def _decoded(png: bytes) -> Picture:
    return np.asarray(cv2.imdecode(np.frombuffer(png, np.uint8), cv2.IMREAD_COLOR), np.uint8)


def _dots(found: Found, point: Point) -> tuple[float, float]:
    """A place on the sheet as column and row, from the middle of the first dot."""
    dot = found.mm_per_pixel
    return point[0] / dot - 0.5, (found.height - point[1]) / dot - 0.5


def _number(picture: Picture, text: str, at: tuple[float, float]) -> None:
    """In a white disc with a black rim, its middle there."""
    font, x, y = cv2.FONT_HERSHEY_SIMPLEX, round(at[0]), round(at[1])
    (wide, high), _ = cv2.getTextSize(text, font, SCALE, 2)
    radius = round((wide**2 + high**2) ** 0.5 / 2 + 5)
    cv2.circle(picture, (x, y), radius, WHITE, -1, cv2.LINE_AA)
    cv2.circle(picture, (x, y), radius, BLACK, 2, cv2.LINE_AA)
    cv2.putText(picture, text, (x - wide // 2, y + high // 2), font, SCALE, BLACK, 2, cv2.LINE_AA)
