"""Templates and pictures of layers that go part of the way: only what lies on a piece is drawn there."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import Ink
from handkit.draw.pages.lower_layers import face_outline, lower_layers
from handkit.draw.pages.seam_picture import BELOW, ON_TOP, OUTLINE, seam_picture, seam_scene
from handkit.draw.templates.window_ink import stitch_paths
from handkit.draw.words.names import kit_plan, punched_through
from handkit.geometry.region import region_of
from handkit.kit import punched_of
from handkit.stitch.planner import plan

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


STEPS = """format = 1
[material]
thickness = 1
[stitching]
pitch = 10
inset = 4
thread = 0.8
[[piece]]
name = "back"
rectangle = [148, 90]
[[piece]]
name = "tee"
points = [[10, 0], [60, 0], [60, 30], [70, 30], [70, 60], [0, 60], [0, 30], [10, 30]]
on = "back"
at = [0, 24]
[[piece]]
name = "next"
points = [[10, 0], [60, 0], [60, 30], [70, 30], [70, 60], [0, 60], [0, 30], [10, 30]]
on = "back"
at = [0, 12]
[[piece]]
name = "front"
rectangle = [70, 58]
on = "back"
[[seam]]
name = "rim"
runs = ["back: A-B-C-D-A", "tee", "next", "front"]
"""


def test_what_another_piece_hides_is_dashed_and_never_twice(tmp_path: Path) -> None:
    """By hand, mm: what runs along an edge over it is in sight as that is. Hidden: all of the stem of "next"
    and 10 of its bar at either side; of the tee its foot, and bar and stem down to 42: from there on the
    stem runs along the one over it."""
    file = tmp_path / "p.toml"
    file.write_text(STEPS, "utf-8")
    made = punched_of(file)
    (seam,) = plan(made).seams
    kit, room = kit_plan(made, plan(made)), Typesetter(shipped_fonts(), 190, 120)
    scene = seam_scene(kit, [seam], room)
    assert [layer.piece for layer in scene.lower] == ["front", "next", "tee"]
    seen = [sum(path.length for path in sight.seen) for sight in scene.sights]
    hidden = [sorted(path.length for path in sight.hidden) for sight in scene.sights]
    assert seen == pytest.approx([256, 30 + 70 + 30, 30 + 70 + 30, 476], abs=1)
    stem = 10 + 30 + 50 + 30 + 10
    assert hidden == [[], pytest.approx([stem], abs=1), pytest.approx([22, 22, 50], abs=1), []]
    (drawn, _) = seam_picture(kit, scene, room).groups
    pens = [ink.stroke for mark in drawn.marks for ink in mark.parts if isinstance(ink, Ink)]
    assert [pens.count(pen) for pen in (ON_TOP, BELOW, OUTLINE)] == [3, 4, 1]


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
