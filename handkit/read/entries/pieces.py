"""Pieces: every [[piece]] of the project file, copies written out.

In: the entries, whose common one is [material], and what parts expand to. Out: `Piece`s in the
file's order. A copy takes from the other all but its name, place and quantity; what it says itself
goes before, except an outline.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

import msgspec

from handkit.findings import Source, finding, nearest
from handkit.kinds.materials import MATERIALS
from handkit.read.checks.amounts import check_amounts
from handkit.read.checks.cycles import cycles
from handkit.read.checks.whole_file import check_names
from handkit.read.entries.edge_works import read_works, taken_by
from handkit.read.entries.edges import by_edges
from handkit.read.entries.entry import Entry, entry_of
from handkit.read.entries.inner_lines import read_folds, read_lines, read_marks, read_outlines
from handkit.read.entries.outline import (
    OUTLINE_KEYS,
    WrittenOutline,
    lettered_outline,
    letters_of,
    read_outline,
)
from handkit.read.entries.tables import SHAPES
from handkit.read.file.project_file import names_of, unknown
from handkit.read.parts.promises import Placeholder
from handkit.read.project import FoldLine, InnerLine, Part, Piece, Skive, Trim, WorkedEdge
from handkit.read.schema.rules import Kind
from handkit.read.values.field import Field
from handkit.read.values.plain import FAULTY, composed, read_length

# Keys that a copy does not take over from its original.
_NOT_COPIED = frozenset((
    "name", "copy", "mirrored", "quantity",
    "on", "at", "turn", "turned_over", "behind", "flat", "glued", "items",
))  # fmt: skip

# Fields that a copy takes over where it does not write the key itself.
_COPIED = {
    "thickness": "thickness", "material": "kind", "mark": "mark", "shows": "shows", "grain_degrees": "grain",
    "lines": "lines", "folds": "folds", "trims": "trim", "skives": "skive", "note": "note",
    "measured": "measured", "marks": "marks",
}  # fmt: skip
_NEEDS_ON = ("at", "turn", "turned_over", "behind", "glued")


Lines = Mapping[str, Sequence[tuple[str, Part]]]  # that parts draft, by the piece they are on


def read_pieces(entries: Sequence[Entry], drafted: Lines) -> tuple[Piece, ...]:
    """All pieces. One whose outline was faulty has neither corners nor a circle.

    What parts draft has its names and letters, and no places yet.
    """
    names = [entry.name() or "" for entry in entries]
    first: dict[str, int] = {}
    for index, name in enumerate(names):
        if name:
            first.setdefault(name, index)
    check_names(entries, "name-taken/piece")
    _check_copies(entries, names, first)
    likes = [_like(entry) for entry in entries]
    drafters = {
        name: entry.drafted.part.name for name, entry in zip(names, entries, strict=True) if entry.drafted
    }
    known = {name: drafters.get(name, "") for name in first}
    built: dict[int, Piece] = {}
    for index in range(len(entries)):
        for each in reversed(_chain(index, likes, first, built)):
            original = built.get(first.get(likes[each], -1))
            built[each] = _piece(entries[each], original, drafted.get(names[each], ()), known)
    pieces = tuple(built[index] for index in range(len(entries)))
    _check_thickness(entries)
    _check_circles(pieces, entries)
    check_amounts(entries, pieces)
    return pieces


def _like(entry: Entry) -> str:
    """The piece whose letters it has: what it is a copy of, or lines; "" where there is none."""
    placeholder = entry.drafted.placeholder if entry.drafted else None
    return (placeholder.like or "") if placeholder else _original_of(entry)


def _original_of(entry: Entry) -> str:
    """The piece it is a copy of, "" where it is none."""
    value = entry.table.get("copy", "")
    return composed(value) if isinstance(value, str) else ""


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


def _piece(
    entry: Entry, original: Piece | None, drafted: Sequence[tuple[str, Part]], known: Mapping[str, str]
) -> Piece:
    """One piece; `original` is what it is a copy of, or lines, `known` are all pieces with their parts."""
    if original is not None and entry.get("mirrored"):
        original = original.mirror_image()
    placeholder = entry.drafted.placeholder if entry.drafted else None
    if placeholder is None:
        outline = WrittenOutline() if _is_misspelt(entry, known) else read_outline(entry, original)
    else:
        outline, original = lettered_outline(entry, placeholder, original), None
    letters = letters_of(outline.corners, outline.circle)
    _check_place(entry, tuple(known))
    promised = [key for key in placeholder.states if _is_promised(entry, key)] if placeholder else []
    thickness = entry.get("thickness") if entry.has("thickness") or not original else original.thickness
    thickness = FAULTY if thickness is None else thickness
    own = entry.record(
        Piece,
        source=_source(entry, original),
        name=entry.name() or "",
        corners=outline.corners,
        sagittas=outline.sagittas,
        circle=outline.circle,
        arranged=outline.arranged,
        thickness=thickness,
        material=entry.get("kind"),
        grain_degrees=entry.get("grain"),
        **_drawn(entry, letters, placeholder),
        trims=tuple(Trim(*each) for each in by_edges(entry.get("trim"), letters, _width)),
        skives=tuple(
            Skive(edges, *skive)
            for edges, skive in by_edges(entry.get("skive"), letters, partial(_skive, thickness=thickness))
        ),
        at=entry.get("at") or (0.0, 0.0),
        turn_degrees=entry.get("turn"),
        copy_of=entry.get("copy"),
        drafted_by=entry.drafted.part.name if entry.drafted else None,
        stated=tuple(key for key in entry.table if key not in ("name", *SHAPES["piece"], *promised)),
    )
    piece = own if original is None else _copied(own, entry, original)
    return msgspec.structs.replace(
        piece,
        lines=_with_drafted(entry, piece.lines, drafted),
        works=_works(entry, piece, letters, original),
    )


def _drawn(entry: Entry, letters: Sequence[str], placeholder: Placeholder | None) -> dict[str, object]:
    """What is drawn inside a piece, by its fields."""
    return {
        "lines": tuple(InnerLine(line, points) for line, points in read_lines(entry, "lines")),
        "folds": _with_promised(read_folds(entry, letters), placeholder.folds if placeholder else ()),
        "marks": read_marks(entry),
        "items": read_outlines(entry),
    }


def _with_promised(own: tuple[FoldLine, ...], promised: Sequence[str]) -> tuple[FoldLine, ...]:
    """The folds with those that a part will draft, still without points; what the file says of one stands."""
    taken = {fold.name for fold in own}
    return (*own, *(FoldLine(name, ()) for name in promised if name not in taken))


def _is_promised(entry: Entry, key: str) -> bool:
    """Whether a key of a drafted piece has what its part says, and the file nothing else."""
    said = entry.table.get(key)
    return said is not None and entry.drafted is not None and said == entry.drafted.table.get(key)


def _works(
    entry: Entry, piece: Piece, letters: Sequence[str], original: Piece | None
) -> tuple[WorkedEdge, ...]:
    """A piece's hems and the like, and those of a kind that a copy does not write."""
    copied = tuple(each for each in (original.works if original else ()) if not entry.has(each.work))
    taken = taken_by(piece.trims, copied)
    if piece.skives and entry.has("skive") and MATERIALS[piece.material].frays:
        entry.at("skive").report("skive-of-cloth", material=piece.material)
    own = read_works(entry, letters, taken, thickness=piece.thickness, material=piece.material)
    return (*own, *copied)


def _is_misspelt(entry: Entry, known: Mapping[str, str]) -> bool:
    """Whether a piece without an outline is nearly called like one that a part drafts: then it is told."""
    near = nearest(entry.name() or "", tuple(name for name, part in known.items() if part))
    if not near or any(entry.has(key) for key in OUTLINE_KEYS):
        return False
    entry.location.report("outline-missing/near", allowed=OUTLINE_KEYS, near=near, part=known[near])
    return True


def _copied(own: Piece, entry: Entry, original: Piece) -> Piece:
    """A copy with what it takes over."""
    if entry.has("thickness") and not entry.has("skive"):  # which may forbid the original's skives
        for skive in (skive for skive in original.skives if skive.to >= own.thickness):
            entry.at("thickness").report("skive-not-thinner", to=skive.to, thickness=own.thickness)
    taken = {field: getattr(original, field) for field, key in _COPIED.items() if not entry.has(key)}
    return msgspec.structs.replace(own, **taken)


def _with_drafted(
    entry: Entry, own: tuple[InnerLine, ...], drafted: Sequence[tuple[str, Part]]
) -> tuple[InnerLine, ...]:
    """The lines with those that parts will draft on the piece, still without points."""
    taken = {line.name for line in own}
    for name, part in (each for each in drafted if each[0] in taken):
        entry.at("lines").report("name-promised/line", name=name, part=part.name)
    return (*own, *(InnerLine(name, (), part.source) for name, part in drafted if name not in taken))


def _source(entry: Entry, original: Piece | None) -> Source:
    """The piece's source; what a copy takes from the other has the other's lines."""
    source = entry.source()
    taken = original.source.keys if original else ()
    others = (each for each in taken if not entry.has(each[0]) and each[0] not in _NOT_COPIED)
    return msgspec.structs.replace(source, keys=(*source.keys, *others))


def _width(field: Field) -> float:
    return read_length(field.of_kind(Kind.LENGTH))


def _skive(field: Field, *, thickness: float) -> tuple[float, float] | None:
    """Width and rest of a thinned edge; None where it is no table."""
    skived = entry_of("skived edge", field)
    if skived is None:
        return None
    width, to = skived.get("width"), skived.get("to")
    if to >= thickness:
        skived.at("to").report("skive-not-thinner", to=to, thickness=thickness)
    return width, to


def _check_copies(entries: Sequence[Entry], names: Sequence[str], first: Mapping[str, int]) -> None:
    """Report copies of nothing, and copies in a circle."""
    for entry, name in zip(entries, names, strict=True):
        if entry.get("mirrored") and not entry.has("copy"):
            entry.at("mirrored").report("mirrored-without-copy")
        copied = entry.get("copy")
        if copied is not None and copied not in first:
            others = [each for each in first if each != name]
            entry.at("copy").report(unknown("unknown-piece", copied, others))
    for cycle in cycles({name: [_original_of(entries[i])] for name, i in first.items()}):
        place = entries[first[cycle[0]]].at("copy")
        if len(cycle) == 1:
            place.report("copy-circle/itself", name=cycle[0])
        else:
            place.report("copy-circle", names=cycle)


def _check_place(entry: Entry, known: Sequence[str]) -> None:
    """Report what the piece lies on where that is none, and keys of a place that would mean nothing."""
    on = entry.get("on")
    if on is not None and on not in known:
        others = [each for each in known if each != entry.table.get("name")]
        entry.at("on").report(unknown("unknown-piece", on, others))
    keys = [key for key in _NEEDS_ON if entry.has(key) and not entry.has("on")]
    if keys:
        entry.at(keys[0]).report("place-without-on", keys=keys)
    if entry.get("glued") and entry.has("flat") and not entry.get("flat"):
        entry.at("glued").report("glued-not-flat")


def _check_thickness(entries: Sequence[Entry]) -> None:
    """Report, once, that pieces have no thickness, neither their own nor the material's."""
    lacking = [entry for entry in entries if not entry.has("copy") and entry.field("thickness") is None]
    if not lacking:
        return
    pieces = [entry.location.words for entry in lacking[:4]]
    place = lacking[0].at("thickness")
    allowed = lacking[0].schema.keys["thickness"].allowed_in(place.units)
    if len(lacking) == 1:
        told = finding("thickness-missing", allowed=allowed)
    elif len(lacking) <= len(pieces):
        told = finding("thickness-missing/several", pieces=pieces, allowed=allowed)
    else:
        told = finding("thickness-missing/many", pieces=pieces, allowed=allowed)
    place.report(told.following("material: thickness", *(entry.lacking("thickness") for entry in lacking)))


def _check_circles(pieces: Sequence[Piece], entries: Sequence[Entry]) -> None:
    """Report pieces that lie on themselves, straight or by way of others."""
    by_name = {piece.name: piece for piece in reversed(pieces) if piece.name}
    links = {piece.name: [piece.on] if piece.on else [] for piece in pieces if piece.name}
    for cycle in cycles(links):
        where = by_name[cycle[0]].source.at("on")
        key = "on-circle/itself" if len(cycle) == 1 else "on-circle"
        told = finding(key, where, names=cycle, name=cycle[0]).following(names_of("piece"))
        entries[0].location.file.report(told)
