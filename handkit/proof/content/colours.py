"""Colours: what decides how ink looks: colours as greys, opacity, blending, masks.

In: the operands of g, G, rg, RG, k, K, cs, CS, sc, SC, scn, SCN, and the dictionary that gs names, after
ISO 32000-1, 8.6 and 8.4.5. Out: the state after them.

A colour is its grey by ISO 32000-1, 10.3: 0.3 red + 0.59 green + 0.11 blue; of inks, what they leave of
white. A colour of any space that is not one of the device's can't be told: its grey is None.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from handkit.errors import ProofError
from handkit.proof.content.graphics import Graphics, named, numbers
from handkit.proof.content.objects import is_number

GREY, RGB, CMYK = "/DeviceGray", "/DeviceRGB", "/DeviceCMYK"

# By space: how many numbers a colour has, and the one that a new space begins with.
_COUNTS: Mapping[str, tuple[int, tuple[float, ...]]] = MappingProxyType(
    {GREY: (1, (0.0,)), RGB: (3, (0.0, 0.0, 0.0)), CMYK: (4, (0.0, 0.0, 0.0, 1.0))}
)
_SHORT = {"/G": GREY, "/RGB": RGB, "/CMYK": CMYK}

# Blend modes that paint as if there were none.
_PLAIN_BLENDS = ("/Normal", "/Compatible")

# What is done to colours on their way to paper: transfers, black's part, halftones (ISO 32000-1, Table 58).
_OF_A_DEVICE = frozenset(("/TR", "/TR2", "/BG", "/BG2", "/UCR", "/UCR2", "/HT"))


def grey_of(space: str, colour: Sequence[float]) -> float:
    """The grey of a device colour, 0 black to 1 white.

    >>> grey_of(GREY, [0.25]), grey_of(RGB, [1, 0, 0]), grey_of(CMYK, [0, 0, 0, 1])
    (0.25, 0.3, 0.0)
    """
    shares = [min(1.0, max(0.0, share)) for share in colour]
    if space == GREY:
        return shares[0]
    red, green, blue = shares[:3]
    mixed = 0.3 * red + 0.59 * green + 0.11 * blue
    return mixed if space == RGB else 1.0 - min(1.0, mixed + shares[3])


def _set_colour(operator: str, space: str, *, stroke: bool) -> Callable[[Graphics, Sequence[Any]], Graphics]:
    """g and its like: a space and a colour of it."""
    count = _COUNTS[space][0]

    def act(graphics: Graphics, operands: Sequence[Any]) -> Graphics:
        return _coloured(graphics, space, grey_of(space, numbers(operator, operands, count)), stroke=stroke)

    return act


def _set_space(operator: str, *, stroke: bool) -> Callable[[Graphics, Sequence[Any]], Graphics]:
    """CS and cs: a space by its name; its first colour is black where it is one of the device's."""

    def act(graphics: Graphics, operands: Sequence[Any]) -> Graphics:
        name = named(operator, operands)
        space = _SHORT.get(name, name)
        grey = grey_of(space, _COUNTS[space][1]) if space in _COUNTS else None
        return _coloured(graphics, space, grey, stroke=stroke)

    return act


def _set_parts(operator: str, *, stroke: bool) -> Callable[[Graphics, Sequence[Any]], Graphics]:
    """SC, sc, SCN and scn: a colour of the space that was set."""

    def act(graphics: Graphics, operands: Sequence[Any]) -> Graphics:
        space = graphics.spaces[0 if stroke else 1]
        if space not in _COUNTS:
            return _coloured(graphics, space, None, stroke=stroke)
        count = _COUNTS[space][0]
        return _coloured(graphics, space, grey_of(space, numbers(operator, operands, count)), stroke=stroke)

    return act


def _coloured(graphics: Graphics, space: str, grey: float | None, *, stroke: bool) -> Graphics:
    strokes, fills = graphics.spaces
    if stroke:
        if graphics.look.stroke == grey and space == strokes:
            return graphics
        return graphics.looking(stroke=grey).changed(spaces=(space, fills))
    if graphics.look.fill == grey and space == fills:
        return graphics
    return graphics.looking(fill=grey).changed(spaces=(strokes, space))


COLOURS: Mapping[str, Callable[[Graphics, Sequence[Any]], Graphics]] = MappingProxyType(
    {
        "G": _set_colour("G", GREY, stroke=True),
        "g": _set_colour("g", GREY, stroke=False),
        "RG": _set_colour("RG", RGB, stroke=True),
        "rg": _set_colour("rg", RGB, stroke=False),
        "K": _set_colour("K", CMYK, stroke=True),
        "k": _set_colour("k", CMYK, stroke=False),
        "CS": _set_space("CS", stroke=True),
        "cs": _set_space("cs", stroke=False),
        "SC": _set_parts("SC", stroke=True),
        "SCN": _set_parts("SCN", stroke=True),
        "sc": _set_parts("sc", stroke=False),
        "scn": _set_parts("scn", stroke=False),
    }
)


def with_parameters(graphics: Graphics, parameters: Mapping[str, Any]) -> Graphics:
    """gs: the state with what a graphics state dictionary sets of it; fonts are the letters' matter."""
    for key, value in parameters.items():
        if key in ("/CA", "/ca"):
            share = float(value) if is_number(value) else 0.0
            graphics = graphics.looking(**{"stroke_alpha" if key == "/CA" else "fill_alpha": share})
        elif key == "/LW":
            graphics = graphics.changed(width=numbers("LW", [value], 1)[0])
        elif key == "/D":
            graphics = dashed(graphics, value)
        elif key == "/BM":
            graphics = _veiled(graphics, "blend", veils=value not in _PLAIN_BLENDS)
        elif key == "/SMask":
            graphics = _veiled(graphics, "mask", veils=value != "/None")
        elif key in _OF_A_DEVICE:
            graphics = _veiled(graphics, "transfer", veils=value not in ("/Identity", "/Default"))
    return graphics


def dashed(graphics: Graphics, operands: Any) -> Graphics:
    """d: lengths, and how far into them a line begins. Raises ProofError."""
    if not isinstance(operands, list) or len(operands) != 2 or not isinstance(operands[0], list):
        raise ProofError("found d without its lengths")
    lengths = numbers("d", operands[0], len(operands[0]))
    (phase,) = numbers("d", operands[1:], 1)
    return graphics.changed(dash=tuple(lengths), phase=phase)


def _veiled(graphics: Graphics, veil: str, *, veils: bool) -> Graphics:
    others = graphics.look.veils - {veil}
    return graphics.looking(veils=others | {veil} if veils else others)
