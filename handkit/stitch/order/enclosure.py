"""Enclosure: which tasks close others in, so that these must come before.

In: pieces as they lie, and the tasks. Out: for each pair of pieces that are held together, and
each piece that is bent round, the area that is closed, by which tasks, and which tasks it encloses.

Covering is not closing: a flap held in one row folds back. A piece closes what it lies over once
it is glued down, or held in two rows that are not one; a single seam that turns does it too. Where
several tasks hold it, those of the first row (by the file) may be done early: the others close.

The closed area is the hull of the rows that hold (see `hole_rows.py`), or all that is glued; on flat pairs
no more than both outlines have in common, on unlike ones each piece has its own. What lies only on
the rim of it, such as the hem of a pocket's mouth, is covered, but not shut in.

Enclosed is every task that does not pass through both pieces and has a hole in the closed area, in
one of the two or in what lies between them.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Affine
from handkit.geometry.region import Region
from handkit.stitch.order.attachment import Attachment, PieceFrames, attachments, piece_frames
from handkit.stitch.order.hole_rows import HoleRow, held_area, one_row, rim_area
from handkit.stitch.order.tasks import Task, TaskKind

# What a glued piece has in common with a closed area must be more than a touch to be enclosed by it.
TOUCH_MM2 = 1.0


class Enclosure(msgspec.Struct, frozen=True):
    """An area that is closed, in the frame of the piece `frame`, at levels `low` to `high`."""

    pieces: tuple[str, ...]  # the two that close, or the one
    frame: str
    low: int
    high: int
    area: Region  # with its rim
    early: tuple[Task, ...]  # what holds it, in the first row: alone it closes nothing
    closers: tuple[Task, ...]
    enclosed: tuple[Task, ...]  # must come before the closers
    on_rim: tuple[Task, ...]  # on the rim: covered, too
    why: str

    @property
    def why_hung(self) -> str:
        """The reason where its first row alone is meant, which closes nothing; a fold is closed by it."""
        if len(set(self.pieces)) < len(self.pieces):
            return self.why
        names = " and ".join(f'"{name}"' for name in self.pieces)
        return f"{names} would hang there by one row"

    @property
    def holders(self) -> tuple[Task, ...]:
        """All tasks that hold it down, in the file's order but for the first row's being first."""
        return (*self.early, *self.closers)


def enclosures(pattern: Pattern, tasks: Sequence[Task]) -> tuple[Enclosure, ...]:
    """All that is closed, in the order of what holds it."""
    frames = piece_frames(pattern, tasks)
    found = (_enclosure(frames, attachment) for attachment in attachments(frames))
    return tuple(enclosure for enclosure in found if enclosure)


def _enclosure(frames: PieceFrames, attachment: Attachment) -> Enclosure | None:
    """What an attachment closes, or None where it holds in one row only."""
    early = () if attachment.glued else _first_row(attachment)
    closers = tuple(task for task in attachment.members if task not in early)
    if not closers:
        return None
    core, area = _areas(attachment)
    if core.empty:
        return None
    others = [task for task in frames.tasks if task not in attachment.members]
    held = tuple(task for task in others if _is_enclosed(frames, task, attachment, core))
    enclosed = (*held, *_inside(frames.pattern, attachment.pieces, held, others))
    rest = (task for task in others if task not in enclosed) if area is not core else ()
    return Enclosure(
        pieces=attachment.pieces,
        frame=attachment.frame,
        low=attachment.low,
        high=attachment.high,
        area=area,
        early=early,
        closers=closers,
        enclosed=enclosed,
        on_rim=tuple(task for task in rest if _is_enclosed(frames, task, attachment, area)),
        why=attachment.why,
    )


def _is_enclosed(frames: PieceFrames, task: Task, attachment: Attachment, area: Region) -> bool:
    """Whether a task lies in the closed area and does not pass through both that close it."""
    if len(attachment.pieces) == 2 and task.passes(*attachment.pieces):
        return False
    if task.kind is TaskKind.GLUE:
        inner = task.name in attachment.between and task.name not in attachment.pieces
        return inner and frames.regions[task.name].common(area).area > TOUCH_MM2
    left, bottom, right, top = area.bounds()
    for layer in task.layers:
        if layer.piece in attachment.between:
            way = Affine() if layer.piece == attachment.frame else frames.way[layer.piece]
            points = way.apply_all(layer.points)
            near = [(x, y) for x, y in points if left <= x <= right and bottom <= y <= top]
            if len(area.outside(near)) < len(near):
                return True
    return False


def _inside(
    pattern: Pattern, pieces: tuple[str, ...], enclosed: Sequence[Task], others: Sequence[Task]
) -> tuple[Task, ...]:
    """Tasks on what hangs in the closed space, on pieces the enclosure does not lie over.

    Known only where one of the pair lies on the other: then what is on the same side of the
    base, or under the cover, is inside.
    """
    cover = next((p for p in map(pattern.piece, pieces) if p.on in pieces), None)
    if cover is None:
        return ()
    held = {name for task in enclosed for name in task.pieces}
    inside: set[str] = set()
    for piece in sorted(pattern.pieces, key=lambda piece: piece.depth):
        on_base = piece.on == cover.on and piece.behind == cover.behind and piece is not cover
        under_cover = piece.on == cover.name and piece.behind != cover.behind
        if piece.on in inside or (piece.name in held and (on_base or under_cover)):
            inside.add(piece.name)
    return tuple(
        task
        for task in others
        if task not in enclosed and not inside.isdisjoint(task.pieces) and not set(pieces) & set(task.pieces)
    )


def _first_row(attachment: Attachment) -> tuple[Task, ...]:
    """The first task by the file and those in one row with it; none where the first one turns."""
    row: list[HoleRow] = []
    early: list[Task] = []
    pitch = attachment.members[0].pitch
    for task, runs in zip(attachment.members, attachment.runs, strict=True):
        if one_row([*row, *runs], pitch=pitch):
            row.extend(runs)
            early.append(task)
        elif not early:
            break
    return tuple(early)


def _areas(attachment: Attachment) -> tuple[Region, Region]:
    """The closed area without and with its rim: all that is glued, or what the rows hold down."""
    if attachment.glued:
        return attachment.within, attachment.within
    runs = [run for runs in attachment.runs for run in runs]
    core = held_area(runs, within=attachment.within)
    if not attachment.grows:
        return core, core
    reach = max(task.reach for task in attachment.members)
    return core, rim_area(runs, within=attachment.within, reach=reach)
