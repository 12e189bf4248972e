"""Straightening: the photo as the plane of the paper, a fixed number of dots to a mm, in linear light.

In: the photo's dots, the camera, the sheet's size as printed. Out: `Plane`: light in shares of the brightest
that a byte tells, row 0 at the sheet's upper edge.
"""

from __future__ import annotations

import cv2
import msgspec
import numpy as np
import numpy.typing as npt

from handkit.photo.camera import Camera
from handkit.photo.light import CODED_WORDS, LINEAR_WORDS

Bytes = npt.NDArray[np.uint8]
Floats = npt.NDArray[np.float64]
Light = npt.NDArray[np.float32]

# Mm of paper to a dot: edges are told to a tenth of it, and no photo of a whole sheet shows much more.
DOT = 0.2
# The paper's map onto the photo is reckoned in such steps, in dots, and even between: a lens bends less than
# 0.01 pixels beside that.
STEP = 8


class Plane(msgspec.Struct, frozen=True):
    """The sheet straightened: light, blue first; its size in mm."""

    light: Light
    width: float
    height: float

    def dots(self, points: Floats) -> Floats:
        """Places in mm as column and row."""
        return np.stack([points[:, 0] / DOT - 0.5, (self.height - points[:, 1]) / DOT - 0.5], 1)

    def mm(self, dots: Floats) -> Floats:
        """Columns and rows as places in mm."""
        return np.stack([(dots[:, 0] + 0.5) * DOT, self.height - (dots[:, 1] + 0.5) * DOT], 1)

    @property
    def png(self) -> bytes:
        """The sheet as a picture."""
        coded = CODED_WORDS[np.round(self.light * 65535).astype(np.uint16) >> 4]
        return cv2.imencode(".png", coded)[1].tobytes()


def straightened(dots: Bytes, camera: Camera, width: float, height: float) -> Plane:
    """A sheet of this size. Where the photo has several dots for one of the plane's, their mean counts."""
    columns, rows = round(width / DOT), round(height / DOT)
    x = (np.arange(0, columns + STEP, STEP) + 0.5) * DOT
    y = height - (np.arange(0, rows + STEP, STEP) + 0.5) * DOT
    places = np.stack(np.meshgrid(x, y), -1).reshape(-1, 2)
    seen = camera.seen(places).reshape(len(y), len(x), 2)
    low = np.clip(np.floor(seen.min((0, 1))).astype(int) - 2, 0, None)
    high = np.ceil(seen.max((0, 1))).astype(int) + 3
    light = cv2.LUT(dots[low[1] : high[1], low[0] : high[0]], LINEAR_WORDS)
    many = max(1, int(np.linalg.norm(seen[1, 1] - seen[0, 0]) / STEP / 2**0.5 + 0.4))
    if many > 1:
        size = (-(-light.shape[1] // many), -(-light.shape[0] // many))
        padded = cv2.copyMakeBorder(
            light,
            0,
            size[1] * many - light.shape[0],
            0,
            size[0] * many - light.shape[1],
            cv2.BORDER_REPLICATE,
        )
        light = cv2.resize(padded, size, interpolation=cv2.INTER_AREA)
    shown = ((seen - low + 0.5) / many - 0.5).astype(np.float32)
    fine_u, fine_v = (_between(shown[..., axis], rows, columns) for axis in (0, 1))
    flat = cv2.remap(light, fine_u, fine_v, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    return Plane(flat.astype(np.float32) / np.float32(65535), width, height)


def _between(coarse: Light, rows: int, columns: int) -> Light:
    """What is reckoned at every `STEP`th dot, evenly between."""
    u = np.arange(columns, dtype=np.float32) / STEP
    v = np.arange(rows, dtype=np.float32) / STEP
    grid_u, grid_v = np.meshgrid(u, v)
    return cv2.remap(coarse, grid_u, grid_v, cv2.INTER_LINEAR).astype(np.float32, copy=False)
