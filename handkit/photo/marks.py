"""The marks in a photo: which black squares are which of the mat's, and where their middles are.

In: the photo's dots, the mat. Out: `Marks`: for each that is found its number and its middle in pixels to
some hundredths; how wide edges are drawn; or None where no sheet is found.

Dark four-cornered spots are looked for, with or without a lighter middle. One is taken for a hollow mark or a
corner, turned each way; from its corners the next marks are foretold, and from those that are there the next
ones. The guess that explains most is kept; which way round the sheet lies is told by the light in its hollow
marks. A middle is the centre of weight of what the ink takes
from the paper round it, in linear light.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import cv2
import msgspec
import numpy as np
import numpy.typing as npt

from handkit.photo.light import LINEAR
from handkit.photo.mat import HOLE, MARK, MARKS_APART, Mat

Floats = npt.NDArray[np.float64]
Bytes = npt.NDArray[np.uint8]

# Spots are looked for in a picture of about so many pixels.
LOOKED_AT = 3_000_000
# A spot is darker than this share of what is round it (than the second where the first finds no sheet: in a
# coarse photo thin rims are hardly dark), fills so much of its four corners' area, and its side
# is this many pixels at least.
DARKER, FILLED, LEAST_SPOT = (0.62, 0.75), 0.82, 5.0
# So much of all marks is to be found; a guess that explains as much as the second is not bettered.
ENOUGH, SURE = 0.70, 0.95
# Marks are looked for among so many of the largest spots, and no more than the second so many of these are
# taken for a hollow mark or a corner: a bench that is full of squares ends, too.
LOOKED_AMONG = 600
MOST_SPOTS, SEEDS = 150, 4
# How much lighter the middles of hollow marks are than others', where ink is 0 and paper 1.
HOLLOW = 0.3
# A spot is a mark if it is so near its place, as a share of a mark's side.
NEAR = 0.6
# Of a mark's ink so much is to be there, and no more than so much.
WHOLE = 0.15


class Marks(msgspec.Struct, frozen=True):
    """Marks by their numbers in the mat, their middles in pixels; `blur` is how many pixels an edge takes
    from a tenth to nine tenths."""

    numbers: tuple[int, ...]
    middles: Floats
    blur: float


class _Spots(msgspec.Struct, frozen=True):
    """Four-cornered dark spots: their corners against the clock as the picture is seen, and which are
    hollow."""

    corners: Floats  # n × 4 × 2
    hollow: npt.NDArray[np.bool_]

    @property
    def middles(self) -> Floats:
        return np.asarray(self.corners.mean(1), np.float64)


def found_marks(dots: Bytes, mat: Mat) -> Marks | None:
    """The marks of the mat in a photo."""
    bright = np.maximum(np.maximum(dots[..., 0], dots[..., 1]), dots[..., 2])
    named = (_named(_spots(bright, darker), bright, mat) for darker in DARKER)
    best = next((one for one in named if one is not None), None)
    if best is None:
        return None
    plane, numbers = best
    centres = np.array([mark.centre for mark in mat.marks])
    refined = [
        (number, _middle(bright, plane, centres[number], mat.marks[number].hollow)) for number in numbers
    ]
    kept = [(number, found) for number, found in refined if found is not None]
    if not kept:
        return None
    blur = float(np.median([found[2] for _, found in kept]))
    return Marks(tuple(n for n, _ in kept), np.array([found[:2] for _, found in kept]), blur)


def _spots(bright: Bytes, darker: float) -> _Spots:
    """What could be a mark, larger ones first."""
    share = min(1.0, (LOOKED_AT / bright.size) ** 0.5)
    small = (
        cv2.resize(bright, None, fx=share, fy=share, interpolation=cv2.INTER_AREA) if share < 1 else bright
    )
    wide = max(small.shape) // 12 | 1
    mean = cv2.boxFilter(small, cv2.CV_32F, (wide, wide))
    dark = (small < mean * darker).astype(np.uint8)
    rims, tree = cv2.findContours(dark, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    corners, hollow = [], []
    for index, rim in enumerate(rims):
        if tree[0][index][3] >= 0:
            continue
        square = _square(rim.reshape(-1, 2).astype(np.float64))
        if square is None:
            continue
        inner, hole = 0.0, tree[0][index][2]
        while hole >= 0:
            inner, hole = max(inner, cv2.contourArea(rims[hole])), tree[0][hole][0]
        corners.append(square)
        hollow.append(inner > 0.3 * (HOLE / MARK) ** 2 * cv2.contourArea(square.astype(np.float32)))
    places = np.array(corners).reshape(-1, 4, 2)
    across = np.abs(places[:, 0] - places[:, 2]).sum(1)
    kept = np.argsort(-across, kind="stable")[:LOOKED_AMONG]
    return _Spots((places[kept] + 0.5) / share - 0.5, np.array(hollow, bool)[kept])


def _square(rim: Floats) -> Floats | None:
    """The corners of a rim that has four, about as far from one another, and nothing dented."""
    if not 4 * LEAST_SPOT <= len(rim) <= 2000:
        return None
    low, high = rim.min(0), rim.max(0)
    if max(high - low) > 3 * min(high - low) + 1:
        return None
    hull = cv2.convexHull(rim.astype(np.float32))
    area, filled = cv2.contourArea(hull), cv2.contourArea(rim.astype(np.float32))
    if area < LEAST_SPOT**2 or filled < FILLED * area:
        return None
    round_it = cv2.arcLength(hull, True)
    for share in (0.04, 0.06, 0.08, 0.1, 0.12):
        four = cv2.approxPolyDP(hull, share * round_it, True).reshape(-1, 2).astype(np.float64)
        if len(four) <= 4:
            break
    if len(four) != 4 or abs(cv2.contourArea(four.astype(np.float32)) - area) > 0.2 * area:
        return None
    sides = np.linalg.norm(four - np.roll(four, 1, 0), axis=1)
    if sides.max() > 2.5 * sides.min():
        return None
    return four[::-1] if _turn(four) > 0 else four


def _turn(four: Floats) -> float:
    """Positive where corners go round with the picture's clock (y down)."""
    x, y = four[:, 0], four[:, 1]
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())


def _guesses(spots: _Spots, mat: Mat) -> Iterator[tuple[int, int, int]]:
    """A spot, a mark, a turn by quarters: hollow spots for hollow marks, then any spot for a corner, then
    some spots for any mark. Half a turn of the sheet is left to its hollow marks, so two corners do."""
    hollow = [number for number, mark in enumerate(mat.marks) if mark.hollow]
    corners = [0, max(n for n in hollow if mat.marks[n].centre[1] == mat.marks[0].centre[1])]
    some = np.where(spots.hollow)[0][:MOST_SPOTS].tolist()
    yield from product(some, hollow, range(4))
    yield from product(range(min(len(spots.hollow), MOST_SPOTS)), corners, range(4))
    yield from product(
        range(0, len(spots.hollow), len(spots.hollow) // SEEDS + 1), range(len(mat.marks)), range(4)
    )


def _named(spots: _Spots, bright: Bytes, mat: Mat) -> tuple[Floats, list[int]] | None:
    """The sheet's map onto the photo and the marks that are there, by the guess that explains most."""
    best, most = None, ENOUGH * len(mat.marks) / 2
    for spot, number, turn in _guesses(spots, mat) if len(spots.hollow) else ():
        grown = _grown(spots, mat, {number: spot}, turn)
        if grown is not None and len(grown[1]) > most:
            best, most = grown[0], float(len(grown[1]))
            if most >= SURE * len(mat.marks):
                break
    plane = None if best is None else _right_way_round(bright, best, mat)
    if plane is None:
        return None
    return plane, sorted(_agreed(spots, mat, plane))


def _right_way_round(bright: Bytes, plane: Floats, mat: Mat) -> Floats | None:
    """The map, or the same of the sheet turned, by which hollow marks are light in the middle and others
    dark; None where neither is."""
    width, height = mat.width, mat.height
    half = np.array([(-1.0, 0, width), (0, -1.0, height), (0, 0, 1.0)])
    ways = [plane, plane @ half]
    if abs(width - height) < MARK:  # so nearly square that a quarter's turn fits as well
        quarter = np.array([(0, -1.0, width), (1.0, 0, 0), (0, 0, 1.0)])
        ways += [way @ quarter for way in ways]
    hollow = np.array([mark.hollow for mark in mat.marks])
    lights = [_light_inside(bright, way, mat) for way in ways]
    told = [float(np.median(light[hollow]) - np.median(light[~hollow])) for light in lights]
    clear = [float((light[hollow] > 0.5 * np.median(light[hollow])).mean()) for light in lights]
    best = max(range(len(ways)), key=lambda way: told[way] + clear[way])
    return ways[best] if told[best] > HOLLOW and clear[best] > 0.6 else None


def _light_inside(bright: Bytes, plane: Floats, mat: Mat) -> Floats:
    """Of each mark: the light of its middle, where its ink's is 0 and that of the paper round it 1."""
    around = np.array([(x, y) for x in (-1, 0, 1) for y in (-1, 0, 1) if x or y])
    centres = np.array([mark.centre for mark in mat.marks])

    def light(apart: float) -> Floats:
        places = _apply(plane, (centres[:, None] + apart * MARK * around).reshape(-1, 2))
        column, row = (np.round(places[:, i]).astype(int).clip(0, bright.shape[1 - i] - 1) for i in (0, 1))
        return np.asarray(np.median(LINEAR[bright[row, column]].reshape(len(centres), -1), 1), np.float64)

    ink, paper = light((HOLE / MARK + 1) / 4), light(0.7)
    return np.asarray((light(0.06) - ink) / np.maximum(paper - ink, 0.01), np.float64)


def _grown(spots: _Spots, mat: Mat, pairs: dict[int, int], turn: int) -> tuple[Floats, dict[int, int]] | None:
    """From one spot that is taken for a mark to all that agree with it."""
    centres = np.array([mark.centre for mark in mat.marks])
    pairs, plane = _walked(spots, centres, pairs, turn), np.eye(3)
    for _ in range(3):
        found = cv2.findHomography(*_corners(spots, centres, pairs, turn))[0] if len(pairs) > 3 else None
        if found is None:
            return None
        plane = np.asarray(found, np.float64)
        pairs = _agreed(spots, mat, plane)
    return (plane, pairs) if len(pairs) > 3 else None


def _agreed(spots: _Spots, mat: Mat, plane: Floats) -> dict[int, int]:
    """Marks for which there is a spot where the map has them."""
    centres = np.array([mark.centre for mark in mat.marks])
    wanted = _apply(plane, centres)
    sizes = np.linalg.norm(_apply(plane, centres + np.array([MARK, 0.0])) - wanted, axis=1)
    apart = np.linalg.norm(wanted[:, None] - spots.middles[None], axis=2)
    return {mark: int(apart[mark].argmin()) for mark in np.where(apart.min(1) < NEAR * sizes)[0].tolist()}


def _walked(spots: _Spots, centres: Floats, pairs: dict[int, int], turn: int) -> dict[int, int]:
    """Mark by mark along the border, each foretold by those that are found near it."""
    open_ones = set(range(len(centres))) - pairs.keys()
    for reach in (1.2 * MARKS_APART, 2.4 * MARKS_APART):
        last = 0
        while last != len(pairs):
            last = len(pairs)
            for mark in sorted(open_ones):
                apart = np.linalg.norm(centres[list(pairs)] - centres[mark], axis=1)
                if apart.min() > reach:
                    continue
                near = {
                    each: pairs[each] for each, far in zip(pairs, apart, strict=True) if far < 3 * MARKS_APART
                }
                drawn, seen = _corners(spots, centres, near, turn)
                sums = np.column_stack([drawn, np.ones(len(drawn))])
                flat = np.linalg.lstsq(sums, seen, rcond=None)[0]
                off = np.linalg.norm(spots.middles - (flat[2] + centres[mark] @ flat[:2]), axis=1)
                if off.min() < NEAR * MARK * abs(np.linalg.det(flat[:2])) ** 0.5:
                    pairs[mark] = int(off.argmin())
                    open_ones.discard(mark)
            if len(pairs) < 3:
                return pairs
    return pairs


def _corners(spots: _Spots, centres: Floats, pairs: dict[int, int], turn: int) -> tuple[Floats, Floats]:
    """The corners of marks as drawn and as their spots have them."""
    square = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * MARK / 2
    drawn = np.concatenate([centres[mark] + square for mark in pairs])
    return drawn, np.concatenate([np.roll(spots.corners[each], -turn, 0) for each in pairs.values()])


def _apply(plane: Floats, points: Floats) -> Floats:
    """Points through a plane's map."""
    seen = np.column_stack([points, np.ones(len(points))]) @ plane.T
    return np.asarray(seen[:, :2] / seen[:, 2:], np.float64)


def _middle(bright: Bytes, plane: Floats, centre: Floats, hollow: bool) -> tuple[float, float, float] | None:
    """A mark's middle in pixels, and how wide its edge is; None where it isn't all there.

    What ink takes is 0 on paper and 1 in it: paper is a plane through what is round the mark, ink the tenth
    darkest. Across an edge blurred by a Gauss curve of σ the sum of w·(1 − w) is σ ÷ √π a unit of its length,
    and from a tenth to nine tenths are 2.56 σ.
    """
    outer = _apply(plane, centre + np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * 0.78 * MARK)
    low, high = np.floor(outer.min(0)).astype(int), np.ceil(outer.max(0)).astype(int) + 1
    if low.min() < 0 or high[0] > bright.shape[1] or high[1] > bright.shape[0]:
        return None
    patch = LINEAR[bright[low[1] : high[1], low[0] : high[0]]]
    v, u = np.mgrid[low[1] : high[1], low[0] : high[0]]
    back = (
        _apply(np.asarray(np.linalg.inv(plane), np.float64), np.column_stack([u.ravel(), v.ravel()])) - centre
    )
    far = np.abs(back).max(1).reshape(patch.shape) / MARK  # 0.5 at the mark's edge
    ring, inside = (far > 0.62) & (far < 0.76), far < 0.67
    ring &= patch > 0.8 * np.median(patch[ring]) if ring.any() else ring  # without bars and words near by
    if ring.sum() < 12:
        return None
    sides = np.column_stack([np.ones(ring.sum()), u[ring] - low[0], v[ring] - low[1]])
    flat = np.linalg.lstsq(sides, patch[ring], rcond=None)[0]
    paper = flat[0] + flat[1] * (u - low[0]) + flat[2] * (v - low[1])
    ink = np.percentile(patch[far < 0.5], 10)
    ink_share = np.clip((paper - patch) / np.maximum(paper - ink, 1e-6), -0.2, 1.2) * inside
    area = np.abs(np.linalg.det(plane)) / (np.array([*centre, 1]) @ plane[2]) ** 3
    wanted = area * (MARK**2 - (HOLE**2 if hollow else 0.0))
    if abs(ink_share.sum() / wanted - 1) > WHOLE:
        return None
    x, y = float((ink_share * u).sum() / ink_share.sum()), float((ink_share * v).sum() / ink_share.sum())
    rim = 4 * (MARK + (HOLE if hollow else 0.0)) * np.sqrt(area)
    mixed = np.clip(ink_share, 0, 1)
    return x, y, 2.56 * float((mixed * (1 - mixed)).sum()) * np.sqrt(np.pi) / float(rim)
