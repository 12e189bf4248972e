"""Projects in few words: pieces, layers, seams and openings with everything else at its default."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from handkit.findings import Source
from handkit.kinds.materials import Material
from handkit.kinds.openings import OpeningKind
from handkit.paper import paper_named
from handkit.read.project import (
    Corner,
    Edges,
    FoldLine,
    InnerLine,
    Layer,
    MatchPoint,
    Opening,
    PageOptions,
    Piece,
    Project,
    Punching,
    RoundHole,
    Seam,
    Side,
    Skive,
    Spacing,
    Stitching,
    Trim,
)
from handkit.read.values.letters import letter_names


def edges(text: str) -> Edges:
    return Edges(tuple(text.split("-")))


def piece(name: str = "front", points: Any = ((0, 0), (100, 0), (100, 60), (0, 60)), **more: Any) -> Piece:
    """`round` is one radius or a dict by letter, `arc` and `trim` are dicts by edges."""
    points = () if "circle" in more else tuple((float(x), float(y)) for x, y in points)
    names = letter_names(len(points))
    radii, arcs = more.pop("round", 0.0), more.pop("arc", {})
    corners = tuple(
        Corner(n, at, radii.get(n, 0.0) if isinstance(radii, dict) else radii)
        for n, at in zip(names, points, strict=True)
    )
    keys = [f"{a}-{b}" for a, b in zip(names, (*names[1:], *names[:1]), strict=True)]
    settings: dict[str, Any] = {
        "circle": None,
        "thickness": 2.0,
        "material": Material.FIRM_LEATHER,
        "quantity": 1,
        "mark": Side.GRAIN,
        "grain_degrees": 90.0,
        "note": "",
        "on": None,
        "at": (0.0, 0.0),
        "turn_degrees": 0.0,
        "turned_over": False,
        "behind": False,
        "flat": True,
        "glued": False,
        "copy_of": None,
        "mirrored": False,
    }
    settings["lines"] = tuple(InnerLine(k, tuple(v)) for k, v in more.pop("lines", {}).items())
    settings["folds"] = tuple(FoldLine(k, tuple(v)) for k, v in more.pop("folds", {}).items())
    settings["trims"] = tuple(Trim(edges(k), v) for k, v in more.pop("trim", {}).items())
    settings["skives"] = tuple(Skive(edges(k), *v) for k, v in more.pop("skive", {}).items())
    settings.update(more)
    return Piece(
        source=Source("p.toml", f'piece "{name}"', 1),
        name=name,
        corners=corners,
        sagittas=tuple(float(arcs.get(key, 0.0)) for key in keys),
        **settings,
    )


def layer(text: str, inset: float = 4.0, from_start: float = 0.0, from_end: float = 0.0) -> Layer:
    """Capitals and hyphens after the colon are letters, anything else a line's name."""
    name, _, run = text.partition(": ")
    letters = all(part.isalpha() and part.isupper() for part in run.split("-"))
    parsed = None if not run else edges(run) if letters else run
    source = Source("p.toml", f'run "{text}"', 2)
    return Layer(source, name, parsed, inset, from_start, from_end, text)


def stitching(**more: Any) -> Stitching:
    settings: dict[str, Any] = {
        "pitch": 4.0,
        "inset": 4.0,
        "thread": 0.8,
        "spacing": Spacing.EVEN,
        "punch": Punching.APART,
        "hole": RoundHole(1.6),
        "needle": None,
        "tail": 180.0,
        "back": 2,
        "start_back": 0,
        "wrap_start": 0,
        "wrap_end": 0,
        "longest_side": 1500.0,
    }
    return Stitching(**{**settings, **more})


def seam(*layers: Layer | str, name: str = "side", match: Any = (), **more: Any) -> Seam:
    settings: dict[str, Any] = {"bowed": False, "after": (), "stitching": stitching()}
    return Seam(
        source=Source("p.toml", f'seam "{name}"', 3),
        name=name,
        layers=tuple(layer(each) if isinstance(each, str) else each for each in layers),
        matches=tuple(MatchPoint(tuple(places)) for places in match),
        **{**settings, **more},
    )


def opening(through: Any, at: Any, name: str = "rivet", places: Any = (), **more: Any) -> Opening:
    settings: dict[str, Any] = {
        "kind": OpeningKind.RIVET,
        "diameter": 3.0,
        "length": 3.0,
        "turn_degrees": 0.0,
        "cap": 9.0,
        "mate": None,
        "note": "",
    }
    return Opening(
        source=Source("p.toml", f'opening "{name}"', 4),
        name=name,
        through=tuple(through),
        at=tuple(at),
        places=tuple((k, tuple(v)) for k, v in dict(places).items()),
        **{**settings, **more},
    )


def project(*entries: Piece | Seam | Opening) -> Project:
    source = Source("p.toml", "", 0)
    return Project(
        source=source,
        name="p",
        title="p",
        pieces=tuple(e for e in entries if isinstance(e, Piece)),
        seams=tuple(e for e in entries if isinstance(e, Seam)),
        openings=tuple(e for e in entries if isinstance(e, Opening)),
        page=PageOptions(source, paper_named("A4"), 5.0, 10.0, 10.0, None),
        copies=1,
        yield_share=0.75,
    )


@pytest.fixture(scope="session")
def make() -> SimpleNamespace:
    """The makers above: `make.piece`, `make.layer`, `make.seam`, `make.opening`, `make.project`."""
    return SimpleNamespace(
        piece=piece, layer=layer, seam=seam, opening=opening, project=project, stitching=stitching
    )
