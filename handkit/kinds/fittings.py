"""Fitting kinds: what makes a buckle, ring, bar, keeper, zip, magnet, cord or tie unlike the others.

One row a kind: which keys of the file it has, whether a fold goes round it, and its words. A new kind is
a member of `FittingKind` and a row.

Words: a *fitting* is bought (a keeper may be made) and put on, and is no hole; its *inside* is the width
that it leaves for a strap, along the bar; its *bar* is what the strap goes round; a *keeper* is a loop
round a strap that holds the end down; a zip's *tape* is the width of one of its two.
"""

from __future__ import annotations

from enum import StrEnum

import msgspec

from handkit.kinds.rows import table

# How far a zip's teeth keep from the edge they are sewn to, mm: the middle of what is usual (common practice,
# no source).
TEETH_FREE = 4.0


class FittingKind(StrEnum):
    """What a fitting is."""

    BUCKLE = "buckle"
    RING = "ring"
    BAR = "bar"
    KEEPER = "keeper"
    ZIP = "zip"
    MAGNET = "magnet"
    CORD = "cord"
    TIE = "tie"


class FittingTraits(msgspec.Struct, frozen=True):
    """One kind. `keys` are those of the file that not all kinds have; `needs` are required; of `one_of`
    exactly one is written.

    `sizes` are the fields that say what is bought, each with its words; `work` is the step of the plan.
    """

    keys: tuple[str, ...]
    needs: tuple[str, ...]
    sizes: tuple[tuple[str, str], ...]
    work: str
    one_of: tuple[str, ...] = ()
    by_fold: bool = False  # a fold goes round it, and holds it
    band: float = 0.0  # how wide it is along its strap where the file does not tell, mm
    wall: float = 0.0  # how thick it is itself where the file does not tell, mm
    stock: tuple[float, ...] = ()  # the lengths it is sold in, where a longer one can be shortened, mm


def _by(step: int, first: int, last: int) -> tuple[float, ...]:
    return tuple(float(each) for each in range(first, last + step, step))


_HELD = ("inside", "bar", "on", "fold")
_BAR_SIZES = (("inside", "inside {}"), ("bar", "bar {} thick"))
_ACROSS = (("diameter", "⌀{}"), ("width", "{} wide"), ("length", "{} long"))

FITTINGS = table(
    FittingKind,
    {
        FittingKind.BUCKLE: FittingTraits(
            keys=("girth", "holes", "between"),
            needs=_HELD,
            sizes=_BAR_SIZES,
            work='Put the {called} on {on}, its bar in fold "{fold}"{tongue}.',
            by_fold=True,
        ),
        FittingKind.RING: FittingTraits(
            keys=(),
            needs=_HELD,
            sizes=_BAR_SIZES,
            work='Put the {called} on {on}: fold "{fold}" goes round it.',
            by_fold=True,
        ),
        FittingKind.BAR: FittingTraits(
            keys=(),
            needs=_HELD,
            sizes=_BAR_SIZES,
            work='Put the {called} on {on}: fold "{fold}" goes round it.',
            by_fold=True,
        ),
        FittingKind.KEEPER: FittingTraits(
            keys=("inside", "thickness", "fold", "piece", "leaves", "from_fold"),
            needs=("on",),
            sizes=(("inside", "inside {}"), ("thickness", "{} clear")),
            work="Slip the {called} over {on}{at_fold}.",
            one_of=("inside", "piece"),
            band=8.0,  # both: common practice, no source
            wall=1.5,
        ),
        FittingKind.ZIP: FittingTraits(
            keys=("thickness",),
            needs=("length", "tape", "seams"),
            sizes=(("length", "{} long"), ("tape", "tapes {} wide")),
            work="Fix the {called} with narrow double-sided tape or clips where {seams} will sew it in: "
            "closed, its slider on the outside, its teeth {clear} clear of the edges. Open and "
            "close it once before it is stitched.",
            wall=0.6,  # of its tape; common practice, no source
            stock=(*_by(20, 100, 200), *_by(50, 250, 1000)),  # common practice, no source
        ),
        FittingKind.MAGNET: FittingTraits(
            keys=(),
            needs=("diameter", "thickness", "on", "at"),
            sizes=(("diameter", "⌀{}"), ("thickness", "{} thick")),
            work="Cement the {called} on {on}, where the template has it. Try with its mate first "
            "which sides hold each other. Keep magnets from children and from pacemakers; cement "
            "wants fresh air.",
        ),
        FittingKind.CORD: FittingTraits(
            keys=("diameter", "width"),
            needs=("length", "through"),
            sizes=_ACROSS,
            work="Pass the {called} through {through}, and knot its ends.",
            one_of=("diameter", "width"),
        ),
        FittingKind.TIE: FittingTraits(
            keys=("diameter", "width"),
            needs=("length", "through"),
            sizes=_ACROSS,
            work="Pass the {called} through {through}, its ends even, and knot it there.",
            one_of=("diameter", "width"),
        ),
    },
)
