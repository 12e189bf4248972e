"""Templates and pictures of layers that go part of the way: only what lies on a piece is drawn there."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from handkit.draw.pages.lower_layers import face_outline, lower_layers
from handkit.draw.templates.window_ink import stitch_paths
from handkit.draw.words.names import punched_through
from handkit.geometry.region import region_of
from handkit.kit import punched_of

TEXT = """format = 1
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
thread = 0.8
[[piece]]
name = "back"
rectangle = [148, 90]
[[piece]]
name = "left"
rectangle = [70, 60]
on = "back"
[[piece]]
name = "low"
rectangle = [70, 30]
on = "back"
[[piece]]
name = "behind"
rectangle = [148, 40]
on = "back"
behind = true
[[seam]]
name = "rim"
runs = ["back: A-B-C-D-A", "left", "low", "behind"]
"""


def punched(folder: Path, more: str = "") -> Any:
    file = folder / "p.toml"
    file.write_text(TEXT + more, "utf-8")
    return punched_of(file)


def test_stitch_lines_lie_under_a_pieces_own_holes(tmp_path: Path) -> None:
    made = punched(tmp_path)
    (seam,) = made.seams
    for layer in seam.layers[1:]:
        piece = made.pattern.piece(layer.piece)
        paths = list(stitch_paths(made, piece))
        rows = seam.rows_of(layer)
        assert len(paths) == len(rows) == 1
        assert paths[0].start == pytest.approx(rows[0][0].at)
        assert paths[0].end == pytest.approx(rows[0][-1].at)
        assert region_of(piece.outline).covers(paths[0].flattened(sagitta=0.01), slack=0.01)


def test_a_picture_is_of_the_topmost_whole_layer(tmp_path: Path) -> None:
    made = punched(tmp_path)
    (seam,) = made.seams
    assert seam.face.piece == "back"
    told = {layer.piece: layer.on_top for layer in lower_layers(made, seam)}
    assert told == {"left": True, "low": True, "behind": False}


FOLDED = """format = 1
[material]
thickness = 2
[stitching]
pitch = 5
inset = 5
thread = 0.8
[[piece]]
name = "sheath"
points = [[0, 0], [60, 0], [60, 90], [0, 90], [-4, 90], [-4, 120], [-60, 120], [-60, 0]]
folds = { back = { line = [[0, 0], [0, 90]], angle = 180, stays = "G" } }
[[piece]]
name = "patch"
rectangle = [20, 40]
on = "sheath"
at = [-62, 20]
[[seam]]
name = "edge"
runs = [{ run = "sheath: B-C", from_start = 8, from_end = 8 }, "sheath", "patch"]
"""


def test_the_other_leaf_is_drawn_where_it_lies(tmp_path: Path) -> None:
    """By hand: the fold lies on x = 0, so that the leaf from -60 to 0 lies under 0 to 60, and reaches 30
    higher; the patch on it from -62 to -42 under 42 to 62."""
    file = tmp_path / "p.toml"
    file.write_text(FOLDED, "utf-8")
    made = punched_of(file)
    (seam,) = made.seams
    lower = lower_layers(made, seam)
    told = {layer.piece: layer for layer in lower}
    assert seam.face.text == "B-C"
    outlines = [told[name].outline for name in ("sheath", "patch")]
    assert [each.bounds() for each in outlines if each is not None] == [
        pytest.approx((0, 0, 60, 120)),
        pytest.approx((42, 20, 62, 60)),
    ]
    assert told["sheath"].folded
    assert face_outline(made, seam, lower).bounds() == pytest.approx((0, 0, 60, 90))


def test_layers_are_punched_through_what_lies_on_top_at_each_hole(tmp_path: Path) -> None:
    made = punched(tmp_path, 'punch = "through"\n')
    (seam,) = made.seams
    tops = {layer.piece: {top.piece for top in punched_through(seam, layer)} for layer in seam.layers}
    # Of the lowest, 40 high: low up to 30, left from there on, and the back where neither lies.
    lowest = {"back", "left", "low"}
    assert tops == {"back": {"left", "low"}, "left": {"low"}, "low": set(), "behind": lowest}
    marked = {layer.piece: sum(map(len, seam.marked_rows(layer))) for layer in seam.layers}
    assert sum(marked.values()) == seam.count
    assert marked["behind"] == 0
