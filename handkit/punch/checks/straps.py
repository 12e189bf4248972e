"""Straps: rules of the saddlers for what takes a pull and a buckle.

A row of holes straight across a strap is where it tears; tongue holes are odd in number, so that the
buckle sits in the middle one and has as many to either side; and a strap is cut along the grain, where
leather and woven cloth stretch least.

In: the pattern, and its seams with their holes. Out: findings, one for each piece. All mm.

Words: a *strap* under pull is a piece at least ten times as long as it is wide, or one with tongue
holes at least three times so (holders, keepers and loops are shorter); a seam runs *across* it where
its whole run is one straight line from side to side, but for an inset and a pitch at either end. (A
line that leans is none: the box about the strap, turned to it, is far wider than the seam.) A *wall* is none,
which lies on nothing and is sewn to others along both its long sides, such as a gusset or what it stands
between: it takes no pull alone. Nor does what a part has as a panel or a flap, however narrow or wide.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from math import atan2, degrees, hypot

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.polygon import hull, sides
from handkit.punch.punched import PunchedLayer, PunchedSeam
from handkit.read.project import PartKind
from handkit.tolerances import SAGITTA
from handkit.units import without_noise

# A strap is this many times as long as wide, or more; one that a buckle closes may be shorter (our own).
STRAP_SHARE = 10.0
BUCKLED_SHARE = 3.0

# A grain that stands further off a strap's length than this, in degrees, is across it.
_GRAIN_OFF = 45.0

# The kinds of part that draft a flap.
WITH_FLAPS = (PartKind.FLAP, PartKind.BAG)

# Holes this near to one line, in mm, are straight.
_STRAIGHT = 0.01


def strap_findings(pattern: Pattern, seams: Sequence[PunchedSeam]) -> tuple[Finding, ...]:
    """One warning for each strap that is sewn straight across or cut across the grain, one note for even
    tongue holes."""
    buckled = {
        place.piece
        for opening in pattern.openings
        if opening.opening.traits.buckled
        for place in opening.places
    }
    rings = {fitting.piece for fitting in pattern.project.fittings}  # keepers, which nothing pulls at
    idle = {*rings, *_panels(pattern)}
    across: dict[str, list[tuple[PunchedSeam, PunchedLayer]]] = {}
    for seam in seams:
        for layer in seam.layers:
            share = BUCKLED_SHARE if layer.piece in buckled else STRAP_SHARE
            piece = pattern.piece(layer.piece)
            if not any(_goes_across(piece, share, seam, row) for row in _rows(seam, layer)):
                continue
            if layer.piece not in idle and not _is_wall(piece, seams):
                across.setdefault(layer.piece, []).append((seam, layer))
    torn = (_telling(piece, found) for piece, found in across.items())
    return (*torn, *_even_tongues(pattern), *_across_grain(pattern, buckled))


def _panels(pattern: Pattern) -> frozenset[str]:
    """What is base or cover of a room on walls, such as a bag's, and the flaps that parts draft: each has
    bends."""
    kinds = {part.name: part.kind for part in pattern.project.parts}
    drafted = {piece.name: kinds.get(piece.drafted_by or "") for piece in pattern.project.pieces}
    flaps = {each.name for each in pattern.pieces if each.bends and drafted[each.name] in WITH_FLAPS}
    rooms = [room for room in pattern.rooms if room.wall is not None]
    return frozenset({*flaps, *(name for room in rooms for name in (room.base, room.cover))})


def _is_wall(piece: PatternPiece, seams: Sequence[PunchedSeam]) -> bool:
    """Whether a piece that lies flat on none is sewn to others along at least half of both its long sides."""
    if piece.flat and piece.on is not None:
        return False
    _, width, direction = _length_of(piece)
    ends: tuple[list[float], list[float]] = ([], [])
    turn = Affine.turn(-direction)
    left, low, right, high = piece.outline.moved(turn).bounds()
    for seam in seams:
        if len({layer.piece for layer in seam.layers}) < 2:
            continue
        own = [hole.at for each in seam.layers if each.piece == piece.name for hole in each.holes]
        for x, y in turn.apply_all(own):
            if min(y - low, high - y) <= width / 3:
                ends[y - low > width / 2].append(x)
    return all(side and max(side) - min(side) >= (right - left) / 2 for side in ends)


def _across_grain(pattern: Pattern, buckled: Collection[str]) -> list[Finding]:
    """Straps whose grain stands over 45° from their length; copies with the grain of another are told
    with it. Felt has no grain."""
    copies = {
        piece.name
        for piece in pattern.project.pieces
        if piece.copy_of is not None and "grain" not in piece.stated
    }
    findings, panels = list[Finding](), _panels(pattern)
    for piece in pattern.pieces:
        share = BUCKLED_SHARE if piece.name in buckled else STRAP_SHARE
        if _is_stout(piece, share) or piece.name in panels:
            continue
        length, width, degrees = _length_of(piece)
        is_strap = length >= share * width
        off = abs((piece.grain_degrees - degrees + 90) % 180 - 90)
        if not piece.traits.grained or piece.name in copies or not is_strap or off <= _GRAIN_OFF:
            continue
        where = piece.source.at("grain")
        key = "grain-across-strap" if piece.traits.is_leather else "grain-across-strap/cloth"
        findings.append(finding(key, where, piece=piece.name, degrees=degrees))
    return findings


def _is_stout(piece: PatternPiece, share: float) -> bool:
    """Whether a piece's area alone says that it is no strap: one is no longer than the diagonal of its
    upright box, and so no larger than that squared over its share."""
    left, bottom, right, top = piece.outline.bounds()
    return abs(piece.outline.signed_area()) * share > 1.01 * ((right - left) ** 2 + (top - bottom) ** 2)


def _length_of(piece: PatternPiece) -> tuple[float, float, float]:
    """Length and width of the narrowest box about a piece, and the length's direction, 0 to 180 degrees."""
    ring = hull(piece.outline.flattened(sagitta=SAGITTA))
    boxes: list[tuple[float, float, float]] = []
    for (x0, y0), (x1, y1) in sides(ring):
        size = hypot(x1 - x0, y1 - y0)
        ux, uy = (x1 - x0) / size, (y1 - y0) / size
        along, across = [x * ux + y * uy for x, y in ring], [y * ux - x * uy for x, y in ring]
        boxes.append((max(across) - min(across), max(along) - min(along), degrees(atan2(uy, ux)) % 180))
    width, length, direction = min(boxes, key=lambda box: (without_noise(box[0]), box[2]))
    return length, width, round(direction, 1) % 180


def _even_tongues(pattern: Pattern) -> list[Finding]:
    """Tongue holes with none in the middle (traditional rule)."""
    findings: list[Finding] = []
    for opening in pattern.openings:
        count = len({place.number for place in opening.places})
        if opening.opening.traits.buckled and count % 2 == 0:
            where = opening.source.at("at")
            findings.append(finding("tongue-holes-even", where, count=count, opening=opening.name))
    return findings


def _rows(seam: PunchedSeam, layer: PunchedLayer) -> list[list[Point]]:
    """The holes of each stretch of a layer that has two ends: all but what goes all round."""
    if seam.closed and seam.is_whole(layer):
        return []
    return [[hole.at for hole in row] for row in seam.rows_of(layer)]


def _goes_across(piece: PatternPiece, share: float, seam: PunchedSeam, row: Sequence[Point]) -> bool:
    """Whether holes are one straight row over the whole width of a strap."""
    first, last = row[0], row[-1]
    if len(row) < 3 or not _straight(row):
        return False
    size = hypot(last[0] - first[0], last[1] - first[1])
    way = ((last[0] - first[0]) / size, (last[1] - first[1]) / size)
    left, low, right, high = _turned_bounds(piece, way)
    width, length = right - left, high - low
    settings = seam.stitching
    free = 2 * (settings.inset + settings.pitch)
    return length >= share * width and size + free >= width


def _straight(row: Sequence[Point]) -> bool:
    (x0, y0), (x1, y1) = row[0], row[-1]
    size = hypot(x1 - x0, y1 - y0)
    if not size:
        return False
    return all(abs((x1 - x0) * (at[1] - y0) - (y1 - y0) * (at[0] - x0)) <= _STRAIGHT * size for at in row)


def _turned_bounds(piece: PatternPiece, way: Point) -> tuple[float, float, float, float]:
    """The piece's bounds with the seam's way turned to lie along x."""
    turn = Affine(way[0], -way[1], way[1], way[0])
    return piece.outline.moved(turn).bounds()


def _telling(piece: str, found: Sequence[tuple[PunchedSeam, PunchedLayer]]) -> Finding:
    seam, layer = found[0]
    where = seam.run_of(layer).source.at()
    return finding("seam-across-strap", where, seam=seam.name, piece=piece, count=len(found))
