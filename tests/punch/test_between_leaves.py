"""What lies between the leaves of a folded piece, and what goes through both: worked out by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from handkit import kit
from handkit.errors import ProjectError

HEAD = """
format = 1
title = "Sheath"
unit = "mm"
[material]
thickness = 2
[stitching]
pitch = 4
inset = 4
thread = 0.8
hole = { round = 1.6 }
"""

# 200 by 60, folded at x = 100 by half a turn: what is left of it comes over the rest, on the side that shows.
# Holes run 4 from both ends, from 4 to 56 up: 14 of them.
SHEATH = """
[[piece]]
name = "sheath"
rectangle = [200, 60]
folds = { back = { line = [[100, 0], [100, 60]], out = "flesh", angle = 180, stays = "B" } }
[[seam]]
name = "edge"
runs = ["sheath: B-C"{layer}, "sheath: A-D"]
"""

# A strip, from a place along the sheath on, on the side that shows or behind.
STRIP = """
[[piece]]
name = "{name}"
rectangle = [{wide}, 60]
on = "sheath"
at = [{left}, 0]
behind = {behind}
"""


def strip(name: str, left: int, *, wide: int = 20, behind: bool = False) -> str:
    return STRIP.format(name=name, left=left, wide=wide, behind=str(behind).lower())


def sheath(layer: str = "") -> str:
    return SHEATH.replace("{layer}", f', "{layer}"' if layer else "")


# As a letter is: the middle comes over what stays, the end on top of that; 50 and 250 lie on one another.
LETTER = """
[[piece]]
name = "letter"
rectangle = [300, 60]
lines = { low = [[50, 4], [50, 56]], middle = [[150, 4], [150, 56]], high = [[250, 4], [250, 56]] }
[piece.folds]
one = { line = [[100, 0], [100, 60]], out = "flesh", angle = 180, stays = "A" }
two = { line = [[200, 0], [200, 60]], out = "grain", angle = 180, radius = 2, stays = "A" }
[[seam]]
name = "edge"
runs = ["letter: low", {}"letter: high"]
"""

# A flap that is sewn on behind and folded over the front, which the file has after it.
FLAP = """
[[piece]]
name = "back"
rectangle = [120, 100]
lines = { hang = [[20, 92], [100, 92]] }
[[piece]]
name = "flap"
rectangle = [100, 90]
on = "back"
at = [110, 84]
behind = true
turned_over = true
folds = { top = { line = [[0, 16], [100, 16]], out = "grain", angle = 180, radius = 3, stays = "A" } }
[[seam]]
name = "flap"
runs = ["back: hang", "flap"]
[[piece]]
name = "front"
rectangle = [100, 70]
on = "back"
at = [10, 5]
[[seam]]
name = "front"
runs = ["front: D-A-B-C", "back"]
"""

ALL = 'hole 1 of seam "edge" through "{}", which lies between its layers; and 13 more'


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (sheath() + strip("welt", 180), [ALL.format("welt")]),  # on what stays, inside
        (sheath() + strip("welt", 0), [ALL.format("welt")]),  # on what moves, inside
        (sheath("welt") + strip("welt", 180), []),  # it is a layer
        (sheath("welt") + strip("welt", 0), []),
        (sheath() + strip("welt", 160), []),  # it ends at 180, the holes are at 196
        (sheath() + strip("welt", 24), []),  # it begins at 24, the holes are at 4
        (sheath() + strip("strap", 180, behind=True), []),  # outside
        (sheath() + strip("strap", 0, behind=True), []),
        (LETTER.replace("{}", ""), [ALL.format("letter")]),
        (LETTER.replace("{}", '"letter: middle", '), []),
        (FLAP, []),
    ],
    ids=[
        "on what stays",
        "on what moves",
        "named",
        "named, on what moves",
        "short",
        "short, on what moves",
        "outside",
        "outside, on what moves",
        "a leaf between leaves",
        "all three leaves",
        "under a flap",
    ],
)
def test_what_lies_between_leaves_is_pierced(tmp_path: Path, text: str, found: list[str]) -> None:
    assert pierced(tmp_path, text) == found


def pierced(tmp_path: Path, text: str) -> list[str]:
    """What is told of pieces that something goes through unnamed."""
    file = tmp_path / "sheath.toml"
    file.write_text(HEAD + text, "utf-8")
    try:
        findings = kit.punched_of(file).findings
    except ProjectError as error:
        findings = error.findings
    return [each.found for each in findings if each.code == "piece-pierced"]
