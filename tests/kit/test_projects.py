"""Projects of our own against tables that were worked out by hand (`tests/projects/*/expected.toml`).

A table says what the command line's JSON, the plan's words and the printed kit must say; what it leaves
out is not judged. Nothing of handkit is asked how it came to its numbers.

findings  code of every finding, in order
pieces    size of the finished outline, of the cut one, and any other plain field of `pieces`
seams     holes; layers: which numbers lie on each piece; stacks: from, to, mm; thread: each cut;
          places: number, x, y in the piece's frame, in the JSON and on the template sheet;
          glue: upper and lower piece of single strips, mm² of one face
order     work: seams and openings as they come; steps: words of single steps that come in this order
told      sentences that the plan has; never: words that it must not have
hardware  rows of the list, thread: the thread to buy by its diameter
"""

from __future__ import annotations

import tomllib
from collections import defaultdict
from itertools import pairwise
from math import dist
from pathlib import Path
from typing import Any

import numpy as np
import pytest

PROJECTS = Path(__file__).parents[1] / "projects"
NAMES = sorted(folder.name for folder in PROJECTS.iterdir() if folder.is_dir())

# The kits that take longest to make.
LONG = ("canvas_roll", "dog_collar")

COINCIDE = 0.01  # mm: a hole, and where the table has it
ROUNDED = 0.002  # mm a figure of the JSON may lose


@pytest.fixture(params=[pytest.param(name, marks=[pytest.mark.long] * (name in LONG)) for name in NAMES])
def made(request: pytest.FixtureRequest, kits: Any) -> tuple[Any, dict[str, Any]]:
    """A project's kit with its table."""
    table = tomllib.loads((PROJECTS / request.param / "expected.toml").read_text("utf-8"))
    return kits(request.param.replace("_", " ")), table


def seams_of(kit: Any, table: dict[str, Any]) -> list[tuple[dict[str, Any], dict[str, Any]]]:
    """Every seam of the plan with its row of the table; each has one."""
    wanted: dict[str, Any] = table["seams"]
    assert sorted(seam["name"] for seam in kit.plan["seams"]) == sorted(wanted)
    return [(seam, wanted[seam["name"]]) for seam in kit.plan["seams"]]


def stretches(seam: dict[str, Any], layer: dict[str, Any]) -> list[list[int]]:
    whole = [[1, seam["holes"]]]
    return layer.get("holes", whole)


def numbers(seam: dict[str, Any], first: int, last: int) -> list[int]:
    """First to last, round the start where the seam is closed."""
    count = seam["holes"]
    return [(first - 1 + k) % count + 1 for k in range((last - first) % count + 1)]


def test_what_is_found(made: Any) -> None:
    kit, table = made
    assert [finding["code"] for finding in kit.report["findings"]] == table["findings"]


def test_pieces(made: Any) -> None:
    kit, table = made
    for name, wanted in table.get("pieces", {}).items():
        piece = kit.piece(name)
        for key, value in wanted.items():
            ring = {"size": "outline", "cut": "cut_outline"}.get(key)
            found = np.ptp(np.array(piece[ring]), axis=0).tolist() if ring else piece[key]
            close = pytest.approx(value, abs=COINCIDE) if isinstance(value, list | float | int) else value
            assert found == close, (name, key)


def test_layers_by_hole(made: Any) -> None:
    kit, table = made
    for seam, wanted in seams_of(kit, table):
        assert (seam["holes"], seam["closed"]) == (wanted["holes"], wanted.get("closed", False)), seam["name"]
        found: dict[str, list[list[int]]] = defaultdict(list)
        for layer in seam["layers"]:
            found[layer["piece"]] += stretches(seam, layer)
        assert dict(found) == wanted["layers"], seam["name"]


def test_stacks(made: Any) -> None:
    kit, table = made
    for seam, wanted in seams_of(kit, table):
        whole = [{"from": 1, "to": seam["holes"], "stack_mm": seam["stack_mm"]}]
        stacks = [[s["from"], s["to"], s["stack_mm"]] for s in seam.get("stretches", whole)]
        if "stacks" in wanted:
            assert stacks == [pytest.approx(row) for row in wanted["stacks"]], seam["name"]


def test_strips_of_glue(made: Any) -> None:
    """Both strips of a welt are as large: they are on its two faces."""
    kit, table = made
    for seam, wanted in seams_of(kit, table):
        found = {(strip["upper"], strip["lower"]): strip["area_mm2"] for strip in seam["glue"]}
        rows = {(upper, lower): area for upper, lower, area in wanted.get("glue", [])}
        assert {pair: found[pair] for pair in rows} == pytest.approx(rows, abs=0.05), seam["name"]


def test_thread(made: Any) -> None:
    kit, table = made
    for seam, wanted in seams_of(kit, table):
        cuts = [thread["cut_mm"] for thread in seam["threads"]]
        # Each move is rounded by half a thousandth on either face.
        if "thread" in wanted:
            close = pytest.approx(wanted["thread"], abs=ROUNDED * len(seam["moves"]))
            assert cuts == close, seam["name"]
    bought = {f"{row['diameter_mm']:g}": row["length_mm"] for row in kit.plan["threads"]}
    assert bought == {key: pytest.approx(value, abs=0.5) for key, value in table["thread"].items()}


def test_holes_stand_where_they_should(made: Any) -> None:
    kit, table = made
    found = {
        (hole["seam"], piece["name"], hole["number"]): (hole["x"], hole["y"])
        for piece in kit.pieces["pieces"]
        for hole in piece["holes"]
    }
    for seam, piece, number, at in wanted_places(table):
        assert dist(found[seam, piece, number], at) <= COINCIDE, (
            seam,
            piece,
            number,
            found[seam, piece, number],
        )


def test_holes_are_printed_where_they_should_be(made: Any, frames: Any) -> None:
    """The point of the awl, measured on the sheet and led back into the piece."""
    kit, table = made
    printed = {}
    for mark in kit.tagged("/hkHole"):
        told = mark.properties
        at = frames.unplaced(kit.windows[mark.window]["placed"], mark.centre)
        printed[told["Seam"], told["Piece"], told["Number"]] = at
    for seam, piece, number, at in wanted_places(table):
        assert dist(printed[seam, piece, number], at) <= COINCIDE, (seam, piece, number)


def wanted_places(table: dict[str, Any]) -> list[tuple[str, str, int, tuple[float, float]]]:
    return [
        (seam, piece, number, (x, y))
        for seam, row in table["seams"].items()
        for piece, places in row.get("places", {}).items()
        for number, x, y in places
    ]


def test_every_layers_holes_are_printed(made: Any) -> None:
    """All of them on some sheet, and no other."""
    kit, table = made
    printed: dict[tuple[str, str], set[int]] = defaultdict(set)
    for mark in kit.tagged("/hkHole"):
        printed[mark.properties["Seam"], mark.properties["Piece"]].add(mark.properties["Number"])
    wanted = {
        (seam["name"], piece): {n for first, last in rows for n in numbers(seam, first, last)}
        for seam, row in seams_of(kit, table)
        for piece, rows in row["layers"].items()
    }
    assert printed == wanted


def test_the_order_of_work(made: Any) -> None:
    kit, table = made
    work = [step["name"] for step in kit.plan["steps"] if step["kind"] in ("seam", "opening", "fitting")]
    assert work == table["order"]["work"]
    texts = [f"{step['kind']}: {step['what']}" for step in kit.plan["steps"]]
    for row in table["order"].get("steps", []):
        places = [[k for k, text in enumerate(texts) if words in text] for words in row]
        assert all(places), (row, places)
        assert all(max(a) < min(b) for a, b in pairwise(places)), (row, places)


def test_what_is_told(made: Any) -> None:
    kit, table = made
    told = " ".join(kit.told.split())
    assert [words for words in table.get("told", []) if words not in told] == []
    assert [words for words in table.get("never", []) if words in told] == []


def test_what_is_bought(made: Any) -> None:
    kit, table = made
    rows = [" | ".join(str(value) for value in row.values()) for row in kit.plan["hardware"]]
    wanted = table.get("hardware", [])
    assert len(rows) == len(wanted), rows
    assert [words for words, row in zip(wanted, rows, strict=True) if words not in row] == [], rows
