"""Holding: what holds a piece down on another, before it is asked what that closes.

In: pieces as they lie, and the works. Out: for each two pieces that are joined, and each piece
that is bent round, the works that hold, their rows of holes, and the area they could close.

- *Flat pair*: the area is common to both outlines, in the frame they share.
- *Unlike pair* (a gusset, a bowed front): each of the two has its own holes in its own frame.
- *Bent piece*: held to two or more others that lie on none of its layers (a gusset between two
  panels). A piece sewn to itself (a tube) is a pair of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import msgspec

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Affine
from handkit.geometry.region import Region, region_of
from handkit.stitch.order.rows import Run
from handkit.stitch.order.works import Work, WorkKind, frame_of


class Holding(msgspec.Struct, frozen=True):
    """What holds a piece down, before it is asked what that closes."""

    pieces: tuple[str, ...]
    frame: str
    low: int
    high: int
    members: tuple[Work, ...]
    runs: tuple[tuple[Run, ...], ...]  # of each member, in the frame
    within: Region
    grows: bool  # the closed area reaches past the holes
    between: tuple[str, ...]  # the pieces a work is shut on
    why: str

    @property
    def glued(self) -> bool:
        """Whether it is glued down all over."""
        return any(work.kind is WorkKind.GLUE for work in self.members)


class Ground(msgspec.Struct, frozen=True):
    """What lies where: each piece's outline and the way there, in the frame it lies flat in."""

    pattern: Pattern
    works: tuple[Work, ...]
    frames: dict[str, str]
    ways: dict[str, Affine]
    regions: dict[str, Region]


def holdings(ground: Ground) -> tuple[Holding, ...]:
    """All holdings, pair by pair and then piece by piece, in the file's order."""
    found: list[Holding] = []
    for first, second, members in _joints(ground):
        if first is not second and ground.frames[first.name] == ground.frames[second.name]:
            found.append(_flat(ground, first, second, members))
            continue
        why = f'"{first.name}" and "{second.name}" close it in'
        found.append(_unlike(first, second, members, why))
        if first is not second:
            found.append(_unlike(second, first, members, why))
    bent = (_bent(ground, piece) for piece in ground.pattern.pieces)
    return (*found, *(holding for holding in bent if holding))


def ground_of(pattern: Pattern, works: Sequence[Work]) -> Ground:
    """The ground of a pattern: every outline as a region, in the frame it lies flat in."""
    places = {piece.name: frame_of(piece) for piece in pattern.pieces}
    return Ground(
        pattern,
        tuple(works),
        {name: frame for name, (frame, _) in places.items()},
        {name: way for name, (_, way) in places.items()},
        {piece.name: region_of(piece.outline.moved(places[piece.name][1])) for piece in pattern.pieces},
    )


def _joints(ground: Ground) -> list[tuple[PatternPiece, PatternPiece, tuple[Work, ...]]]:
    """Each two pieces that are joined (or one with itself), and the works that do."""
    pieces = ground.pattern.pieces
    rank = {piece.name: index for index, piece in enumerate(pieces)}
    joints: dict[tuple[int, int], dict[Work, None]] = {}
    for work in ground.works:
        if work.joins:
            for pair in combinations(sorted(rank[name] for name in work.pieces), 2):
                joints.setdefault(pair, {})[work] = None
    return [(pieces[i], pieces[j], tuple(members)) for (i, j), members in sorted(joints.items())]


def _flat(ground: Ground, first: PatternPiece, second: PatternPiece, members: tuple[Work, ...]) -> Holding:
    """Two pieces that lie flat in one frame: what both cover, and what lies between them."""
    frame, way = ground.frames[first.name], ground.ways[first.name]
    low, high = sorted((first.level, second.level))
    return Holding(
        pieces=(first.name, second.name),
        frame=frame,
        low=low,
        high=high,
        members=members,
        runs=tuple(tuple(way.apply_all(run) for run in work.on(first.name)) for work in members),
        within=ground.regions[first.name].common(ground.regions[second.name]),
        grows=True,
        between=tuple(
            piece.name
            for piece in ground.pattern.pieces
            if ground.frames[piece.name] == frame and low <= piece.level <= high
        ),
        why=f'"{first.name}" and "{second.name}" close it in',
    )


def _unlike(piece: PatternPiece, other: PatternPiece, members: tuple[Work, ...], why: str) -> Holding:
    """One of two pieces that do not lie flat on each other, or a piece sewn to itself."""
    itself = piece is other
    return _own(
        piece,
        members,
        pieces=(piece.name, other.name),
        grows=itself or other.on != piece.name,
        why=f'"{piece.name}" closes round it' if itself else why,
    )


def _bent(ground: Ground, piece: PatternPiece) -> Holding | None:
    """A piece that is held to several others which don't lie on it, nor it flat on them."""
    others = {
        other.name
        for other in ground.pattern.pieces
        if other.on != piece.name and ground.frames[other.name] != ground.frames[piece.name]
    }
    members = tuple(
        work
        for work in ground.works
        if work.joins and piece.name in work.pieces and not others.isdisjoint(work.pieces)
    )
    if len(others & {name for work in members for name in work.pieces}) < 2:
        return None
    return _own(piece, members, pieces=(piece.name,), grows=True, why=f'"{piece.name}" closes it in')


def _own(
    piece: PatternPiece, members: tuple[Work, ...], *, pieces: tuple[str, ...], grows: bool, why: str
) -> Holding:
    """What works do on one piece, in its own frame."""
    return Holding(
        pieces=pieces,
        frame=piece.name,
        low=piece.level,
        high=piece.level,
        members=members,
        runs=tuple(tuple(work.on(piece.name)) for work in members),
        within=region_of(piece.outline),
        grows=grows,
        between=(piece.name,),
        why=why,
    )
