"""Crowding: holes of one piece that are one hole, or too near to another.

In: the holes of one piece. Out: its shared holes, and findings. All mm.

Words: a *shared hole* serves two seams, or a seam's start and end. Two others keep their centres
two hole widths apart and 1 mm of leather between them, or they tear into one (common practice).
A slit is taken as a line of its own length, its width in a direction as its projection.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from handkit.findings import Finding, finding
from handkit.kinds.stitch_holes import LEATHER_BETWEEN
from handkit.punch.checks.nearness import near_pairs
from handkit.punch.checks.seam_holes import SeamHole, at_part, of_parts
from handkit.punch.checks.threading import dense, too_dense
from handkit.punch.punched import SharedHole
from handkit.tolerances import COINCIDE, SAME_POINT
from handkit.units import without_noise

# More pairs of rows than this are told by the first of them.
MOST_TOLD = 50


class _Close(msgspec.Struct, frozen=True):
    """Two holes too near to one another, and by how much."""

    first: SeamHole
    second: SeamHole
    apart: float
    allowed: float
    short: float


class _Worst(msgspec.Struct, frozen=True):
    """The worst of the pairs that two rows of holes have too close, and how many they are."""

    pair: _Close
    count: int


def crowding(
    piece: str, holes: Sequence[SeamHole], *, punched: bool = True
) -> tuple[tuple[SharedHole, ...], tuple[Finding, ...]]:
    """The shared holes of a piece, and one finding for each two rows of holes that stand too close.

    Where nothing is `punched`, as in cloth, rows may cross as they like: nothing is cut that could tear.
    """
    width = max((hole.seam.stitching.hole.width for hole in holes), default=0.0)
    reach = max(2 * width, width + LEATHER_BETWEEN)
    leader: dict[int, int] = {}
    close: dict[tuple[tuple[int, int], tuple[int, int]], _Worst] = {}
    for i, j, apart in near_pairs([hole.at for hole in holes], within=reach):
        first, second = holes[i], holes[j]
        if apart <= COINCIDE and _may_share(first, second):
            leader.setdefault(j, leader.get(i, i))
            continue
        if not punched and first.row != second.row:
            continue
        pair = _weighed(first, second, apart)
        if pair.short > SAME_POINT:
            rows = (first.row, second.row)
            close[rows] = _worse(close.get(rows), pair)
            if len(close) > MOST_TOLD:  # a heap of lines on one another; the rest says the same
                break
    return _shared(piece, holes, leader), tuple(_telling(piece, worst) for worst in close.values())


def _worse(worst: _Worst | None, pair: _Close) -> _Worst:
    """The worst so far, the first of equals: a million pairs are counted, and none but it is kept."""
    if worst is None:
        return _Worst(pair, 1)
    further = without_noise(pair.short) > without_noise(worst.pair.short)
    return _Worst(pair if further else worst.pair, worst.count + 1)


def _may_share(first: SeamHole, second: SeamHole) -> bool:
    """Two seams, or the first and the last hole of one run."""
    if first.order != second.order:
        return True
    ends = {first.hole.number, second.hole.number} == {1, first.seam.count}
    return first.row == second.row and ends and first.seam.count > 2


def _shared(piece: str, holes: Sequence[SeamHole], leader: dict[int, int]) -> tuple[SharedHole, ...]:
    groups: dict[int, list[int]] = {}
    for member in sorted(leader):
        groups.setdefault(leader[member], [leader[member]]).append(member)
    return tuple(
        SharedHole(
            piece,
            holes[first].at,
            tuple((e.seam.name, e.layer.run, e.hole.number) for e in (holes[k] for k in members)),
        )
        for first, members in sorted(groups.items())
    )


def _weighed(first: SeamHole, second: SeamHole, apart: float) -> _Close:
    """What two holes lack: of twice their width in each other's direction, or of leather between."""
    allowed = first.width_towards(second.at) + second.width_towards(first.at)
    leather = first.shape.gap(second.shape)
    return _Close(first, second, apart, allowed, max(allowed - apart, LEATHER_BETWEEN - leather))


def _telling(piece: str, close: _Worst) -> Finding:
    worst, first, second = close.pair, close.pair.first, close.pair.second
    parts = tuple(dict.fromkeys(each.seam.pattern.seam.part for each in (first, second)))
    if len(parts) > 1:
        return _of_parts(piece, close, parts)
    key, paths = _key(first, second, worst.apart), sorted({first.seam.source.path, second.seam.source.path})
    how = first.seam.stitching
    if key == "holes-too-close/pitch" and how.pitch < how.least_step - SAME_POINT:
        return too_dense(first.seam).following(*paths).at_holes(first.seam.name)
    told = finding(
        key,
        second.run.source.at(),
        first=first.text,
        second=second.text,
        apart=worst.apart,
        piece=piece,
        count=close.count,
        least=worst.allowed,
        leather=LEATHER_BETWEEN,
    )
    for each in (first, second):
        told = told.at_holes(each.seam.name, [each.hole.number], piece)
    alike = f"{key} of {' and '.join(paths)}"  # on every piece that the rows go through
    return told.once(alike).following(*paths, dense(first.seam), dense(second.seam))


def _of_parts(piece: str, close: _Worst, parts: Sequence[str | None]) -> Finding:
    """Rows of two parts, or of a part and a seam of the file, that stand too close."""
    worst, one, other = close.pair, close.pair.first, close.pair.second
    drafted, beside = (one, other) if one.seam.pattern.seam.part else (other, one)
    told: dict[str, object] = {
        "part": drafted.seam.pattern.seam.part,
        "apart": worst.apart,
        "piece": piece,
        "count": close.count,
        "least": worst.allowed,
        "leather": LEATHER_BETWEEN,
        "by": drafted.seam.source.units.length.no_less(worst.short),
    }
    where = at_part(drafted.seam)
    if None in parts:
        seam = beside.seam.name
        fault = finding("holes-too-close/part", where, **told, seam=seam).once(f"{parts} beside {seam}")
    else:
        name = beside.seam.pattern.seam.part
        fault = finding("holes-too-close/parts", where, **told, other=name).once(of_parts(*parts))
    seams = (one.seam, other.seam)
    return fault.following(*(each.source.path for each in seams), *map(dense, seams))


def _key(first: SeamHole, second: SeamHole, apart: float) -> str:
    """Which row tells of two holes, by what they are to one another."""
    if first.order != second.order:
        return "holes-too-close/seams"
    if first.row != second.row:
        return "holes-too-close/same-place" if apart <= COINCIDE else "holes-too-close/layers"
    steps = second.hole.number - first.hole.number
    if steps > 1 and not (first.seam.closed and steps == first.seam.count - 1):
        return "holes-too-close/line"
    if first.hole.corner and second.hole.corner:
        return "holes-too-close/corners"
    return "holes-too-close/pitch"
