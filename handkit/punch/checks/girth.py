"""Girth: round what a strap closes in its tongue holes.

In: a buckle with its fold, the pattern. Out: a warning where it does not reach the girths asked. All mm.

Girth counts from the bar's inside face round the inside of the strap to the hole. On a body of radius r the
strap's middle is π · s longer for a full turn (by hand). A strap in two parts, as a watch's, hangs on a bar
at either end of what lies *between*: each part begins half its turn behind its fold.

    buckle ═══ fold │ bar   between   bar │ fold ═══ holes
"""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from handkit.draft.pattern import Pattern, PatternFitting, PatternOpening, PatternPiece, inside_girth
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.straight import Straight, distance, foot_on, middle_of
from handkit.kinds.fittings import FittingKind
from handkit.tolerances import SAGITTA
from handkit.units import without_noise


def off_line(at: Point, line: Straight) -> float:
    """How far a place is from a fold's line, prolonged."""
    return distance(at, foot_on(at, line))


def reach_findings(one: PatternFitting, line: Straight, pattern: Pattern) -> Iterator[Finding]:
    """Whether the strap closes round the least and the most girth."""
    fitting = one.fitting
    opening = next(each for each in pattern.openings if each.name == fitting.holes)
    places, before = _places(one, line, opening, pattern)
    if fitting.girth is None or not places:
        return
    bar = fitting.bar or 0.0
    thick = max(one.folded, thickness_at(opening, pattern))
    pads = [_padded(each, line, pattern) for each in _pads(one, opening, pattern)]
    girths = [
        inside_girth(
            along + before,
            turn=one.turn,
            bar=bar,
            thick=thick + sum(2 * high * long / (along + before) for high, long in pads),
        )
        for along in places
    ]
    least, most = fitting.girth
    short, long = without_noise(most - max(girths)), without_noise(min(girths) - least)
    if short <= 0 and long <= 0:
        return
    told = {"closes_least": min(girths), "closes_most": max(girths), "least": least, "most": most}
    where, holes = fitting.source.at("girth"), opening.name
    if max(girths) - min(girths) < without_noise(most - least):
        step = abs(places[1] - places[0]) if len(places) > 1 else 0.0
        count = len(places) - floor(-(max(short, 0) + max(long, 0)) / step) if step else len(places) + 2
        key = "strap-does-not-reach/few"
        yield finding(key, where, **told, holes=holes, short=max(short, 0), long=max(long, 0), count=count)
    elif short > 0:
        yield finding("strap-does-not-reach/short", where, **told, holes=holes, by=short)
    else:
        yield finding("strap-does-not-reach/long", where, **told, holes=holes, by=long)


def _places(
    one: PatternFitting, line: Straight, opening: PatternOpening, pattern: Pattern
) -> tuple[list[float], float]:
    """How far the holes are from the fold their part of the strap hangs on, and what comes before that: of
    a strap in two parts the other one, from fold to fold less half its turn, and what lies between the bars.
    """
    on, between = one.fitting.on, one.fitting.between
    if between is None:
        return [off_line(place.at, line) for place in opening.places if place.piece == on], 0.0
    bars = {
        each.fitting.on: each for each in reversed(pattern.fittings) if each.fitting.kind is FittingKind.BAR
    }
    own = bars[on]
    name, far = next((name, bars[name]) for name in opening.opening.through if name in bars)
    assert own.line is not None and far.line is not None, "a fold goes round a bar"
    short = off_line(middle_of(own.line), line) - own.turn / 2
    to_holes = [off_line(place.at, far.line) for place in opening.places if place.piece == name]
    return to_holes, short + between - far.turn / 2


def _pads(one: PatternFitting, opening: PatternOpening, pattern: Pattern) -> list[PatternPiece]:
    """What is glued between a strap and its lining, and no hole goes through."""
    through = set(opening.opening.through)
    return [
        piece
        for piece in pattern.pieces
        if piece.on == one.fitting.on and piece.glued and piece.name not in through and len(through) > 1
    ]


def _padded(pad: PatternPiece, line: Straight, pattern: Pattern) -> tuple[float, float]:
    """How thick it is, and how long, away from a fold: for that share of the way all that lies on the body is
    as much further in, while at their edges strap and lining keep their length."""
    back = pattern.piece(pad.on or "").in_root.inverse() @ pad.in_root
    offs = [off_line(back.apply(corner), line) for corner in pad.outline.flattened(sagitta=SAGITTA)]
    return pad.thickness, max(offs) - min(offs)


def thickness_at(opening: PatternOpening, pattern: Pattern) -> float:
    """How thick a strap is at its tongue holes, with its lining."""
    pieces = max(opening.by_pieces, key=len)
    return sum(pattern.piece(name).thickness for name in pieces)
