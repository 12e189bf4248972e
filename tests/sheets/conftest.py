"""Hand-made products of the steps before sheets."""

from __future__ import annotations

from collections.abc import Iterable
from types import SimpleNamespace

import pytest
from msgspec.structs import replace
from plain_records import STITCHING, plain_piece

from handkit.draft.pattern import (
    Letter,
    Pattern,
    PatternFold,
    PatternOpening,
    PatternPiece,
    PatternSeam,
    PlacedOpening,
    Run,
)
from handkit.findings import Source, TextPlace
from handkit.geometry.path import Path, polyline
from handkit.kinds.openings import OpeningKind
from handkit.paper import PAPERS
from handkit.punch.punched import Hole, Punched, PunchedLayer, PunchedSeam
from handkit.read.project import (
    Layer,
    Opening,
    PageOptions,
    Project,
    RoundHole,
    Seam,
    Side,
    StitchHole,
)

FILE = "orchard.toml"
Point = tuple[float, float]


def make_piece(
    name: str,
    outline: Path,
    *,
    cut_outline: Path | None = None,
    mark: Side = Side.GRAIN,
    shows: Side = Side.GRAIN,
    line: int = 10,
    folds: tuple[PatternFold, ...] = (),
) -> PatternPiece:
    """A piece that lies on nothing."""
    return plain_piece(
        Source(FILE, f'piece "{name}"', line),
        name,
        outline,
        cut_outline=cut_outline or outline,
        letters=(Letter("A", outline.start),),
        folds=folds,
        mark=mark,
        shows=shows,
        glued=True,
    )


def make_seam(name: str, piece: str, places: Iterable[Point], hole: StitchHole | None = None) -> PunchedSeam:
    """A seam of one layer whose holes stand at these places, on an inner line."""
    points = tuple(places)
    hole = hole or RoundHole(1.6)
    slit = None if isinstance(hole, RoundHole) else hole.slant
    stitching = replace(STITCHING, hole=hole)
    source = Source(FILE, f'seam "{name}"', 90)
    layer = Layer(source, piece, "row", 0.0, 0.0, 0.0, f"{piece}: row")
    seam = Seam(source, name, (layer,), stitching, False, (), ())
    path = polyline(points) if len(points) > 1 else None
    run = Run(source, piece, "row", path, None, (), (), 0)
    holes = tuple(Hole(k, at, 0.0, slit, False) for k, at in enumerate(points, start=1))
    pattern = PatternSeam(seam, (run,), False, (0,))
    return PunchedSeam(pattern, (PunchedLayer(piece, 1, "row", holes, path.length if path else 0.0),))


def make_opening(
    name: str,
    piece: str,
    places: Iterable[Point],
    *,
    diameter: float = 3.0,
    length: float | None = None,
    degrees: float = 0.0,
) -> PatternOpening:
    """Rivet holes, or slots where a length is given."""
    points = tuple(places)
    kind = OpeningKind.RIVET if length is None else OpeningKind.SLOT
    source = Source(FILE, f'opening "{name}"', 120)
    opening = Opening(
        source, name, kind, diameter, length or diameter, degrees, 0.0, (piece,), points, (), None, ""
    )
    placed = tuple(PlacedOpening(piece, k, at, degrees) for k, at in enumerate(points, start=1))
    return PatternOpening(opening, placed)


def make_punched(
    pieces: Iterable[PatternPiece],
    *,
    seams: Iterable[PunchedSeam] = (),
    openings: Iterable[PatternOpening] = (),
) -> Punched:
    """A punched pattern of these parts."""
    source = Source(FILE, "", 1)
    keys = tuple(
        (key, TextPlace(line)) for key, line in (("paper", 5), ("edge", 6), ("margin", 7), ("overlap", 8))
    )
    page = PageOptions(Source(FILE, "page", 4, keys), PAPERS[0], 5.0, 10.0, 10.0, None)
    parts, sewn, holes = tuple(pieces), tuple(seams), tuple(openings)
    project = Project(source, "orchard", "Orchard", (), (), (), page, 1, 0.75)
    pattern = Pattern(project, parts, tuple(seam.pattern for seam in sewn), holes)
    return Punched(pattern, sewn, ())


@pytest.fixture(scope="session")
def parts() -> SimpleNamespace:
    """The makers above by short names."""
    return SimpleNamespace(piece=make_piece, seam=make_seam, opening=make_opening, punched=make_punched)
