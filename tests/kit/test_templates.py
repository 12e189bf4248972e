"""Templates: every hole, opening and bit of outline stands in a window, where the pieces have it."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest

ONE_PLACE = 0.01  # mm: what two places of one thing may differ by


def holes_of(kit: Any) -> dict[tuple[str, str, int, int], np.ndarray]:
    """Every hole's place in its piece's frame, as `pieces` gives it."""
    return {
        (piece["name"], hole["seam"], hole["run"], hole["number"]): np.array([hole["x"], hole["y"]])
        for piece in kit.pieces["pieces"]
        for hole in piece["holes"]
    }


def name_of(mark: Any) -> tuple[str, str, int, int]:
    p = mark.properties
    return (p["Piece"], p["Seam"], p["Run"], p["Number"])


def point_of(mark: Any) -> np.ndarray:
    """Where the awl goes: the middle of the filled point."""
    (point,) = [line for line in mark.lines if line.painted == "f"]
    assert np.ptp(point.points, axis=0).max() <= 0.5
    return (point.points.min(axis=0) + point.points.max(axis=0)) / 2


def passed_through(kit: Any) -> set[tuple[str, int]]:
    """Seam and run of layers that are punched through another: first and last hole show, no more."""
    drawn: dict[tuple[str, int], set[int]] = {}
    for mark in kit.tagged("/hkHole"):
        drawn.setdefault((mark.properties["Seam"], mark.properties["Run"]), set()).add(
            mark.properties["Number"]
        )
    counts = {seam["name"]: seam["holes"] for seam in kit.plan["seams"]}
    return {layer for layer, numbers in drawn.items() if numbers == {1, counts[layer[0]]}}


def test_every_hole_of_every_piece_stands_in_a_window_at_its_place(kit: Any, frames: Any) -> None:
    wanted, found = holes_of(kit), set()
    for mark in kit.tagged("/hkHole"):
        name = name_of(mark)
        matrix = kit.windows[mark.window]["placed"]
        off = point_of(mark) - frames.placed(matrix, wanted[name])
        assert np.hypot(*off) <= ONE_PLACE, name
        found.add(name)
    through = passed_through(kit) if kit.pdf.stem == "case" else set()
    missing = {name for name in set(wanted) - found if (name[1], name[2]) not in through}
    assert missing == set()


def test_only_the_ring_of_the_case_is_punched_through(kits: Any) -> None:
    assert passed_through(kits("case")) == {("ring", 2)}


def test_holes_stand_where_the_windows_own_marks_say(kit: Any) -> None:
    """The matrix of the report left aside: two registration marks of a window fix where it lies."""
    wanted = holes_of(kit)
    joins = {(join["piece"], *join["windows"]): join["marks"] for join in kit.report["joins"]}
    frames: dict[tuple[str, int], list[tuple[complex, complex]]] = {}
    for mark in kit.tagged("/hkRegistration"):
        join = (mark.properties["Piece"], *mark.properties["Join"])
        here, there = joins[join][mark.properties["Mark"] - 1], mark.centre
        frames.setdefault(mark.window, []).append((complex(*here), complex(*there)))
    for mark in kit.tagged("/hkHole"):
        if mark.window not in frames:
            continue
        (p0, q0), (p1, q1) = max(
            ((a, b) for a in frames[mark.window] for b in frames[mark.window]),
            key=lambda pair: abs(pair[0][0] - pair[1][0]),
        )
        at = complex(*wanted[name_of(mark)])
        piece = kit.piece(mark.window[0])
        turned = piece["mark"] != piece["shows"]  # drawn from the other side
        if turned:
            at, p0, p1 = at.conjugate(), p0.conjugate(), p1.conjugate()
        # no scale is taken from the marks: full scale is what is to be shown
        turn = (q1 - q0) / (p1 - p0)
        place = q0 + (at - p0) * turn / abs(turn)
        beyond = max(1.0, abs(at - p0) / abs(p1 - p0))  # how far the marks' own rounding is carried
        assert abs(place - complex(*point_of(mark))) <= ONE_PLACE * beyond, name_of(mark)


def test_a_holes_tick_and_slit_stand_about_its_point(kit: Any) -> None:
    for mark in kit.tagged("/hkHole"):
        lines = [line for line in mark.lines if line.painted == "S"]
        assert 1 <= len(lines) <= 2
        for line in lines:
            assert np.hypot(*(line.points.mean(axis=0) - point_of(mark))) <= ONE_PLACE


def test_slits_are_as_long_and_turned_as_the_pieces_have_them(kit: Any) -> None:
    sizes = {
        (piece["name"], hole["seam"], hole["run"], hole["number"]): (hole["width_mm"], hole["slit_degrees"])
        for piece in kit.pieces["pieces"]
        for hole in piece["holes"]
    }
    for mark in kit.tagged("/hkHole"):
        width, degrees = sizes[name_of(mark)]
        ways = [line.points[-1] - line.points[0] for line in mark.lines if line.painted == "S"]
        if degrees is None:
            assert len(ways) == 1
            continue
        a, b, c, d, *_ = kit.windows[mark.window]["placed"]
        x, y = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
        slit = ways[1] / np.hypot(*ways[1])
        assert np.hypot(*ways[1]) == pytest.approx(width, abs=ONE_PLACE)
        assert abs(slit @ np.array([a * x + c * y, b * x + d * y])) == pytest.approx(1, abs=1e-4)


def test_every_opening_stands_in_a_window_at_its_place_and_size(kit: Any, frames: Any) -> None:
    wanted = {
        (piece["name"], opening["name"], opening["number"]): opening
        for piece in kit.pieces["pieces"]
        for opening in piece["openings"]
    }
    found = set()
    for mark in kit.tagged("/hkOpening"):
        name = (mark.properties["Piece"], mark.properties["Opening"], mark.properties["Number"])
        opening, matrix = wanted[name], kit.windows[mark.window]["placed"]
        off = mark.centre - frames.placed(matrix, [opening["x"], opening["y"]])
        assert np.hypot(*off) <= ONE_PLACE, name
        rim = frames.unplaced(matrix, np.vstack([line.points for line in mark.lines]))
        c, s = (f(np.radians(opening["degrees"])) for f in (np.cos, np.sin))
        sizes = np.ptp((rim - [opening["x"], opening["y"]]) @ [[c, -s], [s, c]], axis=0)
        assert sizes == pytest.approx((opening["length_mm"], opening["diameter_mm"]), abs=ONE_PLACE)
        found.add(name)
    assert found == set(wanted)


def along(points: np.ndarray, step: float) -> np.ndarray:
    """Places along a closed line, not farther apart than `step`."""
    ring = np.vstack([points, points[:1]])
    pieces = []
    for a, b in pairwise(ring):
        count = max(1, int(np.ceil(np.hypot(*(b - a)) / step)))
        pieces.append(a + (b - a) * np.arange(count)[:, None] / count)
    return np.vstack(pieces)


def nearest(places: np.ndarray, lines: list[np.ndarray]) -> np.ndarray:
    """Distance from each place to the nearest of the lines."""
    best = np.full(len(places), np.inf)
    for line in lines:
        for a, b in pairwise(line):
            length = max(float((b - a) @ (b - a)), 1e-12)
            t = np.clip((places - a) @ (b - a) / length, 0, 1)
            best = np.minimum(best, np.hypot(*(places - a - t[:, None] * (b - a)).T))
    return best


def inside(places: np.ndarray, polygon: np.ndarray, slack: float = 0.005) -> np.ndarray:
    """Whether each place lies in a polygon, or within a hair of its rim."""
    odd = np.zeros(len(places), dtype=bool)
    for (x0, y0), (x1, y1) in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        if y0 != y1:
            crossing = (y0 > places[:, 1]) != (y1 > places[:, 1])
            odd ^= crossing & (places[:, 0] < x0 + (places[:, 1] - y0) * (x1 - x0) / (y1 - y0))
    return odd | (nearest(places, [np.vstack([polygon, polygon[:1]])]) <= slack)


def left_out(kit: Any, piece: str, places: np.ndarray) -> np.ndarray:
    """Which places lie between the lines of a break, off both by more than 0.01 mm."""
    out = np.zeros(len(places), dtype=bool)
    for one in kit.report["breaks"]:
        if one["piece"] == piece:
            (a, _), (b, _) = np.array(one["lines"])
            offs = (places - a) @ (b - a) / np.hypot(*(b - a))
            assert np.hypot(*(b - a)) == pytest.approx(one["length_mm"], abs=0.002)
            out |= (offs > 0.01) & (offs < one["length_mm"] - 0.01)
    return out


def test_every_bit_of_outline_stands_in_some_window(kit: Any, frames: Any) -> None:
    """Where the knife goes, each half millimetre: drawn in a window that shows that place. What is
    left out between two break lines stands in none."""
    for piece in kit.pieces["pieces"]:
        places = along(np.array(piece["cut_outline"]), 0.5)
        out = left_out(kit, piece["name"], places)
        for (name, _), window in kit.windows.items():
            if name == piece["name"]:
                assert not inside(places[out], np.array(window["polygon"])).any()
        places = places[~out]
        seen = np.zeros(len(places), dtype=bool)
        for (name, number), window in kit.windows.items():
            if name != piece["name"]:
                continue
            drawn = [
                frames.unplaced(window["placed"], line.points)
                for mark in kit.tagged("/hkOutline")
                if mark.window == (name, number)
                for line in mark.lines
            ]
            shown = inside(places, np.array(window["polygon"]))
            # the pieces' points are flattened to 0.002 mm and written with three decimals
            seen |= shown & (nearest(places, drawn) <= 0.01)
        assert seen.all(), (piece["name"], places[~seen][:5])


def test_every_bit_of_a_trimmed_edge_stands_in_some_window(kits: Any, frames: Any) -> None:
    """The finished edge, where it is not where the knife goes first."""
    kit = kits("case")
    piece = kit.piece("Rücken (groß)")
    edge = along(np.array(piece["outline"]), 0.5)
    edge = edge[nearest(edge, [np.array([*piece["cut_outline"], piece["cut_outline"][0]])]) > 2.9]
    assert len(edge) > 500
    drawn = [
        frames.unplaced(kit.windows[mark.window]["placed"], line.points)
        for mark in kit.tagged("/hkTrim")
        for line in mark.lines
    ]
    assert nearest(edge, drawn).max() <= 0.01


def test_windows_lie_within_the_margin_and_keep_shapes(kit: Any, frames: Any) -> None:
    margin = kit.report["paper"]["margin_mm"]
    for sheet in kit.report["sheets"]:
        for window in sheet["windows"]:
            a, b, c, d, *_ = window["placed"]
            piece = kit.piece(window["piece"])
            turned_over = piece["mark"] != piece["shows"]
            assert a * d - b * c == pytest.approx(-1 if turned_over else 1, abs=1e-6)
            assert (a * a + b * b, a * c + b * d) == pytest.approx((1, 0), abs=1e-6)
            corners = frames.placed(window["placed"], window["polygon"])
            assert corners.min() >= margin - 0.01
            assert corners[:, 0].max() <= sheet["width_mm"] - margin + 0.01
            assert corners[:, 1].max() <= sheet["height_mm"] - margin + 0.01
