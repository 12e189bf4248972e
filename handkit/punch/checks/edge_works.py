"""Edge works: hems and bindings that no seam holds, and edges of cloth that are left raw.

In: the pattern, all holes by piece. Out: findings. All mm.

Words: an edge is *held* where a row of holes runs along all of it, at a distance from it that suits; a *raw*
edge frays: one of woven cloth that is neither hemmed, turned nor bound, nor held beside its allowance.
Webbing frays at its cut ends only, and these are sealed or turned at the bench.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.findings import Finding, finding
from handkit.geometry.path import Path
from handkit.geometry.straight import distance
from handkit.grouping import grouped
from handkit.kinds.edge_works import EdgeWork
from handkit.punch.checks.seam_holes import SeamHole
from handkit.read.project import PartKind, WorkedEdge
from handkit.tolerances import SAME_POINT
from handkit.wording.edge_names import edge_words
from handkit.wording.quoting import words

# Where each part of an edge is looked at: shares of its length, clear of the corners, near which a row turns.
_SAMPLES = (1 / 3, 1 / 2, 2 / 3)

# A seam that is to hold a hem or a tape stands this far inside where that ends, mm (common practice).
_FROM_END = 3.0


def edge_work_findings(pattern: Pattern, holes: Mapping[str, Sequence[SeamHole]]) -> tuple[Finding, ...]:
    """A warning for each hem or binding that is not sewn, and one for all pieces with alike raw edges; what a
    copy lacks as its original does is told with that. A note for each opening whose rim frays."""
    findings: list[Finding] = []
    raw: dict[str, tuple[str, str]] = {}  # the edges and the material, by piece
    loose: dict[str, set[str]] = {}  # what was found, by piece
    originals = {piece.name: piece.copy_of or "" for piece in pattern.project.pieces}
    for piece in sorted(pattern.pieces, key=lambda piece: bool(originals.get(piece.name))):
        own, original = holes.get(piece.name, ()), originals.get(piece.name, "")
        found = tuple(_loose(piece, own))
        loose[piece.name] = {each.found for each in found}
        findings += [each for each in found if each.found not in loose.get(original, set())]
        if (edges := _raw(piece, own)) and raw.get(original) != edges:
            raw[piece.name] = edges
    findings += _told_raw(pattern, raw)
    return (*findings, *_raw_openings(pattern))


def _told_raw(pattern: Pattern, raw: Mapping[str, tuple[str, str]]) -> Iterator[Finding]:
    """One for each bag, whose part says what its edges have; else one for all whose alike edges fray, at
    the first of them."""
    for part in (each for each in pattern.project.parts if each.kind is PartKind.BAG):
        drafted = {each.name for each in pattern.project.pieces if each.drafted_by == part.name}
        keys = [key for key in ("hem", "allowance") if part.length(key) is None]
        if keys and (own := [name for name in raw if name in drafted]):
            told = {
                "pieces": own,
                "material": raw[own[0]][1],
                "keys": words((f"{key} = …" for key in keys), last="and"),
            }
            yield finding("raw-edge/bag", part.source.at(), **told)
            raw = {name: found for name, found in raw.items() if name not in drafted}
    for (edges, material), names in grouped(raw, by=lambda name: raw[name]).items():
        first, *others = names
        key = "raw-edge/alike" if others else "raw-edge"
        told = {"edges": edges, "material": material, **({"others": others} if others else {})}
        yield finding(key, pattern.piece(first).source.at(), **told)


def _loose(piece: PatternPiece, holes: Sequence[SeamHole]) -> Iterator[Finding]:
    """Hems and bindings that no row of holes goes through."""
    for each in piece.works:
        work = each.work
        if not work.traits.sewn or _holds(holes, each.path, work):
            continue
        least, most = work.held_between()
        inset = max(most - _FROM_END, (least + most) / 2)
        told = {"noun": work.traits.noun, "edges": str(work.edges), "piece": piece.name, "inset": inset}
        where = piece.source.at(work.work.value)
        yield finding("edge-work-not-sewn", where, **told, width=work.width, least=least, most=most)


def _raw(piece: PatternPiece, holes: Sequence[SeamHole]) -> tuple[str, str] | None:
    """The edges that fray, and the material; None where all are held."""
    if not piece.traits.frays or piece.traits.sealed:
        return None
    closed = [each for each in piece.works if each.work.work is EdgeWork.ALLOWANCE]
    raw = [
        edge
        for edge in piece.raw
        if not any(_lies_on(edge.path, each.path) and _holds(holes, edge.path, each.work) for each in closed)
    ]
    return (edge_words(edge.ends for edge in raw), piece.material) if raw else None


def _raw_openings(pattern: Pattern) -> Iterator[Finding]:
    """A note for each opening without hardware that is cut in cloth which frays."""
    for opening in pattern.openings:
        pieces = (pattern.piece(place.piece) for place in opening.places)
        frays = next((piece for piece in pieces if piece.traits.frays and not piece.traits.sealed), None)
        if frays is not None and not opening.opening.traits.hardware:
            told = {"noun": opening.opening.traits.noun, "piece": frays.name, "material": frays.material}
            yield finding("raw-opening", opening.source.at(), **told)


def _holds(holes: Sequence[SeamHole], path: Path, work: WorkedEdge) -> bool:
    """Whether a row of holes runs along a finished edge and holds its work: one stands beside every sample of
    each of its lines and arcs, no farther along than a pitch."""
    least, most = work.held_between()
    rows = [
        (along, hole.seam.stitching.pitch)
        for hole in holes
        for along in (path.along_of(hole.at),)
        if least - SAME_POINT <= distance(hole.at, path.point_at(along)) <= most + SAME_POINT
    ]
    return all(
        any(abs(along - begin - segment.length * share) <= pitch for along, pitch in rows)
        for begin, segment in zip(path.stations(), path.segments, strict=False)
        for share in _SAMPLES
    )


def _lies_on(edge: Path, path: Path) -> bool:
    """Whether an edge is one of those of a path."""
    middle = edge.point_at(edge.length / 2)
    return path.comes_within(SAME_POINT, middle)
