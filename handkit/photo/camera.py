"""The camera: where it stood over the sheet, how long its lens is and how it bends, by the marks alone.

In: the marks' places on the sheet in mm as drawn, where the photo has them in pixels, what the rule says of
the bars. Out: `Camera`, which tells for any place on the paper where the photo has it; and how sure it is.

One fit by Gauss and Newton's way (least squares, any handbook of numbers): the logarithm of the focal length,
two radial terms, turn and place of the sheet, and what the printer leaves: by how much longer the sheet came
out across than up beyond what the rule says, and its lean. Each has a weight that says how far from its first
guess it is believed. The derivatives are differences.
"""

from __future__ import annotations

from collections.abc import Callable
from math import log

import cv2
import msgspec
import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

# Of the focal length as a share of the diagonal where the file does not tell: main lenses of phones are
# told as 23 to 28 mm (common practice, no source). How far off, as a logarithm, it may be (one sigma): so,
# and where the file tells it in whole mm.
PHONE_FOCAL, ANY_LENS, TOLD_LENS = 25.5 / 43.27, 0.06, 0.02

# The same of both radial terms, of the sheet's one side against the other (a rule read to 0.25 mm on 160 mm
# and more), of its lean (no printer that feeds straight leans more); and in mm of a mark's place.
BENT, BENT_MORE, UNLIKE, LEAN, MARK_OFF = 0.08, 0.03, 0.0008, 0.0010, 0.04

STEPS = 30


class Camera(msgspec.Struct, frozen=True):
    """The fit: `values` in the order of `START`, the picture's middle, what the rule says of the bars; the
    covariance of the values; `off` how far each mark is from its place, in mm."""

    values: Floats
    middle: tuple[float, float]
    bars: tuple[float, float]  # measured ÷ drawn
    diagonal: float
    covariance: Floats
    off: Floats

    @property
    def lens(self) -> Floats:
        """The lens's place over the sheet in mm: right over the foot, z its height."""
        return lens_of(self.values)

    @property
    def tilt(self) -> float:
        """How far the photo's axis is from upright, in degrees."""
        upright = cv2.Rodrigues(self.values[2:5])[0][2, 2]
        return float(np.degrees(np.arccos(min(1.0, abs(float(upright))))))

    def seen(self, points: Floats) -> Floats:
        """Where the photo has places on the paper, in mm: pixels."""
        return projected(self.values, points, self.middle, self.diagonal)

    def on_paper(self, drawn: Floats) -> Floats:
        """Places of the drawing as they came out of the printer, in mm."""
        return printed(self.values, drawn, self.bars)

    @property
    def lens_error(self) -> tuple[float, float]:
        """Of the lens's height as a share, and of the foot in mm: one sigma."""
        base, step = self.lens, 1e-5
        moved = np.array(
            [(lens_of(self.values + step * row) - base) / step for row in np.eye(len(self.values))]
        )
        spread = moved.T @ self.covariance @ moved
        return float(np.sqrt(spread[2, 2]) / base[2]), float(np.sqrt((spread[0, 0] + spread[1, 1]) / 2))


def lens_of(values: Floats) -> Floats:
    """Where the lens stands, by the turn and place of the sheet before it."""
    turn = cv2.Rodrigues(values[2:5])[0]
    return np.asarray(-turn.T @ values[5:8], np.float64)


def printed(values: Floats, drawn: Floats, bars: tuple[float, float]) -> Floats:
    """Places of the drawing as they came out: by the bars, the printer's unlike sides and its lean."""
    x, y = drawn[:, 0] * bars[0] * (1 + values[8] / 2), drawn[:, 1] * bars[1] * (1 - values[8] / 2)
    return np.stack([x + values[9] * y, y], 1)


def projected(values: Floats, points: Floats, middle: tuple[float, float], diagonal: float) -> Floats:
    """Where a lens of that length and bend has places on the plane z = 0, in pixels."""
    turn = cv2.Rodrigues(values[2:5])[0]
    seen = points @ turn[:, :2].T + values[5:8]
    flat = seen[:, :2] / seen[:, 2:]
    square = (flat**2).sum(1, keepdims=True)
    bent = 1 + values[1] * square + values[10] * square**2
    return np.asarray(np.array(middle) + np.exp(values[0]) * diagonal * bent * flat, np.float64)


def fitted(
    drawn: Floats, seen: Floats, size: tuple[int, int], bars: tuple[float, float], focal: float
) -> Camera:
    """The camera of a photo of this size whose marks are `seen`; `focal` as a share of the diagonal, or 0."""
    middle = ((size[0] - 1) / 2, (size[1] - 1) / 2)
    diagonal = float(np.hypot(*size))
    values = _start(drawn * bars, seen, middle, diagonal, focal or PHONE_FOCAL)
    first = values.copy()
    first[[1, 8, 9, 10]] = 0.0
    believed = np.array([TOLD_LENS if focal else ANY_LENS, BENT, *[np.inf] * 6, UNLIKE, LEAN, BENT_MORE])

    def off(values: Floats) -> Floats:
        return (projected(values, printed(values, drawn, bars), middle, diagonal) - seen).ravel()

    pixels = pixels_per_mm(lambda points: projected(values, points, middle, diagonal), drawn)
    sigma = np.full(seen.size, MARK_OFF * float(np.median(pixels)))
    for _ in range(STEPS):
        now, steps = off(values), 1e-6 * np.maximum(1.0, np.abs(values))
        slopes = np.stack([(off(values + step) - now) / step.sum() for step in np.diag(steps)], 1)
        rows = np.concatenate([slopes / sigma[:, None], np.diag(1 / believed)])
        right = np.concatenate([-now / sigma, (first - values) / believed])
        change = np.linalg.lstsq(rows, right, rcond=None)[0]
        values = values + change
        if np.abs(change / np.maximum(1.0, np.abs(values))).max() < 1e-9:
            break
    mm = np.linalg.norm(off(values).reshape(-1, 2), axis=1) / pixels
    return Camera(values, middle, bars, diagonal, np.linalg.inv(rows.T @ rows), mm)


def _start(
    points: Floats, seen: Floats, middle: tuple[float, float], diagonal: float, share: float
) -> Floats:
    """Turn and place by the plane's map onto the photo, with a lens of that length that bends nothing."""
    flat = (seen - np.array(middle)) / (share * diagonal)
    plane, _ = cv2.findHomography(points, flat)
    plane = plane / np.sqrt(np.linalg.norm(plane[:, 0]) * np.linalg.norm(plane[:, 1]))
    plane = plane if plane[2, 2] > 0 else -plane
    left, _, right = np.linalg.svd(np.column_stack([plane[:, :2], np.cross(plane[:, 0], plane[:, 1])]))
    turn = cv2.Rodrigues(left @ right)[0].ravel()
    return np.array([log(share), 0.0, *turn, *plane[:, 2], 0.0, 0.0, 0.0])


def pixels_per_mm(seen: Callable[[Floats], Floats], points: Floats) -> Floats:
    """How many pixels a mm on the paper is at each of some places: the root of a square's area."""
    base = seen(points)
    right, up = seen(points + np.array([1.0, 0.0])) - base, seen(points + np.array([0.0, 1.0])) - base
    return np.sqrt(np.abs(right[:, 0] * up[:, 1] - right[:, 1] * up[:, 0]))
