"""Ease: how unlike two lines that are sewn together may be.

In: the matched stretches of a seam. Out: findings. Lengths in mm; ease is a share, long ÷ short − 1.

Words: a *bowed* seam means its ease (a front that stands off its back): no limit, only the figures.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pattern import Pattern, PatternSeam
from handkit.findings import Finding, note, warning
from handkit.messages.message import Severity
from handkit.punch.saying import and_more, even_ground, label, mm, percent
from handkit.punch.spacing.matching import Matched
from handkit.read.project import Material, Punching


class EaseLimits(msgspec.Struct, frozen=True):
    """Silent up to the first, then a note, then a warning, above the third an error."""

    silent: float
    noted: float
    warned: float

    def severity(self, ease: float) -> Severity | None:
        """How much an ease weighs; None where nothing need be said."""
        if ease <= self.silent + _SAME_EASE:
            return None
        if ease <= self.noted + _SAME_EASE:
            return Severity.NOTE
        return Severity.WARNING if ease <= self.warned + _SAME_EASE else Severity.ERROR


# Shares of the shorter length; common practice, no source.
EASE_LIMITS: dict[Material, EaseLimits] = {
    Material.FIRM_LEATHER: EaseLimits(0.01, 0.03, 0.05),
    Material.SOFT_LEATHER: EaseLimits(0.02, 0.05, 0.08),
    Material.FELT: EaseLimits(0.02, 0.05, 0.08),
    Material.CANVAS: EaseLimits(0.02, 0.05, 0.08),
}

# An ease this much over a limit is on it: the rounding of two lengths.
_SAME_EASE = 1e-9

_CODES = {Severity.NOTE: "ease-noted", Severity.WARNING: "ease-large", Severity.ERROR: "ease-too-large"}
_REMEDIES = {
    Severity.NOTE: "",
    Severity.WARNING: "make the lines more alike, or try it on scrap first",
    Severity.ERROR: "make the lines more alike, or say bowed = true where it is meant",
}


class _Eased(msgspec.Struct, frozen=True):
    """One stretch of a seam: its steps, and the runs (rows of `Matched`) where it is longest and shortest."""

    stretch: int
    long: int
    short: int
    ease: float


def ease_findings(pattern: Pattern, seam: PatternSeam, holes: Matched) -> tuple[Finding, ...]:
    """What the ease of a seam has to tell: one finding a severity, naming the worst stretch.

    Where the two pieces are of unlike material, the stricter limits hold.
    """
    whole = _between(-1, tuple(sum(holes.lengths(row)) for row in range(len(holes.runs))))
    if seam.seam.bowed:
        meant = (_bowed(seam, holes, whole),) if len(holes.runs) > 1 else ()
        return (*meant, *_through(pattern, seam, holes, whole))
    stretches = [_eased(holes, k) for k in range(len(holes.counts))]
    weighed = [(_limits(pattern, seam, holes, eased), eased) for eased in stretches]
    findings: list[Finding] = []
    for severity in (Severity.ERROR, Severity.WARNING, Severity.NOTE):
        found = [(limits, eased) for limits, eased in weighed if limits.severity(eased.ease) is severity]
        if found:
            findings.append(_telling(seam, holes, severity, found))
    return (*findings, *_through(pattern, seam, holes, whole))


def _through(pattern: Pattern, seam: PatternSeam, holes: Matched, whole: _Eased) -> tuple[Finding, ...]:
    """Layers of unlike length can't be laid on one another and punched through."""
    limits = _limits(pattern, seam, holes, whole)
    if seam.seam.stitching.punch is not Punching.THROUGH or limits.severity(whole.ease) is None:
        return ()
    return (
        warning(
            "through-unlike",
            seam.seam.source.at("punch"),
            found=f'layers of seam "{seam.name}" to be punched through with {percent(whole.ease)} of ease',
            allowed=f"up to {percent(limits.silent)}: layers punched through lie flat on one another",
            remedy='say punch = "apart"',
        ),
    )


def _eased(holes: Matched, stretch: int) -> _Eased:
    return _between(stretch, tuple(holes.lengths(row)[stretch] for row in range(len(holes.runs))))


def _between(stretch: int, lengths: tuple[float, ...]) -> _Eased:
    """The longest and the shortest of the runs' lengths; of equals the first and the second."""
    even = [even_ground(length) for length in lengths]
    long, short = even.index(max(even)), even.index(min(even))
    if long == short and len(lengths) > 1:
        short = 1
    return _Eased(stretch, long, short, lengths[long] / lengths[short] - 1)


def _limits(pattern: Pattern, seam: PatternSeam, holes: Matched, eased: _Eased) -> EaseLimits:
    """The stricter of the limits of the two pieces."""
    pieces = (pattern.piece(seam.runs[holes.runs[row]].piece) for row in (eased.long, eased.short))
    return min((EASE_LIMITS[piece.material] for piece in pieces), key=lambda limits: limits.warned)


def _telling(
    seam: PatternSeam, holes: Matched, severity: Severity, found: list[tuple[EaseLimits, _Eased]]
) -> Finding:
    """The worst of the stretches whose ease weighs alike."""
    limits, worst = max(found, key=lambda both: even_ground(both[1].ease))
    steps = holes.counts[worst.stretch]
    first = sum(holes.counts[: worst.stretch]) + 1
    last = 1 if seam.closed and first + steps > holes.steps else first + steps
    lengths = [holes.lengths(row)[worst.stretch] for row in (worst.long, worst.short)]
    return Finding(
        _CODES[severity],
        severity,
        seam.runs[holes.runs[worst.long]].source.at(),
        f"{percent(worst.ease)} of ease from hole {first} to hole {last}: "
        f"{_figures(seam, holes, worst, lengths, steps)}{and_more(len(found))}",
        f"up to {percent(limits.silent)}, with care up to {percent(limits.warned)}",
        _REMEDIES[severity],
    )


def _bowed(seam: PatternSeam, holes: Matched, whole: _Eased) -> Finding:
    lengths = [sum(holes.lengths(row)) for row in (whole.long, whole.short)]
    figures = _figures(seam, holes, whole, lengths, holes.steps)
    where = seam.seam.source.at("bowed")
    return note("ease-meant", where, found=f"{percent(whole.ease)} of ease, meant: {figures}")


def _figures(seam: PatternSeam, holes: Matched, eased: _Eased, lengths: list[float], steps: int) -> str:
    """Both lengths with the pitch each gives."""
    long, short = (
        f"{mm(length)} along {label(seam.runs[holes.runs[row]])} (pitch {mm(length / steps)})"
        for row, length in zip((eased.long, eased.short), lengths, strict=True)
    )
    return f"{long} on {short}"
