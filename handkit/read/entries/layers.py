"""Layers: the runs of a seam.

In: a [[seam]] entry and the pieces. Out: a `Layer` for each run as listed, None for a faulty one.

    "front: D-A-B-C"   a run of edges       "back: divider"   a named line inside the piece
    "front"            takes the holes of a run before it (carried)
    { run = "front: D-A", from_start = 4 }  a run with settings of its own
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handkit.quoting import quoted, shown, words
from handkit.read.entries.edges import edges_named, is_closed, looks_like_edges
from handkit.read.entries.entry import Entry, entry_of
from handkit.read.entries.outline import letters_of
from handkit.read.project import Edges, InnerLine, Layer, Piece
from handkit.read.schema.keys import SECTIONS
from handkit.read.values.spot import Fault, Spot, unknown
from handkit.read.values.values import composed, read_text

_RUN = SECTIONS["run"].keys["run"]
_SETTINGS = ("from_start", "from_end", "inset")


def read_layers(entry: Entry, pieces: Mapping[str, Piece], *, inset: float) -> list[Layer | None]:
    """The seam's layers in order; `inset` is the seam's."""
    return [_layer(value, spot, pieces, inset=inset) for value, spot in entry.listed("runs", what="run")]


def _layer(value: object, spot: Spot, pieces: Mapping[str, Piece], *, inset: float) -> Layer | None:
    settings: Entry | None = None
    text = value
    if isinstance(value, dict):
        settings = entry_of("run", value, _named(spot, value.get("run")))
        text = value.get("run", "")
        if settings is None or not settings.has("run"):
            return None
    elif not isinstance(value, str):
        spot.refuse(Fault("not-a-run", shown(value), _RUN.allowed, "write the run as text in quotes"))
        return None
    spot = _named(spot, text)
    written = read_text(text, settings.at("run") if settings else spot, _RUN)
    if written is None:
        return None
    found = _piece_and_run(written, spot, pieces)
    if found is None:
        return None
    piece, run = found
    if settings is not None:
        _tell_settings(settings, run, piece)
    return Layer(
        source=settings.source() if settings else spot.source(()),
        piece=piece.name,
        run=run,
        inset=settings.length("inset") if settings and settings.has("inset") else inset,
        from_start=settings.length("from_start") if settings else 0.0,
        from_end=settings.length("from_end") if settings else 0.0,
        text=written,
    )


def _named(spot: Spot, text: object) -> Spot:
    """The spot of a run, named by the run itself, as a maker would."""
    if not isinstance(text, str):
        return spot
    seam, _, _ = spot.words.rpartition(": runs")
    return Spot(spot.reading, spot.path, f"{seam}: run {quoted(composed(text))}")


def _piece_and_run(
    text: str, spot: Spot, pieces: Mapping[str, Piece]
) -> tuple[Piece, Edges | str | None] | None:
    """The piece a run names and what it names on it; None where it is faulty."""
    name, colon, rest = (part.strip() for part in text.partition(":"))
    if not name or (colon and not rest) or ":" in rest:
        spot.refuse(Fault("run-unreadable", quoted(text), _RUN.allowed, "write it in one of these ways"))
        return None
    if name not in pieces:
        if pieces:  # else that there are no pieces is told already
            spot.refuse(_unknown_piece(name, tuple(pieces)))
        return None
    piece = pieces[name]
    if not colon:
        return piece, None
    letters = letters_of(piece.corners, piece.circle)
    if not letters and looks_like_edges(rest):
        return None  # the outline is faulty, and that is told
    run = _run_on(rest, piece, letters)
    if isinstance(run, Fault):
        spot.refuse(run)
        return None
    return piece, run


def _unknown_piece(name: str, known: Sequence[str]) -> Fault:
    """The piece isn't known; perhaps the colon was forgotten."""
    first, _, last = name.rpartition(" ")
    if first in known:
        fault = unknown("unknown-piece", name, known, what="piece")
        return Fault(
            fault.code, fault.found, fault.allowed, f"write {quoted(f'{first}: {last}')}, with a colon"
        )
    return unknown("unknown-piece", name, known, what="piece")


def _run_on(text: str, piece: Piece, letters: Sequence[str]) -> Edges | str | Fault:
    """The run a text names on a piece: edges, or a line by its name."""
    if looks_like_edges(text):
        return edges_named(text, letters)
    names = tuple(line.name for line in piece.lines)
    if text in names:
        return text
    if any(text == fold.name for fold in piece.folds):
        remedy = "to stitch along it, name the same points under lines"
        return Fault("run-on-fold", f"{quoted(text)}, a fold", "corner letters or a line's name", remedy)
    if text in letters:
        remedy = "write the letter where it ends as well"
        return Fault("run-one-letter", quoted(text), 'at least two letters, such as "A-B"', remedy)
    upper = edges_named(text, letters) if letters else None
    if isinstance(upper, Fault) and upper.remedy.startswith('write "'):
        return upper
    allowed = words(["corner letters", *(quoted(name) for name in names)])
    return unknown("unknown-line", text, names, what="line", allowed=allowed)


def _tell_settings(settings: Entry, run: Edges | str | None, piece: Piece) -> None:
    """Tell settings that mean nothing for this run."""
    for key in _SETTINGS:
        if not settings.has(key):
            continue
        if run is None:
            found, allowed = f"{key} of a run without letters", f"{key} of a run with letters or a line"
            fault = Fault("setting-of-carried", found, allowed, "take it out, or give the run letters")
            settings.at(key).refuse(fault)
        elif key == "inset" and isinstance(run, str):
            found, allowed = "inset of a line, whose holes stand on it", "inset of a run with letters"
            fault = Fault("inset-of-line", found, allowed, "take it out, or move the line")
            settings.at(key).refuse(fault)
        elif key != "inset" and _is_closed(run, piece):
            found, allowed = f"{key} of a closed run", f"{key} of a run that ends"
            fault = Fault("ends-of-closed", found, allowed, "take it out")
            settings.at(key).refuse(fault)


def _is_closed(run: Edges | str, piece: Piece) -> bool:
    if isinstance(run, Edges):
        return is_closed(run)
    line = _line(run, piece)
    return len(line.points) > 2 and line.points[0] == line.points[-1]


def _line(name: str, piece: Piece) -> InnerLine:
    return next(line for line in piece.lines if line.name == name)


def tell_layers(entry: Entry, layers: Sequence[Layer | None], pieces: Mapping[str, Piece]) -> None:
    """Tell what is wrong between a seam's layers."""
    first = layers[0] if layers else None
    if first is not None and first.run is None:
        remedy = f"put a run with letters first, or give it one, such as {quoted(first.piece + ': A-B')}"
        allowed = "a first run with letters or a line's name"
        entry.spot.reading.refuse(
            first.source.at(), Fault("carried-first", quoted(first.text), allowed, remedy)
        )
    seen: set[tuple[str, Edges | str | None]] = set()
    for layer in (layer for layer in layers if layer is not None):
        key = (layer.piece, _either_way(layer.run))
        if key in seen:
            fault = Fault(
                "layer-twice", f"{quoted(layer.text)} again", "each run once", "take one of them out"
            )
            entry.spot.reading.refuse(layer.source.at(), fault)
        seen.add(key)
    names = dict.fromkeys(layer.piece for layer in layers if layer is not None)
    if len(layers) == 1 and first is not None:
        found, remedy = "one layer", "name the other layers, unless it is a row of stitches on one"
        entry.at("runs").remark(Fault("seam-of-one-layer", found, "", remedy))
    tell_quantity(entry, tuple(names), pieces)


def tell_quantity(entry: Entry, names: Sequence[str], pieces: Mapping[str, Piece]) -> None:
    """Tell pieces cut several times that are in a seam or opening with others."""
    for name in names if len(names) > 1 else ():
        piece = pieces.get(name)
        if piece is not None and piece.quantity > 1:
            found = f"{piece.quantity} of {quoted(name)}, which is in {entry.spot.words} with others"
            remedy = f"add a piece with copy = {quoted(name)} for each further one, or raise [make] copies"
            fault = Fault(
                "quantity-with-others", found, "1 for a piece in a seam or opening with others", remedy
            )
            entry.spot.reading.refuse(piece.source.at("quantity"), fault)


def _either_way(run: Edges | str | None) -> Edges | str | None:
    """The run, edges by the way round that comes first in the alphabet."""
    return Edges(min(run.letters, run.letters[::-1])) if isinstance(run, Edges) else run
