"""Ease: how unlike two lines that are sewn together may be.

In: the matched stretches of a seam. Out: findings. Lengths in mm; ease is a share, long ÷ short − 1.

Words: a *bowed* seam means its ease (a front that stands off its back): no limit, only the figures.
"""

from __future__ import annotations

import msgspec

from handkit.draft.pattern import Pattern, PatternSeam
from handkit.findings import Finding, finding
from handkit.kinds.materials import EaseLimits
from handkit.messages.message import Severity
from handkit.punch.spacing.matching import Matched
from handkit.read.project import Punching
from handkit.units import without_noise

# An ease this much over a limit is on it: the rounding of two lengths.
_SAME_EASE = 1e-9

_CODES = {Severity.NOTE: "ease-noted", Severity.WARNING: "ease-large", Severity.ERROR: "ease-too-large"}


class _Eased(msgspec.Struct, frozen=True):
    """One stretch of a seam: its steps, and the runs (rows of `Matched`) where it is longest and shortest."""

    stretch: int
    long: int
    short: int
    ease: float


def severity_of(ease: float, limits: EaseLimits) -> Severity | None:
    """How much an ease weighs; None where nothing need be said.

    >>> firm = EaseLimits(silent=0.01, noted=0.03, warned=0.05)
    >>> severity_of(0.01, firm), severity_of(0.031, firm)
    (None, <Severity.WARNING: 'warning'>)
    """
    if ease <= limits.silent + _SAME_EASE:
        return None
    if ease <= limits.noted + _SAME_EASE:
        return Severity.NOTE
    return Severity.WARNING if ease <= limits.warned + _SAME_EASE else Severity.ERROR


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
        found = [(limits, eased) for limits, eased in weighed if severity_of(eased.ease, limits) is severity]
        if found:
            told = _telling(pattern, seam, holes, severity, found)
            findings.append(told.spoiling(seam.source.path))  # unlike lines can't meet hole for hole
    return (*findings, *_through(pattern, seam, holes, whole))


def _through(pattern: Pattern, seam: PatternSeam, holes: Matched, whole: _Eased) -> tuple[Finding, ...]:
    """Layers of unlike length can't be laid on one another and punched through."""
    limits = _limits(pattern, seam, holes, whole)
    if seam.stitching.punch is not Punching.THROUGH or severity_of(whole.ease, limits) is None:
        return ()
    where = seam.source.at("punch")
    return (finding("through-unlike", where, seam=seam.name, ease=whole.ease, silent=limits.silent),)


def _eased(holes: Matched, stretch: int) -> _Eased:
    return _between(stretch, tuple(holes.lengths(row)[stretch] for row in range(len(holes.runs))))


def _between(stretch: int, lengths: tuple[float, ...]) -> _Eased:
    """The longest and the shortest of the runs' lengths; of equals the first and the second."""
    even = [without_noise(length) for length in lengths]
    long, short = even.index(max(even)), even.index(min(even))
    if long == short and len(lengths) > 1:
        short = 1
    return _Eased(stretch, long, short, lengths[long] / lengths[short] - 1)


def _limits(pattern: Pattern, seam: PatternSeam, holes: Matched, eased: _Eased) -> EaseLimits:
    """The stricter of the limits of the two pieces."""
    pieces = (pattern.piece(seam.runs[holes.runs[row]].piece) for row in (eased.long, eased.short))
    return min((piece.traits.seam_ease for piece in pieces), key=lambda limits: limits.warned)


def _telling(
    pattern: Pattern,
    seam: PatternSeam,
    holes: Matched,
    severity: Severity,
    found: list[tuple[EaseLimits, _Eased]],
) -> Finding:
    """The worst of the stretches whose ease weighs alike."""
    limits, worst = max(found, key=lambda both: without_noise(both[1].ease))
    steps = holes.counts[worst.stretch]
    first = sum(holes.counts[: worst.stretch]) + 1
    count = holes.steps + (not seam.closed)
    numbers = [(first - 1 + k) % count + 1 for k in range(steps + 1)]
    lengths = [holes.lengths(row)[worst.stretch] for row in (worst.long, worst.short)]
    long, short = (pattern.piece(seam.runs[holes.runs[row]].piece) for row in (worst.long, worst.short))
    lies_on = severity is Severity.ERROR and short.on == long.name and short.flat
    return finding(
        "ease-too-large/lies-on" if lies_on else _CODES[severity],
        seam.runs[holes.runs[worst.long]].source.at(),
        ease=worst.ease,
        first=first,
        last=numbers[-1],
        **_figures(seam, holes, worst, lengths, steps),
        count=len(found),
        carried=long.name,
        piece=short.name,
        over=lengths[0] - lengths[1],
        silent=limits.silent,
        silent_mm=limits.silent * lengths[1],
        warned=limits.warned,
        warned_mm=limits.warned * lengths[1],
    ).at_holes(seam.name, numbers)


def _bowed(seam: PatternSeam, holes: Matched, whole: _Eased) -> Finding:
    lengths = [sum(holes.lengths(row)) for row in (whole.long, whole.short)]
    figures = _figures(seam, holes, whole, lengths, holes.steps)
    return finding("ease-meant", seam.source.at("bowed"), ease=whole.ease, **figures)


def _figures(
    seam: PatternSeam, holes: Matched, eased: _Eased, lengths: list[float], steps: int
) -> dict[str, object]:
    """Both lengths with the runs they are along and the pitch each gives."""
    told: dict[str, object] = {}
    for name, row, length in zip(("long", "short"), (eased.long, eased.short), lengths, strict=True):
        run = seam.runs[holes.runs[row]]
        told |= {name: length, f"{name}_run": run.label, f"{name}_pitch": length / steps}
    return told
