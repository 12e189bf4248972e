"""Attachment: what holds a piece down on another, before it is asked what that closes.

In: pieces as they lie, and the tasks. Out: for each two pieces that are joined, and each piece
that is bent round, the tasks that hold, their rows of holes, and the area they could close.

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
from handkit.grouping import grouped
from handkit.stitch.order.fitting_order import closers_of
from handkit.stitch.order.hole_rows import HoleRow
from handkit.stitch.order.tasks import Task, TaskKind, frame_of


class Attachment(msgspec.Struct, frozen=True):
    """What holds a piece down, before it is asked what that closes."""

    pieces: tuple[str, ...]
    frame: str
    low: int
    high: int
    members: tuple[Task, ...]
    runs: tuple[tuple[HoleRow, ...], ...]  # of each member, in the frame
    within: Region
    grows: bool  # the closed area reaches past the holes
    between: tuple[str, ...]  # the pieces a task is enclosed on
    why: str

    @property
    def glued(self) -> bool:
        """Whether it is glued down all over."""
        return any(task.kind is TaskKind.GLUE for task in self.members)


class PieceFrames(msgspec.Struct, frozen=True):
    """What lies where: each piece's outline and the way there, in the frame it lies flat in."""

    pattern: Pattern
    tasks: tuple[Task, ...]
    root: dict[str, str]
    way: dict[str, Affine]
    regions: dict[str, Region]


def attachments(frames: PieceFrames) -> tuple[Attachment, ...]:
    """All attachments, pair by pair and then piece by piece, in the file's order."""
    found: list[Attachment] = []
    for first, second, members in _joints(frames):
        if first is not second and frames.root[first.name] == frames.root[second.name]:
            found.append(_flat(frames, first, second, members))
            continue
        why = f'"{first.name}" and "{second.name}" close it in'
        if first is second:
            found.extend(_unlike(first, first, some, why) for some in _by_fold(first, members))
            continue
        found.append(_unlike(first, second, members, why))
        found.append(_unlike(second, first, members, why))
    bent = (_bent(frames, piece) for piece in frames.pattern.pieces)
    return (*found, *(attachment for attachment in bent if attachment))


def piece_frames(pattern: Pattern, tasks: Sequence[Task]) -> PieceFrames:
    """The ground of a pattern: every outline as a region, in the frame it lies flat in."""
    places = {piece.name: frame_of(piece) for piece in pattern.pieces}
    return PieceFrames(
        pattern,
        tuple(tasks),
        {name: frame for name, (frame, _) in places.items()},
        {name: way for name, (_, way) in places.items()},
        {piece.name: region_of(piece.outline.moved(places[piece.name][1])) for piece in pattern.pieces},
    )


def _joints(frames: PieceFrames) -> list[tuple[PatternPiece, PatternPiece, tuple[Task, ...]]]:
    """Each two pieces that are joined (or one with itself), and the tasks that do."""
    pieces = frames.pattern.pieces
    rank = {piece.name: index for index, piece in enumerate(pieces)}
    joints: dict[tuple[int, int], dict[Task, None]] = {}
    for task in frames.tasks:
        if task.joins:
            for pair in combinations(sorted(rank[name] for name in task.pieces), 2):
                if not task.whole and not task.passes(*(pieces[index].name for index in pair)):
                    continue
                joints.setdefault(pair, {})[task] = None
    return [(pieces[i], pieces[j], tuple(members)) for (i, j), members in sorted(joints.items())]


def _flat(
    frames: PieceFrames, first: PatternPiece, second: PatternPiece, members: tuple[Task, ...]
) -> Attachment:
    """Two pieces that lie flat in one frame: what both cover, and what lies between them."""
    frame, way = frames.root[first.name], frames.way[first.name]
    low, high = sorted((first.level, second.level))
    return Attachment(
        pieces=(first.name, second.name),
        frame=frame,
        low=low,
        high=high,
        members=members,
        runs=tuple(
            tuple(way.apply_all(run) for run in task.common(first.name, (second.name,))) for task in members
        ),
        within=frames.regions[first.name].common(frames.regions[second.name]),
        grows=True,
        between=tuple(
            piece.name
            for piece in frames.pattern.pieces
            if frames.root[piece.name] == frame and low <= piece.level <= high
        ),
        why=f'"{first.name}" and "{second.name}" close it in',
    )


def _by_fold(piece: PatternPiece, members: Sequence[Task]) -> list[tuple[Task, ...]]:
    """What a piece is sewn to itself by, those together that close the same folds: the turned ends of a strap
    close nothing between them."""
    folds = {
        task: tuple(fold.name for fold in piece.folds if closers_of(piece, fold.name, [task]))
        for task in members
    }
    return [tuple(some) for some in grouped(members, by=lambda task: folds[task]).values()]


def _unlike(piece: PatternPiece, other: PatternPiece, members: tuple[Task, ...], why: str) -> Attachment:
    """One of two pieces that do not lie flat on each other, or a piece sewn to itself."""
    itself = piece is other
    return _own(
        piece,
        members,
        others={other.name},
        pieces=(piece.name, other.name),
        grows=itself or other.on != piece.name,
        why=f'"{piece.name}" closes round it' if itself else why,
    )


def _bent(frames: PieceFrames, piece: PatternPiece) -> Attachment | None:
    """A piece that is held to several others which don't lie on it, nor it flat on them."""
    others = {
        other.name
        for other in frames.pattern.pieces
        if other.on != piece.name and frames.root[other.name] != frames.root[piece.name]
    }
    members = tuple(
        task
        for task in frames.tasks
        if task.joins and any(task.passes(piece.name, name) for name in others.intersection(task.pieces))
    )
    held_to = {name for task in members for name in task.pieces if task.passes(piece.name, name)}
    if len(others & held_to) < 2:
        return None
    why = f'"{piece.name}" closes it in'
    return _own(piece, members, others=others, pieces=(piece.name,), grows=True, why=why)


def _own(  # noqa: PLR0913 - what is told of an attachment
    piece: PatternPiece,
    members: tuple[Task, ...],
    *,
    others: set[str],
    pieces: tuple[str, ...],
    grows: bool,
    why: str,
) -> Attachment:
    """What tasks that go through others as well do on one piece, in its own frame."""
    return Attachment(
        pieces=pieces,
        frame=piece.name,
        low=piece.level,
        high=piece.level,
        members=members,
        runs=tuple(tuple(task.common(piece.name, others)) for task in members),
        within=region_of(piece.outline),
        grows=grows,
        between=(piece.name,),
        why=why,
    )
