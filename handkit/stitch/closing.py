"""Closing: which works shut others in.

In: pieces as they lie, and the works. Out: for each pair of pieces that are held together, and
each piece that is bent round, the area that is closed, by which works, and which works it shuts.

Covering is not closing: a flap held in one row folds back. A piece closes what it lies over once
it is glued down, or held in two rows that are not one; a single seam that turns does it too. Where
several works hold it, those of the first row (by the file) may be done early: the others close.

- *Flat pair*: the area is common to both outlines, in the frame they share.
- *Unlike pair* (a gusset, a bowed front): on each of the two the hull of its own holes.
- *Bent piece*: held to two or more others that lie on none of its layers (a gusset between two
  panels), it closes all between its rows. A piece sewn to itself (a tube) closes itself.

Shut is every work that does not pass through both pieces and has a hole in the closed area, in
one of the two or in what lies between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from handkit.draft.pattern import Pattern, PatternPiece
from handkit.geometry.affine import Affine
from handkit.geometry.region import Region, region_of
from handkit.stitch.rows import Run, held_area, one_row
from handkit.stitch.works import Work, WorkKind, frame_of

# What a glued piece has in common with a closed area must be more than a touch to be shut by it.
TOUCH_MM2 = 1.0


@dataclass(frozen=True, slots=True)
class Closing:
    """An area that is closed, in the frame of the piece `frame`, at levels `low` to `high`."""

    pieces: tuple[str, ...]  # the two that close, or the one
    frame: str
    low: int
    high: int
    area: Region
    early: tuple[Work, ...]  # what holds it, in the first row: alone it closes nothing
    closers: tuple[Work, ...]
    shut: tuple[Work, ...]
    why: str

    @property
    def holders(self) -> tuple[Work, ...]:
        """All works that hold it down, in the file's order but for the first row's being first."""
        return (*self.early, *self.closers)


@dataclass(frozen=True, slots=True)
class _Holding:
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


@dataclass(frozen=True, slots=True)
class _Ground:
    """What lies where: each piece's outline and the way there, in the frame it lies flat in."""

    pattern: Pattern
    works: tuple[Work, ...]
    frames: dict[str, str]
    ways: dict[str, Affine]
    regions: dict[str, Region]


def closings(pattern: Pattern, works: Sequence[Work]) -> tuple[Closing, ...]:
    """All that is closed, pair by pair and then piece by piece, in the file's order."""
    ground = _ground(pattern, works)
    holdings: list[_Holding] = []
    for first, second, members in _joints(ground):
        if first is not second and ground.frames[first.name] == ground.frames[second.name]:
            holdings.append(_flat(ground, first, second, members))
            continue
        why = f'"{first.name}" and "{second.name}" close it in'
        holdings.append(_unlike(first, second, members, why))
        if first is not second:
            holdings.append(_unlike(second, first, members, why))
    bent = (_bent(ground, piece) for piece in pattern.pieces)
    holdings.extend(holding for holding in bent if holding)
    found = (_closing(ground, holding) for holding in holdings)
    return tuple(closing for closing in found if closing)


def _ground(pattern: Pattern, works: Sequence[Work]) -> _Ground:
    places = {piece.name: frame_of(piece) for piece in pattern.pieces}
    return _Ground(
        pattern,
        tuple(works),
        {name: frame for name, (frame, _) in places.items()},
        {name: way for name, (_, way) in places.items()},
        {piece.name: region_of(piece.outline.moved(places[piece.name][1])) for piece in pattern.pieces},
    )


def _joints(ground: _Ground) -> list[tuple[PatternPiece, PatternPiece, tuple[Work, ...]]]:
    """Each two pieces that are joined (or one with itself), and the works that do."""
    pieces = ground.pattern.pieces
    rank = {piece.name: index for index, piece in enumerate(pieces)}
    joints: dict[tuple[int, int], dict[Work, None]] = {}
    for work in ground.works:
        if work.joins:
            for pair in combinations(sorted(rank[name] for name in work.pieces), 2):
                joints.setdefault(pair, {})[work] = None
    return [(pieces[i], pieces[j], tuple(members)) for (i, j), members in sorted(joints.items())]


def _flat(ground: _Ground, first: PatternPiece, second: PatternPiece, members: tuple[Work, ...]) -> _Holding:
    """Two pieces that lie flat in one frame: what both cover, and what lies between them."""
    frame, way = ground.frames[first.name], ground.ways[first.name]
    low, high = sorted((first.level, second.level))
    return _Holding(
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


def _unlike(piece: PatternPiece, other: PatternPiece, members: tuple[Work, ...], why: str) -> _Holding:
    """One of two pieces that do not lie flat on each other, or a piece sewn to itself."""
    itself = piece is other
    return _own(
        piece,
        members,
        pieces=(piece.name, other.name),
        grows=itself or other.on != piece.name,
        why=f'"{piece.name}" closes round it' if itself else why,
    )


def _bent(ground: _Ground, piece: PatternPiece) -> _Holding | None:
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
) -> _Holding:
    """What works do on one piece, in its own frame."""
    return _Holding(
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


def _closing(ground: _Ground, holding: _Holding) -> Closing | None:
    """What a holding closes, or None where it holds in one row only."""
    early = () if holding.glued else _first_row(holding)
    closers = tuple(work for work in holding.members if work not in early)
    area = _area(holding) if closers else None
    if area is None or area.empty:
        return None
    others = [work for work in ground.works if work not in holding.members]
    shut = tuple(work for work in others if _is_shut(ground, work, holding, area))
    inside = _inside(ground.pattern, holding.pieces, shut, others)
    return Closing(
        pieces=holding.pieces,
        frame=holding.frame,
        low=holding.low,
        high=holding.high,
        area=area,
        early=early,
        closers=closers,
        shut=(*shut, *inside),
        why=holding.why,
    )


def _is_shut(ground: _Ground, work: Work, holding: _Holding, area: Region) -> bool:
    """Whether a work lies in the closed area and does not pass through both that close it."""
    if len(holding.pieces) == 2 and work.passes(*holding.pieces):
        return False
    if work.kind is WorkKind.GLUE:
        inner = work.name in holding.between and work.name not in holding.pieces
        return inner and ground.regions[work.name].common(area).area > TOUCH_MM2
    ways = {name: Affine() if name == holding.frame else ground.ways[name] for name in holding.between}
    return any(
        area.contains(ways[layer.piece].apply(point))
        for layer in work.layers
        if layer.piece in ways
        for point in layer.points
    )


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


def _first_row(holding: _Holding) -> tuple[Work, ...]:
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


def _area(holding: _Holding) -> Region:
    """The closed area: all that is glued, or what the rows hold down."""
    if holding.glued:
        return holding.within
    reach = max(work.reach for work in holding.members) if holding.grows else 0.0
    return held_area([run for runs in holding.runs for run in runs], within=holding.within, reach=reach)
