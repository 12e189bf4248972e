"""Setting: at which scales pictures stand on a page together."""

from __future__ import annotations

import pytest

from handkit.draw.article.scene import ArticleScene
from handkit.draw.article.setting import also_seen, arranged_by_kinds
from handkit.draw.layout.typesetter import Typesetter
from handkit.draw.model.fonts import shipped_fonts
from handkit.draw.model.marks import Words
from handkit.geometry.box import Box
from handkit.wording.figures import METRIC

# A page of 188 x 255. A picture needs 20 mm on either side for names; under one another each has some 20 mm
# for its title and free paper.
ROOM = (188.0, 255.0)


def scene(title: str, width: float, height: float) -> ArticleScene:
    return ArticleScene(title, Box(0, 0, width, height), ())


FRONT, BACK, OPEN = scene("Front", 178, 271), scene("Back", 178, 271), scene("Open", 178, 481)
SMALL, WIDE = scene("Front", 40, 40), scene("Layers", 400, 100)

# By hand, the figures, the room, then the titles in order.
TABLE = {
    # 1 : 4 is (44.5 + 40) · 2 = 169 wide, 84.5 + 98.75 = 183.25 under it, and 67.75 + 120.25 + 40 high. At
    # 1 : 3.5 the second row has 198. Front and back in a row with the third, over the layers, have 1 : 8.
    "in common rows": (
        [([FRONT, BACK, OPEN], [scene("Layers", 235, 440)])],
        ROOM,
        ["Front, 1 : 4", "Back, 1 : 4", "Open, 1 : 4", "Layers, 1 : 4"],
    ),
    # The layers are 133 wide at 1 : 3, 160 at 1 : 2.5, beside 148. The front has 120 at 3 : 1, 160 at 4 : 1.
    "each at its own": ([([SMALL], [WIDE])], ROOM, ["Front, 3 : 1", "Layers, 1 : 3"]),
    # Figure by figure, the strap last: before the layers it would part them from what they stand beside.
    "by figures": (
        [([FRONT, BACK, OPEN], [scene("Layers", 235, 440)]), ([scene("Strap", 580, 22)], [])],
        ROOM,
        ["Front, 1 : 5", "Back, 1 : 5", "Open, 1 : 5", "Layers, 1 : 5", "Strap, 1 : 5"],
    ),
    # 400 of 40 m have no room at any scale; beside title and free paper the front has 40 of the 60.
    "the first alone": ([([SMALL], [scene("Layers", 400, 40_000)])], (188.0, 61.0), ["Front, 1 : 1"]),
}


@pytest.mark.parametrize(("figures", "room", "titles"), TABLE.values(), ids=TABLE)
def test_the_smaller_of_both_scales_is_as_large_as_there_is_room(
    figures: list[tuple[list[ArticleScene], list[ArticleScene]]], room: tuple[float, float], titles: list[str]
) -> None:
    blocks = arranged_by_kinds(figures, METRIC, Typesetter(shipped_fonts(), *room))
    assert sum(block.height for block in blocks) <= room[1]
    marks = [mark for block in blocks for group in block.groups for mark in group.marks]
    told = [part.text for mark in marks for part in mark.parts if isinstance(part, Words)]
    assert told == titles


@pytest.mark.parametrize(
    ("width", "told"),
    [  # the font's own widths: 118.9, 92.8, 60.9 and 30.9 mm
        (130.0, "also seen: knife sheath, knife sheath welt and spool of waxed thread"),
        (95.0, "also seen: knife sheath, knife sheath welt and 1 more"),
        (92.0, "also seen: knife sheath and 2 more"),
        (40.0, "also seen: 3 more"),
    ],
)
def test_names_without_a_place_are_told_whole_or_counted(width: float, told: str) -> None:
    assert (
        also_seen(["knife sheath", "knife sheath welt", "spool of waxed thread"], width, shipped_fonts())
        == told
    )
