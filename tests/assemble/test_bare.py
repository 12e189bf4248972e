"""What a blade passes: rooms that a file writes itself, rows beyond its sheath, drafted out by hand.

By hand, leather 2.4, pitch and inset 4, thread 0.8: a blade of 20 in the middle of a leaf of 40 is 10 from
its edges, 6 from a row 4 inside them, 5.6 from its thread; one of 24 is 3.6 from it. Drafted, a blade of
22 x 110 with 2 of ease at (100, 40) lies between 104.24 and 126.24; its mouth is at 162, so it passes up to
272. At 252, 90 beyond the mouth, it leans by 90 x 2 / 55 = 3.27, and 8.27 are clear.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from test_held_between import HANGS, LOOPED, PATCH, STRIP, article_of, pin

from handkit.assemble.article import Article
from handkit.commands.common.by_hand import written_out
from handkit.kit import article_of as put_together
from handkit.kit import punched_from
from handkit.read.reader import read_project_text

LEAVES = """
[[piece]]
name = "back"
rectangle = [40, 180]
[[piece]]
name = "front"
rectangle = [40, 120]
on = "back"
[[seam]]
name = "edge"
runs = ["front: D-A-B-C", {through}"back"]
[[part]]
name = "room"
kind = "room"
on = "back"
cover = "front"
at = [{left}, 12]
height = 108
[[item]]
name = "{name}"
in = "room"
size = [{wide}, 3, 100]
"""
WELT = """
[[piece]]
name = "welt"
points = [[0, 0], [40, 0], [40, 120], [32.5, 120], [32.5, 8], [7.5, 8], [7.5, 120], [0, 120]]
thickness = 3
on = "back"
"""
ROW = '\n[[seam]]\nname = "label"\nruns = ["label: A-B", "back"]\n'
LABEL = '\n[[piece]]\nname = "label"\nrectangle = [16, 10]\non = "back"\nat = [12, 140]\n' + ROW


OVER = """
[[piece]]
name = "over"
rectangle = [24, 8]
thickness = 1
on = "back"
at = [104, 248]
glued = true
"""


def leaves(name: str = "knife", wide: int = 20, through: str = "") -> str:
    return LEAVES.format(name=name, wide=wide, left=20 - wide / 2, through=through)


def above(at: float, y: float, more: str = "") -> str:
    """A label beside the way of a blade in a sheath that hangs on a back, its row 4 above `y`."""
    label = f'\n[[piece]]\nname = "label"\nrectangle = [16, 10]\non = "back"\nat = [{at}, {y}]\n{more}'
    return HANGS + label + ROW


# What is told, up to where it lies; "" for nothing.
PASSED = [
    (
        leaves(),
        'seam "edge": found no welt between the thread of "edge" and "knife", 5.6 mm beside it, at [4, 116] '
        'of "back"; allowed: a welt between a blade and each row that holds both leaves round it; sew one '
        "in, in the file before the blade's cover: without it the blade shifts against the row "
        "[blade-passes]",
    ),
    (leaves(wide=24), 'no welt between the thread of "edge" and "knife", 3.6 mm beside it'),
    (WELT + leaves(wide=24, through='"welt", '), ""),
    # a welt that the file lays on the front is in the seam, and not between
    (leaves(wide=24, through='"welt", ') + WELT, 'no welt between the thread of "edge" and "knife"'),
    (leaves("rule", wide=24), ""),
    (leaves("rule", wide=24) + 'cutting = "bare"\n', 'no welt between the thread of "edge" and "rule"'),
    (leaves(wide=24) + 'cutting = "covered"\n', ""),
    (
        WELT + leaves(through='"welt", ') + LABEL,
        'seam "label": found the thread of "label" bare on the way of "knife" out of its sheath',
    ),
    (
        WELT + leaves(through='"welt", ') + pin("back", "[20, 190]").replace("190", "170"),
        'a cap of "pin" bare on the way of "knife"',
    ),
    (
        above(108, 248),
        'seam "label": found the thread of "label" bare on the way of "knife" out of its sheath',
    ),
    # its first hole is 4 further right, its thread 0.4 wide: 134.1 is 7.46 off, 135 is 8.36
    (
        above(130.1, 248),
        'seam "label": found the thread of "label" bare 7.5 mm beside the way of "knife" out of its sheath, '
        'at [134.1, 252] of "back"; allowed: no thread and no metal within 8.3 mm of a blade\'s way 90 mm '
        "beyond its mouth, where it leans by its ease, or leather over them; glue a piece over it, on the "
        "side of the blade: one with on and glued = true; or move it off [blade-passes]",
    ),
    (above(131, 248), ""),
    # 1 of ease and 8 of welt leave 5 - 0.4 to the row, on either leaf: the welt parts it from the blade
    (LOOPED.replace("belt", "ease = 1\nwelt = 8\nbelt"), ""),
    (above(108, 248) + OVER, ""),
]


def told(article: Article) -> list[str]:
    found = [each for each in article.findings if each.code == "blade-passes"]
    return [str(each).partition(": warning: ")[2] for each in found]


@pytest.mark.parametrize(("text", "expected"), PASSED)
def test_a_blade_is_told_what_it_passes_wherever_it_is_held(tmp_path: Path, text: str, expected: str) -> None:
    found = told(article_of(tmp_path, text))
    assert [expected in each for each in found] == [True] * bool(expected), found


BY_HAND = [
    HANGS + "handle = [26, 18, 90]\n",
    HANGS.replace("at = [100", "behind = true\nat = [100"),
    above(130.1, 248),
    LOOPED,
    LOOPED + PATCH,
    LOOPED + PATCH + STRIP + "glued = true\n",
    LOOPED.replace("belt", "handle_strap = 20\nbelt") + "handle = [26, 18, 90]\n",
    LOOPED.replace("belt", "grip = 30\nbelt") + "handle = [26, 18, 90]\n",
    LOOPED.replace(
        "size = [22, 3, 110]\ntip = 30",
        "thickness = 3\noutline = [[0, 0], [18, 40], [20, 160], [0, 160]]\nblade = 100",
    ),
]


@pytest.mark.parametrize("text", BY_HAND)
def test_what_is_drafted_out_by_hand_is_told_the_same(tmp_path: Path, text: str) -> None:
    """Its blade and its handle lie in the same places, and the same is told of them."""
    before = article_of(tmp_path, text)
    project = read_project_text(written_out(before.punched.pattern, ".", {}), file="f.toml", folder=tmp_path)
    after = put_together(punched_from(project))
    assert told(after) == told(before)
    places = [
        [(thing.words, *thing.outline.bounds(), thing.low, thing.high) for thing in each.figures[0].things]
        for each in (before, after)
    ]
    for (name, *place), (other, *there) in zip(*places, strict=True):
        assert name == other
        assert place == pytest.approx(there, abs=0.001)
    assert [clash.other for clash in after.clashes] == [clash.other for clash in before.clashes]
