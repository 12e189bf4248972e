"""Patterns built by hand, so that the holes are tested without the steps before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, tan

import pytest
from msgspec.structs import replace
from plain_records import STITCHING, plain_piece

from handkit.draft.pattern import (
    Pattern,
    PatternOpening,
    PatternPiece,
    PatternSeam,
    PlacedOpening,
    Run,
)
from handkit.findings import Source
from handkit.geometry.affine import Point
from handkit.geometry.path import Path, polyline
from handkit.geometry.segment import Segment
from handkit.kinds.openings import OpeningKind
from handkit.paper import Paper
from handkit.read.project import (
    Opening,
    PageOptions,
    Project,
    Seam,
    Stitching,
)
from handkit.tolerances import CORNER_TURN_DEGREES


def rounded(width: float, height: float, radius: float) -> Path:
    """A rectangle from (radius, 0), counter-clockwise, with rounded corners."""
    w, h, r, k = width, height, radius, tan(pi / 8)
    return Path(
        (
            Segment((r, 0), (w - r, 0)),
            Segment((w - r, 0), (w, r), k),
            Segment((w, r), (w, h - r)),
            Segment((w, h - r), (w - r, h), k),
            Segment((w - r, h), (r, h)),
            Segment((r, h), (0, h - r), k),
            Segment((0, h - r), (0, r)),
            Segment((0, r), (r, 0), k),
        ),
        closed=True,
    )


@dataclass(frozen=True)
class Bench:
    """Builds pieces, runs, seams, openings and patterns with all that a test does not care for."""

    stitching: Stitching = STITCHING

    def rectangle(self, width: float, height: float) -> Path:
        """A's at the origin."""
        return polyline([(0, 0), (width, 0), (width, height), (0, height)], closed=True)

    def rounded(self, width: float, height: float, radius: float) -> Path:
        """See above."""
        return rounded(width, height, radius)

    def piece(self, name: str, outline: Path, **changes: object) -> PatternPiece:
        """A root of firm leather, 2.4 thick."""
        return plain_piece(Source("bag.toml", f'piece "{name}"', 10), name, outline, **changes)

    def run(
        self,
        piece: str,
        path: Path | None,
        *,
        text: str = "A-B",
        inside: int = 0,
        meets: Sequence[float | None] = (),
        carried_from: int | None = None,
    ) -> Run:
        """A run with its corners; carried where it has no path."""
        corners = path.corners(over_degrees=CORNER_TURN_DEGREES) if path else ()
        text = text if path else ""
        source = Source("bag.toml", f'run "{piece}: {text}"' if text else f'run "{piece}"', 20)
        return Run(source, piece, text, path, carried_from, corners, tuple(meets), inside)

    def seam(self, name: str, *runs: Run, bowed: bool = False, **settings: object) -> PatternSeam:
        """A seam of runs, the first on top."""
        stitching = replace(self.stitching, **settings)  # type: ignore[arg-type]
        seam = Seam(Source("bag.toml", f'seam "{name}"', 30), name, (), stitching, bowed, (), ())
        closed = any(run.path is not None and run.path.closed for run in runs)
        return PatternSeam(seam, runs, closed, tuple(range(len(runs))))

    def opening(self, name: str, places: Sequence[tuple[str, Point]], **changes: object) -> PatternOpening:
        """A rivet of 3 under a cap of 9."""
        pieces = tuple(dict.fromkeys(piece for piece, _ in places))
        source = Source("bag.toml", f'opening "{name}"', 40)
        opening = Opening(source, name, OpeningKind.RIVET, 3.0, 3.0, 0.0, 9.0, pieces, (), (), None, "")
        opening = replace(opening, **changes)  # type: ignore[arg-type]
        numbers = dict.fromkeys(pieces, 0)
        placed = []
        for piece, at in places:
            numbers[piece] += 1
            placed.append(PlacedOpening(piece, numbers[piece], at, opening.turn_degrees))
        return PatternOpening(opening, tuple(placed))

    def pattern(
        self,
        pieces: Sequence[PatternPiece],
        seams: Sequence[PatternSeam] = (),
        openings: Sequence[PatternOpening] = (),
    ) -> Pattern:
        """All of it, on A4."""
        page = PageOptions(Source(), Paper("A4", 210.0, 297.0), 5.0, 10.0, 10.0, None)
        project = Project(Source("bag.toml"), "bag", "Bag", (), (), (), page, 1, 0.75)
        return Pattern(project, tuple(pieces), tuple(seams), tuple(openings))


@pytest.fixture(scope="session")
def bench() -> Bench:
    """The hand that builds patterns."""
    return Bench()
