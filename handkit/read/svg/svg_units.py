"""Units of a drawing: lengths, transforms, and how a viewBox fits its width and height.

In: attributes of SVG elements. Out: mm, user units or maps; None where they can't be read. The grammar is
that of SVG 1.1 (chapters 4.2, 7.6 to 7.8, 7.10) and CSS 2.1 (4.3.2): 96 px, 72 pt and 6 pc an inch.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from math import cos, isfinite, radians, sin, tan

from handkit.geometry.affine import Affine
from handkit.units import MM_PER_INCH

NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
MOST = 1e6  # of any number: 265 m of px

_PX = MM_PER_INCH / 96
_UNITS = {
    "": _PX,
    "px": _PX,
    "pt": MM_PER_INCH / 72,
    "pc": MM_PER_INCH / 6,
    "mm": 1.0,
    "cm": 10.0,
    "in": MM_PER_INCH,
}
_LENGTH = re.compile(rf"\s*({NUMBER})\s*([a-z]{{0,2}})\s*", re.ASCII)
_CALL = re.compile(r"[\s,]*([a-zA-Z]{5,9})\s*\(([^()]{0,200})\)", re.ASCII)
NEXT_NUMBER = re.compile(rf"[\s,]*({NUMBER})", re.ASCII)


def numbers(text: str) -> list[float] | None:
    """A list of numbers, blanks or commas between them.

    >>> numbers("1,-2.5 .5e1"), numbers("1 two")
    ([1.0, -2.5, 5.0], None)
    """
    found, at = [], 0
    while match := NEXT_NUMBER.match(text, at):
        found.append(float(match[1]))
        at = match.end()
    fine = not text[at:].strip(" \t\r\n,") and all(isfinite(each) and abs(each) <= MOST for each in found)
    return found if fine else None


def length_mm(text: str) -> float | None:
    """A length of the page; per cent and units of a font say nothing of a page.

    >>> length_mm("10mm"), round(length_mm("96"), 9), length_mm("2 in"), length_mm("100%"), length_mm("-3mm")
    (10.0, 25.4, 50.8, None, None)
    """
    match = _LENGTH.fullmatch(text)
    if match is None or match[2] not in _UNITS or not 0 < float(match[1]) <= MOST:
        return None
    return float(match[1]) * _UNITS[match[2]]


def user_length(text: str) -> float | None:
    """A length in a drawing, in user units, of which 96 are an inch whatever the viewBox.

    >>> user_length("3.5"), round(user_length("25.4mm"), 9)
    (3.5, 96.0)
    """
    match = _LENGTH.fullmatch(text)
    if match is None or match[2] not in _UNITS or abs(float(match[1])) > MOST:
        return None
    return float(match[1]) * (_UNITS[match[2]] / _PX if match[2] else 1.0)


def scale_of(size: tuple[float, float], view_box: str, fitted: str) -> tuple[float, float] | None:
    """Mm for each user unit, across and down: all alike so that the viewBox fits in (`meet`) or covers
    (`slice`) the size, unless it is stretched (`none`).

    >>> scale_of((100, 50), "0 0 200 200", ""), scale_of((100, 50), "0 0 200 200", "none")
    ((0.25, 0.25), (0.5, 0.25))
    """
    if not view_box.strip():
        return _PX, _PX
    box = numbers(view_box)
    if box is None or len(box) != 4 or min(box[2:]) <= 0:
        return None
    across, down = size[0] / box[2], size[1] / box[3]
    if "none" in fitted:
        return across, down
    alike = max(across, down) if "slice" in fitted else min(across, down)
    return alike, alike


def transform_of(text: str) -> Affine | None:
    """A list of transforms, the last one done first.

    >>> transform_of("translate(5) scale(2)").apply((1.0, 1.0)), transform_of("spin(3)")
    ((7.0, 2.0), None)
    """
    whole, at = Affine(), 0
    while match := _CALL.match(text, at):
        values = numbers(match[2])
        known = _TRANSFORMS.get((match[1], len(values or ())))
        if known is None or values is None:
            return None
        whole, at = whole @ known(*values), match.end()
    return None if text[at:].strip(" \t\r\n,") else whole


def _rotation(degrees: float) -> Affine:
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return Affine(c, s, -s, c)


def _rotation_about(degrees: float, x: float, y: float) -> Affine:
    return Affine.shift(x, y) @ _rotation(degrees) @ Affine.shift(-x, -y)


_TRANSFORMS: Mapping[tuple[str, int], Callable[..., Affine]] = {
    ("matrix", 6): Affine,
    ("translate", 1): lambda x: Affine.shift(x, 0.0),
    ("translate", 2): Affine.shift,
    ("scale", 1): lambda x: Affine(a=x, d=x),
    ("scale", 2): lambda x, y: Affine(a=x, d=y),
    ("rotate", 1): _rotation,
    ("rotate", 3): _rotation_about,
    ("skewX", 1): lambda angle: Affine(c=tan(radians(angle))),
    ("skewY", 1): lambda angle: Affine(b=tan(radians(angle))),
}
