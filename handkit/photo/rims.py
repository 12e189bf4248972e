"""Rims: a thing's edge between dots.

In: a rim of dots, what is unlike the paper. Out: `ThingRim`: its places in dots, closed, at even steps, and
how unclear it is.

Across the rim the stranger goes from what it is on the paper to what it is in the thing: light mixes evenly
in a dot that has both, so the edge is where half the way is made. Either end is the median beside the rim,
so that a shadow outside and a face that is lit less inside do no harm.
"""

from __future__ import annotations

import cv2
import msgspec
import numpy as np
import numpy.typing as npt

from handkit.photo.paper import Difference

Floats = npt.NDArray[np.float64]
Truths = npt.NDArray[np.bool_]

# In dots: from place to place along the rim; from sample to sample across, how far; where the two ends are
# taken, clear of the blur; how far the edge may be from where it was looked for.
ALONG, ACROSS, REACH = 2.0, 0.5, 9.0
CLEAR, END, MOST = 1.6, 5.0, 6.0
# How much wider than the photo's blur an edge may be, in dots.
SOFT = 1.2
# Ends less unlike than so many sigmas of one dot tell nothing. A rim is taken for faint where the stranger is
# still so much less beside it than farther in, though it is so light (a side in shade is not), or where so
# much of it is left outside, along nine lines: more than a paper's shadows have in simulated photos.
SIGMAS, FAINT, MIRROR, GHOST = 4.0, 0.5, 0.45, 0.01
# The shade of what is dark; its share of the shade beside it.
BLACK, BLACKER = 0.25, 0.6


class ThingRim(msgspec.Struct, frozen=True):
    """Places in dots; the share of them where no edge is told; how far neighbours differ (one sigma, in
    dots); the share along which the thing is fainter at its rim than farther in."""

    places: Floats
    unclear: float
    rough: float
    faint: float


def rim_of(dots: Floats, unlike: Difference, blur: float) -> ThingRim:
    """The rim between dots; `blur` is how many an edge takes from a tenth to nine tenths."""
    steps = _even(_smooth(dots, 2.0), ALONG)
    after, before = np.roll(steps, -1, 0), np.roll(steps, 1, 0)
    way = _smooth(after - before, 1.0)
    way /= np.maximum(np.linalg.norm(way, axis=1, keepdims=True), 1e-9)
    x, y = steps[:, 0], steps[:, 1]
    left = (x * np.roll(y, -1) - np.roll(x, -1) * y).sum() > 0
    inwards = np.stack([-way[:, 1], way[:, 0]], 1) * (1 if left else -1)
    across = np.arange(-REACH, REACH + ACROSS / 2, ACROSS)
    places = (steps[:, None] + across[None, :, None] * inwards[:, None]).astype(np.float32)
    stranger, shade = (
        cv2.remap(each, places[..., 0], places[..., 1], cv2.INTER_LINEAR).astype(np.float64)
        for each in (unlike.stranger, unlike.shade)
    )
    off, sure, clear, faint = _crossings(stranger, shade, across, (blur, unlike.noise))
    if not sure.any():
        return ThingRim(steps, 1.0, 0.0, 0.0)
    index = np.arange(len(off))
    filled = np.interp(index, index[sure], off[sure], period=len(off))
    calm = _median(filled, 2)
    rough = float(np.median(np.abs(filled - calm))) * 1.4826
    return ThingRim(steps + calm[:, None] * inwards, 1 - float(clear.mean()), rough, float(faint.mean()))


def _crossings(
    stranger: Floats, shade: Floats, across: Floats, limits: tuple[float, float]
) -> tuple[Floats, Truths, Truths, Truths]:
    """For each line across: how far in the edge lies, whether it is told, whether it is no wider than
    a blur makes it, whether the rim is faint. Of what
    is dark, and darker than the shadow beside it, the shade tells the edge too."""
    blur, noise = limits
    near, far = (across >= CLEAR) & (across <= END), (across <= -CLEAR - 1) & (across >= -END - 2)
    dark = np.median(shade[:, near], 1)
    black = (dark < BLACK) & (dark < BLACKER * np.median(shade[:, far], 1))
    met = np.concatenate([stranger, (shade * black[:, None])[..., None]], -1)
    outside, inside = np.median(met[:, far], 1), np.median(met[:, near], 1)
    deep = np.median(met[:, across >= END + 1], 1)
    gap = inside - outside
    size = (gap**2).sum(1)
    share = ((met - outside[:, None]) * gap[:, None]).sum(2) / np.maximum(size, 1e-12)[:, None]
    up = (share[:, :-1] < 0.5) & (share[:, 1:] >= 0.5)
    at = across[:-1] + ACROSS * (0.5 - share[:, :-1]) / np.where(up, share[:, 1:] - share[:, :-1], 1.0)
    off = np.where(up, np.abs(at), np.inf)
    best = off.argmin(1)
    rows = np.arange(len(met))
    sure = (off[rows, best] <= MOST) & (size > (SIGMAS * noise) ** 2)
    just_in = (across >= min(max(CLEAR, 0.7 * blur), END - 1)) & (across <= END)
    beside = np.median(met[:, just_in], 1)
    faint = ((deep - outside) ** 2).sum(1) * FAINT**2 > ((beside - outside) ** 2).sum(1)
    faint &= np.median(shade[:, just_in], 1) > MIRROR
    band = (across <= -max(3.0, 1.1 * blur)) & (across >= -END - 1)
    if band.sum() > 2:  # else the blur, and what JPEG smears of colours, reach as far
        ghost = stranger[:, band].mean(1) - stranger[:, across <= -7.5].mean(1)
        towards = (ghost * inside[:, :2]).sum(1) / np.maximum(np.linalg.norm(inside[:, :2], axis=1), 1e-9)
        faint |= ~black & (_mean(towards, 4) > GHOST)
    mixed = ((share > 0.2) & (share < 0.8) & (np.abs(across) <= MOST)).sum(1) * ACROSS
    return np.where(sure, at[rows, best], 0.0), sure, sure & (mixed < blur + SOFT), faint


def _even(rim: Floats, apart: float) -> Floats:
    """A closed line in even steps."""
    closed = np.concatenate([rim, rim[:1]])
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(closed, axis=0), axis=1))])
    to = np.arange(max(12, round(run[-1] / apart))) * run[-1] / max(12, round(run[-1] / apart))
    return np.stack([np.interp(to, run, closed[:, axis]) for axis in (0, 1)], 1)


def _smooth(rim: Floats, sigma: float) -> Floats:
    """A closed line, each place the mean of its neighbours by a Gauss curve."""
    reach = np.arange(-int(3 * sigma) - 1, int(3 * sigma) + 2)
    weights = np.exp(-(reach**2) / (2 * sigma**2))
    weights /= weights.sum()
    rolled = [weight * np.roll(rim, -int(by), 0) for by, weight in zip(reach, weights, strict=True)]
    return np.asarray(np.sum(rolled, 0), np.float64)


def _mean(values: Floats, reach: int) -> Floats:
    """Of each value and its neighbours in a ring."""
    return np.asarray(np.mean([np.roll(values, by) for by in range(-reach, reach + 1)], 0), np.float64)


def _median(values: Floats, reach: int) -> Floats:
    """The same, of what stands in the middle."""
    return np.asarray(np.median([np.roll(values, by) for by in range(-reach, reach + 1)], 0), np.float64)
