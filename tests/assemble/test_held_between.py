"""What lies in sheaths, steps and covers: heights by hand, what is in its way, a folded sheath in space."""

from __future__ import annotations

from pathlib import Path

import pytest
import shapely

from handkit import kit
from handkit.assemble.article import Article, Leaf
from handkit.assemble.section import sections_of
from handkit.geometry.affine import Point

BOARD = (Path(__file__).parent / "board.toml").read_text("utf-8")
HEAD = BOARD.replace("thickness = 2\n", "thickness = 2.4\n")
SHEATH = """
[[part]]
name = "sheath"
kind = "sheath"
[[item]]
name = "knife"
in = "sheath"
size = [22, 3, 110]
tip = 30
"""
HANGS = '\n[[piece]]\nname = "back"\nrectangle = [200, 260]\n' + SHEATH.replace(
    'kind = "sheath"', 'kind = "sheath"\non = "back"\nat = [100, 40]'
)
STEPS = """
[[piece]]
name = "back"
rectangle = [160, 200]
[[item]]
name = "card"
in = "cards"
size = [85.6, 0.76, 54]
[[part]]
name = "cards"
kind = "stepped pockets"
on = "back"
at = [20, 30]
steps = 3
"""
COVER = """
[[item]]
name = "notebook"
in = "cover"
size = [105, 12, 148]
[[part]]
name = "cover"
kind = "fold cover"
ends = "{ends}"
"""
BADGE = '\n[[piece]]\nname = "badge"\nrectangle = [16, 16]\non = "sheath"\nat = [-28, 60]\n'


def article_of(tmp_path: Path, text: str) -> Article:
    file = tmp_path / "held.toml"
    file.write_text(HEAD + text, "utf-8")
    return kit.article_of(kit.punched_of(file))


def pin(through: str, at: str) -> str:
    kind = 'kind = "rivet"\nhole = 3\ncap = 9'
    return f'\n[[opening]]\nname = "pin"\n{kind}\nthrough = ["{through}"]\nat = [{at}]\n'


# By hand. Leather 2.4: alone its inner side is the far one, at -2.4; on the back it is 2.4 off the face, or
# behind 2.4 off the far one, -2.4; a blade of 3, its handle of 15 on the same side. A card of 0.76 on the
# leather of the step behind it: 2.4 + 0.76 a step.
PLACES = [
    (SHEATH, [(-5.4, -2.4), (-17.4, -2.4)]),
    (HANGS, [(2.4, 5.4), (2.4, 17.4)]),
    (HANGS.replace("at = [100, 40]", "at = [100, 40]\nbehind = true"), [(-7.8, -4.8), (-19.8, -4.8)]),
    (STEPS, [(0.0, 0.76), (3.16, 3.92), (6.32, 7.08)]),
    (STEPS.replace("at = [20", "behind = true\nat = [130"), [(-3.16, -2.4), (-6.32, -5.56), (-9.48, -8.72)]),
    (COVER.format(ends="sleeves"), [(0.0, 12.0)]),
    (COVER.format(ends="turn-ins"), [(0.0, 12.0)]),
    (COVER.format(ends="turn-ins") + 'spine = "level"\n', [(0.0, 12.0)]),
]


@pytest.mark.parametrize(("text", "heights"), PLACES)
def test_each_thing_lies_where_it_is_held(
    tmp_path: Path, text: str, heights: list[tuple[float, float]]
) -> None:
    article = article_of(tmp_path, text)
    (figure,) = article.figures
    found = [bound for thing in figure.things for bound in (thing.low, thing.high)]
    assert found == pytest.approx([bound for each in heights for bound in each])
    assert article.clashes == ()


# What is in the way, and where it is told: on the leaf the thing lies on, on the one that is folded over it,
# thread that a badge is sewn on with, a second welt in the blade's place, a rivet under the first card, a
# notebook's rivet, and cards that its cover has no depth for: 12 + 3 + 2.4 + 2.4 on 12 + 2 x 2.4 is 3 too
# much, 1.2 less the ease of none.
STOP = """
[[piece]]
name = "stop"
rectangle = [20, 40]
on = "sheath"
at = [12, 60]
behind = true
[[seam]]
name = "stop"
runs = [{ run = "sheath: C-D", inset = 16, from_start = 26, from_end = 24 }, "stop", "sheath"]
"""
NOTES = """
[[item]]
name = "notes"
in = "notes"
size = [40, 3, 85]
[[part]]
name = "notes"
kind = "stepped pockets"
on = "cover right"
at = [4, 10]
"""
SEWN = '[[seam]]\nname = "badge"\nruns = ["badge: A-B-C-D-A", "sheath"]\n'
WAYS = [
    (SHEATH + pin("sheath", "[-16, 60]"), "clash/cap", "knife", 2.0),
    (SHEATH + pin("sheath", "[16, 60]"), "clash/leaves-bend", "sheath", 2.0),
    (SHEATH + BADGE + SEWN, "clash/row", "knife", 0.8),
    (SHEATH + STOP, "clash/welt", "sheath", 2.4),
    (STEPS + pin("back", "[70, 90]"), "clash/cap", "card", 0.76),
    (COVER.format(ends="sleeves") + pin("cover", "[80, 60]"), "clash/cap", "notebook", 2.0),
    (COVER.format(ends="sleeves") + NOTES, "clash/leaves", "cover", 5.4),
]


# A patch on what goes on above the mouth, sewn down by the file itself: its row comes out on the other side,
# where the blade is drawn past it.
LOOPED = SHEATH.replace('"sheath"\n[', '"sheath"\nbelt = 60\n[')
PATCH = """
[[piece]]
name = "patch"
rectangle = [16, 18]
on = "sheath"
at = [-23.24, 156]
[[seam]]
name = "patch"
runs = ["patch: A-B", "sheath"]
"""
STRIP = """
[[piece]]
name = "strip"
rectangle = [20, 24]
on = "sheath"
at = [-5.24, 152]
turned_over = true
behind = true
"""
PASSED = [
    (LOOPED, ""),
    (
        LOOPED + PATCH,
        'seam "patch": found the thread of "patch" bare on the way of "knife" out of its sheath',
    ),
    (LOOPED + PATCH + STRIP, 'seam "patch": found the thread of "patch" bare on the way of "knife"'),
    (LOOPED + PATCH + STRIP + "glued = true\n", ""),
    (LOOPED + pin("sheath", "[-16, 170]"), 'opening "pin": found a cap of "pin" bare on the way of "knife"'),
    # by hand: half of the fold is 4.24, so the way of a blade 12 wide ends 16.24 off it; a cap of 9 about 23
    # begins at 18.5
    (
        LOOPED.replace("[22, 3", "[12, 3").replace("belt", "welt = 12\nbelt") + pin("sheath", "[-23, 170]"),
        'opening "pin": found a cap of "pin" bare 2.3 mm beside the way of "knife" out of its sheath, '
        'at [-23, 170] of "sheath"; allowed: no thread and no metal within 6.7 mm of a blade\'s way 46 '
        "mm beyond its mouth, where it leans by its ease, or leather over them; glue a piece over it, on the "
        "side of the blade: one with on and glued = true; or move it off [blade-passes]",
    ),
]


@pytest.mark.parametrize(("text", "told"), PASSED)
def test_a_blade_is_told_to_pass_bare_thread_and_metal(tmp_path: Path, text: str, told: str) -> None:
    """Only leather that is held down over it parts it from the edge; of a handle that lies on it the handle's
    own clash tells."""
    found = [str(each) for each in article_of(tmp_path, text).findings if each.code == "blade-passes"]
    assert [told in each for each in found] == [True] * bool(told), found


@pytest.mark.parametrize(("text", "key", "of", "high"), WAYS)
def test_what_is_in_its_way_is_told(tmp_path: Path, text: str, key: str, of: str, high: float) -> None:
    article = article_of(tmp_path, text)
    clash = next(each for each in article.clashes if each.key == key)
    assert (clash.of, clash.high) == (of, pytest.approx(high))
    assert any(each.code == "clash" for each in article.findings)
    assert all(fit.clashes for fit in article.punched.pattern.item_fits if set(fit.items) & set(clash.items))


@pytest.mark.parametrize("at", [None, "at = [100, 40]", "at = [100, 40]\nbehind = true"])
@pytest.mark.parametrize("tip", [8, 30, 70])
def test_a_folded_sheaths_welt_covers_the_whole_edge(tmp_path: Path, at: str | None, tip: int) -> None:
    """In space, by shapely: every line from the blade to a hole of its edge goes through the welt, which
    fills the room between the leaves; blade and thread are apart by the ease and what the welt has inside
    the thread."""
    text = (SHEATH if at is None else HANGS.replace("at = [100, 40]", at)).replace("tip = 30", f"tip = {tip}")
    article = article_of(tmp_path, text)
    (figure,) = article.figures
    thing, _ = figure.things
    sheath, welt = figure.body("sheath"), figure.body("sheath welt")
    home = sheath.leaf_at(thing.outline.flattened(sagitta=0.01))
    over = next(leaf for leaf in sheath.leaves if leaf is not home)
    blade = shapely.Polygon(folded(home, thing.outline.flattened(sagitta=0.01)))
    between = shapely.Polygon(folded(over, welt.outline.flattened(sagitta=0.01)))
    rows = [row for row in figure.rows if row.seam == "sheath"]
    holes = [
        place
        for row in rows
        for place in folded(sheath.leaf_at([row.front[0][:2]]), [at[:2] for at in row.front])
    ]
    assert len(holes) == 2 * len({(round(x, 3), round(y, 3)) for x, y in holes})  # both leaves' meet
    for hole in map(shapely.Point, holes):
        assert between.contains(hole)
        way = shapely.shortest_line(blade, hole)
        assert way.intersection(between).length == pytest.approx(way.length - blade.distance(between), abs=1)
        assert way.length >= 2.0 + 10 - 4 - 0.01  # ease 2, a welt of 2.5 x 4, its thread 4 inside
    leaf = shapely.Polygon(folded(home, home.outline.flattened(sagitta=0.01)))
    filled = between.buffer(0.01).union(blade.buffer(2.01, join_style="mitre")).union(beside(blade))
    assert leaf.intersection(shapely.box(-999, -999, 999, blade.bounds[3])).difference(filled).is_empty
    faces = [home.middle, over.middle]
    assert max(faces) - min(faces) == pytest.approx(2.4 + 3)  # as far apart as the welt is thick
    levels = [home.fold.apply((*thing.outline.start, z))[2] for z in (thing.low, thing.high)]
    assert sorted(levels) == pytest.approx([min(faces) + 1.2, max(faces) - 1.2])


def folded(leaf: Leaf, points: list[Point]) -> list[Point]:
    """Places of the plan once the leaf is folded."""
    return [leaf.fold.apply((x, y, 0.0))[:2] for x, y in points]


def beside(blade: shapely.Polygon) -> shapely.Polygon:
    """All on the side of its back, which is straight all along it."""
    left, low, right, top = blade.bounds
    long = [blade.exterior.intersection(shapely.box(x, low, x, top)).length for x in (left, right)]
    return shapely.box(-999, -999, left, 999) if long[0] > long[1] else shapely.box(right, -999, 999, 999)


def test_steps_are_cut_once_and_a_sheath_with_its_blade(tmp_path: Path) -> None:
    """One section for all steps, each card under its own; round the blade welt and both leaves; where
    the sheath's loop is cut the handle on the loop's other side, the blade between the leaves; without a loop
    the same by itself."""
    (steps,) = sections_of(article_of(tmp_path, STEPS))
    assert [plate.piece for plate in steps.plates] == ["back", "cards 1", "cards 2", "cards 3"]
    floors = [thing.outline.bounds()[1] for thing in steps.things]
    assert floors == pytest.approx([0.0, 3.16, 6.32], abs=0.05)
    round_, loop = sections_of(article_of(tmp_path, SHEATH.replace('"sheath"\n[', '"sheath"\nbelt = 40\n[')))
    assert [plate.piece for plate in round_.plates] == ["sheath", "sheath welt"]
    (blade,), (_, welt) = round_.things, round_.plates
    assert blade.outline.bounds()[1::2] == pytest.approx(welt.outline.bounds()[1::2])
    gripped = SHEATH.replace("tip = 30", "tip = 30\nhandle = [26, 18, 100]").replace(
        '"\n[[i', '"\ngrip = 30\n[[i'
    )
    across, along = sections_of(article_of(tmp_path, gripped))
    assert [(each.of, len(each.things)) for each in (across, along)] == [("sheath", 1), ("knife", 2)]
    (_, alone) = sections_of(article_of(tmp_path, SHEATH))
    assert (loop.of, alone.of) == ("sheath", "knife")
    for cut in (loop, alone):
        handle, blade = cut.things
        assert handle.outline.bounds()[1::2] == pytest.approx((-1.2 - 15, -1.2))
        assert blade.outline.bounds()[1::2] == pytest.approx((-1.2 - 3, -1.2))
        assert handle.outline.bounds()[0] == pytest.approx(blade.outline.bounds()[2])
        (_, low, mouth, high) = cut.plates[1].outline.bounds()  # the other leaf, up to the mouth
        assert (low, high) == pytest.approx((-1.2 - 3 - 2.4, -1.2 - 3))
        assert mouth == pytest.approx(blade.outline.bounds()[2])
        assert len(cut.plates) == 2


CARD = '[[item]]\nname = "{}"\nin = "cards"\nsize = [{}, 0.8, 54]\n'
FLAP = """
[[piece]]
name = "back"
rectangle = [130, 180]
[[part]]
name = "cards"
kind = "stepped pockets"
on = "back"
at = [12, 12]
width = 97
[[part]]
name = "flap"
kind = "flap"
on = "back"
to = "cards {}"
closed_by = "strap"
"""


@pytest.mark.long
@pytest.mark.parametrize(
    ("wide", "of"),
    [((86, 86, 86), "three"), ((86, 86, 30), "two"), ((86, 30, 30), None)],
)
def test_rivets_in_the_last_step_press_on_the_next_thing_behind(
    tmp_path: Path, wide: tuple[int, ...], of: str | None
) -> None:
    """By hand: the rivets of the loop stand at 22 beside the middle, clear of a card 30 wide, and below the
    first step's foot. A cap stands 2 into the step, half of the ease is 0.23. What lies behind the nearest
    thing is not told again."""
    cards = "".join(CARD.format(*each) for each in zip(("one", "two", "three"), wide, strict=True))
    article = article_of(tmp_path, FLAP.format(len(wide)) + cards)
    told = [(each.of, each.other, round(each.high, 2)) for each in article.clashes]
    assert told == ([(of, 'a cap of "flap rivets"', 1.77)] if of else [])
