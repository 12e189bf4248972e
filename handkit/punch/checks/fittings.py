"""Fittings: whether a strap suits its buckle, a keeper its strap, a zip its seams.

In: the pattern, its seams, the stitch holes by piece. Out: findings. All mm.

Words: a *turn* is what of a strap goes round a bar, half to each side of its fold; *folded* is how thick
all is that goes round; *ease* of a keeper is what it is longer than what passes it.

- A strap is as wide as its bar is long inside, to 1 mm less; where a fifth of the bar is bare, a pull to one
  side turns a ring or a buckle askew (common practice, no source).
- A tongue's slot reaches over the whole turn on both sides, else the tongue has no way (by hand).
- A keeper goes round strap and stack: 2 · (w + stack) inside; its middle is π · t longer (by hand). 1 to
  3 mm of ease (trade's pages); more than 6 holds nothing (our own).
- A zip's teeth stay 3 to 5 mm free of the edge (common practice, no source), and its tape is sewn no
  nearer to its own edge than 1 mm (our own).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import cos, pi, radians, sin

from handkit.draft.pattern import Pattern, PatternFitting, PatternOpening, PatternPiece
from handkit.findings import Finding, finding
from handkit.geometry.path import Path
from handkit.geometry.region import region_of
from handkit.geometry.straight import Straight, distance, foot_on, middle_of
from handkit.grouping import grouped
from handkit.kinds.fittings import FittingKind
from handkit.kinds.openings import BESIDE_STITCH, OpeningShape
from handkit.punch.checks.girth import off_line, reach_findings, thickness_at
from handkit.punch.checks.seam_holes import SeamHole
from handkit.punch.punched import PunchedSeam
from handkit.units import without_noise

SPARE = 1.0  # of a bar beside its strap
ASKEW = 0.2  # the share of a bar beside its strap that lets it be pulled askew (common practice, no source)
ASTRIDE = 1.0  # how far a tongue slot's middle may be off its fold
KEEPER_EASE, KEEPER_LOOSE = 1.0, 6.0
TEETH_FREE, TAPE_EDGE = 3.0, 1.0
LEAVES, LEAVES_AT_FOLD = 2, 3  # of a strap that pass a keeper: its end, and what it lies on

Holes = Mapping[str, Sequence[SeamHole]]


def fitting_findings(pattern: Pattern, seams: Sequence[PunchedSeam], holes: Holes) -> tuple[Finding, ...]:
    """All that is told of the fittings, in the file's order."""
    return tuple(told for one in pattern.fittings for told in _told(one, pattern, seams, holes))


def keeper_need(width: float, stack: float, thickness: float) -> float:
    """How long a keeper's middle is at the least, closed, round a strap and a stack.

    >>> round(keeper_need(32, 7, 1.5), 2)  # 2 · (32 + 7) + π · 1.5
    82.71
    """
    return 2 * (width + stack) + pi * thickness


def _told(
    one: PatternFitting, pattern: Pattern, seams: Sequence[PunchedSeam], holes: Holes
) -> Iterator[Finding]:
    if one.line is not None:
        yield from _strap(one, one.line)
        yield from _radius(one, pattern)
        yield from _in_turn(one, one.line, pattern, holes)
        if one.fitting.holes:
            yield from _slot(one, one.line, pattern)
            yield from reach_findings(one, one.line, pattern)
    elif one.fitting.kind is FittingKind.KEEPER:
        yield from _keeper(one, pattern, seams)
        yield from _keeper_room(one, pattern, holes)
    elif one.fitting.kind is FittingKind.ZIP:
        yield from _zip(one, seams)
    elif one.fitting.at:
        yield from _magnet(one, pattern, holes)


def _strap(one: PatternFitting, line: Straight) -> Iterator[Finding]:
    """Its width against the fitting's."""
    fitting, width = one.fitting, distance(*line)
    inside = fitting.inside or 0.0
    told = {"width": width, "fold": fitting.fold, "kind": fitting.kind, "inside": inside}
    spare = without_noise(inside - width)
    if spare < 0:
        yield finding("strap-and-bar/wide", fitting.source.at("inside"), **told)
    elif spare > max(SPARE, ASKEW * inside):
        told |= {"least": inside - SPARE, "most": width + SPARE}
        yield finding("strap-and-bar/askew", fitting.source.at("inside"), **told)
    elif spare > SPARE:
        yield finding("strap-and-bar/loose", fitting.source.at("inside"), **told, least=inside - SPARE)


def _radius(one: PatternFitting, pattern: Pattern) -> Iterator[Finding]:
    """A fold with an angle goes round the bar, no tighter."""
    fitting = one.fitting
    fold, least = pattern.piece(fitting.on or "").fold(fitting.fold), (fitting.bar or 0.0) / 2
    if fold.bend is not None and without_noise(least - fold.radius) > 0:
        where = fitting.source.at("fold")
        yield finding("fold-round-bar", where, fold=fold.name, radius=fold.radius, bar=2 * least, least=least)


def _in_turn(one: PatternFitting, line: Straight, pattern: Pattern, holes: Holes) -> Iterator[Finding]:
    """Stitch holes, and openings but slots, that the turn bends round the bar."""
    piece, half = one.fitting.on or "", one.turn / 2
    found = [
        (off_line(hole.at, line), hole.text, hole.seam.name, hole.hole.number)
        for hole in holes.get(piece, ())
    ]
    found += [
        (off_line(place.at, line), opening.label(place.number), opening.name, place.number)
        for opening in pattern.openings
        if opening.opening.traits.shape is not OpeningShape.SLOT
        for place in opening.places
        if place.piece == piece
    ]
    near = [each for each in found if without_noise(each[0]) < without_noise(half)]
    if near:
        apart, hole, _, _ = min(near)
        told = {"hole": hole, "apart": apart, "fold": one.fitting.fold, "kind": one.fitting.kind}
        bent = finding("in-turn", one.fitting.source.at("fold"), **told, least=half, count=len(near))
        for work, some in grouped(near, by=lambda each: each[2]).items():
            bent = bent.at_holes(work, [number for *_, number in some], piece)
        yield bent


def _slot(one: PatternFitting, line: Straight, pattern: Pattern) -> Iterator[Finding]:
    """A slot for the tongue: astride the fold, and over the whole turn."""
    where, fold = one.fitting.source.at("fold"), one.fitting.fold
    slots = [
        (off_line(place.at, line), place.at, opening, place.degrees)
        for opening in pattern.openings
        if opening.opening.traits.shape is OpeningShape.SLOT
        for place in opening.places
        if place.piece == one.fitting.on and off_line(place.at, line) < opening.opening.length
    ]
    if not slots:
        yield finding("tongue-slot/none", where, fold=fold, at=middle_of(line), least=one.turn)
        return
    off, at, opening, degrees = min(slots, key=lambda slot: slot[0])
    told = {"opening": opening.name, "fold": fold}
    if without_noise(off) > ASTRIDE:
        to = foot_on(at, line)
        yield finding("tongue-slot/off", opening.source.at("at"), **told, off=off, at=to, most=ASTRIDE)
    reach = 2 * (_reach_over(opening, degrees, line) - off)
    if without_noise(reach) < without_noise(one.turn):
        yield finding("tongue-slot/short", opening.source.at("slot"), **told, reach=reach, least=one.turn)


def _reach_over(opening: PatternOpening, slot_degrees: float, line: Straight) -> float:
    """How far a slot goes to either side of a fold it stands on."""
    facts, size = opening.opening, distance(*line)
    dx, dy = line[1][0] - line[0][0], line[1][1] - line[0][1]
    across = abs(dy * cos(radians(slot_degrees)) - dx * sin(radians(slot_degrees))) / size
    return facts.half_straight * across + facts.diameter / 2


def _keeper(one: PatternFitting, pattern: Pattern, seams: Sequence[PunchedSeam]) -> Iterator[Finding]:
    """Its room for the strap and the thicknesses that pass it."""
    fitting = one.fitting
    strap = pattern.piece(fitting.on or "")
    width = distance(*_across(strap.outline, one, pattern))
    leaves = fitting.leaves or (LEAVES_AT_FOLD if fitting.fold else LEAVES)
    lined = _lined(one, strap, pattern)
    stack = leaves * strap.thickness + lined * (leaves - LEAVES if fitting.fold else leaves)
    if fitting.piece is None:
        yield from _bought_keeper(one, width, stack)
        return
    thick, closed = pattern.piece(fitting.piece).thickness, _closed_length(fitting.piece, seams)
    where = fitting.source.at("piece")
    if closed is None:
        yield finding("keeper-open", where, piece=fitting.piece)
        return
    need = keeper_need(width, stack, thick)
    ease = without_noise(closed - need)
    told = {"piece": fitting.piece, "closed": closed, "need": need, "width": width, "stack": stack}
    if ease < 0:
        yield finding("keeper-fit/tight", where, **told, by=KEEPER_EASE - ease)
    elif ease > KEEPER_LOOSE:
        yield finding("keeper-fit/loose", where, **told, most=need + KEEPER_LOOSE)


def _lined(one: PatternFitting, strap: PatternPiece, pattern: Pattern) -> float:
    """How thick what lines a strap is: all at its tongue holes but the strap."""
    holes = {each.fitting.holes for each in pattern.fittings if each.fitting.on == one.fitting.on}
    found = [each for each in pattern.openings if each.name in holes]
    return max((thickness_at(each, pattern) - strap.thickness for each in found), default=0.0)


def _keeper_room(one: PatternFitting, pattern: Pattern, holes: Holes) -> Iterator[Finding]:
    """Whether a keeper has its place to itself: clear of the bar and of the stitches on both leaves."""
    fitting, piece, start = one.fitting, one.fitting.on or "", one.fitting.from_fold
    if start is None or not fitting.fold:
        return
    line, end = pattern.piece(piece).fold(fitting.fold).ends, start + one.band
    told = {"start": start, "end": end, "fold": fitting.fold}
    bars = [
        (each.turn + (each.fitting.bar or 0.0)) / 2
        for each in pattern.fittings
        if each.line is not None and (each.fitting.on, each.fitting.fold) == (piece, fitting.fold)
    ]
    if bars and without_noise(start) < without_noise(max(bars)):
        yield finding("keeper-place/bar", fitting.source.at("from_fold"), **told, least=max(bars))
    apart = [(off_line(hole.at, line), hole.text) for hole in holes.get(piece, ())]
    under = [each for each in apart if without_noise(start) < without_noise(each[0]) < end]
    if under:
        where = fitting.source.at("from_fold")
        yield finding("keeper-place/stitches", where, **told, hole=min(under)[1], count=len(under))


def _bought_keeper(one: PatternFitting, width: float, stack: float) -> Iterator[Finding]:
    fitting = one.fitting
    told = {"width": width, "stack": stack}
    if (inside := fitting.inside or 0.0) < without_noise(width):
        yield finding("keeper-narrow/inside", fitting.source.at("inside"), inside=inside, **told)
    if fitting.thickness is not None and fitting.thickness < without_noise(stack):
        yield finding("keeper-narrow/clear", fitting.source.at("thickness"), clear=fitting.thickness, **told)


def _across(outline: Path, one: PatternFitting, pattern: Pattern) -> Straight:
    """A line as long as the strap is wide where a keeper sits: its fold, or the narrow side of its box."""
    if one.fitting.fold:
        return pattern.piece(one.fitting.on or "").fold(one.fitting.fold).ends
    left, low, right, high = outline.bounds()
    return ((0.0, 0.0), (min(right - left, high - low), 0.0))


def _closed_length(piece: str, seams: Sequence[PunchedSeam]) -> float | None:
    """How long a piece is round, from the holes that meet; None where no seam closes it."""
    for seam in seams:
        own = [layer for layer in seam.layers if layer.piece == piece and layer.holes]
        if len(own) > 1:
            first, second = own[0].holes[0].at, own[1].holes[0].at
            return distance(first, second)
    return None


def _zip(one: PatternFitting, seams: Sequence[PunchedSeam]) -> Iterator[Finding]:
    """Its length against the seams', and whether the stitches meet its tape."""
    fitting, where = one.fitting, one.fitting.source
    tape = fitting.tape or 0.0
    most = tape - TEETH_FREE - TAPE_EDGE
    for seam in (each for each in seams if each.name in fitting.seams):
        length = seam.layers[0].length
        if (long := fitting.length or 0.0) > without_noise(length):
            yield finding("zip-and-seam/long", where.at("length"), length=long, seam=seam.name, most=length)
        if (inset := seam.stitching.inset) > most:
            told = {"seam": seam.name, "inset": inset, "tape": tape, "most": max(most, 0.0)}
            yield finding("zip-and-seam/inset", where.at("tape"), **told, wanted=inset + tape - most)


def _magnet(one: PatternFitting, pattern: Pattern, holes: Holes) -> Iterator[Finding]:
    """Whether it lies on its piece, clear of stitches."""
    fitting, piece = one.fitting, pattern.piece(one.fitting.on or "")
    room = (fitting.diameter or 0.0) / 2
    body = region_of(piece.outline).grown(-room)
    where = fitting.source.at("at")
    for at in fitting.at:
        if not body.contains(at, slack=0.01):
            yield finding("magnet-place/edge", where, at=at, piece=piece.name, least=room)
    near = [(distance(at, hole.at), hole.text) for at in fitting.at for hole in holes.get(piece.name, ())]
    if near and (worst := min(near))[0] < room + BESIDE_STITCH:
        told = {"apart": worst[0], "hole": worst[1], "least": room + BESIDE_STITCH}
        yield finding("magnet-place/stitches", where, **told)
