"""Outlines: from corners, radii and sagittas to lines and arcs.

In: a `Piece` as read. Out: its `Outline`, from letter to letter, or the findings that say why not.

Words: an edge leads from one corner letter to the next; a rounded corner's letter stands at the
middle of its arc, so either half of the arc belongs to the edge on its side.
"""

from __future__ import annotations

from itertools import pairwise

import msgspec

from handkit.draft.pieces.rounding import Rounded, rounded_corners
from handkit.findings import Finding, finding
from handkit.geometry.affine import Affine, Point
from handkit.geometry.intersect import first_crossing
from handkit.geometry.path import Path, circle, polyline
from handkit.geometry.segment import Segment, arc_with_sagitta
from handkit.geometry.straight import distance
from handkit.read.project import Piece
from handkit.tolerances import SAME_POINT

# An arc taller than this many chords is all but a circle: its ends are a slip of the hand apart.
TALLEST_SAGITTA = 10.0


class Outline(msgspec.Struct, frozen=True):
    """An outline from letter to letter. `way` is +1 counter-clockwise, −1 clockwise."""

    names: tuple[str, ...]
    edges: tuple[tuple[Segment, ...], ...]  # edges[i] leads from letter i to the next
    way: int

    @property
    def path(self) -> Path:
        """All edges, from A round to A."""
        return Path(tuple(segment for edge in self.edges for segment in edge), closed=True)

    def letter_at(self, index: int) -> Point:
        """Where a letter stands."""
        return self.edges[index][0].start

    def edge_name(self, index: int) -> str:
        """Such as "B-C"."""
        return edge_name(self.names, index)


def edge_name(names: tuple[str, ...], index: int) -> str:
    """The name of the edge that begins at a letter.

    >>> edge_name(("A", "B", "C"), 2)
    'C-A'
    """
    return f"{names[index]}-{names[(index + 1) % len(names)]}"


def draft_outline(piece: Piece, *, mirrored: bool = False) -> tuple[Outline | None, tuple[Finding, ...]]:
    """The outline of a piece, or None and the findings.

    Corners have been mirrored in reading; `mirrored` is for a circle, which reading leaves alone:
    its A then stands at nine o'clock and it goes round clockwise.
    """
    if piece.circle is not None:
        return _circle_outline(piece.circle, mirrored=mirrored), ()
    names = tuple(corner.letter for corner in piece.corners)
    way = way_round(piece)
    findings = _edge_findings(piece, names) or _area_findings(piece, names, way)
    if findings:
        return None, tuple(findings)
    sharp = sharp_edges(piece, way)
    findings.extend(_crossing_findings(piece, names, [(edge,) for edge in sharp]))
    rounded, unfit = rounded_corners(piece, names, sharp)
    findings.extend(unfit)
    if findings:
        return None, tuple(findings)
    edges = tuple(_edge(sharp, rounded, index) for index in range(len(sharp)))
    findings.extend(_crossing_findings(piece, names, edges))
    return (None, tuple(findings)) if findings else (_outline(names, edges), ())


def _outline(names: tuple[str, ...], edges: tuple[tuple[Segment, ...], ...]) -> Outline:
    """An outline goes round the way its area does: a deep arc may turn that of its corners."""
    area = Path(tuple(segment for edge in edges for segment in edge), closed=True).signed_area()
    return Outline(names, edges, 1 if area > 0 else -1)


def _circle_outline(diameter: float, *, mirrored: bool) -> Outline:
    path = circle((0.0, 0.0), diameter / 2)
    if mirrored:
        path = path.moved(Affine.mirror())
    return Outline(("A",), (path.segments,), -1 if mirrored else 1)


def way_round(piece: Piece) -> int:
    """Which way round the corners go: +1 counter-clockwise, −1 clockwise, 0 where they span nothing."""
    area = polyline([corner.at for corner in piece.corners], closed=True).signed_area()
    return 0 if abs(area) <= SAME_POINT else 1 if area > 0 else -1


def sharp_edges(piece: Piece, way: int) -> list[Segment]:
    """The edges before their corners are rounded. Outward is right of a way round that goes left."""
    points = [corner.at for corner in piece.corners]
    return [
        arc_with_sagitta(start, end, sagitta * way) if sagitta else Segment(start, end)
        for (start, end), sagitta in zip(pairwise([*points, points[0]]), piece.sagittas, strict=True)
    ]


def _edge(sharp: list[Segment], rounded: tuple[Rounded | None, ...], index: int) -> tuple[Segment, ...]:
    """One edge: half the arc of its first corner, what is left of itself, half the arc of its last."""
    first, last = rounded[index], rounded[(index + 1) % len(sharp)]
    begin = first.fillet.first if first else 0.0
    end = last.fillet.last if last else sharp[index].length
    middle: tuple[Segment, ...] = ()
    if not first and not last:
        middle = (sharp[index],)
    elif end - begin > SAME_POINT:
        middle = (sharp[index].between(begin, end),)
    return (*((first.halves[1],) if first else ()), *middle, *((last.halves[0],) if last else ()))


def _edge_findings(piece: Piece, names: tuple[str, ...]) -> list[Finding]:
    """Edges of no length, and arcs that can't be meant."""
    found: list[Finding] = []
    points = [corner.at for corner in piece.corners]
    for index, (start, end) in enumerate(pairwise([*points, points[0]])):
        name, chord, sagitta = edge_name(names, index), distance(start, end), piece.sagittas[index]
        if chord <= SAME_POINT:
            first, second = name.split("-")
            where = piece.source.at("points")
            found.append(finding("edge-without-length", where, first=first, second=second))
        elif abs(sagitta) > TALLEST_SAGITTA * chord:
            where, tall, most = piece.source.at("arc"), abs(sagitta), TALLEST_SAGITTA * chord
            found.append(finding("sagitta-too-tall", where, sagitta=tall, edge=name, chord=chord, most=most))
    return found


def _area_findings(piece: Piece, names: tuple[str, ...], way: int) -> list[Finding]:
    """Corners that all lie on one line, or that go round as much one way as the other."""
    if way:
        return []
    first, *others = (corner.at for corner in piece.corners)
    line = Segment(first, max(others, key=lambda at: distance(first, at)))
    dx, dy = line.direction_at(0)
    if any(abs(dx * (y - first[1]) - dy * (x - first[0])) > SAME_POINT for x, y in others):
        straight = polyline([first, *others], closed=True).segments
        return _crossing_findings(piece, names, [(edge,) for edge in straight])
    return [finding("outline-without-area", piece.source.at("points"))]


def _crossing_findings(
    piece: Piece, names: tuple[str, ...], edges: list[tuple[Segment]] | tuple[tuple[Segment, ...], ...]
) -> list[Finding]:
    """An outline that touches or crosses itself."""
    owners = [index for index, edge in enumerate(edges) for _ in edge]
    crossing = first_crossing([segment for edge in edges for segment in edge], closed=True)
    if crossing is None:
        return []
    first, second = (edge_name(names, owners[k]) for k in (crossing.first, crossing.second))
    where = piece.source.at("points")
    return [finding("outline-crosses-itself", where, first=first, second=second, at=crossing.at)]
