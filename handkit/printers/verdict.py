"""Verdict: whether what was measured is the printer's own error, which is corrected, or the dialog's doing.

In: `Measured`, the paper, the edges that were read. Out: `Verdict`: the cause, what is to be taken out, and
the finding that tells what stands against that.

A fit scales both ways alike, and by more than any honest printer's error where a printer loses 3 mm or more
at the edges of a paper up to A3 in size (A3 itself comes out at 0.9798). So unlike shares are a printer's
own; like shares far from 1 are a fit, and never corrected; like shares near 1 are either: some edge always
explains them. Then only the test page's steps tell: of a fitted page each is printed, for it was made to lie
within what the printer reaches. An error of the printer hidden in a fit is not told apart, and needn't be.
"""

from __future__ import annotations

from enum import StrEnum

import msgspec

from handkit.findings import Finding, finding
from handkit.paper import Paper
from handkit.printers.correction import Correction
from handkit.printers.fits import HONEST, NOISE, FitToPaper, known_fits, thinkable_fits
from handkit.printers.readings import Measured, Share, lean_degrees
from handkit.wording.figures import METRIC

Edges = tuple[float, float, float, float]

# Where a step so far in is missing, the page was not made to lie within what the printer reaches.
# (Of a fitted page the first may be lost, for paper is taken in a little aside: common practice, no source.)
LOST = 2.0


class Cause(StrEnum):
    """Why the page came out as it did."""

    TRUE = "true"  # as far as a rule can tell
    OWN = "own"  # the printer's own error
    EITHER = "either"  # that, or a fit to an edge
    FITTED = "fitted"
    SCALED = "scaled"  # alike both ways, by no fit that is known
    UNEVEN = "uneven"  # unlike, and by more than is corrected
    ASKEW = "askew"  # leaning by more than is corrected


CORRECTED = frozenset({Cause.TRUE, Cause.OWN, Cause.EITHER})


class Verdict(msgspec.Struct, frozen=True):
    """The cause; the fits that would explain it; what a rule has shown, 1 and 0 where that is nothing."""

    cause: Cause
    across: float
    down: float
    skew: float = 0.0  # degrees
    fits: tuple[FitToPaper, ...] = ()

    def correction(self, name: str) -> Correction:
        """What is taken out for a printer of this name; only where the cause is one of `CORRECTED`."""
        return Correction(name, round(self.across, 6), round(self.down, 6), round(self.skew, 4))

    def finding(self) -> Finding | None:
        """Why nothing is corrected, an error, or what that may be wrong about, a warning."""
        shares = {"across": self.across, "down": self.down}
        fits = [f"a fit to {fit.paper} with edges of {METRIC.rough.text(fit.edge)}" for fit in self.fits]
        match self.cause:
            case Cause.EITHER:
                return finding("printer-either", fits=fits, **shares)
            case Cause.FITTED:
                return finding("printer-fitted", fits=fits, most=HONEST, **shares)
            case Cause.SCALED:
                return finding("printer-scaled", most=HONEST, **shares)
            case Cause.UNEVEN:
                return finding("printer-uneven", most=HONEST, **shares)
            case Cause.ASKEW:
                return finding("printer-askew", skew=abs(self.skew), most=lean_degrees(HONEST))
            case _:
                return None


def judged(measured: Measured, paper: Paper, edges: Edges | None = None) -> Verdict:
    """What is to be made of a measured page that was drawn for this paper."""
    lean = measured.lean.told(0.0) if measured.lean else 0.0
    across, down = measured.across.told(1.0), measured.down.told(1.0)
    if max(abs(across - 1), abs(down - 1)) > HONEST + NOISE:
        return _far(measured.across, measured.down, paper)
    if abs(lean) > HONEST:
        return Verdict(Cause.ASKEW, across, down, lean_degrees(lean))
    fits = () if edges and max(edges) >= LOST else _hidden(measured.across, measured.down, paper)
    skew = lean_degrees(lean)
    if (across, down, skew) == (1.0, 1.0, 0.0):
        return Verdict(Cause.TRUE, across, down)
    scaled = (across, down) != (1.0, 1.0)
    return Verdict(Cause.EITHER if fits and scaled else Cause.OWN, across, down, skew, fits if scaled else ())


def _hidden(across: Share, down: Share, paper: Paper) -> tuple[FitToPaper, ...]:
    """The fits that shares near 1 may hide, where they may be alike."""
    low, high = max(across.low, down.low), min(across.high, down.high)
    return thinkable_fits(paper, low, high) if low <= high + NOISE else ()


def _far(across: Share, down: Share, paper: Paper) -> Verdict:
    """Of more than is corrected. It is a dialog's doing where both shares are that far on one side, as far as
    a rule can tell, and differ by no more than a printer's own error, which may come on top."""
    shares, sides = (across.value, down.value), (across, down)
    smaller = all(share.low < 1 - HONEST for share in sides)
    larger = all(share.high > 1 + HONEST for share in sides)
    apart = abs(across.value - down.value) > HONEST + across.within + down.within
    if apart or not (smaller or larger):
        return Verdict(Cause.UNEVEN, *shares)
    low, high = min(across.low, down.low), max(across.high, down.high)
    fits = (
        known_fits(paper, low, min(high, 1 - HONEST))
        if smaller
        else known_fits(paper, max(low, 1 + HONEST), high)
    )
    return Verdict(Cause.FITTED if fits else Cause.SCALED, *shares, fits=fits)
