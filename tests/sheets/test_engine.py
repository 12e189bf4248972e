"""The engine's own door: plain polygons in, sheets out, and what it refuses."""

from __future__ import annotations

from math import hypot, nan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.kinds.pages import Straights, Windows
from handkit.paper import PAPERS, paper_named
from handkit.sheets.engine import Capsule, Placed, Shape, place
from handkit.sheets.nest import fewest
from handkit.sheets.nest.packing import pack

A4 = PAPERS[0]
STRAP = Shape("strap", ((0, 0), (400, 0), (400, 38), (0, 38)))

REFUSED: list[tuple[list[Shape], dict[str, Any], str]] = [
    ([STRAP, STRAP], {}, "found two shapes named 'strap'; allowed: a name for each"),
    ([Shape("s", ((0, 0), (9, 0)))], {}, "found a ring of 's' that crosses itself or bounds nothing"),
    ([Shape("s", ((0, 0), (9, 0), (4, 0)))], {}, "found a ring of 's' that crosses itself or bounds nothing"),
    (
        [Shape("s", ((0, 0), (9, 9), (9, 0), (0, 9)))],
        {},
        "found a ring of 's' that crosses itself or bounds nothing",
    ),
    ([Shape("s", ((0, 0), (9, nan), (9, 0)))], {}, "found a place of 's' that is no number"),
    ([STRAP], {"overlap": 7.9}, "found an overlap of 7.9 mm; allowed: at least 8.0 mm"),
    ([STRAP], {"margin": -1}, "found margins of -1 mm on "),
    ([STRAP], {"margin": 76}, "found margins of 76 mm on "),
]


@pytest.mark.parametrize(("shapes", "keys", "message"), REFUSED)
def test_what_is_refused(shapes: list[Shape], keys: dict[str, Any], message: str) -> None:
    with pytest.raises(ValueError, match=r"^found ") as refused:
        place(shapes, paper=A4, **{"margin": 10, **keys})
    assert str(refused.value).startswith(message)


def test_nothing_takes_no_sheet() -> None:
    assert place([], paper=A4, margin=10) == Placed((), (), 0)


def test_a_ring_may_go_either_way_round() -> None:
    back = Shape("strap", tuple(reversed(STRAP.ring)))
    one, other = (place([shape], paper=A4, margin=10) for shape in (STRAP, back))
    assert (len(one.sheets), len(one.joins)) == (len(other.sheets), len(other.joins))


@pytest.mark.parametrize(("copies", "most"), [(4, 45), (8, 80)])
def test_alike_pieces_try_a_change_of_cuts_once(
    copies: int, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As many tries as copies, not as their square: 55 and 190 packings where each piece tries for itself."""
    packings = []
    monkeypatch.setattr(fewest, "pack", lambda *sizes, **page: packings.append(0) or pack(*sizes, **page))
    tag = Shape("tag", ((0, 0), (300, 0), (300, 200), (0, 200)), quantity=copies)
    place([tag], paper=A4, margin=10, draw_each=True)
    assert len(packings) <= most


shapes = st.lists(
    st.tuples(st.integers(30, 420), st.integers(30, 260), st.integers(1, 2)), min_size=1, max_size=3
)


@settings(derandomize=True, deadline=None, max_examples=10)
@given(sizes=shapes, windows=st.sampled_from(Windows), straights=st.sampled_from(Straights))
def test_every_way_keeps_the_promises(
    sizes: list[tuple[int, int, int]], windows: Windows, straights: Straights
) -> None:
    """Each drawn as often as it is cut, on the page; joined windows alone on a sheet where asked."""
    pieces = [
        Shape(f"s{k}", ((0, 0), (w, 0), (w, h), (0, h)), quantity=q, keep_outs=(Capsule((9, 9), (9, 9), 2),))
        for k, (w, h, q) in enumerate(sizes)
    ]
    paper = paper_named("A4")
    placed = place(pieces, paper=paper, margin=10, windows=windows, straights=straights, draw_each=True)
    joined = {(join.piece, join.copy, number) for join in placed.joins for number in join.windows}
    drawn = set()
    for sheet in placed.sheets:
        rings = [window.placed.apply_all(window.polygon) for window in sheet.windows]
        for ring in rings:
            assert all(10 - 1e-3 <= x <= 200 + 1e-3 and 10 - 1e-3 <= y <= 287 + 1e-3 for x, y in ring)
        names = [(window.piece, window.copy, window.number) for window in sheet.windows]
        drawn |= set(names)
        if windows is Windows.ONE_A_SHEET:
            assert len(joined & set(names)) <= 1
    assert {name[:2] for name in drawn} == {(p.name, k + 1) for p in pieces for k in range(p.quantity)}
    for join in placed.joins:
        (ax, ay), (bx, by) = join.marks
        assert hypot(bx - ax, by - ay) > 1
