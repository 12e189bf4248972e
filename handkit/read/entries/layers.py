"""Layers: the runs of a seam.

In: a [[seam]] entry and the pieces. Out: a `Layer` for each run as listed, None for a faulty one.

    "front: D-A-B-C"   a run of edges       "back: divider"   a named line inside the piece
    "front"            takes the holes of a run before it (carried)
    { run = "front: D-A", from_start = 4 }  a run with settings of its own
    { run = "front: D-A", side = "flesh" }  and the side that lies on the other run's piece
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping, Sequence

import msgspec

from handkit.findings import Finding, finding, nearest
from handkit.kinds.edge_works import EdgeWork
from handkit.read.entries.edges import (
    LetterPair,
    edges_named,
    is_closed,
    letters_meant,
    looks_like_edges,
    single_edges,
)
from handkit.read.entries.entry import Entry, entry_of
from handkit.read.entries.outline import letters_of
from handkit.read.file.project_file import Location, kinds_behind, unknown
from handkit.read.project import Edges, Layer, Piece
from handkit.read.schema.keys import TABLES
from handkit.read.values.field import Field
from handkit.read.values.plain import composed, read_text
from handkit.wording.quoting import quoted

_RUN = TABLES["run"].keys["run"]
# A run nearer to its edge than this, in mm, lies on it.
LEAST_INSET = 0.5

# Settings of a run with a line of its own; `side` any may have.
_SETTINGS = ("from_start", "from_end", "inset")


def read_layers(entry: Entry, pieces: Mapping[str, Piece], *, inset: float) -> list[Layer | None]:
    """The seam's layers in order; `inset` is the seam's."""
    return [_layer(field, pieces, inset=inset) for field in entry.get("runs") or ()]


def _layer(field: Field, pieces: Mapping[str, Piece], *, inset: float) -> Layer | None:
    settings: Entry | None = None
    text = field.value
    if isinstance(text, dict) and isinstance(text.get("piece"), str):
        field.location.report(finding("not-a-run/piece", meant=_together(text)).once("run: piece"))
        return None
    if isinstance(text, dict):
        settings = entry_of("run", _named(field, text.get("run")))
        text = text.get("run", "")
        if settings is None or not settings.has("run"):
            return None
    elif not isinstance(text, str):
        field.ruled(_RUN).reject("not-a-run")
        return None
    named = Field(text, _RUN, _named(field, text).location)
    written = read_text(settings.field("run") or named if settings else named)
    found = _piece_and_run(written, named, pieces) if written is not None else None
    if written is None or found is None:
        return None
    piece, run = found
    layer = Layer(named.location.source(()), piece.name, run, inset, 0.0, 0.0, written)
    if settings is not None:
        _check_settings(settings, run, piece)
        own = {key: settings.get(key) for key in (*_SETTINGS, "side") if settings.has(key)}
        layer = msgspec.structs.replace(layer, source=settings.source(), **own)
    _check_inset(layer, piece, named.location)
    return layer


def _together(table: Mapping[str, object]) -> str:
    """What is written of a run in keys of its own, as one text."""
    edges = next((table[key] for key in ("run", "edges", "edge", "line", "corners") if key in table), "")
    return f"{edges}" if ":" in f"{edges}" else f"{table['piece']}: {edges}".removesuffix(": ")


def _check_inset(layer: Layer, piece: Piece, location: Location) -> None:
    """Report a run that all but lies on edges which end there: only an allowance goes on beyond."""
    if not isinstance(layer.run, Edges) or not layer.inset < LEAST_INSET:
        return
    beyond = _pairs_of(piece, lambda work: work is EdgeWork.ALLOWANCE)
    if bare := [pair for pair in single_edges(layer.run) if pair not in beyond]:
        edge = "-".join(bare[0])
        location.report("inset-at-edge", inset=layer.inset, edge=edge, least=LEAST_INSET)


def _pairs_of(piece: Piece, wanted: Callable[[EdgeWork], bool]) -> frozenset[LetterPair]:
    """The edges of a piece that have some kinds of work."""
    works = (each for each in piece.works if wanted(each.work))
    return frozenset(pair for each in works for pair in single_edges(each.edges))


def _named(field: Field, text: object) -> Field:
    """The field of a run, named by the run itself, as a maker would."""
    if not isinstance(text, str):
        return field
    location = field.location
    seam, _, _ = location.words.rpartition(": runs")
    words = f"{seam}: run {quoted(composed(text))}"
    return Field(field.value, field.rule, Location(location.file, location.path, words))


def _piece_and_run(
    text: str, field: Field, pieces: Mapping[str, Piece]
) -> tuple[Piece, Edges | str | None] | None:
    """The piece a run names and what it names on it; None where it is faulty."""
    name, colon, rest = (part.strip() for part in text.partition(":"))
    several = _runs_in_one(text, pieces)
    if several or not name or (colon and not rest) or ":" in rest:
        key = "run-unreadable/comma" if several else "run-unreadable"
        field.with_value(text).reject(key, meant=several)
        return None
    if name not in pieces:
        if pieces:  # else that there are no pieces is reported already
            field.location.report(_unknown_piece(name, tuple(pieces), rest))
        return None
    piece = pieces[name]
    if not colon:
        return piece, None
    letters = letters_of(piece.corners, piece.circle)
    if not letters and looks_like_edges(rest):
        return None  # the outline is faulty, and that is reported
    run = _run_on(rest, piece, letters)
    if isinstance(run, Finding):
        field.location.report(run.following(f"{piece.source.path}: circle"))
        return None
    return piece, run


def _runs_in_one(text: str, pieces: Collection[str]) -> list[str]:
    """The runs of a text that is several of them, none where it is one."""
    listed = [part.strip() for part in re.split(r"[,;+&]|\band\b", text)]
    known = all(part.partition(":")[0].strip() in pieces for part in listed)
    return listed if len(listed) > 1 and known and text not in pieces else []


def _unknown_piece(name: str, known: Sequence[str], rest: str) -> Finding:
    """The piece isn't known; perhaps the colon was forgotten, or it stands behind it."""
    if rest in known:
        return finding("unknown-piece/turned", name=name, known=known, meant=f"{rest}: {name}").once(
            f"unknown-piece {name}"
        )
    first, _, last = name.rpartition(" ")
    first = first.rstrip(" ;,.=-")
    if first in known:
        return finding("unknown-piece/colon", name=name, known=known, meant=f"{first}: {last}").once(
            f"unknown-piece {name}"
        )
    return unknown("unknown-piece", name, known)


def _run_on(text: str, piece: Piece, letters: Sequence[str]) -> Edges | str | Finding:
    """The run a text names on a piece: edges, or a line by its name."""
    if looks_like_edges(text):
        return edges_named(text, letters)
    names = tuple(line.name for line in piece.lines)
    if text in names:
        return text
    if any(text == fold.name for fold in piece.folds):
        return finding("run-on-fold", fold=text)
    if text in letters:
        return finding("run-one-letter", letter=text)
    if letters_meant(text, letters):
        return edges_named(text, letters)
    return _unknown_line(text, piece, names).following(*kinds_behind(text))


def _unknown_line(text: str, piece: Piece, names: Sequence[str]) -> Finding:
    """No letters, and no line that the piece has; perhaps a side of it by a word."""
    if side := _side_meant(text, piece):
        return finding("unknown-line/side", name=text, runs=["corner letters"], meant=side)
    runs = ["corner letters", *(quoted(name) for name in names)]
    message = "unknown-line" if names else "unknown-line/none"
    return finding(message, name=text, runs=runs, near=nearest(text, names))


_SIDES = {
    **dict.fromkeys(("bottom", "foot", "lower", "lower edge"), "A-B"),
    **dict.fromkeys(("right", "right side", "right edge"), "B-C"),
    **dict.fromkeys(("top", "upper", "upper edge"), "C-D"),
    **dict.fromkeys(("left", "left side", "left edge"), "D-A"),
    **dict.fromkeys(("all", "all round", "all around", "around", "round"), "A-B-C-D-A"),
}


def _side_meant(text: str, piece: Piece) -> str:
    """The letters of a rectangle's side that was named by a word; "" of other outlines."""
    at = [corner.at for corner in piece.corners]
    wide, high = at[2] if len(at) == 4 else (0.0, 0.0)
    is_rectangle = at == [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]
    return _SIDES.get(text.lower(), "") if is_rectangle else ""


def _check_settings(settings: Entry, run: Edges | str | None, piece: Piece) -> None:
    """Report settings that mean nothing for this run."""
    for key in (key for key in _SETTINGS if settings.has(key)):
        if run is None:
            settings.at(key).report("setting-of-carried", key=key)
        elif key == "inset" and isinstance(run, str):
            settings.at(key).report("inset-of-line")
        elif key != "inset" and _is_closed(run, piece):
            settings.at(key).report("ends-of-closed", key=key)


def _is_closed(run: Edges | str, piece: Piece) -> bool:
    if isinstance(run, Edges):
        return is_closed(run)
    points = next(line.points for line in piece.lines if line.name == run)
    return len(points) > 2 and points[0] == points[-1]


def check_layers(
    entry: Entry, layers: Sequence[Layer | None], pieces: Mapping[str, Piece], taped: frozenset[str]
) -> None:
    """Report what is wrong between a seam's layers; `taped` are seams that sew in a zip's tape as well."""
    file = entry.location.file
    first = layers[0] if layers else None
    if first is not None and first.run is None:
        lettered = [layer.text for layer in layers if layer is not None and layer.run is not None]
        carried = [layer.text for layer in layers if layer is not None and layer.run is None]
        example = f"{first.piece}: A-B"
        where, turned = first.source.at(), (*lettered, *carried)
        message = "carried-first/turned" if lettered else "carried-first"
        file.report(finding(message, where, run=first.text, example=example, turned=turned))
    seen: set[tuple[str, Edges | str | None]] = set()
    for layer in (layer for layer in layers if layer is not None):
        key = (layer.piece, _either_way(layer.run))
        if key in seen:
            file.report(finding("layer-twice", layer.source.at(), run=layer.text))
        seen.add(key)
    sided = [layer for layer in layers if layer is not None and layer.side is not None]
    if len(sided) not in (0, 2):
        file.report(finding("sides-of-two", sided[0].source.at("side"), count=len(sided)))
    names = tuple(dict.fromkeys(layer.piece for layer in layers if layer is not None))
    alone = len(layers) == 1 and entry.name() not in taped
    if alone and first is not None and not _holds_edge(first, pieces):
        on = pieces[first.piece].on
        lies_on = on is not None and first.run is not None
        told = (
            finding("seam-of-one-layer/on", run=first.text, on=on)
            if lies_on
            else finding("seam-of-one-layer")
        )
        entry.at("runs").report(told.following(f"{entry.location.words}: runs"))
    check_quantity(entry, names, pieces)


def _holds_edge(layer: Layer, pieces: Mapping[str, Piece]) -> bool:
    """Whether a run goes along hems, turned edges or bindings only: it sews what is double there."""
    if not isinstance(layer.run, Edges):
        return False
    held = _pairs_of(pieces[layer.piece], lambda work: work is not EdgeWork.ALLOWANCE)
    return held.issuperset(single_edges(layer.run))


def check_quantity(entry: Entry, names: Sequence[str], pieces: Mapping[str, Piece]) -> None:
    """Report pieces cut several times that are in a seam or opening with others."""
    for piece in (pieces[name] for name in names if len(names) > 1 and name in pieces):
        if piece.quantity > 1:
            where, entry_words = piece.source.at("quantity"), entry.location.words
            entry.location.file.report(
                finding(
                    "quantity-with-others",
                    where,
                    quantity=piece.quantity,
                    piece=piece.name,
                    entry=entry_words,
                ).once(f"{piece.source.path}: quantity")
            )


def _either_way(run: Edges | str | None) -> Edges | str | None:
    """The run, edges by the way round that comes first in the alphabet."""
    return Edges(min(run.letters, run.letters[::-1])) if isinstance(run, Edges) else run
