"""Which side a seam's picture shows: that which is outside while it is sewn; told where it is not plain."""

from __future__ import annotations

import pytest

from handkit import ProjectText, kit
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.pages.seam_picture import seam_scene, seam_told
from handkit.draw.words.document import Ticked
from handkit.draw.words.names import kit_plan
from handkit.draw.words.work_order import order_parts
from handkit.stitch.planner import plan

HEAD = """
format = 1
[material]
thickness = 2
kind = "soft leather"
"""

BAG = """
[[part]]
name = "bag"
kind = "bag"
hem = 12
{more}
[[item]]
name = "book"
in = "bag"
size = [90, 12, 148]
"""

# A loop behind, a patch in front; the loop is sewn on face down.
LOOP = """
[[piece]]
name = "back"
rectangle = [160, 220]
[[piece]]
name = "tab"
rectangle = [40, 20]
on = "back"
at = [100, 150]
behind = true
turned_over = true
[[seam]]
name = "tab"
runs = [{ run = "tab: D-A-B-C", inset = 4 }, "back"]
[[piece]]
name = "patch"
rectangle = [80, 60]
on = "back"
at = [10, 10]
[[seam]]
name = "patch"
runs = ["patch: D-A-B-C", "back"]
"""

TABLE = {
    # Outsides meet: what is looked at is the flesh side of the strip, which is drawn as its grain shows.
    "inside out": (
        BAG.format(more="allowance = 10"),
        "bag, front",
        "the flesh side of bag gusset, which is outside while this is sewn",
        "bag gusset, seen from its flesh side",
    ),
    "edges out": (BAG.format(more=""), "bag, front", "", ", seen from its face"),
    "behind": (
        LOOP,
        "tab",
        "the grain side of back, which lies down on the bench; in the clamp it is the face",
        "back, seen from its face",
    ),
    "in front": (LOOP, "patch", "", "patch, seen from its face"),
}


@pytest.mark.parametrize(("text", "name", "told", "picture"), TABLE.values(), ids=TABLE)
def test_a_picture_shows_what_is_outside_while_it_is_sewn(
    text: str, name: str, told: str, picture: str
) -> None:
    punched = kit.punched_of(ProjectText(HEAD + text))
    made = kit_plan(punched, plan(punched))
    (seam,) = [each for each in made.plan.seams if each.name == name]
    scene = seam_scene(made, [seam], Typesetter(shipped_fonts(), 190, 120))
    steps = [part for part in order_parts(made) if isinstance(part, Ticked) and name in part.seams]
    assert [line.text for step in steps for line in step.lines if line.key == "Seen"] == [told] * bool(told)
    assert picture in seam_told(scene)
    first, last = (scene.by.apply(hole.at) for hole in seam.punched.face.holes[:: seam.punched.count - 1])
    way = [hole.at[0] for hole in seam.punched.face.holes[:: seam.punched.count - 1]]
    assert (first[0] < last[0]) is ((way[0] < way[1]) is not scene.by.turns_over)
    assert scene.by.turns_over is ("outside" in told)
    left, right = sorted(scene.by.apply(at)[0] for at in scene.shown.corners)[:: len(scene.shown.corners) - 1]
    assert (left, right) == pytest.approx((0.0, scene.size[0]))  # all of it lies on its paper
