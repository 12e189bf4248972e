"""Passed through: ties in their eyelets, straps in their slots.

In: the pattern, one figure's bodies. Out: a `PassedStrap` for each strap that goes round the shut article, a
`PlacedFitting` on either face for each tie.

A strap goes through its slots in a row, and round the article in that line: under what they are cut in
between the first and the second, the third and the fourth, and over it elsewhere. Both ends of a tie leave
its eyelet by the shortest way to the edge.

How far it holds: where a buckle comes to is the maker's; a tie is drawn by its first few mm, for it hangs.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from handkit.assemble.article import Body, PassedStrap, PlacedFitting
from handkit.draft.pattern import Pattern, Threaded, threaded_straps
from handkit.geometry.affine import Affine, Point
from handkit.geometry.path import Path, polyline
from handkit.geometry.region import Region, areas_of, region_of
from handkit.geometry.straight import Straight, distance, off_line, unit
from handkit.kinds.fittings import FittingKind
from handkit.read.project import Fitting
from handkit.tolerances import SAME_POINT

# A way farther than any article is wide; how far a tie is shown beyond its edge, mm.
FAR, SHOWN = 1e4, 45.0

# So far beside one line slots are no row, mm.
BESIDE = 1.0


def passed_straps(pattern: Pattern, bodies: Mapping[str, Body]) -> Iterator[PassedStrap]:
    """The straps through slots of a figure that is folded over something."""
    if any(body.sheet is not None for body in bodies.values()):
        for each in threaded_straps(pattern):
            found = _round(pattern, bodies, each)
            if found is not None:
                yield found


def placed_ties(pattern: Pattern, bodies: Mapping[str, Body]) -> Iterator[PlacedFitting]:
    """On both faces of the piece of their eyelet that is nearest to the face."""
    for each in pattern.fittings:
        if each.fitting.kind is FittingKind.TIE:
            opening = next(one for one in pattern.openings if one.name == each.fitting.through)
            on = [bodies[place.piece] for place in opening.places if place.piece in bodies]
            for place in opening.places:
                if on and place.piece == max(on, key=lambda body: body.level).name:
                    yield from _tie(each.fitting, bodies[place.piece], place.at)


def _tie(fitting: Fitting, body: Body, at: Point) -> Iterator[PlacedFitting]:
    """From its eyelet at a place of a piece, by the shortest way to its edge, and beyond; none of one on
    the edge itself, which is told."""
    edge = body.piece.outline.point_at(body.piece.outline.along_of(at))
    if distance(at, edge) < SAME_POINT:
        return
    (x, y), (ux, uy) = at, unit(at, edge)
    half = (fitting.width or fitting.diameter or 0.0) / 2
    long = distance(at, edge) + SHOWN
    ring = [(x + a * ux - b * uy, y + a * uy + b * ux) for a, b in _box(0.0, long, half)]
    outline = polyline(body.lie.apply_all(ring), closed=True)
    for to_eye in (True, False):
        yield PlacedFitting(fitting, body.name, outline, 0.0, 0.0, to_eye)


def _round(pattern: Pattern, bodies: Mapping[str, Body], one: Threaded) -> PassedStrap | None:
    """One strap; None where its slots are in no row, or not on leaves that lie parallel."""
    places = list(_slots(pattern, bodies, one))
    if len(places) < 2 or len(places) % 2 or None in places:
        return None
    known = [place for place in places if place is not None]
    line: Straight = (known[0][0], known[-1][0])
    if any(abs(off_line(at, line)) > BESIDE for at, _, _ in known):
        return None
    (ux, uy), half = unit(*line), one.strap.least_width / 2
    if any(abs(ux * along[0] + uy * along[1]) > 0.1 for _, along, _ in known):
        return None  # it goes square through them
    (x, y), all_ = line[0], _shut(bodies)
    spans = all_.along((x - ux * FAR, y - uy * FAR), (x + ux * FAR, y + uy * FAR))
    if not spans:
        return None
    passes = sorted((at[0] - x) * ux + (at[1] - y) * uy for at, _, _ in known)
    stops = [spans[0][0] - FAR, *passes, spans[-1][1] - FAR]

    def strip(start: float, end: float) -> Path:
        ring = [(x + a * ux - b * uy, y + a * uy + b * ux) for a, b in _box(start, end, half)]
        return polyline(ring, closed=True)

    parts = [strip(*ends) for ends in pairwise(stops)]
    over, under, behind = tuple(parts[::2]), tuple(parts[1::2]), strip(stops[0], stops[-1])
    slots, through = one.slots[0]
    return PassedStrap(one.strap.name, slots, through, known[0][2], over, under, behind)


def _slots(
    pattern: Pattern, bodies: Mapping[str, Body], one: Threaded
) -> Iterator[tuple[Point, Point, bool] | None]:
    """Each slot's middle and way once all is folded, and whether it is on the face; None of one on a leaf at
    an angle."""
    top = max((leaf.level for body in bodies.values() for leaf in body.leaves), default=0)
    for name, piece in one.slots:
        body = bodies.get(piece)
        if body is None:
            continue
        opening = next(each for each in pattern.openings if each.name == name)
        for place in opening.places:
            if place.piece == piece:
                at = body.lie.apply(place.at)
                leaf = body.leaf_at([at])
                plan = leaf.fold.plan
                if plan is None:
                    yield None
                    continue
                lie = plan @ body.lie @ Affine.turn(place.degrees)
                yield plan.apply(at), lie.apply_direction((1.0, 0.0)), leaf.level * 2 > top


def _shut(bodies: Mapping[str, Body]) -> Region:
    """All of the figure in plan once all is folded."""
    rings: list[Sequence[Point]] = []
    for body in bodies.values():
        for leaf in body.leaves:
            if leaf.fold.plan is not None:
                rings += region_of(leaf.outline).moved(leaf.fold.plan).rings()
    return areas_of(rings)


def _box(start: float, end: float, half: float) -> tuple[Point, ...]:
    return ((start, -half), (end, -half), (end, half), (start, half))
