"""Lines and arcs, held to tables and to the circle's formulas."""

from __future__ import annotations

from math import degrees, hypot, pi, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.geometry.affine import Affine
from handkit.geometry.path import circle
from handkit.geometry.segment import Segment, arc_with_sagitta

# r, chord, sagitta, arc, angle in degrees, area beside the chord. Circular segments after a
# mechanical engineering handbook's formulas; chord and sagitta of the first and the sagitta of the
# second row published, the rest worked out by hand.
CIRCULAR_SEGMENTS = [
    (10, 12, 2, 12.8700, 73.7398, 16.3501),
    (15, 20, 3.8197, 21.8918, 83.6206, 52.3853),
]


@pytest.mark.parametrize("row", CIRCULAR_SEGMENTS)
def test_circular_segments(row: tuple[float, ...]) -> None:
    r, chord, sagitta, arc, angle, area = row
    # The table's sagitta has four decimals: its radius is good to 0.0003, its area to 0.001.
    segment = arc_with_sagitta((0, 0), (chord, 0), sagitta)
    assert segment.radius == pytest.approx(r, abs=3e-4)
    assert segment.length == pytest.approx(arc, abs=1e-4)
    assert degrees(segment.sweep) == pytest.approx(angle, abs=2e-3)
    assert segment.area_beside_chord == pytest.approx(area, abs=1e-3)


@pytest.mark.parametrize(
    ("chord", "sagitta", "r"),
    [
        (12, 2, 10),  # published on a sagitta page
        (12, 18, 10),  # the same circle's other side, published there too
        (10, 5, 5),  # a half circle, worked out by hand
    ],
)
def test_radius_from_chord_and_sagitta(chord: float, sagitta: float, r: float) -> None:
    assert arc_with_sagitta((0, 0), (chord, 0), sagitta).radius == pytest.approx(r)


# Chord of the regular polygon, 2·r·sin(π/n) at r = 1: an engineering table and a makers' list.
POLYGON_CHORDS = {3: 1.7321, 4: 1.4142, 5: 1.1756, 6: 1.0, 7: 0.8678, 8: 0.7654, 12: 0.5176, 24: 0.2611}


@pytest.mark.parametrize(("n", "chord"), POLYGON_CHORDS.items())
def test_chords_of_the_regular_polygon(n: int, chord: float) -> None:
    ring = circle((0, 0), 1)
    (x0, y0), (x1, y1) = ring.point_at(0), ring.point_at(ring.length / n)
    # The table rounds 0.51764 and 0.26105 as they should be: within half its last place.
    assert hypot(x1 - x0, y1 - y0) == pytest.approx(chord, abs=5.1e-5)


# Chord of a 4 mm arc on radius R: worked out by hand, 2·R·sin(4/2R).
STITCH_CHORDS = {6: 3.9263, 10: 3.9734, 20: 3.9933, 30: 3.9970, 50: 3.9989}


@pytest.mark.parametrize(("r", "chord"), STITCH_CHORDS.items())
def test_stitch_chord_on_a_curve(r: float, chord: float) -> None:
    arc = Segment((r, 0), (-r, 0), tan(pi / 4)).between(0, 4)
    assert arc.chord == pytest.approx(chord, abs=5e-5)
    assert arc.chord == pytest.approx(2 * r * sin(4 / (2 * r)))


def test_sagitta_is_positive_to_the_right() -> None:
    """The edge of a piece that goes round counter-clockwise bulges outward, away from its body."""
    assert arc_with_sagitta((0, 0), (12, 0), 2).point_at(12.87 / 2)[1] == pytest.approx(-2, abs=1e-6)
    assert arc_with_sagitta((0, 0), (12, 0), -2).point_at(12.87 / 2)[1] == pytest.approx(2, abs=1e-6)


@pytest.mark.parametrize(
    ("bulge", "box"),
    [
        (0.0, (0.0, 0.0, 10.0, 0.0)),
        (1.0, (0.0, -5.0, 10.0, 0.0)),  # a half circle below the chord
        (-1.0, (0.0, 0.0, 10.0, 5.0)),
        (3.0, (-10 / 3, -15.0, 40 / 3, 0.0)),  # r = 25/3, centre 20/3 below: by hand
    ],
)
def test_bounds(bulge: float, box: tuple[float, ...]) -> None:
    assert Segment((0, 0), (10, 0), bulge).bounds() == pytest.approx(box, abs=1e-9)


coordinates = st.floats(-200, 200)
points = st.tuples(coordinates, coordinates)


@st.composite
def segments(draw: st.DrawFn) -> Segment:
    start, (dx, dy) = draw(points), draw(points.filter(lambda d: hypot(*d) > 0.1))
    bulge = draw(st.one_of(st.just(0.0), st.floats(0.001, 5), st.floats(-5, -0.001)))
    return Segment(start, (start[0] + dx, start[1] + dy), bulge)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(segments(), st.floats(0, 1), st.floats(0, 1))
def test_places_on_a_segment(segment: Segment, share: float, other: float) -> None:
    """point_at and along_of are each other's way back; between keeps what lies between."""
    along = share * segment.length
    at = segment.point_at(along)
    assert segment.along_of(at) == pytest.approx(along, abs=1e-6)
    first, last = sorted((share, other))
    if last - first > 1e-3:
        part = segment.between(first * segment.length, last * segment.length)
        assert part.length == pytest.approx((last - first) * segment.length, abs=1e-6)
        middle = segment.point_at((first + last) / 2 * segment.length)
        assert part.point_at(part.length / 2) == pytest.approx(middle, abs=1e-6)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(segments(), st.floats(0, 1))
def test_reversed_and_moved(segment: Segment, share: float) -> None:
    """The way back passes the same places; a mirror image is mirrored everywhere."""
    x, y = segment.point_at(share * segment.length)
    back = segment.reversed().point_at((1 - share) * segment.length)
    assert back == pytest.approx((x, y), abs=1e-6)
    mirrored = segment.moved(Affine.mirror()).point_at(share * segment.length)
    assert mirrored == pytest.approx((-x, y), abs=1e-6)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(segments())
def test_bounds_hold_the_segment(segment: Segment) -> None:
    """No place lies outside the box, and the box is no larger than the finely flattened segment's."""
    left, low, right, high = segment.bounds()
    xs, ys = zip(*segment.flattened(sagitta=1e-4), strict=True)
    assert (left, low, right, high) == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=2e-4)
