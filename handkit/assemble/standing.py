"""What stands out of faces: caps, thread, magnets.

In: a figure, and on which side of its base one looks. Out: each as it is seen from there.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from handkit.assemble.article import BodyKind, Figure
from handkit.assemble.heights import Heights
from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Point


class StandingOut(msgspec.Struct, frozen=True, kw_only=True):
    """What stands out of one face of pieces, by `stands` mm from the height `face`, which counts away from
    the base; `outwards` whether it does so, too."""

    key: str
    other: str
    through: tuple[str, ...]
    points: tuple[Point, ...]
    radius: float
    outwards: bool
    stands: float
    face: float

    @property
    def pieces(self) -> tuple[str, ...]:
        """What it goes through, as findings name it."""
        return tuple(f'"{piece}"' for piece in self.through)


def standing_out(pattern: Pattern, figure: Figure, heights: Heights, out: int) -> Iterator[StandingOut]:
    """All of a figure; `out` is 1 for who looks at its face, -1 from behind."""
    for cap in figure.caps:
        yield StandingOut(
            key="clash/cap",
            other=f'a cap of "{cap.opening}"',
            through=cap.pieces,
            points=(cap.at,),
            radius=cap.radius,
            outwards=cap.to_eye == (out > 0),
            stands=cap.high - cap.low,
            face=(cap.low if cap.to_eye else cap.high) * out,
        )
    for row in figure.rows:
        for places, to_eye in ((row.front, True), (row.back, False)):
            yield StandingOut(
                key="clash/row",
                other=f'the thread of "{row.seam}"',
                through=row.pieces,
                points=tuple((x, y) for x, y, _ in places),
                radius=row.thread / 2,
                outwards=to_eye == (out > 0),
                stands=row.thread,
                face=sum(z for _, _, z in places) / len(places) * out,
            )
    yield from _magnets(pattern, figure, heights, out)


def _magnets(pattern: Pattern, figure: Figure, heights: Heights, out: int) -> Iterator[StandingOut]:
    """What is cemented on the side of a piece that shows, as thick as the file says."""
    bodies = {body.name: body for body in figure.bodies if body.kind is not BodyKind.WALL}
    for each in pattern.fittings:
        fitting, body = each.fitting, bodies.get(each.fitting.on or "")
        if body is None:
            continue
        for at in fitting.at:
            place, to_eye = body.lie.apply(at), not body.piece.turned
            low, high = heights.span(body.name, place)
            yield StandingOut(
                key="clash/cap",
                other=f'"{fitting.name}"',
                through=(body.name,),
                points=(place,),
                radius=(fitting.diameter or 0.0) / 2,
                outwards=to_eye == (out > 0),
                stands=fitting.thickness or 0.0,
                face=(high if to_eye else low) * out,
            )
