"""Spacing: equal chords on any path, exact pitch of an iron, and what is refused."""

from __future__ import annotations

from itertools import pairwise
from math import asin, cos, hypot, pi, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.geometry.path import Path, circle, polyline
from handkit.geometry.segment import Segment
from handkit.punch.spacing.dividers import Place, measured_path, reached, stepped
from handkit.punch.spacing.spacing import Spaced, even, spaced, steps_in
from handkit.read.project import Spacing

SEEDED = settings(derandomize=True, deadline=None, max_examples=150)


def chords(stretch: Spaced) -> list[float]:
    return [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(stretch.points)]


def even_on(path: Path, count: int) -> Spaced:
    found = even(measured_path(path), count)
    assert found is not None
    return found


# Side of the regular polygon of n corners in a circle of radius 1: an engineering table and a
# maker's list; 24 also from a published example (3 m, 24 corners: 0.7833 m).
POLYGONS = [
    (3, 1.7321),
    (4, 1.4142),
    (5, 1.1756),
    (6, 1.0000),
    (7, 0.8678),
    (8, 0.7654),
    (12, 0.5176),
    (24, 0.2611),
]


@pytest.mark.parametrize(("corners", "side"), POLYGONS)
def test_holes_round_a_circle_are_the_corners_of_a_regular_polygon(corners: int, side: float) -> None:
    stretch = even_on(circle((5, -7), 30), corners)
    assert stretch.step == pytest.approx(30 * side, abs=30 * 0.00005)
    assert all(chord == pytest.approx(60 * sin(pi / corners), abs=1e-9) for chord in chords(stretch))


def test_the_chord_not_the_arc_is_the_pitch() -> None:
    # 2·R·sin(π/n), any geometry handbook: R = 30, n = 24: 7.8316 where the arc is 7.8540.
    assert round(even_on(circle((0, 0), 30), 24).step, 4) == 7.8316


@pytest.mark.parametrize(
    ("radius", "chord"), [(6, 3.9263), (10, 3.9734), (20, 3.9933), (30, 3.9970), (50, 3.9989)]
)
def test_an_arc_of_4_mm_has_the_tabled_chord(radius: float, chord: float) -> None:
    # Stitch chord against arc, worked out by hand: 2·R·sin(4 / 2R).
    sweep = 4 / radius
    arc = Path((Segment((radius, 0), (radius * cos(sweep), radius * sin(sweep)), tan(sweep / 4)),))
    assert round(even_on(arc, 1).step, 4) == chord


@pytest.mark.parametrize(
    ("length", "pitch", "steps", "step"),
    [
        (203, 4, 51, 3.980),  # common practice: N = round(L/p), p' = L/N, 52 holes
        (200, 4, 50, 4.0),
        (10, 4, 3, 3.333),  # 2.5 steps: halves up (worked out by hand)
        (14, 4, 4, 3.5),  # 3.5 steps: halves up, not to the even number
        (1, 4, 1, 1.0),  # at least one step
        (145, 4, 36, 4.028),
    ],
)
def test_a_straight_stretch_is_divided_evenly(length: float, pitch: float, steps: int, step: float) -> None:
    assert steps_in(length, pitch) == steps
    stretch = spaced(
        measured_path(polyline([(1, 2), (1 + length, 2)])), count=steps, pitch=pitch, spacing=Spacing.EVEN
    )
    assert stretch is not None
    assert len(stretch.points) == steps + 1
    assert round(stretch.step, 3) == step
    assert stretch.points[0] == (1, 2)
    assert stretch.points[-1] == (1 + length, 2)


def test_iron_keeps_its_pitch_but_for_the_last_five() -> None:
    # 203 at 4: 51 steps, 46 of 4 and five of (203 − 184) / 5 = 3.8 (worked out by hand).
    stretch = spaced(measured_path(polyline([(0, 0), (203, 0)])), count=51, pitch=4, spacing=Spacing.IRON)
    assert stretch is not None
    steps = chords(stretch)
    assert steps[:46] == pytest.approx([4.0] * 46, abs=1e-9)
    assert steps[46:] == pytest.approx([3.8] * 5, abs=1e-9)


def test_iron_of_five_steps_or_fewer_is_even() -> None:
    stretch = spaced(measured_path(polyline([(0, 0), (19, 0)])), count=5, pitch=4, spacing=Spacing.IRON)
    assert stretch is not None
    assert chords(stretch) == pytest.approx([3.8] * 5, abs=1e-12)


#     o──────────╮
#     o──────────╯   two legs of 50, half a millimetre round at the turn
HAIRPIN = Path((Segment((0, 0), (50, 0)), Segment((50, 0), (50, 1), 1.0), Segment((50, 1), (0, 1))))


def test_a_hairpin_has_no_odd_number_of_equal_steps() -> None:
    # An odd count would have to step across the turn with both feet at once: the dividers leap.
    assert even(measured_path(HAIRPIN), 25) is None


def test_a_hairpin_may_have_an_even_number() -> None:
    stretch = even_on(HAIRPIN, 26)
    assert chords(stretch) == pytest.approx([stretch.step] * 26, abs=1e-9)
    assert stretch.points[13] == pytest.approx((50.5, 0.5), abs=1e-9)  # one hole on the turn's top


def test_an_iron_without_room_for_its_last_steps_is_refused() -> None:
    line = measured_path(polyline([(0, 0), (20, 0)]))
    assert spaced(line, count=10, pitch=4, spacing=Spacing.IRON) is None


@pytest.mark.parametrize("points", [[(0.0, 0.0)], [(0.0, 0.0), (1.0, 0.0), (0.5, 0.0)]])
def test_holes_that_do_not_go_forwards_are_no_stretch(points: list[tuple[float, float]]) -> None:
    places = tuple(Place(0, x) for x, _ in points)
    with pytest.raises(ValueError, match=r"a hole at either end|holes go forwards"):
        Spaced(places, tuple(points), 1.0)


bends = st.floats(-1.0, 1.0).filter(lambda bulge: bulge == 0 or abs(bulge) > 1e-3)


@st.composite
def smooth_paths(draw: st.DrawFn) -> Path:
    """Lines and arcs that go on as they came, of a radius no dividers of 5 mm could leap over."""
    segments: list[Segment] = []
    at, way = (draw(st.floats(-50, 50)), draw(st.floats(-50, 50))), draw(st.floats(-3, 3))
    for _ in range(draw(st.integers(1, 6))):
        sweep = draw(st.floats(-2.5, 2.5)) if draw(st.booleans()) else 0.0
        radius = draw(st.floats(8, 200))
        length = draw(st.floats(5, 150)) if abs(sweep) < 0.05 else radius * abs(sweep)
        sweep = 0.0 if abs(sweep) < 0.05 else sweep
        chord = 2 * radius * sin(abs(sweep) / 2) if sweep else length
        heading = way + sweep / 2
        end = (at[0] + chord * cos(heading), at[1] + chord * sin(heading))
        segments.append(Segment(at, end, tan(sweep / 4)))
        at, way = end, way + sweep
    return Path(tuple(segments))


@SEEDED
@given(smooth_paths(), st.floats(2.0, 5.0))
def test_all_chords_of_an_even_stretch_are_equal_and_on_the_path(path: Path, pitch: float) -> None:
    count = steps_in(path.length, pitch)
    stretch = even_on(path, count)
    assert chords(stretch) == pytest.approx([stretch.step] * count, abs=1e-9)
    assert stretch.points[0] == path.start
    assert stretch.points[-1] == path.end
    for x, y in stretch.points:
        px, py = path.point_at(path.along_of((x, y)))
        assert hypot(px - x, py - y) < 1e-9


@SEEDED
@given(smooth_paths(), st.floats(2.0, 5.0))
def test_an_iron_keeps_its_exact_pitch_on_any_path(path: Path, pitch: float) -> None:
    count = steps_in(path.length, pitch)
    stretch = spaced(measured_path(path), count=count, pitch=pitch, spacing=Spacing.IRON)
    if stretch is None:  # the chords of tight arcs fall behind their way: no room for five more
        return
    steps = chords(stretch)
    walked = max(count - 5, 0)
    assert steps[:walked] == pytest.approx([pitch] * walked, abs=1e-9)
    assert steps[walked:] == pytest.approx([stretch.step] * (count - walked), abs=1e-9)
    assert stretch.points[-1] == path.end


@SEEDED
@given(smooth_paths(), st.floats(0.5, 7.0), st.integers(1, 80))
def test_no_place_between_two_steps_is_a_chord_away(path: Path, chord: float, count: int) -> None:
    line = measured_path(path)
    places = [Place(0, 0.0), *stepped(line, chord=chord, count=count)]
    for before, after in pairwise(places):
        x, y = line.point(before)
        for k in range(1, 10):
            along = line.along(before) + (line.along(after) - line.along(before)) * k / 10
            if along < path.length:
                px, py = path.point_at(along)
                assert hypot(px - x, py - y) < chord + 1e-9


@SEEDED
@given(smooth_paths(), st.floats(0.5, 7.0), st.integers(1, 200))
def test_the_quick_sum_reaches_the_same_place(path: Path, chord: float, count: int) -> None:
    line = measured_path(path)
    assert reached(line, chord=chord, count=count) == stepped(line, chord=chord, count=count)[-1]


@pytest.mark.parametrize("radius", [1e3, 1e5, 1e7])
def test_a_nearly_straight_arc_keeps_its_chords(radius: float) -> None:
    # A line and an arc of 100 mm that hardly bends: sin and cos of tiny angles must not cancel.
    sweep = 2 * asin(50 / radius)
    arc = Segment((0, 0), (100 * cos(sweep / 2), 100 * sin(sweep / 2)), tan(sweep / 4))
    stretch = even_on(Path((Segment((-50, 0), (0, 0)), arc)), 37)
    assert chords(stretch) == pytest.approx([stretch.step] * 37, abs=1e-9)
