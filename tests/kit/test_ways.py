"""Other ways to lay out: one window a sheet, each piece as often as it is cut, straights shortened."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pypdf
import pytest

PROJECT = """
format = 1
title = "For the orchard ladder"
[material]
thickness = 3
[stitching]
pitch = 5
hole = { round = 1.5 }
[[piece]]
name = "sling"
rectangle = [1000, 40]
round = 10
quantity = 2
lines = { "first end" = [[20, 10], [20, 30]], "last end" = [[980, 10], [980, 30]] }
folds = { "turned up" = [[60, 0], [60, 40]] }
[[piece]]
name = "apron"
rectangle = [250, 300]
[[piece]]
name = "tag"
rectangle = [60, 30]
quantity = 3
[[seam]]
name = "first end"
runs = ["sling: first end"]
[[seam]]
name = "last end"
runs = ["sling: last end"]
[[opening]]
name = "eye"
kind = "eyelet"
hole = 6
through = ["sling"]
at = [[80, 20], [940, 20]]
"""

Make = Callable[..., dict[str, Any]]


@pytest.fixture(scope="module")
def make(tmp_path_factory: pytest.TempPathFactory, handkit: Callable[..., str]) -> Make:
    """The report of the project made with options, or with keys in its [page]; its file is proved."""
    folder = tmp_path_factory.mktemp("ways")

    @cache
    def made(*options: str, page: str = "") -> dict[str, Any]:
        (folder / "ladder.toml").write_text(f"{PROJECT}[page]\n{page}", "utf-8")
        handkit("make", "ladder.toml", "--report", "ladder.json", *options, folder=folder)
        handkit("proof", "ladder-kit.pdf", folder=folder)
        report: dict[str, Any] = json.loads((folder / "ladder.json").read_text("utf-8"))
        report["bytes"] = (folder / "ladder-kit.pdf").read_bytes()
        # What pages draw: the file itself names the options that it was made with, too.
        pages = pypdf.PdfReader(folder / "ladder-kit.pdf").pages
        report["drawn"] = [page.get_contents().get_data() for page in pages]
        return report

    return made


def windows(report: dict[str, Any], piece: str) -> list[tuple[int, int, dict[str, Any]]]:
    """Sheet, copy and window of a piece."""
    return [
        (sheet["number"], window["copy"], window)
        for sheet in report["sheets"]
        for window in sheet["windows"]
        if window["piece"] == piece
    ]


OTHERWISE = {"windows": "one a sheet", "draw": "each", "straights": "shortened"}
AS_EVER = {"windows": "shared", "draw": "once", "straights": "whole"}


def options(words: dict[str, str]) -> list[str]:
    return [part for key, word in words.items() for part in (f"--{key}", word)]


@pytest.mark.long
def test_the_file_and_the_command_line_ask_for_the_same(make: Make) -> None:
    page = "".join(f'{key} = "{word}"\n' for key, word in OTHERWISE.items())
    asked, plain = make(*options(OTHERWISE)), make()
    assert make(page=page)["drawn"] == asked["drawn"] != plain["drawn"]
    assert make(*options(AS_EVER), page=page)["drawn"] == plain["drawn"]
    assert {key: asked["paper"][key] for key in OTHERWISE} == OTHERWISE
    assert {key: plain["paper"][key] for key in AS_EVER} == AS_EVER


def test_one_window_a_sheet_has_no_sheet_with_two_joined_windows(make: Make) -> None:
    shared, taped = make(), make("--windows", "one a sheet")
    joined = {(join["piece"], number) for join in taped["joins"] for number in join["windows"]}
    assert len(joined) >= 6
    for sheet in taped["sheets"]:
        assert sum((w["piece"], w["window"]) in joined for w in sheet["windows"]) <= 1
    assert taped["totals"]["sheets"] >= len(joined) > shared["totals"]["sheets"]
    assert windows(taped, "tag")[0][0] <= len(joined)  # small pieces fill what is free


def test_one_window_a_sheet_lays_sheets_edge_along_edge(make: Make) -> None:
    """Two windows of a piece are turned against each other by quarters alone."""
    placed = [window["placed"] for _, _, window in windows(make("--windows", "one a sheet"), "apron")]
    assert len(placed) > 1
    for one in placed:
        turned = complex(*one[:2]) / complex(*placed[0][:2])
        assert min(abs(turned - 1j**k) for k in range(4)) < 1e-6


@pytest.mark.long
def test_each_piece_is_drawn_as_often_as_it_is_cut(make: Make) -> None:
    once, each = make(), make("--draw", "each")
    for piece, count in (("sling", 2), ("tag", 3), ("apron", 1)):
        assert {copy for _, copy, _ in windows(once, piece)} == {1}
        assert {w["copies"] for _, _, w in windows(once, piece)} == {1}
        assert {copy for _, copy, _ in windows(each, piece)} == set(range(1, count + 1))
        assert {w["copies"] for _, _, w in windows(each, piece)} == {count}
    assert each["totals"]["holes"] == once["totals"]["holes"]
    joins = Counter((join["piece"], join["copy"]) for join in each["joins"])
    assert joins["sling", 1] >= 1
    assert joins["sling", 1] + joins["sling", 2] == each["pieces"][0]["joins"]


def test_a_straight_is_left_out_where_nothing_happens(make: Make) -> None:
    whole, short = make(), make("--straights", "shortened")
    (one,) = short["breaks"]
    (first, _), (last, _) = (np.array(line) for line in one["lines"])
    # by hand: the eyelet at 80 ends at 83, the one at 940 begins at 937; 25 mm stay beside each
    assert (first[0], last[0], one["length_mm"]) == (108.0, 912.0, 804.0)
    assert one["windows"] == [[1], [2]]
    assert whole["breaks"] == []
    assert whole["pieces"][0]["joins"] >= 3
    assert short["pieces"][0]["joins"] == 0
    assert short["totals"]["sheets"] <= whole["totals"]["sheets"]
    assert short["totals"]["holes"] == whole["totals"]["holes"]
    assert short["pieces"][0]["holes"] == whole["pieces"][0]["holes"]


def test_what_is_left_out_is_written_at_both_ends(
    make: Make, tmp_path: Path, outside: Callable[..., Any]
) -> None:
    (tmp_path / "ladder.pdf").write_bytes(make("--straights", "shortened")["bytes"])
    text = outside("pdftotext", "-layout", tmp_path / "ladder.pdf", "-").stdout
    assert text.count("804 mm between these lines") + text.count("804 mm between\n") >= 2
