"""Parallels of lines and arcs, held to closed formulas and to a clipping library of its own kind."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, radians, sin, sqrt, tan

import pyclipper
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from handkit.geometry.fillet import fillet, fillet_fits
from handkit.geometry.intersect import first_crossing
from handkit.geometry.joint import Outer
from handkit.geometry.largest import largest_fitting
from handkit.geometry.offset import OffsetSegment, parallel_ring, parallel_run, stations_before
from handkit.geometry.path import Path, circle, polyline
from handkit.geometry.segment import Segment, arc_with_sagitta
from handkit.geometry.straight import distance

Ring = tuple[Segment, ...]


def ring_of(*points: tuple[float, float]) -> Ring:
    return polyline(points, closed=True).segments


def beside(ring: Ring, by: float, *, outer: Outer = Outer.ROUND) -> Path | None:
    bits = parallel_ring(ring, [by] * len(ring), outer=outer)
    return None if bits is None else path_of(bits, closed=True)


def path_of(bits: tuple[OffsetSegment, ...], *, closed: bool = False) -> Path:
    return Path(tuple(bit.segment for bit in bits), closed=closed)


def found(path: Path | None) -> Path:
    assert path is not None
    return path


SQUARE = ring_of((0, 0), (100, 0), (100, 60), (0, 60))
#   D---C        An L: its inside corner is D.
#   |   |
#   E   '---B    (drawn with A at the lower left)
ELL = ring_of((0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100))


def test_a_rectangle() -> None:
    """Worked out by hand: 92 × 52."""
    line = found(beside(SQUARE, 4))
    assert line.length == pytest.approx(2 * (92 + 52))
    assert line.signed_area() == pytest.approx(92 * 52)
    assert line.start == pytest.approx((4, 4))


def test_an_inside_corner_is_rounded() -> None:
    """An arc of the inset's radius about the corner, so that no place is farther than the inset."""
    line = found(beside(ELL, 4))
    assert line.length == pytest.approx(2 * 92 + 2 * 32 + 2 * 56 + 2 * pi)
    arcs = [segment for segment in line.segments if segment.bulge]
    assert [(arc.centre, arc.radius) for arc in arcs] == [(pytest.approx((40, 40)), pytest.approx(4))]


def test_outside_it_is_rounded_or_sharp() -> None:
    """Steiner's formula, area + perimeter·d + π·d², any geometry handbook; or a larger rectangle."""
    assert found(beside(SQUARE, -2)).signed_area() == pytest.approx(6000 + 320 * 2 + pi * 4)
    assert found(beside(SQUARE, -2, outer=Outer.SHARP)).signed_area() == pytest.approx(104 * 64)


def test_a_needle_is_rounded_even_where_sharp_is_asked() -> None:
    """A mitre of a narrow corner would run far off."""
    needle = ring_of((0, 0), (100, -5), (100, 5))
    left, _, right, _ = found(beside(needle, -2, outer=Outer.SHARP)).bounds()
    assert (left, right) == (pytest.approx(-2), pytest.approx(102))


def test_a_circle() -> None:
    line = found(beside(circle((3, 4), 30).segments, 4))
    assert line.length == pytest.approx(2 * pi * 26)
    assert beside(circle((3, 4), 4).segments, 4) is None


def rounded(ring: Ring, radius: float) -> Ring:
    """Every corner of a ring rounded; none where a radius has no room."""
    count = len(ring)
    arcs = [fillet(ring[k - 1], ring[k], radius) for k in range(count)]
    bits: list[Segment] = []
    for k, segment in enumerate(ring):
        first, last = arcs[k], arcs[(k + 1) % count]
        if first is None or last is None or not fillet_fits(segment.length, first, last):
            return ()
        if last.last - first.first > 1e-6:
            bits.append(segment.between(first.first, last.last))
        bits.append(last.arc)
    return tuple(bits)


def test_rounded_corners_keep_their_centres() -> None:
    """Inset from R 12 to R 8; worked out by hand."""
    line = found(beside(rounded(SQUARE, 12), 4))
    assert line.length == pytest.approx(2 * (76 + 36) + 2 * pi * 8)


@pytest.mark.parametrize("radius", [4.0, 3.0, 0.5])
def test_small_radii_vanish(radius: float) -> None:
    """Their neighbours meet in the corner of the rectangle."""
    line = found(beside(rounded(SQUARE, radius), 4))
    assert line.length == pytest.approx(2 * (92 + 52))


def test_a_chamfer_vanishes_as_an_arc_does() -> None:
    """A corner cut off by 1.5 mm: the parallels of its neighbours meet in (4, 4)."""
    cut = ring_of((1.5, 0), (100, 0), (100, 60), (0, 60), (0, 1.5))
    line = found(beside(cut, 4))
    assert line.signed_area() == pytest.approx(92 * 52)


def test_stations_of_corners() -> None:
    """How far along a corner's place is, also where its edge vanished or an arc rounds it."""
    bits = parallel_ring(ELL, [4.0] * 6)
    assert bits is not None
    assert [round(along, 3) for along in stations_before(bits, range(4))] == [0, 92, 124, 180 + round(pi, 3)]
    cut = parallel_ring(ring_of((0, 0), (100, 0), (100, 58.5), (98.5, 60), (0, 60)), [4.0] * 5)
    assert cut is not None
    assert [round(along, 3) for along in stations_before(cut, range(5))] == [0, 92, 144, 144, 236]


#    |        |          a slot 6 wide and 20 deep: too narrow for its own parallel at 4
#    '--.  .--'
NECK = ring_of((0, 0), (100, 0), (100, 60), (53, 60), (53, 30), (47, 30), (47, 60), (0, 60))
DUMBBELL = ring_of(
    (0, 0), (40, 0), (40, 17), (60, 17), (60, 0), (100, 0), (100, 40), (60, 40), (60, 23), (40, 23),
    (40, 40), (0, 40),
)  # fmt: skip


@pytest.mark.parametrize(
    ("ring", "by", "fits"),
    [
        (SQUARE, 30, 29.9),  # nothing is left at half the height
        (DUMBBELL, 4, 2.9),  # the neck is 6 wide
        (ring_of((0, 0), (10, 0), (10, 6), (0, 6)), 40, 2.9),
        (ring_of((0, 0), (30, 0), (0, 40)), 12, 9.9),  # the inscribed circle of 30-40-50 has radius 10
    ],
)
def test_what_does_not_fit_has_none(ring: Ring, by: float, fits: float) -> None:
    assert beside(ring, by) is None
    assert largest_fitting(by, lambda inset: beside(ring, inset) is not None) == fits
    assert beside(ring, fits + 0.05) is not None


def test_a_slot_is_passed_on_both_sides() -> None:
    """Outward from a slot's point of view there is room for any inset: 4 on either side of it."""
    line = found(beside(NECK, 4))
    # Straight parts 92 + 52 + 2 · (39 + 26) + 6 and two quarter circles about the slot's corners.
    assert line.length == pytest.approx(92 + 2 * 52 + 2 * (39 + 26) + 6 + 2 * (pi / 2 * 4))


def test_a_tall_arc_beside_inside_corners_does_not_vanish_wrongly() -> None:
    """Round an inside corner the parallel is an arc; neighbours of a vanished arc would not meet."""
    ring = (
        Segment((0, 0), (50, 0)), Segment((50, 0), (50, 20)), Segment((50, 20), (30, 20)),
        arc_with_sagitta((30, 20), (20, 20), 8), Segment((20, 20), (0, 20)), Segment((0, 20), (0, 0)),
    )  # fmt: skip
    assert beside(ring, 4.5) is not None  # the knob's radius is 5.5625
    assert beside(ring, 5.6) is None


# Found by trying: shapes where parts vanish beside inside corners. Their insets are worked out by
# the clipping library alone; a parallel that is not exact is worse than none.
SWALLOWED = [
    (
        [(14.27, -17.65), (-5.53, -24.84), (-27.24, -11.91), (-22.27, 15.42), (-5.54, 13.72),
         (15.09, 16.61), (21.8, -0.98)],
        {6: 10.45944715031063},
        10.0,
    ),
    (
        [(9.42, -11.79), (2.35, -10.64), (-5.44, -10.4), (-10.9, -2.87), (-21.62, 3.3),
         (-4.93, 10.11), (0.23, 22.9), (10.82, 9.78), (21.44, -0.83)],
        {},
        7.0,
    ),
]  # fmt: skip


@pytest.mark.parametrize(("points", "sagittas", "inset"), SWALLOWED)
def test_what_is_not_exact_is_refused(
    points: list[tuple[float, float]], sagittas: dict[int, float], inset: float
) -> None:
    ring = tuple(
        arc_with_sagitta(a, b, -sagittas[k]) if k in sagittas else Segment(a, b)
        for k, (a, b) in enumerate(pairwise([*points, points[0]]))
    )
    assert beside(ring, -inset) is None


def test_what_is_not_exact_is_refused_for_a_run_too() -> None:
    """The first shape's arc with its neighbours, ended by theirs."""
    points, sagittas, inset = SWALLOWED[0]
    ring = [Segment(a, b) for a, b in pairwise([*points, points[0]])]
    ring[6] = arc_with_sagitta(points[6], points[0], -sagittas[6])
    row = [ring[5], ring[6], ring[0]]
    assert parallel_run(row, -inset, before=[ring[4]], after=[ring[1]]) is None
    assert parallel_run(row, -4.0, before=[ring[4]], after=[ring[1]]) is not None


class TestRuns:
    """Parallels of part of an outline: only the neighbours count."""

    def run(self, ring: Ring, first: int, count: int, by: float) -> tuple[OffsetSegment, ...] | None:
        n = len(ring)
        row = [ring[(first + k) % n] for k in range(count)]
        return parallel_run(row, by, before=[ring[first - 1]], after=[ring[(first + count) % n]])

    def test_ends_at_the_inset_from_the_neighbours(self) -> None:
        bits = self.run(SQUARE, 3, 3, 4)
        assert bits is not None
        line = path_of(bits)
        assert (line.start, line.end) == (pytest.approx((4, 56)), pytest.approx((96, 56)))
        assert line.length == pytest.approx(52 + 92 + 52)

    def test_at_an_inside_corner_it_ends_beside_it(self) -> None:
        bits = self.run(ELL, 2, 1, 4)
        assert bits is not None
        assert path_of(bits).end == pytest.approx((40, 36))

    def test_a_narrow_tab_along_one_edge(self) -> None:
        tab = ring_of((0, 0), (60, 0), (60, 6), (0, 6))
        bits = self.run(tab, 0, 1, 4)
        assert bits is not None
        assert (path_of(bits).start, path_of(bits).end) == (pytest.approx((4, 4)), pytest.approx((56, 4)))
        assert self.run(tab, 0, 2, 4) is None  # round its end there is no room

    def test_slanted_neighbours(self) -> None:
        """At 60 degrees the neighbour's parallel is met at 4/sin 60 + 4/tan 60: by hand."""
        slanted = ring_of((0, 0), (100, 0), (100 - 40 / sqrt(3), 40), (40 / sqrt(3), 40))
        bits = self.run(slanted, 0, 1, 4)
        assert bits is not None
        start = 4 / sqrt(0.75) + 4 / tan(radians(60))
        assert path_of(bits).start == pytest.approx((start, 4))

    def test_too_short_an_edge(self) -> None:
        assert self.run(ring_of((0, 0), (7, 0), (7, 60), (0, 60)), 0, 1, 4) is None


# Random outlines: stars whose corners may be notches, edges that may be arcs, corners rounded.
@st.composite
def outlines(draw: st.DrawFn) -> Ring:
    count = draw(st.integers(3, 9))
    size = draw(st.integers(25, 120))
    points = []
    for k in range(count):
        turn = 2 * pi * (k + draw(st.floats(-0.3, 0.3))) / count
        reach = size * draw(st.floats(0.45, 1.2))
        points.append((round(reach * cos(turn), 2), round(reach * sin(turn), 2)))
    ends = [*points, points[0]]
    assume(all(distance(a, b) > 1 for a, b in pairwise(ends)))
    sagittas = [draw(st.sampled_from([0.0, 0.0, 3.0, -3.0, 11.0, -8.0])) for _ in points]
    ring = tuple(
        arc_with_sagitta(a, b, s) if s else Segment(a, b)
        for (a, b), s in zip(pairwise(ends), sagittas, strict=True)
    )
    if draw(st.booleans()):
        ring = rounded(ring, draw(st.sampled_from([1.0, 2.0, 4.0, 6.0, 12.0])))
    assume(ring and first_crossing(ring, closed=True) is None)
    assume(Path(ring, closed=True).signed_area() > 0)
    return ring


SCALE = 1e5  # the clipping library counts in whole numbers: 0.01 µm here


def clipped(ring: Ring, inset: float) -> list[list[tuple[float, float]]]:
    """The region's edge after insetting by pyclipper, which works on flattened outlines."""
    flat = Path(ring, closed=True).flattened(sagitta=0.0005)
    offset = pyclipper.PyclipperOffset(2.0, 0.0005 * SCALE)
    whole = [(round(x * SCALE), round(y * SCALE)) for x, y in flat]
    offset.AddPath(whole, pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    return [[(x / SCALE, y / SCALE) for x, y in part] for part in offset.Execute(-inset * SCALE)]


def area_of(points: list[tuple[float, float]]) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, [*points[1:], points[0]], strict=True)) / 2


@settings(derandomize=True, deadline=None, max_examples=100)
@given(outlines(), st.sampled_from([2.0, 4.0, 7.0]))
def test_as_a_clipping_library_has_it(ring: Ring, inset: float) -> None:
    """Area and length of the inset outline, and every vertex of the library's lies on ours."""
    line = beside(ring, inset)
    assume(line is not None)
    line = found(line)
    parts = clipped(ring, inset)
    assert len(parts) == 1
    assert line.signed_area() == pytest.approx(area_of(parts[0]), abs=0.001 * line.length)
    ends = [*parts[0], parts[0][0]]
    assert line.length == pytest.approx(sum(distance(a, b) for a, b in pairwise(ends)), abs=0.05)
    for at in parts[0][:: max(1, len(parts[0]) // 40)]:
        near = line.point_at(line.along_of(at))
        assert hypot(near[0] - at[0], near[1] - at[1]) < 0.002


@settings(derandomize=True, deadline=None, max_examples=100)
@given(outlines(), st.sampled_from([1.0, 3.0, 5.0]))
def test_every_place_is_the_inset_from_the_outline(ring: Ring, inset: float) -> None:
    """Exactly, on lines and arcs: to a millionth of a mm."""
    line = beside(ring, inset)
    assume(line is not None)
    line = found(line)
    outline = Path(ring, closed=True)
    for k in range(60):
        at = line.point_at(line.length * k / 60)
        assert distance(outline.point_at(outline.along_of(at)), at) == pytest.approx(inset, abs=2e-6)


def test_most_random_outlines_have_a_parallel() -> None:
    """The properties above are about something: few outlines of the same kind are refused."""
    seen: list[bool] = []

    @settings(derandomize=True, deadline=None, max_examples=100)
    @given(outlines())
    def count(ring: Ring) -> None:
        seen.append(beside(ring, 3.0) is not None)

    count()
    assert sum(seen) > 0.9 * len(seen) > 80
