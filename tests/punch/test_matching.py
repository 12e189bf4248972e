"""Matching: counts, fixed holes, ease."""

from __future__ import annotations

from itertools import pairwise
from math import hypot
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.draft.pattern import PatternSeam
from handkit.errors import ProjectError
from handkit.geometry.path import Path, polyline
from handkit.kinds.materials import Material
from handkit.messages.message import Severity
from handkit.punch.puncher import punch
from handkit.punch.spacing.matching import Matched, matched
from handkit.read.project import RoundHole, Spacing

SEEDED = settings(derandomize=True, deadline=None, max_examples=150)


def straight(length: float, *, x: float = 4.0) -> Path:
    return polyline([(x, 4.0), (x, 4.0 + length)])


def bent(*bits: float) -> Path:
    """Up, right, up, right … with a right angle after each bit."""
    points = [(0.0, 0.0)]
    for k, bit in enumerate(bits):
        x, y = points[-1]
        points.append((x, y + bit) if k % 2 == 0 else (x + bit, y))
    return polyline(points)


def fixed(seam: PatternSeam) -> Matched:
    found, findings = matched(seam)
    assert found is not None, findings
    return found


def test_the_first_run_sets_the_counts(bench: Any) -> None:
    # 151.3 on 150.0 at 4 mm: 38 steps (37.8, halves up), 3.982 and 3.947 (worked out by hand).
    slanted = bench.seam("side", bench.run("front", straight(151.3)), bench.run("back", straight(150.0)))
    assert fixed(slanted).counts == (38,)
    other = bench.seam("side", bench.run("back", straight(148.0)), bench.run("front", straight(151.3)))
    assert fixed(other).counts == (37,)


# Round holes of 1.6 mm: two stand at least 3.2 apart (twice the hole), steps of 4 mm wanted. By hand.
SHORT_STRETCHES = [
    (5.9, 1),
    (6.0, 1),  # 1.5 steps, halves up: two of 3 mm would tear into one
    (6.39, 1),
    (6.4, 2),
    (10.0, 3),  # three of 3.33
]


@pytest.mark.parametrize(("length", "steps"), SHORT_STRETCHES)
def test_a_short_stretch_takes_fewer_steps_where_holes_would_be_too_close(
    bench: Any, length: float, steps: int
) -> None:
    seam = bench.seam("U", bench.run("front", bent(40, length, 40)), pitch=4.0, hole=RoundHole(1.6))
    assert fixed(seam).counts == (10, steps, 10)


def test_a_pitch_that_is_too_short_itself_is_left_to_be_told(bench: Any) -> None:
    """2 mm for holes of 1.6: the maker is to choose, no steps are made longer in silence."""
    seam = bench.seam("U", bench.run("front", straight(100)), pitch=2.0, hole=RoundHole(1.6))
    assert fixed(seam).counts == (50,)


def test_corners_are_paired_in_order_where_runs_have_equally_many(bench: Any) -> None:
    seam = bench.seam("U", bench.run("front", bent(40, 60, 40)), bench.run("back", bent(41, 58, 42)))
    found = fixed(seam)
    assert found.fixed == ((0, 40, 100, 140), (0, 41, 99, 141))
    assert found.counts == (10, 15, 10)


def test_a_corner_of_one_run_fixes_its_mate_at_the_same_share(bench: Any) -> None:
    seam = bench.seam("U", bench.run("front", bent(30, 60, 30)), bench.run("gusset", straight(121)))
    found = fixed(seam)
    assert found.fixed[0] == (0, 30, 90, 120)
    assert found.fixed[1] == pytest.approx((0, 121 / 4, 121 * 3 / 4, 121))


def test_a_corner_of_a_later_run_fixes_the_first(bench: Any) -> None:
    seam = bench.seam("U", bench.run("gusset", straight(121)), bench.run("front", bent(30, 60, 30)))
    found = fixed(seam)
    assert found.fixed[0] == pytest.approx((0, 121 / 4, 121 * 3 / 4, 121))
    assert found.counts == (8, 15, 8)  # 7.6, 15.1 and 7.6 steps, to the nearest


def test_unlike_numbers_of_corners_fix_each_other_by_share(bench: Any) -> None:
    # One corner at a half against two at a quarter and three quarters: three fixed holes on both.
    seam = bench.seam("Z", bench.run("front", bent(60, 60)), bench.run("back", bent(30, 60, 30)))
    found = fixed(seam)
    assert found.fixed[0] == pytest.approx((0, 30, 60, 90, 120))
    assert found.fixed[1] == pytest.approx((0, 30, 60, 90, 120))


def test_corners_less_than_half_a_pitch_apart_are_one_hole(bench: Any) -> None:
    # Two corners against three, of which two stand at the same shares.
    seam = bench.seam("Z", bench.run("front", bent(30, 60, 30)), bench.run("back", bent(30.5, 30, 30, 30)))
    found = fixed(seam)
    assert found.fixed[1] == pytest.approx((0, 30.5, 60.5, 90.5, 120.5))
    assert found.fixed[0] == pytest.approx((0, 30, 60, 90, 120))


def test_a_match_point_fixes_all_runs(bench: Any) -> None:
    seam = bench.seam(
        "side",
        bench.run("front", straight(150), meets=[50.0]),
        bench.run("back", straight(151), meets=[48.0]),
    )
    assert fixed(seam).fixed == ((0, 50, 150), (0, 48, 151))
    assert fixed(seam).counts == (13, 25)


def test_a_match_point_without_a_place_on_a_run_is_fixed_there_by_share(bench: Any) -> None:
    seam = bench.seam(
        "side",
        bench.run("front", straight(150), meets=[50.0]),
        bench.run("back", straight(153), meets=[51.0]),
        bench.run("lining", straight(156), meets=[None]),
    )
    assert fixed(seam).fixed[2] == pytest.approx((0, 52, 156))


def test_a_match_point_names_the_mate_of_a_corner(bench: Any) -> None:
    seam = bench.seam(
        "U",
        bench.run("front", bent(30, 90), meets=[30.0]),
        bench.run("gusset", straight(120), meets=[40.0]),
    )
    assert fixed(seam).fixed == ((0, 30, 120), (0, 40, 120))


def test_match_points_that_cross_are_refused(bench: Any) -> None:
    seam = bench.seam(
        "side",
        bench.run("front", straight(150), meets=[50.0, 100.0]),
        bench.run("back", straight(150), meets=[90.0, 60.0]),
    )
    found, findings = matched(seam)
    assert found is None
    assert [str(finding) for finding in findings] == [
        'bag.toml:30: error: seam "side": match: found match point 2 lies between other fixed holes on '
        "one run than on another; allowed: match points in the same order along every run; move the "
        "point, begin a closed run at another letter, or write a run's letters the other way "
        "[match-points-cross]"
    ]


def test_corners_that_would_cross_over_are_refused(bench: Any) -> None:
    # The single corners of the first and third run are one pair, and the second run's two lie between.
    seam = bench.seam(
        "s",
        bench.run("front", bent(10, 90)),
        bench.run("gusset", bent(20, 10, 70)),
        bench.run("back", bent(80, 20), text="left"),
    )
    found, findings = matched(seam)
    assert found is None
    assert [str(finding) for finding in findings] == [
        'bag.toml:30: error: seam "s": match: found corners of "back: left" that lie in another order than '
        "those they would meet; allowed: corners in the same order on all runs; say which places meet: "
        'match = [["B", [30, 20]], …] [corners-cross]'
    ]


def test_a_closed_run_starts_anew_at_each_corner(bench: Any) -> None:
    seam = bench.seam("patch", bench.run("patch", bench.rectangle(52, 32)))
    found = fixed(seam)
    assert found.fixed == ((0, 52, 84, 136, 168),)
    assert found.counts == (13, 8, 13, 8)
    assert found.steps == 42


def test_more_steps_than_anyone_sews_are_refused(bench: Any) -> None:
    found, findings = matched(bench.seam("s", bench.run("p", straight(100)), pitch=0.001))
    assert found is None
    assert [str(finding) for finding in findings] == [
        'bag.toml:30: error: seam "s": pitch: found 100000 steps at a pitch of 0.001 mm; allowed: '
        "at most 50000 on one run; make the pitch larger [too-many-holes]"
    ]


def test_a_round_seam_of_two_steps_is_refused(bench: Any) -> None:
    ring = bench.rounded(10, 10, 4)
    found, findings = matched(bench.seam("ring", bench.run("p", ring), pitch=16.0))
    assert found is None
    assert [str(finding) for finding in findings] == [
        'bag.toml:30: error: seam "ring": pitch: found 2 steps round at a pitch of 16 mm; allowed: '
        "at least 3; make the pitch smaller or the seam longer [closed-seam-too-short]"
    ]


# Ease by material: silent, note, warning, error (common practice, no source); the first is the slanted
# pocket, side 151.3 on 150.0: 0.9 %.
EASES = [
    (Material.FIRM_LEATHER, 151.3, None),
    (Material.FIRM_LEATHER, 151.5, None),
    (Material.FIRM_LEATHER, 151.6, Severity.NOTE),
    (Material.FIRM_LEATHER, 154.5, Severity.NOTE),
    (Material.FIRM_LEATHER, 154.6, Severity.WARNING),
    (Material.FIRM_LEATHER, 157.5, Severity.WARNING),
    (Material.FIRM_LEATHER, 157.6, Severity.ERROR),
    (Material.SOFT_LEATHER, 153.0, None),
    (Material.SOFT_LEATHER, 153.1, Severity.NOTE),
    (Material.FELT, 157.5, Severity.NOTE),
    (Material.FELT, 157.6, Severity.WARNING),
    (Material.CANVAS, 162.0, Severity.WARNING),
    (Material.CANVAS, 162.1, Severity.ERROR),
]


@pytest.mark.parametrize(("material", "long", "severity"), EASES)
def test_ease_by_material(bench: Any, material: Material, long: float, severity: Severity | None) -> None:
    pieces = [bench.piece(n, bench.rectangle(60, 180), material=material) for n in ("front", "back")]
    seam = bench.seam("side", bench.run("front", straight(long)), bench.run("back", straight(150)))
    try:
        findings = punch(bench.pattern(pieces, [seam])).findings
    except ProjectError as error:
        findings = error.findings
    assert [finding.severity for finding in findings] == ([severity] if severity else [])


def test_unlike_materials_keep_the_stricter_limits(bench: Any) -> None:
    pieces = [
        bench.piece("front", bench.rectangle(60, 180), material=Material.FELT),
        bench.piece("back", bench.rectangle(60, 180)),
    ]
    seam = bench.seam("side", bench.run("front", straight(153)), bench.run("back", straight(150)))
    assert [f.code for f in punch(bench.pattern(pieces, [seam])).findings] == ["ease-noted"]


def ease_text(bench: Any, long: Path, short: Path, **more: object) -> list[str]:
    pieces = [bench.piece(n, bench.rectangle(200, 200)) for n in ("front", "back")]
    shift = [bench.run("front", long, text="D-A"), bench.run("back", short, text="left")]
    try:
        return [str(f) for f in punch(bench.pattern(pieces, [bench.seam("side", *shift, **more)])).findings]
    except ProjectError as error:
        return [str(f) for f in error.findings]


def test_what_ease_says(bench: Any) -> None:
    head = 'bag.toml:20: {}: run "front: D-A": found '
    tail = "; allowed: up to 1.0 % (1.5 mm), with care up to 5.0 % (7.5 mm)"
    assert ease_text(bench, straight(153), straight(150)) == [
        head.format("note") + '153 mm along "front: D-A" (pitch 4.026 mm) on 150 mm along '
        '"back: left" (pitch 3.947 mm), 3 mm or 2.0 % of ease, from hole 1 to 39' + tail + " [ease-noted]"
    ]
    assert ease_text(bench, straight(156), straight(150)) == [
        head.format("warning") + '156 mm along "front: D-A" (pitch 4 mm) on 150 mm along '
        '"back: left" (pitch 3.846 mm), 6 mm or 4.0 % of ease, from hole 1 to 40'
        + tail
        + "; make the lines more alike, or try it on scrap first [ease-large]"
    ]
    assert ease_text(bench, straight(160), straight(150)) == [
        head.format("error") + '160 mm along "front: D-A" (pitch 4 mm) on 150 mm along '
        '"back: left" (pitch 3.75 mm), 10 mm or 6.7 % of ease, from hole 1 to 41'
        + tail
        + "; make the lines more alike, or say bowed = true where it is meant [ease-too-large]"
    ]


def test_a_bowed_seam_has_no_limit_but_its_figures(bench: Any) -> None:
    assert ease_text(bench, straight(180), straight(150), bowed=True) == [
        'bag.toml:30: note: seam "side": bowed: found 20.0 % of ease, meant: 180 mm along "front: D-A" '
        '(pitch 4 mm) on 150 mm along "back: left" (pitch 3.333 mm) [ease-meant]'
    ]


def test_ease_is_weighed_stretch_by_stretch(bench: Any) -> None:
    # The whole is alike, 100 on 100, but a corner sits at 50 on one run and at 48 on the other.
    moved = [polyline([(9, 9), (9, 59), (59, 59)]), polyline([(9, 9), (9, 57), (61, 57)])]
    found = ease_text(bench, *moved)
    assert [text.split(" of ease")[0].split("), ")[1] for text in found] == ["2 mm or 4.2 %"]
    assert "; and 1 more" in found[0]


def test_an_iron_whose_last_steps_are_no_steps_is_refused(bench: Any) -> None:
    found = ease_text(bench, straight(180), straight(150), bowed=True, spacing=Spacing.IRON)
    assert found[0] == (
        'bag.toml:20: error: run "back: left": found no room for five equal last steps towards [4, 154] '
        'of "back: left"; allowed: 2 mm to 6 mm at a pitch of 4 mm; make the lines more alike, or say '
        'spacing = "even" [iron-remainder]'
    )


@st.composite
def runs(draw: st.DrawFn) -> list[list[float]]:
    """Bits between right angles, of two to four runs with unlike numbers of corners."""
    return draw(st.lists(st.lists(st.floats(20, 90), min_size=1, max_size=5), min_size=2, max_size=4))


@SEEDED
@given(runs(), st.sampled_from(list(Spacing)))
def test_mating_runs_always_have_equal_counts(bench: Any, bits: list[list[float]], spacing: Spacing) -> None:
    rows = [bench.run(f"p{k}", bent(*own), text=f"run {k}") for k, own in enumerate(bits)]
    seam = bench.seam("s", *rows, bowed=True, spacing=spacing)
    found, findings = matched(seam)
    if found is None:
        assert all(finding.severity is Severity.ERROR for finding in findings)
        return
    assert {len(row) for row in found.fixed} == {len(found.counts) + 1}
    for own, row in zip(rows, found.fixed, strict=True):
        assert all(b > a for a, b in pairwise(row))
        assert row[0] == 0
        assert row[-1] == pytest.approx(own.path.length)
        assert all(min(abs(at - corner) for at in row) < 1e-9 for corner in own.corners)


@SEEDED
@given(st.lists(st.floats(30, 200), min_size=2, max_size=4), st.floats(3.3, 6.0))
def test_punched_layers_have_equal_counts_numbered_from_one(
    bench: Any, lengths: list[float], pitch: float
) -> None:
    pieces = [bench.piece(f"p{k}", bench.rectangle(300, 300)) for k in range(len(lengths))]
    rows = [bench.run(f"p{k}", straight(length, x=20)) for k, length in enumerate(lengths)]
    seam = bench.seam("s", *rows, bowed=True, pitch=pitch)
    try:
        punched = punch(bench.pattern(pieces, [seam])).seams[0]
    except ProjectError as error:  # steps of the shortest run may be too short for their holes
        assert {finding.code for finding in error.findings} <= {"holes-too-close", "ease-meant"} | {
            "hole-near-edge"
        }
        return
    for layer, length in zip(punched.layers, lengths, strict=True):
        assert [hole.number for hole in layer.holes] == list(range(1, punched.count + 1))
        steps = [hypot(b.at[0] - a.at[0], b.at[1] - a.at[1]) for a, b in pairwise(layer.holes)]
        assert steps == pytest.approx([length / len(steps)] * len(steps), abs=1e-9)
        assert [hole.corner for hole in layer.holes] == [
            hole.number in (1, punched.count) for hole in layer.holes
        ]
