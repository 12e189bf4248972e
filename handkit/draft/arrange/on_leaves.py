"""On leaves: parts without a place laid on what another part drafts, which stays as large as that says.

In: a project, a cover, a sleeve or a bag's panel. Out: where each part lies, in the piece's frame; what has
no room, with the measure that would give it some.

The large is laid first, on the first leaf where there is room on it. Leather keeps clear of its leaf's edges
and of bends; things may reach up to both, and are drawn out beyond them. All lies in the middle of its leaf
where nothing that is stated lies there. What lies behind has the other face: its rows keep off those in front
(`leaf_laying.py`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import prod, sqrt

import msgspec

from handkit.draft.arrange.grounds import CAPS, PartGround, large
from handkit.draft.arrange.leaf_laying import LeafLaying, SharedOut, shared_out
from handkit.draft.arrange.lying import lying_on, shifted
from handkit.draft.arrange.steps import Arrangement, Steps
from handkit.draft.fit.on_base import Holes, keep_of
from handkit.draft.parts.drafted import DraftedPart, PartContext
from handkit.draft.parts.part_kinds import DRAFTINGS
from handkit.findings import Finding, finding
from handkit.geometry.affine import Point
from handkit.geometry.box import Box, box_of
from handkit.read.project import Part, PartKind, Piece, Project

# Along which axes a piece grows: both, or one alone.
AXES = ((1, 1), (1, 0), (0, 1))

# So many times a measure is tried and made larger, until all has room.
ROUNDS = 10


class OnLeaves(msgspec.Struct, frozen=True):
    """How a piece is laid, and what has no room."""

    way: Arrangement
    faults: tuple[Finding, ...] = ()


class LeafWay(msgspec.Struct, frozen=True):
    """Which of several ways: whether the last leaf comes first, how many better ways are left out on each."""

    last_first: bool = False
    rank: int = 0


# The ways that are told, the best first.
LEAF_WAYS = tuple(LeafWay(last, rank) for rank in range(3) for last in (False, True))


class _Face(msgspec.Struct, frozen=True):
    """What lies on a piece that a part drafts: grounds, each with whether it keeps its place, and whether the
    face is that behind."""

    project: Project
    cover: Part
    base: Piece
    known: tuple[tuple[PartGround, bool], ...]
    behind: bool
    way: LeafWay

    @property
    def free(self) -> list[PartGround]:
        """What is to be laid on this face, the large first."""
        found = (ground for ground, fixed in self.known if not fixed and ground.behind is self.behind)
        return sorted(found, key=lambda ground: -_taken(ground).width * _taken(ground).height)

    def laying(self, given: DraftedPart) -> LeafLaying:
        """All that, on the piece as it is drafted."""
        corners = [
            corner for piece in given.pieces if piece.name == self.base.name for corner in piece.corners
        ]
        roundest = max(corner.radius for corner in (*self.base.corners, *corners))
        # Where a corner is round, the corner of a box lies on the leather so far inside.
        keep = max(keep_of(self.base, Holes.of(self.project.seams)), roundest * (1 - sqrt(0.5)))
        panels = (panel for panel in given.panels if panel.piece == self.base.name)
        leaves, free = [panel for panel in panels if panel.behind in (None, self.behind)], self.free
        leaves = leaves[::-1] if self.way.last_first else leaves
        high = max((ground.stands for ground in free), default=0.0)
        barred = [each.box for panel in leaves for each in panel.barred if each.over < high]
        stated = [ground for ground, fixed in self.known if fixed]
        stated += [
            PartGround("", box, stands=CAPS, leather=box, rows=(box,), behind=self.behind) for box in barred
        ]
        raster = Steps(self.base.source.units.whole, 0.0)
        keep = raster.up(keep) * raster.step
        known = tuple(leaves), raster, keep, tuple(stated), tuple(free)
        return LeafLaying(*known, self.behind, self.way.rank)


def _taken(ground: PartGround) -> Box:
    return ground.still or ground.box


def ways_on_leaves(project: Project, base: Piece, most: int) -> tuple[Arrangement, ...]:
    """Ways to lay the parts on a piece that are unlike, the best first, as far as all have room."""
    first = on_leaves(project, base)
    if first.faults:
        return (first.way,)
    tried = (on_leaves(project, base, way) for way in LEAF_WAYS)
    return tuple(dict.fromkeys(each.way for each in tried if not each.faults))[:most]


def on_leaves(project: Project, base: Piece, way: LeafWay | None = None) -> OnLeaves:
    """The parts on a piece, each where it finds room; none of them where the piece can't be drafted."""
    cover = next(part for part in project.parts if part.name == base.drafted_by)
    given = _drafted(project, cover)
    drawn = next((piece for piece in given.pieces if piece.name == base.name), None)
    if drawn is None:
        return OnLeaves(Arrangement(base.name, (0.0, 0.0), (), within=True))
    known, places = tuple(lying_on(project, base)), dict[str, Point]()
    faults: list[Finding] = []
    for behind in (False, True):
        face = _Face(project, cover, base, known, behind, way or LeafWay())
        laying = face.laying(given)
        if face.free and not laying.leaves:
            faults += _between(face, given)
        elif face.free:
            shared = shared_out(laying)
            places |= dict(shared.places(laying))
            if shared.without:
                faults.append(_without_room(face, laying, shared))
            known = tuple(
                (shifted(ground, places[ground.part]), True)
                if ground.part in places and not fixed
                else (ground, fixed)
                for ground, fixed in known
            )
    size = box_of([corner.at for corner in drawn.corners])
    ordered = tuple((part.name, places[part.name]) for part in project.parts if part.name in places)
    return OnLeaves(Arrangement(base.name, (size.width, size.height), ordered, within=True), tuple(faults))


def _drafted(project: Project, cover: Part) -> DraftedPart:
    """What a part drafts by itself."""
    own = {piece.name: piece for piece in project.pieces if piece.drafted_by == cover.name}
    on = next((large(piece) for piece in project.pieces if piece.name == cover.on), None)
    items = tuple(item for item in project.items if item.held_by == cover.name)
    seams = {seam.name: seam for seam in project.seams}
    openings = {opening.name: opening for opening in project.openings}
    return DRAFTINGS[cover.kind](cover, items, PartContext(on, own, seams, openings))


def _between(face: _Face, given: DraftedPart) -> Iterator[Finding]:
    """Parts on a face against which lies what the part that drafts it holds."""
    cover, base, names = face.cover, face.base, {ground.part for ground in face.free}
    others = sorted({panel.piece for panel in given.panels} - {cover.name, base.name})
    for part in (each for each in face.project.parts if each.name in names):
        where, on = part.source.at("on"), {"base": base.name, "others": others}
        if cover.kind is PartKind.BAG:
            told = finding("arranged-inside/bag", where, **on)
        elif others:
            told = finding("arranged-inside", where, **on, cover=cover.name)
        else:
            told = finding("arranged-inside/turn-ins", where, base=base.name, cover=cover.name)
        yield told.spoiling(part.source.path)


def _without_room(face: _Face, laying: LeafLaying, shared: SharedOut) -> Finding:
    """The first part that has no room, with the measures that give it some."""
    ground, parts = shared.without[0], face.project.parts
    part = next(each for each in parts if each.name == ground.part)
    units, still, names = part.source.units, laying.still(ground), {each.part for each in shared.without}
    measures = _measures(face, laying, shared)
    leaves = [f"{units.number(each.box.width)} × {units.text(each.box.height)}" for each in laying.leaves]
    told = finding(
        "arranged-without-room" if measures else "arranged-without-room/none",
        part.source.at("on"),
        wide=still.width,
        high=still.height,
        leaves=list(dict.fromkeys(leaves)),
        base=face.base.name,
        cover=face.cover.name,
        measures=[f"{key} {units.text(value)}" for key, value in measures.items()],
    )
    return told.spoiling(*(each.source.path for each in parts if each.name in names))


def _measures(face: _Face, laying: LeafLaying, shared: SharedOut) -> Mapping[str, float]:
    """Measures of the part that drafts the piece with which it has room, those that grow least; none where
    none was found."""
    ground, raster = shared.without[0], laying.raster
    found: list[tuple[float, dict[str, float]]] = []
    for index, leaf in enumerate(laying.leaves):
        was = {key: raster.up(value) for key, value in zip(leaf.keys, leaf.values, strict=True)}
        ways = [_grown(face, (raster, was), ground, (index, axes)) for axes in AXES]
        ways += [_deeper(face, (raster, was), ground, key) for key in leaf.keys[2:]]
        for steps in ways:
            if steps is not None:
                least = _least(face, (raster, was), steps, ground)
                told = {key: value * raster.step for key, value in least.items() if value > was[key]}
                found.append((prod(least.values()) / prod(was.values()), told))
    return min(found, key=lambda each: each[0], default=(0.0, {}))[1]


# The raster, and what keys say as it is, in steps.
_Was = tuple[Steps, dict[str, int]]


def _grown(
    face: _Face, now: _Was, ground: PartGround, by: tuple[int, tuple[int, int]]
) -> dict[str, int] | None:
    """Measures that grow along some axes until a part has room on one leaf; each is tried."""
    index, axes = by
    steps = dict(now[1])
    for _ in range(ROUNDS):
        tried = _with(face, now, steps)
        if tried is None or index >= len(tried.leaves):
            return None
        shared = shared_out(tried)
        if ground not in shared.without:
            return steps
        more = tried.growth(index, (*shared.before[index], ground), axes)
        if not any(more):
            return None
        steps |= {key: steps[key] + each for key, each in zip(tried.leaves[index].keys, more, strict=False)}
    return None


def _deeper(face: _Face, now: _Was, ground: PartGround, key: str) -> dict[str, int] | None:
    """A measure so large that nothing is barred, where a part has room then."""
    raster, was = now
    steps = {**was, key: was[key] + raster.up(2 * max(each.stands for each in face.free))}
    tried = _with(face, now, steps)
    return None if tried is None or ground in shared_out(tried).without else steps


def _least(face: _Face, now: _Was, steps: dict[str, int], ground: PartGround) -> dict[str, int]:
    """Of measures with which a part has room, the last one first made as small as may be."""
    was = now[1]
    for key in [*steps][::-1]:
        low, high = was[key] - 1, steps[key]
        while high - low > 1:
            middle = was[key] if low < was[key] else (low + high) // 2
            tried = _with(face, now, {**steps, key: middle})
            if tried is not None and ground not in shared_out(tried).without:
                high = middle
            else:
                low = middle
        steps = {**steps, key: high}
    return steps


def _with(face: _Face, now: _Was, steps: Mapping[str, int]) -> LeafLaying | None:
    """What is to be laid, on a piece whose part states some measures; None where it can't be drafted so."""
    raster, was = now
    stated = {key: value * raster.step for key, value in steps.items() if value > was[key]}
    given = _drafted(face.project, _stating(face.cover, stated))
    return face.laying(given) if any(piece.name == face.base.name for piece in given.pieces) else None


def _stating(part: Part, values: Mapping[str, float]) -> Part:
    for key, value in values.items():
        part = part.stating(key, value)
    return part
