"""Joins: their marks coincide through both windows, and what is said of the holes in their way."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import numpy as np
import pytest

ONE_PLACE = 0.01
CLEAR = 3.0  # mm: a cut line nearer than this to a hole's or opening's edge runs through it


@pytest.mark.parametrize(
    ("name", "joins"), [("strap", 3), pytest.param("pouch on small sheets", 6, marks=pytest.mark.long)]
)
def test_there_are_joins_to_look_at(kits: Any, name: str, joins: int) -> None:
    assert kits(name).report["totals"]["joins"] >= joins


def test_marks_stand_where_both_windows_matrices_put_them(kit: Any, frames: Any) -> None:
    found: dict[tuple[Any, ...], list[tuple[int, np.ndarray]]] = {}
    for mark in kit.tagged("/hkRegistration"):
        p = mark.properties
        found.setdefault((p["Piece"], *p["Join"], p["Mark"]), []).append((p["Window"], mark.centre))
    wanted = {}
    for join in kit.report["joins"]:
        assert len(join["marks"]) >= 2
        for k, place in enumerate(join["marks"], start=1):
            wanted[join["piece"], *join["windows"], k] = place
    assert set(found) == set(wanted)
    for name, seen in found.items():
        piece, first, second, _ = name
        assert sorted(window for window, _ in seen) == [first, second]
        for window, centre in seen:
            matrix = kit.windows[piece, window]["placed"]
            assert np.hypot(*(centre - frames.placed(matrix, wanted[name]))) <= ONE_PLACE, name


def test_marks_are_as_far_apart_in_one_window_as_in_the_other(kit: Any) -> None:
    """Read from the pages alone."""
    places: dict[tuple[Any, ...], dict[int, dict[int, np.ndarray]]] = {}
    for mark in kit.tagged("/hkRegistration"):
        p = mark.properties
        windows = places.setdefault((p["Piece"], *p["Join"]), {})
        windows.setdefault(p["Window"], {})[p["Mark"]] = mark.centre
    assert len(places) == len(kit.report["joins"])
    for (piece, first, second), windows in places.items():
        assert sorted(windows) == [first, second], piece
        for a, b in combinations(sorted(windows[first]), 2):
            here = np.hypot(*(windows[first][a] - windows[first][b]))
            there = np.hypot(*(windows[second][a] - windows[second][b]))
            assert here == pytest.approx(there, abs=ONE_PLACE)


def test_a_mark_is_a_cross_in_a_circle_with_two_black_quarters(kit: Any) -> None:
    for mark in kit.tagged("/hkRegistration"):
        quarters = [line for line in mark.lines if line.painted == "f"]
        rings = [line for line in mark.lines if line.painted != "f" and not line.straight]
        arms = [line for line in mark.lines if line.painted != "f" and line.straight]
        assert (len(rings), len(arms), len(quarters)) == (1, 2, 2)
        for arm in arms:
            assert np.hypot(*(arm.points.mean(axis=0) - mark.centre)) <= ONE_PLACE
        radii = np.hypot(*(rings[0].points - mark.centre).T)
        assert np.ptp(radii) <= ONE_PLACE
        x, y = arms[0].points[1] - arms[0].points[0]
        first, second = ((quarter.points.mean(axis=0) - mark.centre) @ [-y, x] for quarter in quarters)
        assert first * second < 0, "each portion keeps one when it is trimmed along the first arm"


def test_no_opening_looks_like_a_mark(kits: Any) -> None:
    """An opening's cross stays inside its rim, and nothing of it is black."""
    kit = kits("case")
    crosses = [line for mark in kit.tagged("/hkCentre") for line in mark.lines]
    assert crosses
    assert all(line.painted == "S" and np.hypot(*np.ptp(line.points, axis=0)) <= 2.001 for line in crosses)
    openings = [line for mark in kit.tagged("/hkOpening") for line in mark.lines]
    assert openings
    assert all(line.painted == "S" for line in openings)


def test_marks_stand_on_the_cut_line_far_apart(kit: Any) -> None:
    for join in kit.report["joins"]:
        a, b = np.array(join["cut_line"])
        along = (b - a) / np.hypot(*(b - a))
        marks = np.array(join["marks"]) - a
        assert np.abs(marks @ [-along[1], along[0]]).max() <= ONE_PLACE
        assert np.ptp(marks @ along) >= 0.25 * np.hypot(*(b - a))


@pytest.mark.parametrize(("tag", "key"), [("/hkTrimLine", "cut_line"), ("/hkRuleLine", "rule_line")])
def test_cut_and_rule_lines_are_drawn_in_both_windows(kit: Any, frames: Any, tag: str, key: str) -> None:
    seen: dict[tuple[Any, ...], set[int]] = {}
    wanted = {(join["piece"], *join["windows"]): join[key] for join in kit.report["joins"]}
    for mark in kit.tagged(tag):
        join = (mark.properties["Piece"], *mark.properties["Join"])
        (line,) = mark.lines
        ends = frames.unplaced(kit.windows[mark.window]["placed"], line.points)
        lines = [np.array(wanted[join]), np.array(wanted[join])[::-1]]
        assert min(np.abs(ends - line).max() for line in lines) <= ONE_PLACE
        seen.setdefault(join, set()).add(mark.window[1])
    assert seen == {join: set(join[1:]) for join in wanted}


def test_windows_of_a_join_overlap_on_both_sides_of_its_cut_line(kit: Any) -> None:
    """Half the overlap lies on either side, or there is nothing to glue."""
    overlap = kit.report["paper"]["overlap_mm"]
    for join in kit.report["joins"]:
        a, b = np.array(join["cut_line"])
        along = (b - a) / np.hypot(*(b - a))
        across = np.array([-along[1], along[0]])
        for window in join["windows"]:
            off = (np.array(kit.windows[join["piece"], window]["polygon"]) - a) @ across
            assert min(off.max(), -off.min()) >= overlap / 2 - ONE_PLACE


def distance(line: Any, core: Any) -> float:
    """Least distance of two straight bits, by their ends and whether they cross."""

    def from_point(p: Any, a: Any, b: Any) -> float:
        length = max(float((b - a) @ (b - a)), 1e-12)
        return float(np.hypot(*(p - a - np.clip((p - a) @ (b - a) / length, 0, 1) * (b - a))))

    def side(p: Any, a: Any, b: Any) -> float:
        return float((b - a)[0] * (p - a)[1] - (b - a)[1] * (p - a)[0])

    (a, b), (c, d) = line, core
    if side(a, c, d) * side(b, c, d) < 0 and side(c, a, b) * side(d, a, b) < 0:
        return 0.0
    return min(from_point(a, c, d), from_point(b, c, d), from_point(c, a, b), from_point(d, a, b))


def gaps(piece: dict[str, Any]) -> list[tuple[Any, float]]:
    """Every hole and opening of a piece: its core and its radius."""
    found = []
    for hole in piece["holes"]:
        at, slit = np.array([hole["x"], hole["y"]]), hole["slit_degrees"]
        if slit is None:
            found.append(((at, at), hole["width_mm"] / 2))
        else:
            half = hole["width_mm"] / 2 * np.array([np.cos(np.radians(slit)), np.sin(np.radians(slit))])
            found.append(((at - half, at + half), 0.0))
    for opening in piece["openings"]:
        at, turn = np.array([opening["x"], opening["y"]]), np.radians(opening["degrees"])
        half = (opening["length_mm"] - opening["diameter_mm"]) / 2 * np.array([np.cos(turn), np.sin(turn)])
        found.append(((at - half, at + half), opening["diameter_mm"] / 2))
    return found


def test_joins_through_holes_counted_again_from_the_report(kit: Any) -> None:
    pieces = {piece["name"]: gaps(piece) for piece in kit.report["pieces"]}
    count = sum(
        any(
            round(distance(np.array(join["cut_line"]), core) - r, 6) < CLEAR
            for core, r in pieces[join["piece"]]
        )
        for join in kit.report["joins"]
    )
    assert count == kit.report["totals"]["joins_through_holes"]


def test_the_reports_holes_are_the_pieces(kit: Any) -> None:
    pieces = {piece["name"]: piece for piece in kit.pieces["pieces"]}
    for piece in kit.report["pieces"]:
        assert piece["holes"] == pieces[piece["name"]]["holes"]
        assert piece["openings"] == pieces[piece["name"]]["openings"]


def test_rule_lines_of_a_window_do_not_lie_on_one_another(kit: Any) -> None:
    """Two that go the same way are 6 mm apart, or one ends before the other begins."""
    for one, other in combinations(kit.report["joins"], 2):
        if one["piece"] != other["piece"] or not set(one["windows"]) & set(other["windows"]):
            continue
        (a, b), (c, d) = np.array(one["rule_line"]), np.array(other["rule_line"])
        along = (b - a) / np.hypot(*(b - a))
        across = np.array([-along[1], along[0]])
        if abs((d - c) @ across) > 0.01:
            continue  # they cross, or meet at a corner
        low, high = sorted([(c - a) @ along, (d - a) @ along])
        beside = abs((c - a) @ across) >= 6 - 0.01
        assert beside or high <= 0.01 or low >= (b - a) @ along - 0.01, (one["windows"], other["windows"])


def test_rule_lines_are_named(strap: Any, outside: Any) -> None:
    text = outside("pdftotext", "-layout", strap.pdf, "-").stdout
    for join in strap.report["joins"]:
        assert text.count(f"rule {join['windows'][0]}–{join['windows'][1]}") == 2


def test_joins_are_counted_by_piece_on_the_first_sheet(strap: Any, outside: Any) -> None:
    (piece,) = {join["piece"] for join in strap.report["joins"]}
    count = len(strap.report["joins"])
    assert [p["joins"] for p in strap.report["pieces"] if p["name"] == piece] == [count]
    text = outside("pdftotext", "-layout", "-l", "1", strap.pdf, "-").stdout
    assert f"{count} joins ({piece} {count})" in text
