"""Blobs: where on the mat something lies, dot by dot.

In: what is unlike the paper. Out: a rim for each thing, in dots of the plane.

A dot is a thing's where the stranger is more than noise and more than a shadow's tint can be, or where it is
brighter than paper can be, or darker than shadow.
"""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from handkit.photo.paper import DARK, Difference
from handkit.photo.straight import DOT

Floats = npt.NDArray[np.float64]
Bytes = npt.NDArray[np.uint8]

# The stranger that is a thing's: so many sigmas, this at the least; and for each unit of shade, for light of
# another tint, so much more. Brighter than any paper.
SIGMAS, LEAST, TINT = 7.0, 0.03, 0.05
BRIGHT = 1.6
# In mm: what is narrower is noise, gaps as narrow are bridged; and if there are more things than should be,
# gaps so wide. A thing's least area, in mm².
SPECK, GAPS, LEAST_AREA = 0.5, (0.9, 2.5), 12.0


def blobs(unlike: Difference, count: int) -> list[Floats]:
    """The rims of things, without their holes, upper ones first. Where more are found than `count`, those
    that nearly touch are taken for one, if that makes it right."""
    mask = _mask(unlike)
    found = _rims(mask, GAPS[0])
    if len(found) > count:
        wider = _rims(mask, GAPS[1])
        found = wider if len(wider) == count else found
    return found


def _mask(unlike: Difference) -> Bytes:
    """The dots that are a thing's."""
    far = cv2.magnitude(unlike.stranger[..., 0], unlike.stranger[..., 1])
    limit = max(LEAST, SIGMAS * unlike.noise) + TINT * np.clip(unlike.shade, 0, 1.3)
    odd = (far > limit) | (unlike.shade > BRIGHT) | (unlike.shade < DARK)
    opened = cv2.morphologyEx((odd & unlike.looked).astype(np.uint8), cv2.MORPH_OPEN, _disc(SPECK))
    return opened.astype(np.uint8, copy=False)


def _rims(mask: Bytes, gap: float) -> list[Floats]:
    closed = cv2.morphologyEx(mask, cv2.MORPH_CLOSE, _disc(gap))
    rims, _ = cv2.findContours(closed, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    large = [
        rim.reshape(-1, 2).astype(np.float64) for rim in rims if cv2.contourArea(rim) * DOT**2 > LEAST_AREA
    ]
    return sorted(large, key=lambda rim: (float(rim[:, 1].min()), float(rim[:, 0].min())))


def _disc(wide: float) -> Bytes:
    """A disc so many mm across."""
    dots = max(1, round(wide / DOT)) | 1
    return cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (dots, dots)).astype(np.uint8)
