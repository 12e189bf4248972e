"""Sound: what of a project with errors can be drawn all the same, for pictures and nothing else.

In: the project as it was read, faulty entries among the others, what its parts stand for, and the seams that
lost a layer whose piece is faulty. Out: the project without the entries that an error is told of, and without
all that need one of these.

Words: an entry is *sound* where no error is told of it and all that it names is sound; a part, its items and
all that it drafts are so together.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

import msgspec

from handkit.findings import Source
from handkit.messages.message import Severity
from handkit.read.parts.expansion import Expansion
from handkit.read.parts.part_kinds import KINDS
from handkit.read.project import Fitting, Item, Opening, Part, Piece, Project, Seam

# Kind and name of an entry.
_Named = tuple[str, str]


def sound_part(project: Project, expansion: Expansion, *, lacking: Iterable[str]) -> Project | None:
    """The sound entries of a project; None where no piece is sound."""
    told = [each.where.key for each in project.findings if each.severity is Severity.ERROR]
    needs = _needs(project, expansion)
    sources = _sources(project)
    bad = {("seam", name) for name in lacking} | set(_ill_filled(project))
    bad |= {
        named for named, source in sources.items() if any(_is_about(key, named[0], source) for key in told)
    }
    while more := {
        named for named, some in needs.items() if named not in bad and not _kept(some, needs, bad)
    }:
        bad |= more

    lost = [part for part in project.parts if ("part", part.name) in bad]
    pieces = tuple(
        msgspec.structs.replace(
            piece,
            lines=tuple(line for line in piece.lines if line.part not in [part.source for part in lost]),
        )
        for piece in project.pieces
        if ("piece", piece.name) not in bad
    )
    if not pieces:
        return None
    drafted = set(_drafted_by(expansion, [part.name for part in lost]))
    return msgspec.structs.replace(
        project,
        pieces=pieces,
        seams=tuple(each for each in project.seams if ("seam", each.name) not in bad),
        openings=tuple(each for each in project.openings if ("opening", each.name) not in bad),
        items=tuple(each for each in project.items if ("item", each.name) not in bad),
        parts=tuple(each for each in project.parts if ("part", each.name) not in bad),
        fittings=tuple(each for each in project.fittings if ("fitting", each.name) not in bad),
        left_out=tuple(source.path for named, source in sources.items() if named in bad - drafted),
    )


def _is_about(key: str, kind: str, source: Source) -> bool:
    """Whether an error at a key spoils an entry: at the entry itself, or at what it takes from a common one.
    Without a unit nothing is known."""
    common = {"piece": "material: ", "seam": "stitching: "}.get(kind)
    if common is not None and key.startswith(common):
        return kind == "seam" or key.removeprefix(common) not in dict(source.keys)
    return key in (source.path, "unit") or key.startswith(f"{source.path}: ")


def _ill_filled(project: Project) -> Iterable[_Named]:
    """The parts without the items that their kind is drafted from, be it that these name another part."""
    held = Counter(item.held_by for item in project.items)
    for part in project.parts:
        few, many = KINDS[part.kind].items
        if not few <= held[part.name] <= many:
            yield "part", part.name


def _kept(some: Iterable[_Named], known: Iterable[_Named], bad: set[_Named]) -> bool:
    return all(named in known and named not in bad for named in some)


def _sources(project: Project) -> dict[_Named, Source]:
    entries: dict[str, Sequence[Piece | Part | Item | Seam | Opening | Fitting]] = {
        "piece": project.pieces,
        "part": project.parts,
        "item": project.items,
        "seam": project.seams,
        "opening": project.openings,
        "fitting": project.fittings,
    }
    return {(kind, each.name): each.source for kind, some in entries.items() for each in some}


def _needs(project: Project, expansion: Expansion) -> dict[_Named, set[_Named]]:
    """What each entry names."""
    found: dict[_Named, set[_Named]] = {named: set() for named in _sources(project)}
    for piece in project.pieces:
        found["piece", piece.name] |= _of_piece(piece)
    parts = {part.source: part.name for part in project.parts}
    lines = {
        (piece.name, line.name): parts.get(line.part)
        for piece in project.pieces
        for line in piece.lines
        if line.part is not None
    }
    for seam in project.seams:
        found["seam", seam.name] |= _of_seam(seam, lines)
    for opening in project.openings:
        found["opening", opening.name] |= _of_opening(opening)
    for fitting in project.fittings:
        found["fitting", fitting.name] |= _of_fitting(fitting, project.fittings)
    for part in project.parts:
        drafted = set(_drafted_by(expansion, [part.name]))
        held = {("item", item.name) for item in project.items if item.held_by == part.name}
        on = _named("piece", part.on, part.word("to"), part.word("cover"), *part.names("pieces"))
        found["part", part.name] |= on | drafted | held
        for named in (drafted | held) & found.keys():
            found[named].add(("part", part.name))
    for item in project.items:
        found["item", item.name].add(("part", item.held_by))
    return found


def _named(kind: str, *names: str | None) -> set[_Named]:
    return {(kind, name) for name in names if name}


def _drafted_by(expansion: Expansion, parts: Iterable[str]) -> Iterable[_Named]:
    """The pieces, seams, openings and fittings that parts stand for."""
    tables = {
        "piece": expansion.pieces,
        "seam": expansion.seams,
        "opening": expansion.openings,
        "fitting": expansion.fittings,
    }
    wanted = set(parts)
    for kind, drafted in tables.items():
        yield from ((kind, name) for name, each in drafted.items() if each.part.name in wanted)


def _of_piece(piece: Piece) -> set[_Named]:
    return _named("piece", piece.on, piece.copy_of, piece.lined)


def _of_seam(seam: Seam, lines: dict[tuple[str, str], str | None]) -> set[_Named]:
    drafted = [lines.get((layer.piece, layer.run)) for layer in seam.layers if isinstance(layer.run, str)]
    return _named("piece", *(layer.piece for layer in seam.layers)) | _named("part", *drafted)


def _of_opening(opening: Opening) -> set[_Named]:
    pieces = (*opening.through, *(name for name, _ in opening.places))
    return _named("piece", *pieces) | _named("opening", opening.mate)


def _of_fitting(fitting: Fitting, others: Iterable[Fitting]) -> set[_Named]:
    """A strap in two parts needs the bars of both."""
    bars = [each.name for each in others if each is not fitting] if fitting.between is not None else []
    openings = _named("opening", fitting.through, fitting.holes)
    pieces, seams = _named("piece", fitting.on, fitting.piece), _named("seam", *fitting.seams)
    return pieces | openings | seams | _named("fitting", *bars)
