"""Linings, and what else is sewn in with seams of its base: which of them go through it as well.

In: seams and openings as read, and the expansion of the parts. Out: both, with each lining as one layer
more where it lies under their holes; other pieces join the seams that their part names. A lining is sewn in
by the seams it names. One that names none has a seam of its own, but where what it lines is a pocket's own
front or strap: there the pocket's seams run through it anyway, and a row of its own beside them would leave
no leather between. All mm.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from msgspec.structs import replace

from handkit.findings import finding
from handkit.kinds.openings import OPENINGS
from handkit.read.file.project_file import ProjectFile, unknown
from handkit.read.parts.expansion import Expansion, JoiningPiece
from handkit.read.project import Edges, Layer, MatchPoint, Opening, Part, PartKind, Seam


def with_linings(
    seams: Sequence[Seam],
    openings: Sequence[Opening],
    expansion: Expansion,
    written: Collection[str],
    file: ProjectFile,
) -> tuple[tuple[Seam, ...], tuple[Opening, ...]]:
    """Seams and openings with the linings that they go through; `written` are the seams that the file
    writes itself: a lining's own that is among them stays.
    """
    by_name = {seam.name: seam for seam in seams}
    pierced = {opening.name: opening for opening in openings}
    for lined in expansion.joining:
        joins = lined.joins
        if not joins and lined.part.kind is PartKind.LINING and lined.part.name not in written:
            rows = _rows(lined, tuple(by_name.values()), expansion)
            joins = tuple(name for name, layer in rows if _reaches(lined.part, layer))
            if joins and not _clear_of_edges(rows, joins):
                by_name.pop(lined.part.name, None)
        for name in joins:
            _join(lined, name, by_name, file)
        for name in _openings_over(lined, pierced, expansion) if joins else ():
            pierced[name] = _pierced(pierced[name], lined)
    return (
        tuple(by_name[seam.name] for seam in seams if seam.name in by_name),
        tuple(pierced[opening.name] for opening in openings),
    )


def _rows(lined: JoiningPiece, seams: Sequence[Seam], expansion: Expansion) -> tuple[tuple[str, Layer], ...]:
    """The seams that the part which drafts the lined piece has on it, each with its layer there."""
    if _lines_none(lined.drafter):
        return ()
    own = (seam for seam in seams if _drafts(lined.drafter, seam.name, expansion))
    return tuple((seam.name, layer) for seam in own for layer in seam.layers if layer.piece == lined.part.on)


def _clear_of_edges(rows: Sequence[tuple[str, Layer]], joins: Collection[str]) -> bool:
    """Whether a lining lies clear of all rows along edges, and only under those across the piece."""
    edges = {name for name, layer in rows if isinstance(layer.run, Edges)}
    return bool(edges) and not edges.intersection(joins)


def _lines_none(drafter: Part | None) -> bool:
    return drafter is None or drafter.kind is PartKind.LINING


def _drafts(drafter: Part | None, name: str, expansion: Expansion) -> bool:
    found = expansion.seams.get(name) or expansion.openings.get(name)
    return found is not None and found.part is drafter


def _reaches(part: Part, layer: Layer) -> bool:
    """Whether a lining reaches as far out as a row of the piece it lines; a line inside it is crossed."""
    return layer.run is not None and (not isinstance(layer.run, Edges) or part.size("inset_by") < layer.inset)


def _join(lined: JoiningPiece, name: str, by_name: dict[str, Seam], file: ProjectFile) -> None:
    """The lining as one layer more of a seam, without a run."""
    part, where = lined.part, lined.part.source.at("seams")
    seam = by_name.get(name)
    if seam is None:
        file.report(unknown("unknown-seam", name, tuple(by_name)).placed(where))
    elif all(layer.piece != part.on for layer in seam.layers):
        file.report(finding("seam-elsewhere", where, seam=name, piece=part.on or ""))
    else:
        layer = Layer(part.source, lined.piece, None, seam.stitching.inset, 0.0, 0.0, lined.piece)
        matches = tuple(MatchPoint((*match.places, None)) for match in seam.matches)
        by_name[name] = replace(seam, layers=(*seam.layers, layer), matches=matches)


def _openings_over(
    lined: JoiningPiece, openings: dict[str, Opening], expansion: Expansion
) -> tuple[str, ...]:
    """The openings that a part drafts through the lined piece and so near its edge as they may stand."""
    if _lines_none(lined.drafter):
        return ()
    own = (each for each in openings.values() if _drafts(lined.drafter, each.name, expansion))
    return tuple(
        each.name
        for each in own
        if lined.part.on in each.through
        and lined.part.size("inset_by") < OPENINGS[each.kind].clearance(each.diameter, each.cap).edge
    )


def _pierced(opening: Opening, lined: JoiningPiece) -> Opening:
    """An opening that goes through a lining right after what it lines."""
    k = opening.through.index(lined.part.on or "") + 1
    return replace(opening, through=(*opening.through[:k], lined.piece, *opening.through[k:]))
