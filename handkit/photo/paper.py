"""The paper: what of a straightened photo is the coloured sheet, lit or in shadow, and what is not.

In: the plane, the mat. Out: `Difference`: at each dot two numbers that are 0 on the paper, whatever falls on
it, and the paper's shade there.

Light on a sheet of one colour changes how much comes back and hardly its colour. So a dot's light is parted:
along the paper's own colour (the *shade*: 1 where nothing is in the light's way) and across it (the
*stranger*, two numbers, as shares of what the paper there sends back unshaded). Both colour and light change
evenly over the sheet; they are polynomials of its places, found on what is paper by what is already known,
beginning with the strip between marks and field, where nothing lies.
"""

from __future__ import annotations

import cv2
import msgspec
import numpy as np
import numpy.typing as npt

from handkit.photo.mat import BAR_INSET, FIELD_INSET, MARK, MARK_INSET, TICK, Mat
from handkit.photo.straight import Light, Plane

Floats = npt.NDArray[np.float64]
Truths = npt.NDArray[np.bool_]

# The sheet is learnt from squares of so many dots.
SQUARE = 5
# A square is paper if its colour (shares of all its light) is so near the paper's, and its light no less
# than this share of what is usual.
NEAR, NEARER, LIT = 0.06, 0.04, 0.82
ROUNDS = 4

# Things are looked for so many mm beside the field, too: the mat's words begin farther out.
BESIDE = 1.5

# No shadow on paper is as dark as this shade.
DARK = 0.1


class Difference(msgspec.Struct, frozen=True):
    """`looked` is where things are looked for: the field and a little beside it. `stranger` has two
    numbers a dot, `shade` one; `noise` is the stranger's usual size on the paper (one sigma of one number),
    `colour` the paper's light at the sheet's middle, blue first."""

    looked: Truths
    stranger: Light
    shade: Light
    noise: float
    colour: tuple[float, float, float]


def difference(plane: Plane, mat: Mat) -> Difference:
    """How the sheet is unlike bare paper."""
    squares = cv2.resize(
        plane.light,
        (plane.light.shape[1] // SQUARE, plane.light.shape[0] // SQUARE),
        interpolation=cv2.INTER_AREA,
    ).astype(np.float64)
    high, wide = squares.shape[:2]
    y, x = np.mgrid[0:high, 0:wide].astype(np.float64)
    terms = _terms((x + 0.5) / wide * 2 - 1, (y + 0.5) / high * 2 - 1)
    strip, inside, _ = _known(mat, plane, high, wide)
    colour, light = _learnt(squares, terms, strip, inside)
    *_, looked = _known(mat, plane, *plane.light.shape[:2])
    return _parted(plane, looked, colour, light)


def _known(mat: Mat, plane: Plane, high: int, wide: int) -> tuple[Truths, Truths, Truths]:
    """Squares that are paper for certain, the strip between marks and field; all that may be paper; and where
    things are looked for: the field and a little beside it, clear of bars and words."""
    across, up = plane.width / mat.width, plane.height / mat.height
    x = (np.arange(wide) + 0.5) * plane.width / wide / across
    y = (plane.height - (np.arange(high) + 0.5) * plane.height / high) / up
    inset = np.minimum(np.minimum(x, mat.width - x)[None], np.minimum(y, mat.height - y)[:, None])
    clear = MARK_INSET + MARK / 2 + 1.0
    free = (x[None] > BAR_INSET + TICK + 1) & (y[:, None] > BAR_INSET + TICK + 1)
    inside = free & (inset > clear)
    return inside & (inset < FIELD_INSET), inside, free & (inset > FIELD_INSET - BESIDE)


def _terms(x: Floats, y: Floats) -> Floats:
    """A polynomial's terms up to the third power."""
    return np.stack([x**i * y**j for i in range(4) for j in range(4 - i)], -1)


def _learnt(squares: Floats, terms: Floats, strip: Truths, open_: Truths) -> tuple[Floats, Floats]:
    """The coefficients of the colour's three shares and of the logarithm of the light."""
    total = np.maximum(squares.sum(-1), 1e-5)
    shares = squares / total[..., None]
    log = np.log(total)
    usual = np.median(shares[strip], 0)
    paper = open_ & (np.abs(shares - usual).max(-1) < NEAR) & (total > 0.05 * np.median(total[strip]))
    colour = np.zeros((terms.shape[-1], 3))
    colour[0] = usual
    level = np.median(log[strip & paper]) if (strip & paper).any() else np.median(log[strip])
    lit = paper & (log > level + np.log(0.5))
    light = np.zeros(terms.shape[-1])
    light[0] = level
    for round_ in range(ROUNDS):
        if min(paper.sum(), lit.sum()) < terms.shape[-1] * 4:
            break
        light = np.linalg.lstsq(terms[lit], log[lit], rcond=None)[0]
        colour = np.linalg.lstsq(terms[paper], shares[paper], rcond=None)[0]
        near = np.abs(shares - terms @ colour).max(-1) < NEARER
        paper = open_ & near & (total > 0.05 * np.exp(level))
        lit = paper & (log > terms @ light + np.log(LIT) - 0.2 / (1 + round_))
    return colour, light


def _parted(plane: Plane, looked: Truths, colour: Floats, light: Floats) -> Difference:
    """Each dot's light along the paper's colour and across it."""
    high, wide = plane.light.shape[:2]
    coarse = (high // 20 + 2, wide // 20 + 2)
    y, x = np.mgrid[0 : coarse[0], 0 : coarse[1]].astype(np.float64) * 20
    terms = _terms((x + 0.5) / wide * 2 - 1, (y + 0.5) / high * 2 - 1)
    sent = (terms @ colour) * np.exp(terms @ light)[..., None]
    middle = sent[coarse[0] // 2, coarse[1] // 2]
    size = (coarse[1] * 20, coarse[0] * 20)
    whole = _enlarged(sent.astype(np.float32), size)[:high, :wide]
    strong = np.maximum(np.linalg.norm(whole, axis=-1, keepdims=True), np.float32(1e-5))
    along = whole / strong
    shade = (plane.light * along).sum(-1)
    rest = (plane.light - shade[..., None] * along) / strong
    first = np.cross(
        middle / np.linalg.norm(middle), (0.0, 0.0, 1.0) if middle[2] < middle.max() else (0.0, 1.0, 0.0)
    )
    first = first / np.linalg.norm(first)
    second = np.cross(middle / np.linalg.norm(middle), first)
    stranger = np.stack([rest @ first.astype(np.float32), rest @ second.astype(np.float32)], -1)
    noise = float(np.median(np.abs(stranger[looked][::17]))) * 1.4826
    return Difference(
        looked,
        stranger,
        shade / strong[..., 0],
        noise,
        (float(middle[0]), float(middle[1]), float(middle[2])),
    )


def _enlarged(coarse: Light, size: tuple[int, int]) -> Light:
    """Every 20th dot's number, evenly between."""
    u, v = np.meshgrid(np.arange(size[0], dtype=np.float32) / 20, np.arange(size[1], dtype=np.float32) / 20)
    return cv2.remap(coarse, u, v, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE).astype(
        np.float32, copy=False
    )
