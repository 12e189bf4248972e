"""Heights: between which z a piece of leather lies at a place of the plan.

In: what lies on one base, in plan. Out: (low, high) in mm; z is 0 on the face of the base that is looked at.

What lies flat rests on what lies under it at that place, and so leather drapes: a pocket's mouth rises by a
thickness where it goes over a strap's end. What stands rises over its base.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

from handkit.geometry.affine import Point
from handkit.geometry.path import Path
from handkit.geometry.region import Region, region_of

Span = tuple[float, float]


class Lies(Protocol):
    """A piece where it lies: its plan, which of the layers it is (0 the base, higher nearer the eye), how
    thick, how many pieces it stands on, and on which; what it stands over, where it stands."""

    @property
    def name(self) -> str:
        """Its own among all that lies there."""

    @property
    def outline(self) -> Path:
        """In plan."""

    @property
    def level(self) -> int:
        """Among the layers."""

    @property
    def thickness(self) -> float:
        """In mm."""

    @property
    def depth(self) -> int:
        """How many pieces it stands on, one on the other."""

    @property
    def on(self) -> str | None:
        """The piece it lies on."""

    @property
    def over(self) -> str | None:
        """The piece that it stands over; None of what lies flat."""

    def rise(self, at: Point) -> float:
        """How far what stands is off that piece at a place of the plan."""


class Heights:
    """All that lies on one base, ready to be asked; what was asked is kept."""

    def __init__(self, bodies: Sequence[Lies]) -> None:
        self._bodies = {body.name: body for body in bodies}
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

    def tops(
        self, pieces: Iterable[str], line: Sequence[tuple[float, Point]]
    ) -> Iterator[tuple[float, float]]:
        """How high each of some pieces reaches along a line in plan, (along, z); the line is (along, place).

        Raises KeyError for a piece that has no body with a place.
        """
        for piece in pieces:
            bare = self.region(piece).outside([at for _, at in line])
            yield from (
                (along, self.span(piece, at)[1]) for k, (along, at) in enumerate(line) if k not in bare
            )

    def span(self, piece: str, at: Point) -> Span:
        """Between which heights a piece lies at a place, or would lie if it reached there.

        Raises KeyError for a piece that has no body with a place.
        """
        key = (piece, at)
        if key not in self._known:
            self._known[key] = self._span(self._bodies[piece], at)
        return self._known[key]

    def _span(self, body: Lies, at: Point) -> Span:
        thick = body.thickness
        if body.level == 0:
            return (-thick, 0.0)
        front = body.level > 0
        if body.over is not None:
            front = body.level > self._bodies[body.over].level
            base, rise = self.span(body.over, at), body.rise(at)
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

    def _is_under(self, other: Lies, body: Lies) -> bool:
        """Whether one body lies between another and the base, or is it; what stands on a piece that hangs
        behind stands on its side towards the base, and yet does not carry it."""
        if not (0 <= other.level < body.level if body.level > 0 else body.level < other.level <= 0):
            return False
        while other.depth > body.depth and other.on in self._bodies:
            other = self._bodies[other.on or ""]
        return other is not body
