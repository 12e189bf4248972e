"""Heights: between which z a body lies at a place of the plan.

In: the bodies of one figure, a place in plan. Out: (low, high) in mm, z as in `article.py`.

What lies flat rests on what lies under it at that place, and so leather drapes: a pocket's mouth rises by a
thickness where it goes over a strap's end. What stands rises over its base by its room's height.
"""

from __future__ import annotations

from collections.abc import Sequence

from handkit.assemble.article import Body, BodyKind
from handkit.geometry.affine import Point
from handkit.geometry.region import Region, region_of

Span = tuple[float, float]


class Heights:
    """The bodies of one figure, ready to be asked; what was asked is kept."""

    def __init__(self, bodies: Sequence[Body]) -> None:
        self._bodies = {body.name: body for body in bodies if body.kind is not BodyKind.WALL}
        self._regions: dict[str, Region] = {}
        self._known: dict[tuple[str, Point], Span] = {}
        self._over: dict[tuple[str, Point], bool] = {}

    def covers(self, piece: str, at: Point) -> bool:
        """Whether a piece's body lies over a place of the plan."""
        key = (piece, at)
        if key not in self._over:
            self._over[key] = piece in self._bodies and self.region(piece).contains(at)
        return self._over[key]

    def region(self, piece: str) -> Region:
        """The plan of a piece's body. Raises KeyError for a piece that has no body with a place."""
        if piece not in self._regions:
            self._regions[piece] = region_of(self._bodies[piece].outline)
        return self._regions[piece]

    def span(self, piece: str, at: Point) -> Span:
        """Between which heights a piece lies at a place, or would lie if it reached there.

        Raises KeyError for a piece that has no body with a place.
        """
        key = (piece, at)
        if key not in self._known:
            self._known[key] = self._span(self._bodies[piece], at)
        return self._known[key]

    def _span(self, body: Body, at: Point) -> Span:
        thick = body.piece.thickness
        if body.level == 0:
            return (-thick, 0.0)
        front = body.level > 0
        if body.room is not None:
            front = body.level > self._bodies[body.room.base].level
            base = self.span(body.room.base, at)
            room = self._bodies[body.room.base].lie @ body.room.lie
            rise = body.room.height(room.inverse().apply(at))
            face = base[1] + rise if front else base[0] - rise
        else:
            under = [
                self.span(other.name, at)
                for other in self._bodies.values()
                if self._is_under(other, body) and self.covers(other.name, at)
            ]
            lows, highs = [low for low, _ in under], [high for _, high in under]
            face = max(highs, default=0.0) if front else min(lows, default=0.0)
        return (face, face + thick) if front else (face - thick, face)

    def _is_under(self, other: Body, body: Body) -> bool:
        """Whether one body lies between another and the base, or is it; what stands on a piece that hangs
        behind stands on its side towards the base, and yet does not carry it."""
        if not (0 <= other.level < body.level if body.level > 0 else body.level < other.level <= 0):
            return False
        while other.piece.depth > body.piece.depth and other.piece.on in self._bodies:
            other = self._bodies[other.piece.on or ""]
        return other is not body
