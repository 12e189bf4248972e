"""How quick the spacing is, against a floor measured in the same run; loose, so that it never flakes.

The floor is plain interpolation: as many points put along the flattened line by cumulative length.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from itertools import accumulate, pairwise
from math import hypot, pi, tan
from time import process_time

from handkit.geometry.path import Path
from handkit.geometry.segment import Segment
from handkit.punch.checks.nearness import near_pairs
from handkit.punch.spacing.dividers import measured_path
from handkit.punch.spacing.spacing import even
from handkit.tolerances import SAGITTA

HOLES = 10_000


def best_of(call: Callable[[], object], *, times: int = 5) -> float:
    """Least processor time of a few calls, in seconds."""
    spent: list[float] = []
    for _ in range(times):
        start = process_time()
        call()
        spent.append(process_time() - start)
    return max(min(spent), 1e-6)


def racetrack() -> Path:
    """Two straights and two half turns, 40 m and more: 10,000 holes of about 4 mm."""
    r, straight = 3000.0, 11_000.0
    quarter = tan(pi / 8)
    return Path(
        (
            Segment((0, 0), (straight, 0)),
            Segment((straight, 0), (straight + r, r), quarter),
            Segment((straight + r, r), (straight, 2 * r), quarter),
            Segment((straight, 2 * r), (0, 2 * r)),
            Segment((0, 2 * r), (-r, r), quarter),
            Segment((-r, r), (0, 0), quarter),
        ),
        closed=True,
    )


def interpolated(path: Path) -> list[tuple[float, float]]:
    """The floor: points at equal distances along the flattened line."""
    points = [*path.flattened(sagitta=SAGITTA), path.start]
    along = [0.0, *accumulate(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))]
    found: list[tuple[float, float]] = []
    for k in range(HOLES):
        at = along[-1] * k / HOLES
        index = bisect_right(along, at) - 1
        (x0, y0), (x1, y1) = points[index], points[index + 1]
        share = (at - along[index]) / (along[index + 1] - along[index])
        found.append((x0 + (x1 - x0) * share, y0 + (y1 - y0) * share))
    return found


def test_equal_chords_cost_little_more_than_interpolation() -> None:
    # Measured: about 3 times the floor, search and all; bisection along the way is 40 times and more.
    path = racetrack()
    line = measured_path(path)
    stretch = even(line, HOLES)
    assert stretch is not None
    assert len(stretch.points) == HOLES + 1
    assert best_of(lambda: even(line, HOLES)) < 25 * best_of(lambda: interpolated(path))


def test_looking_for_near_holes_grows_with_their_number_not_its_square() -> None:
    # Ten times the holes: 10 times the time where cells are used, 100 times where all pairs are tried.
    def holes(count: int) -> list[tuple[float, float]]:
        return [(4.0 * (k % 100), 4.0 * (k // 100)) for k in range(count)]

    few, many = holes(HOLES // 10), holes(HOLES)
    small = best_of(lambda: list(near_pairs(few, within=5.0)))
    large = best_of(lambda: list(near_pairs(many, within=5.0)), times=3)
    assert large < 45 * small
