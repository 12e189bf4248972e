"""Lists that no kit has: each is refused with what is wrong with it, before anything is measured by it."""

from __future__ import annotations

import json
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from handkit.errors import ProofError
from handkit.geometry.segment import Segment
from handkit.kit import make
from handkit.manifest.attached import read_manifest
from handkit.manifest.sound import MOST_PAGES
from handkit.proof.audit.deviations import DeviationKind, page_deviations
from handkit.proof.audit.expected import asked_of, expected_marks
from handkit.proof.audit.matching import MOST_LOOKS, matched
from handkit.proof.content.objects import Allowance
from handkit.proof.prover import prove

SHEET, WINDOW, SHAPE = ("pages", 0), ("pages", 0, "windows", 0), ("pieces", 0, "shapes", 0)
LIST: dict[str, Any] = {
    "format": 1,
    "origin": {"made_by": "0"},
    "title": "a triangle",
    "paper": [210, 297],
    "pages": [
        {
            "label": "Sheet 1 of 1",
            "windows": [
                {
                    "piece": "leaf",
                    "number": 1,
                    "count": 1,
                    "placed": [0.6, 0.8, -0.8, 0.6, 20, 30],
                    "rim": [0, 0, 9, 0, 9, 9],
                    "shows": [[0, 0]],
                }
            ],
        }
    ],
    "pieces": [{"name": "leaf", "shapes": [{"tag": "hkOutline", "lines": [[[0, 0, 9, 0, 9, 9], [], True]]}]}],
}


def changed(*path: str | int, to: Any) -> bytes:
    """The list with one value in another's place."""
    content = deepcopy(LIST)
    held: Any = content
    for key in path[:-1]:
        held = held[key]
    held[path[-1]] = to
    return json.dumps(content).encode()


def test_a_sound_list_is_read() -> None:
    assert read_manifest(json.dumps(LIST).encode()).pages[0].windows[0].rim == (0, 0, 9, 0, 9, 9)


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"[" * 100_000, "no list that can be read"),
        (changed("paper", to=[float("nan"), 1]), "no list that can be read"),
        (changed("paper", to=[1e308, 1]), "a place on no paper"),
        (changed("pages", to=LIST["pages"] * (MOST_PAGES + 1)), "more than 2000 pages"),
        (changed("pieces", to=LIST["pieces"] * 2), "two pieces of one name"),
        (changed("correction", to={"name": "", "across": 0}), "corrected by more than .*: across = 0"),
        (changed("correction", to={"name": "", "down": 0.984}), "corrected by more than .*: down = 0.984"),
        (changed("correction", to={"name": "", "skew": 0.9}), "corrected by more than .*: skew = 0.9"),
        (changed(*SHEET, "windows", to=LIST["pages"][0]["windows"] * 2), "a window twice on a page"),
        (changed(*WINDOW, "piece", to="bark"), "a window of a piece that it hasn't"),
        (changed(*WINDOW, "shows", to=[[0, 1]]), "a window of shapes that its piece hasn't"),
        (changed(*WINDOW, "shows", to=[[0, 0], [0, 0]]), "a window of shapes that its piece hasn't"),
        (changed(*WINDOW, "rim", to=[0, 0, 9, 0]), "a window without a rim"),
        (changed(*WINDOW, "rim", to=[0, 0, 9, 0, 9, 1e6]), "a place on no paper"),
        (changed(*WINDOW, "placed", to=[0, 0, 0, 0, 0, 0]), "a window that is not placed at full size"),
        (changed(*WINDOW, "placed", to=[1.001, 0, 0, 1, 0, 0]), "a window that is not placed at full size"),
        (changed(*WINDOW, "placed", to=[1, 0, 1, 0, 0, 0]), "a window that is not placed at full size"),
        (changed(*WINDOW, "placed", to=[1, 0, 0, 1, 1e300, 0]), "a place on no paper"),
        (changed(*SHAPE, "tag", to="hkLabel"), "a mark that this handkit doesn't know"),
        (changed(*SHAPE, "lines", to=[[[0, 0]]]), "a line that is none"),
        (changed(*SHAPE, "lines", to=[[[0, 0, 9]]]), "a line that is none"),
        (changed(*SHAPE, "lines", to=[[[0, 0, 9, 0], [0, 0]]]), "a line that is none"),
        (changed(*SHAPE, "fills", to=[[[0, 0, 1e308, 0]]]), "a place on no paper"),
        (changed(*SHAPE, "lines", to=[[[0, 0, 9, 0], [1e308]]]), "an arc that is none"),
        (changed(*SHAPE, "lines", to=[[[0, 0, 9, 0], [1e-300]]]), "an arc that is none"),
        (changed(*SHAPE, "lines", to=[[[0, 0, 9, 0], [9e5]]]), "an arc that is none"),
    ],
)
def test_a_list_that_no_kit_has_is_refused(data: bytes, told: str) -> None:
    with pytest.raises(ProofError, match=f"^{told}"):
        read_manifest(data)


@pytest.mark.parametrize("correction", [{"across": 0.985, "down": 1.015}, {"skew": -0.85}])
def test_what_is_corrected_is_sound(correction: dict[str, float]) -> None:
    read = read_manifest(changed("correction", to={"name": "office", **correction})).correction
    assert read is not None and read.faults() == []


def portion(points: list[float], rim: list[float]) -> Any:
    """What a page must show of a line, in the first of two portions."""
    content = deepcopy(LIST)
    content["pieces"][0]["shapes"][0]["lines"] = [[points]]
    content["pages"][0]["windows"][0].update(rim=rim, count=2, placed=[1, 0, 0, 1, 0, 0])
    found = read_manifest(json.dumps(content).encode())
    return found.pages[0], {piece.name: piece for piece in found.pieces}


def test_what_is_missing_is_told_where_its_portion_shows_it() -> None:
    """Of a line through 0, 100 and 200 the portion shows what lies beyond 150."""
    expected = expected_marks(
        *portion([0, 0, 100, 0, 200, 0], [150, -9, 210, -9, 210, 9, 150, 9]), asked_of(0)
    )
    (missing,) = page_deviations(expected, {}, Allowance(MOST_LOOKS))
    assert (missing.kind, missing.at) == (DeviationKind.MISSING, (100.0, 0.0))


def test_a_list_without_end_is_refused() -> None:
    """1,000 straight bits of a line, each asked at 1,000 sides of a rim: a million."""
    line = [float(k % 7) for k in range(2000)]
    rim = [float(k % 5) for k in range(2000)]
    with pytest.raises(ProofError, match="found a list"):
        expected_marks(*portion(line, rim), Allowance(1_000_000, "found a list"))


def test_what_is_nowhere_is_not_looked_for_without_end() -> None:
    wanted = [Segment((0.0, float(k)), (1.0, float(k))) for k in range(1000)]
    strange = [((0.0, k + 0.5), (1.0, k + 0.5)) for k in range(5)]
    looks = Allowance(3_000)
    assert len(matched(wanted, strange, looks).strange) == 5
    assert not looks.take(1)
    assert (
        matched(wanted, [((0.0, 999.0), (1.0, 999.0))], looks).missing[-1] == 999
    )  # which is not looked for
    assert matched(wanted, [((0.0, 999.0), (1.0, 999.0))], Allowance(MOST_LOOKS)).missing[-1] == 998


@pytest.mark.long
def test_a_kit_of_large_pieces_with_very_many_corners_passes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is looked at grows with the file, however many corners stand on a sheet: twice as many as where a
    project has the most that it may, 2,000 on each of two pieces of 2 by 2.4 m. These are on 207 sheets and
    here on seven, so that what any file may look at is a fiftieth.
    """
    n = 250
    around = [(x, 0) for x in range(n)] + [(n, y) for y in range(n)]
    around += [(n - x, n) for x in range(n)] + [(0, n - y) for y in range(n)]
    teeth = [0.4 * (k % 2) for k in range(len(around))]
    points = [
        [2 * x + t * (x == 0) - t * (x == n), 2.4 * y + t * (y == 0) - t * (y == n)]
        for (x, y), t in zip(around, teeth, strict=True)
    ]
    (tmp_path / "large.toml").write_text(
        f'format = 1\ntitle = "x"\n[material]\nthickness = 2\n[[piece]]\nname = "ground"\npoints = {points}\n'
    )
    monkeypatch.setattr("handkit.proof.checks.visible.LEAST_LOOKS", 100_000)
    (tmp_path / "large.pdf").write_bytes(make(tmp_path / "large.toml").pdf)
    assert prove(tmp_path / "large.pdf").passed
