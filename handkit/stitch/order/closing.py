"""Closing: which works shut others in.

In: pieces as they lie, and the works. Out: for each pair of pieces that are held together, and
each piece that is bent round, the area that is closed, by which works, and which works it shuts.

Covering is not closing: a flap held in one row folds back. A piece closes what it lies over once
it is glued down, or held in two rows that are not one; a single seam that turns does it too. Where
several works hold it, those of the first row (by the file) may be done early: the others close.

The closed area is the hull of the rows that hold (see `rows`), or all that is glued; on flat pairs
no more than both outlines have in common, on unlike ones each piece has its own. What lies only on
the rim of it, such as the hem of a pocket's mouth, had better come first, but need not.

Shut is every work that does not pass through both pieces and has a hole in the closed area, in
one of the two or in what lies between them.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.draft.pattern import Pattern
from handkit.geometry.affine import Affine
from handkit.geometry.region import Region
from handkit.stitch.order.holding import Ground, Holding, ground_of, holdings
from handkit.stitch.order.rows import Run, held_area, one_row, rim_area
from handkit.stitch.order.works import Work, WorkKind

# What a glued piece has in common with a closed area must be more than a touch to be shut by it.
TOUCH_MM2 = 1.0


class Closing(msgspec.Struct, frozen=True):
    """An area that is closed, in the frame of the piece `frame`, at levels `low` to `high`."""

    pieces: tuple[str, ...]  # the two that close, or the one
    frame: str
    low: int
    high: int
    area: Region  # with its rim
    early: tuple[Work, ...]  # what holds it, in the first row: alone it closes nothing
    closers: tuple[Work, ...]
    shut: tuple[Work, ...]  # must come before the closers
    beside: tuple[Work, ...]  # on the rim: had better come before
    why: str

    @property
    def holders(self) -> tuple[Work, ...]:
        """All works that hold it down, in the file's order but for the first row's being first."""
        return (*self.early, *self.closers)


def closings(pattern: Pattern, works: Sequence[Work]) -> tuple[Closing, ...]:
    """All that is closed, in the order of what holds it."""
    ground = ground_of(pattern, works)
    found = (_closing(ground, holding) for holding in holdings(ground))
    return tuple(closing for closing in found if closing)


def _closing(ground: Ground, holding: Holding) -> Closing | None:
    """What a holding closes, or None where it holds in one row only."""
    early = () if holding.glued else _first_row(holding)
    closers = tuple(work for work in holding.members if work not in early)
    if not closers:
        return None
    core, area = _areas(holding)
    if core.empty:
        return None
    others = [work for work in ground.works if work not in holding.members]
    held = tuple(work for work in others if _is_shut(ground, work, holding, core))
    shut = (*held, *_inside(ground.pattern, holding.pieces, held, others))
    rest = (work for work in others if work not in shut) if area is not core else ()
    return Closing(
        pieces=holding.pieces,
        frame=holding.frame,
        low=holding.low,
        high=holding.high,
        area=area,
        early=early,
        closers=closers,
        shut=shut,
        beside=tuple(work for work in rest if _is_shut(ground, work, holding, area)),
        why=holding.why,
    )


def _is_shut(ground: Ground, work: Work, holding: Holding, area: Region) -> bool:
    """Whether a work lies in the closed area and does not pass through both that close it."""
    if len(holding.pieces) == 2 and work.passes(*holding.pieces):
        return False
    if work.kind is WorkKind.GLUE:
        inner = work.name in holding.between and work.name not in holding.pieces
        return inner and ground.regions[work.name].common(area).area > TOUCH_MM2
    left, bottom, right, top = area.bounds()
    for layer in work.layers:
        if layer.piece in holding.between:
            way = Affine() if layer.piece == holding.frame else ground.ways[layer.piece]
            for x, y in way.apply_all(layer.points):
                if left <= x <= right and bottom <= y <= top and area.contains((x, y)):
                    return True
    return False


def _inside(
    pattern: Pattern, pieces: tuple[str, ...], shut: Sequence[Work], others: Sequence[Work]
) -> tuple[Work, ...]:
    """Works on what hangs in the closed space, on pieces the closing does not lie over.

    Known only where one of the pair lies on the other: then what is on the same side of the
    base, or under the cover, is inside.
    """
    cover = next((p for p in map(pattern.piece, pieces) if p.on in pieces), None)
    if cover is None:
        return ()
    held = {name for work in shut for name in work.pieces}
    inside: set[str] = set()
    for piece in sorted(pattern.pieces, key=lambda piece: piece.depth):
        on_base = piece.on == cover.on and piece.behind == cover.behind and piece is not cover
        under_cover = piece.on == cover.name and piece.behind != cover.behind
        if piece.on in inside or (piece.name in held and (on_base or under_cover)):
            inside.add(piece.name)
    return tuple(
        work
        for work in others
        if work not in shut and not inside.isdisjoint(work.pieces) and not set(pieces) & set(work.pieces)
    )


def _first_row(holding: Holding) -> tuple[Work, ...]:
    """The first work by the file and those in one row with it; none where the first one turns."""
    row: list[Run] = []
    early: list[Work] = []
    pitch = holding.members[0].pitch
    for work, runs in zip(holding.members, holding.runs, strict=True):
        if one_row([*row, *runs], pitch=pitch):
            row.extend(runs)
            early.append(work)
        elif not early:
            break
    return tuple(early)


def _areas(holding: Holding) -> tuple[Region, Region]:
    """The closed area without and with its rim: all that is glued, or what the rows hold down."""
    if holding.glued:
        return holding.within, holding.within
    runs = [run for runs in holding.runs for run in runs]
    core = held_area(runs, within=holding.within)
    if not holding.grows:
        return core, core
    reach = max(work.reach for work in holding.members)
    return core, rim_area(runs, within=holding.within, reach=reach)
