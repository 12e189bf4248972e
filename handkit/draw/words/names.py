"""Names: the short ones that stand on a template for the long ones of the plan.

In: the plan. Out: `S3` for the seam that is sewn third, `O2` for the second opening of the file;
figures as a maker reads them.
"""

from __future__ import annotations

import msgspec

from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.read.project import Material, Side
from handkit.stitch.plan import StitchPlan


class Codes(msgspec.Struct, frozen=True):
    """Short names by long ones."""

    seams: dict[str, str]
    openings: dict[str, str]


def codes_of(plan: StitchPlan) -> Codes:
    """Seams by working order, openings by the order of the plan's list."""
    return Codes(
        {seam.name: f"S{seam.order}" for seam in plan.seams},
        {opening.pattern.name: f"O{k}" for k, opening in enumerate(plan.openings, start=1)},
    )


def layer_code(codes: Codes, seam: PunchedSeam, layer: PunchedLayer) -> str:
    """A seam's short name; where a piece is in it twice, with a letter for each of its layers."""
    mine = [other.run for other in seam.layers if other.piece == layer.piece]
    letter = chr(ord("a") + mine.index(layer.run)) if len(mine) > 1 else ""
    return codes.seams[seam.name] + letter


def figure(value: float, decimals: int = 2) -> str:
    """A number without idle zeros.

    >>> figure(12.0), figure(2.40), figure(3.14159), figure(-0.001)
    ('12', '2.4', '3.14', '0')
    """
    text = f"{value:.{decimals}f}"
    short = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if short in ("-0", "") else short


def count_of(number: int, one: str, many: str = "") -> str:
    """A number with its noun.

    >>> count_of(1, "hole"), count_of(3, "hole"), count_of(2, "stitch", "stitches")
    ('1 hole', '3 holes', '2 stitches')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def side_words(side: Side, material: Material, *, short: bool = False) -> str:
    """How the template is laid, in words; leather has a grain side, cloth and felt have a face."""
    leather = material in (Material.FIRM_LEATHER, Material.SOFT_LEATHER)
    if side is Side.GRAIN:
        name, more = ("grain side" if leather else "side that shows"), ""
    else:
        name, more = ("FLESH side" if leather else "BACK"), " (drawn mirrored)"
    return f"on {name}" if short else f"lay on the {name}, print up{more}"
