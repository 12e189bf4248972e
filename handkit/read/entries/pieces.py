"""Pieces: every [[piece]] of the project file, copies written out.

In: the entries, and the [material] entry. Out: `Piece`s in the file's order. A copy takes from the
other all but its name, place and quantity; what it says itself goes before, except an outline.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from handkit.findings import Source
from handkit.quoting import quoted, words
from handkit.read.checks.rings import ring_words, rings
from handkit.read.entries.edges import Edge, read_edges, single_edges
from handkit.read.entries.entry import Entry, entry_of
from handkit.read.entries.inner_lines import read_lines
from handkit.read.entries.outline import Outline, letters_of, mirrored_point, promised_outline, read_outline
from handkit.read.entries.placing import read_placing, tell_circles
from handkit.read.parts.promised import NO_PROMISE, SHAPES, Promised
from handkit.read.project import FoldLine, InnerLine, Material, Part, Piece, Point, Side, Skive, Trim
from handkit.read.schema.rules import Kind
from handkit.read.values import values
from handkit.read.values.spot import Fault, unknown

_NOT_COPIED = frozenset(
    ("name", "copy", "mirrored", "quantity", "on", "at", "turn", "turned_over", "behind", "flat", "glued")
)


def read_pieces(
    entries: Sequence[Entry], material: Entry, promised: Promised = NO_PROMISE
) -> tuple[Piece, ...]:
    """All pieces. One whose outline was faulty has neither corners nor a circle.

    What is promised on pieces has its names and letters, and no places yet.
    """
    names = [entry.name() or "" for entry in entries]
    first: dict[str, int] = {}
    for index, name in enumerate(names):
        if name:
            first.setdefault(name, index)
    _tell_copies(entries, names, first)
    likes = [_like(entry, promised) for entry in entries]
    around = _Around(material, tuple(first), promised)
    built: dict[int, Piece] = {}
    for index in range(len(entries)):
        for each in reversed(_chain(index, likes, first, built)):
            original = built.get(first.get(likes[each], -1))
            built[each] = _piece(entries[each], names[each], original=original, around=around)
    pieces = tuple(built[index] for index in range(len(entries)))
    _tell_thickness(entries, material)
    if entries:
        tell_circles(pieces, entries[0].spot.reading)
    return pieces


def _like(entry: Entry, promised: Promised) -> str:
    """The piece whose letters it has: what it is a copy of, or lines; "" where there is none."""
    drafted = promised.pieces.get(entry.name() or "")
    return (drafted[1].like or "") if drafted else _copied_name(entry)


def _copied_name(entry: Entry) -> str:
    """The piece it is a copy of, "" where it is none."""
    value = entry.table.get("copy", "")
    return values.composed(value) if isinstance(value, str) else ""


def _chain(
    index: int, likes: Sequence[str], first: Mapping[str, int], built: Mapping[int, Piece]
) -> list[int]:
    """The piece, what it is like, and so on, as far as that is not built; stops in a circle."""
    chain: list[int] = []
    at: int | None = index
    while at is not None and at not in built and at not in chain:
        chain.append(at)
        at = first.get(likes[at])
    return chain


def _tell_copies(entries: Sequence[Entry], names: Sequence[str], first: Mapping[str, int]) -> None:
    """Tell names used twice, copies of nothing and copies in a circle."""
    for index, (entry, name) in enumerate(zip(entries, names, strict=True)):
        if name and first[name] != index:
            line = entries[first[name]].spot.where().line
            found = f"{quoted(name)} again, first in line {line}"
            entry.at("name").refuse(Fault("name-taken", found, "a name of its own", "give it another name"))
        if entry.flag("mirrored") and not entry.has("copy"):
            remedy = 'add copy = "…", or take it out'
            entry.at("mirrored").refuse(
                Fault("mirrored-without-copy", "mirrored, but no copy", "mirrored of a copy", remedy)
            )
        copied = entry.optional_text("copy")
        others = [each for each in first if each != name]
        if copied is not None and copied not in first:
            entry.at("copy").refuse(unknown("unknown-piece", copied, others, what="piece"))
    for ring in rings({name: [_copied_name(entries[i])] for name, i in first.items()}):
        remedy = "give one of them an outline of its own"
        fault = Fault("copy-circle", ring_words(ring), "copies that end at a piece with an outline", remedy)
        entries[first[ring[0]]].at("copy").refuse(fault)


class _Around(msgspec.Struct, frozen=True):
    """What all pieces are read with: [material], the names of all, what parts promise."""

    material: Entry
    known: tuple[str, ...]
    promised: Promised


def _piece(entry: Entry, name: str, *, original: Piece | None, around: _Around) -> Piece:
    """One piece; `original` is what it is a copy of, or lines."""
    promised, material = around.promised, around.material
    theirs = Outline(original.corners, original.sagittas, original.circle) if original else None
    part, promise = promised.pieces.get(name, (None, None))
    if promise is None:
        outline = read_outline(entry, original=theirs)
    else:
        outline, original = promised_outline(entry, promise.letters, like=theirs), None
    letters = letters_of(outline.corners, outline.circle)
    placing = read_placing(entry, known=around.known)
    thickness = _thickness(entry, material=material, original=original)
    inherited = _inherited(entry, original)

    return Piece(
        source=_source(entry, original),
        name=name,
        corners=outline.corners,
        sagittas=outline.sagittas,
        circle=outline.circle,
        thickness=thickness,
        material=_material(entry, material=material, original=original),
        quantity=entry.count("quantity"),
        mark=entry.choice("mark", Side) if original is None or entry.has("mark") else original.mark,
        grain_degrees=inherited.grain_degrees,
        lines=(*inherited.lines, *_promised_lines(entry, inherited.lines, promised.lines_on(name))),
        folds=inherited.folds,
        trims=_trims(entry, letters) if original is None or entry.has("trim") else original.trims,
        skives=_skives(entry, letters, thickness, original=original),
        note=entry.text("note") if original is None or entry.has("note") else original.note,
        on=placing.on,
        at=placing.at,
        turn_degrees=placing.turn_degrees,
        turned_over=placing.turned_over,
        behind=placing.behind,
        flat=placing.flat,
        glued=placing.glued,
        copy_of=entry.optional_text("copy"),
        mirrored=entry.flag("mirrored"),
        drafted_by=part.name if part else None,
        stated=tuple(key for key in entry.table if key not in ("name", *SHAPES["piece"])),
    )


def _promised_lines(
    entry: Entry, own: Sequence[InnerLine], promised: Sequence[tuple[str, Part]]
) -> tuple[InnerLine, ...]:
    """The lines that parts will put on the piece, still without points; names taken are told."""
    taken = {line.name for line in own}
    for name, part in (each for each in promised if each[0] in taken):
        found = f"the line {quoted(name)}, which part {quoted(part.name)} drafts"
        fault = Fault("name-promised", found, "a name of its own", "give the line another name")
        entry.at("lines").refuse(fault)
    return tuple(InnerLine(name, (), part.source) for name, part in promised if name not in taken)


class _Drawn(msgspec.Struct, frozen=True):
    """What a piece's frame has drawn into it, and a mirrored copy has mirrored."""

    grain_degrees: float
    lines: tuple[InnerLine, ...]
    folds: tuple[FoldLine, ...]


def _inherited(entry: Entry, original: Piece | None) -> _Drawn:
    """The piece's own lines, folds and grain, or those of the original, mirrored with it."""
    grain = entry.number("grain")
    lines = tuple(InnerLine(name, points) for name, points in read_lines(entry, "lines"))
    folds = tuple(FoldLine(name, points) for name, points in read_lines(entry, "folds"))
    if original is None:
        return _Drawn(grain, lines, folds)
    mirrored = entry.flag("mirrored")
    return _Drawn(
        grain if entry.has("grain") else _mirrored_grain(original.grain_degrees, mirrored=mirrored),
        lines
        if entry.has("lines")
        else tuple(
            InnerLine(each.name, _mirrored(each.points, mirrored=mirrored), each.part)
            for each in original.lines
        ),
        folds
        if entry.has("folds")
        else tuple(FoldLine(each.name, _mirrored(each.points, mirrored=mirrored)) for each in original.folds),
    )


def _mirrored(points: tuple[Point, ...], *, mirrored: bool) -> tuple[Point, ...]:
    return tuple(mirrored_point(point) for point in points) if mirrored else points


def _mirrored_grain(degrees: float, *, mirrored: bool) -> float:
    return 180.0 - degrees if mirrored else degrees


def _source(entry: Entry, original: Piece | None) -> Source:
    """The piece's source; what a copy takes from the other has the other's lines."""
    source = entry.source()
    if original is None:
        return source
    own = {key for key, _ in source.keys}
    taken = tuple(
        (key, line) for key, line in original.source.keys if key not in own and key not in _NOT_COPIED
    )
    return Source(source.file, source.path, source.line, source.keys + taken)


def _thickness(entry: Entry, *, material: Entry, original: Piece | None) -> float:
    if entry.has("thickness"):
        return entry.length("thickness")
    return original.thickness if original else material.length("thickness")


def _material(entry: Entry, *, material: Entry, original: Piece | None) -> Material:
    if entry.has("kind"):
        return entry.choice("kind", Material)
    return original.material if original else material.choice("kind", Material)


def _trims(entry: Entry, letters: Sequence[str]) -> tuple[Trim, ...]:
    seen: set[Edge] = set()
    trims: list[Trim] = []
    rule = entry.rule("trim").of_one(Kind.LENGTH)
    for text, value, spot in entry.items("trim"):
        width = values.read_length(value, spot, rule)
        edges = read_edges(text, letters, spot, seen=seen)
        if edges is not None:
            seen.update(single_edges(edges))
            trims.append(Trim(edges, width))
    return tuple(trims)


def _skives(
    entry: Entry, letters: Sequence[str], thickness: float, *, original: Piece | None
) -> tuple[Skive, ...]:
    """The piece's own skives, or the original's, which a copy's own thickness may forbid."""
    if original is None or entry.has("skive"):
        return _own_skives(entry, letters, thickness)
    for skive in original.skives if entry.has("thickness") else ():
        if skive.to >= thickness:
            entry.at("thickness").refuse(_not_thinner(skive.to, thickness))
    return original.skives


def _own_skives(entry: Entry, letters: Sequence[str], thickness: float) -> tuple[Skive, ...]:
    seen: set[Edge] = set()
    skives: list[Skive] = []
    for text, value, spot in entry.items("skive"):
        edges = read_edges(text, letters, spot, seen=seen)
        skived = entry_of("skived edge", value, spot, rule=entry.rule("skive"))
        if skived is None:
            continue
        width, to = skived.length("width"), skived.length("to")
        if to >= thickness:
            skived.at("to").refuse(_not_thinner(to, thickness))
        if edges is not None:
            seen.update(single_edges(edges))
            skives.append(Skive(edges, width, to))
    return tuple(skives)


def _not_thinner(to: float, thickness: float) -> Fault:
    found, allowed = f"skived to {to:.10g} mm", f"less than the piece's thickness, {thickness:.10g} mm"
    return Fault("skive-not-thinner", found, allowed, "make it smaller")


def _tell_thickness(entries: Sequence[Entry], material: Entry) -> None:
    """Tell, once, that pieces have no thickness, neither their own nor the material's."""
    lacking = [entry for entry in entries if not entry.has("thickness") and not entry.has("copy")]
    if material.has("thickness") or not lacking:
        return
    named = (
        ""
        if len(lacking) == 1
        else " for "
        + words([entry.spot.words for entry in lacking[:4]], last="and")
        + (" and others" if lacking[4:] else "")
    )
    remedy = "add thickness under [material], or to each piece"
    fault = Fault("thickness-missing", f"no thickness{named}", material.rule("thickness").allowed, remedy)
    lacking[0].spot.down("thickness").refuse(fault)
