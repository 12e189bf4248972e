"""Handles that stand out of sheaths: what is in their way, by hand and by shapely; what closes over them.

By hand, leather 2.4, a blade of 22 x 3 x 110: the fold takes pi/4 x (3 + 2.4), so the blade's middle lies
4.24 + 11 beside it; foot and mouth are 12 and 122 up, for 2 of ease and a welt of 10. With the part at
(100, 40) a handle of 26 x 18 x 90 lies between 102.24 and 128.24, from 162 up to 252, from 2.4 to 20.4 off
the back.
"""

from __future__ import annotations

from itertools import combinations
from math import pi
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from handkit import kit
from handkit.assemble.article import Article, heights_of
from handkit.assemble.closing import closings

HEAD = (
    (Path(__file__).parent / "board.toml").read_text("utf-8").replace("thickness = 2\n", "thickness = 2.4\n")
)
BACK = '\n[[piece]]\nname = "back"\nrectangle = [200, 260]\n'
KNIFE = """
[[item]]
name = "knife"
in = "sheath"
size = [22, 3, 110]
tip = 30
handle = [26, 18, 90]
"""
SHEATH = '\n[[part]]\nname = "sheath"\nkind = "sheath"\non = "back"\nat = [100, 40]\n'
THIN = '\n[[piece]]\nname = "sheath"\nthickness = 1.2\n'
LABELS = """
[[item]]
name = "labels"
in = "pocket"
size = [40, 6, 50]
[[part]]
name = "pocket"
kind = "flat pocket"
on = "back"
at = [122, 190]
"""
PEN = """
[[item]]
name = "pen"
in = "holder"
diameter = 10
length = 90
[[part]]
name = "holder"
kind = "holder row"
on = "back"
at = [175, 205]
turn = 90
shows = 50
"""


def pin(through: str, at: str) -> str:
    kind = 'kind = "rivet"\nhole = 3\ncap = 9'
    return f'\n[[opening]]\nname = "pin"\n{kind}\nthrough = [{through}]\nat = [{at}]\n'


def patch(box: tuple[float, float, float, float], thick: float, name: str = "patch") -> str:
    left, low, right, top = box
    size = f"rectangle = [{right - left}, {top - low}]\nthickness = {thick}"
    return f'\n[[piece]]\nname = "{name}"\n{size}\non = "back"\nat = [{left}, {low}]\nglued = true\n'


def article_of(text: str) -> Article:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "held.toml"
        file.write_text(HEAD + text, "utf-8")
        return kit.article_of(kit.punched_of(file))


def told(text: str) -> list[str]:
    """What is told but notes, and what the blade itself passes, without its file's name and line."""
    article = article_of(text)
    found = (*article.findings, *article.punched.pattern.findings)
    return [
        str(each).split("warning: ", 1)[1]
        for each in found
        if each.severity != "note" and each.code != "blade-passes"
    ]


WAY = PEN.replace("shows = 50", "shows = 8").replace("length = 90", "length = 40")
WIDE = LABELS.replace("[40, 6", "[40, 20").replace("[122, 190]", "[80, 186]").replace("flat", "bowed")
FOLD = BACK + "folds = {{ top = [[0, {y}], [200, {y}]] }}\n"
LOW = SHEATH.replace("40]", "10]")
OF = 'item "knife": in: found the handle of "knife" '

# By hand. On leather of 1.2 the handle ends at 127.30; a cap stands 2 up, 0.8 of that into it. A patch of 4
# reaches 1.6 in, a pen of 10 lies 7.6 in; a fold at 215 leaves 37 beyond it.
ROWS = [
    (BACK + SHEATH + KNIFE, None),
    (BACK + SHEATH + KNIFE + pin('"back"', "[124, 240]"), None),  # 2 under 2.4 of leather
    (
        BACK + SHEATH + THIN + KNIFE + pin('"back"', "[124, 240]"),
        OF + '7.8 mm over a cap of "pin", which stands 0.8',
    ),
    (BACK + SHEATH + KNIFE + patch((120, 200, 150, 230), 2.8), None),
    (BACK + SHEATH + KNIFE + patch((120, 200, 150, 230), 4), OF + '8.2 mm over "patch", which stands 1.6'),
    (BACK + patch((120, 200, 150, 230), 4) + SHEATH + KNIFE, OF + '8.2 mm over "patch", which stands 1.6'),
    (BACK + SHEATH + KNIFE + LABELS, OF + '2.2 mm over "pocket"'),
    (BACK + LABELS + SHEATH + KNIFE, OF + '2.2 mm over "pocket"'),
    (BACK + SHEATH + KNIFE + PEN, OF + 'and "pen" in one place: 33 mm deep, 7.6 mm in height'),
    (BACK + PEN + SHEATH + KNIFE, 'item "pen": in: found "pen" and the handle of "knife" in one place'),
    (BACK + SHEATH + "behind = true\n" + KNIFE + PEN, None),  # on the other face
    (BACK + SHEATH.replace("[100", "[120") + "behind = true\n" + KNIFE + WIDE, None),  # past the leaf, too
    (BACK + SHEATH + KNIFE + WAY, 'item "pen": in: found "pen" drawn out'),
    (BACK + WAY + SHEATH + KNIFE, 'item "pen": in: found "pen" drawn out'),
    (
        BACK + LOW + KNIFE.replace("90]", "30]") + patch((100, 170, 130, 190), 24),
        'item "knife": in: found "knife" drawn out',
    ),
    (FOLD.format(y=215) + SHEATH + KNIFE, OF + 'across fold "top", 37 mm of it beyond'),
    (
        BACK + SHEATH.replace("40]", "60]") + KNIFE,
        'part "sheath": at: found "handle of knife" 12 mm past the upper edge',
    ),
]


@pytest.mark.parametrize(("text", "expected"), ROWS)
def test_what_is_in_a_handles_way_is_told_once(text: str, expected: str | None) -> None:
    found = told(text)
    assert len(found) == (expected is not None), found
    assert all(each.startswith(expected or "") for each in found)


def test_a_handle_that_is_not_stated_is_taken_and_told() -> None:
    """As broad as the blade, 15 thick, 100 long."""
    (found,) = told(
        BACK + SHEATH + KNIFE.replace("handle = [26, 18, 90]", "") + patch((120, 200, 150, 230), 4)
    )[:1]
    assert '; the handle of "knife" is taken as 22 × 15 × 100 mm: state it as handle' in found


def test_what_a_sheath_hangs_and_closes_by_lies_under_its_handle() -> None:
    """Its row, its loop and its strap are drafted so; a rivet through what goes on above the mouth is not."""
    alone = KNIFE + '\n[[part]]\nname = "sheath"\nkind = "sheath"\n'
    for keys in ("belt = 40\n", "handle_strap = 18\n", "belt = 40\nhandle_strap = 18\n", "grip = 30\n"):
        assert told(alone + keys) == []
    (found,) = told(alone + "belt = 40\n" + pin('"sheath"', "[-15, 140]"))
    assert found.startswith(OF) and 'over a cap of "pin", which stands 2 mm into it' in found


RULE = """
[[item]]
name = "cards"
in = "front"
size = [60, 1, 80]
[[part]]
name = "front"
kind = "flat pocket"
on = "back"
at = [60, 20]
[[item]]
name = "rule"
in = "rule pocket"
size = [30, 2, 130]
[[part]]
name = "rule pocket"
kind = "flat pocket"
on = "front"
at = [15, 8]
height = 45
"""


@pytest.mark.parametrize("thick", [2.8, 4])
def test_what_stands_out_past_the_piece_it_lies_on_is_as_a_handle(thick: float) -> None:
    """A rule in a pocket on a front, 2.4 off the back: a patch of 4 above the front is 1.6 into it, whichever
    of the two the file tells first."""
    patched = patch((70, 140, 120, 160), thick)
    for text in (BACK + patched + RULE, BACK + RULE + patched):
        found = [(clash.key, clash.of, round(clash.high, 3)) for clash in article_of(text).clashes]
        assert found == ([("clash/over", "rule", 1.6)] if thick == 4 else [])


def test_parts_are_arranged_clear_of_a_handle() -> None:
    """With nothing in its place, nothing past the base's edge."""
    back, parts = (
        BACK.replace("[200, 260]", '"arranged"'),
        SHEATH + KNIFE + LABELS + PEN.replace("turn = 90\n", ""),
    )
    for at in ("at = [100, 40]\n", "at = [122, 190]\n", "at = [175, 205]\n"):
        parts = parts.replace(at, "")
    assert told(back + parts) == []


sizes = st.floats(8, 40).map(lambda each: round(each, 1))


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    handle=st.tuples(sizes, st.floats(20, 90).map(lambda each: round(each, 1))),
    leather=st.sampled_from([1.0, 1.6, 2.4, 3.5]),
    behind=st.booleans(),
    boxes=st.lists(st.tuples(st.integers(60, 150), st.integers(192, 240), st.integers(4, 30)), max_size=3),
    thick=st.sampled_from([1.0, 2.2, 3.0, 4.5]),
)
def test_what_stands_beside_a_sheath_by_shapely(
    handle: tuple[float, float], leather: float, behind: bool, boxes: list[tuple[int, int, int]], thick: float
) -> None:
    """Patches on the face, none on another, above the sheath's own leather: told where they lie over half a
    millimetre in a handle on that side, in plan as in height."""
    wide, long = handle
    knife = KNIFE.replace("26, 18, 90", f"{wide}, 18, {long}")
    text = BACK + SHEATH + ("behind = true\n" if behind else "") + THIN.replace("1.2", str(leather)) + knife
    placed = [shapely.box(x, y, x + size, y + size) for x, y, size in boxes]
    assume(not any(one.intersects(other) for one, other in combinations(placed, 2)))
    for number, each in enumerate(placed):
        text += patch(each.bounds, thick, f"patch {number}")
    middle = pi / 4 * (3 + leather) + 11
    middle = 100 + (-middle if behind else middle)
    area = shapely.box(middle - wide / 2, 162, middle + wide / 2, 162 + long)
    expected = set()
    for number, each in enumerate(placed):
        left, low, right, top = each.bounds
        deep = min(area.bounds[2] - left, right - area.bounds[0], area.bounds[3] - low, top - area.bounds[1])
        assume(abs(deep - 0.5) > 0.01)
        if not behind and deep > 0.5 and thick - leather > 0.5:
            expected.add(f'"patch {number}"')
    found = {clash.other for clash in article_of(text).clashes if clash.key == "clash/over"}
    assert found == expected


FLAP = """
[[piece]]
name = "flap"
rectangle = [150, 220]
on = "back"
at = [175, 240]
behind = true
turned_over = true
folds = { over = [[0, 20], [150, 20]] }
[[seam]]
name = "flap"
runs = ["back: hang", "flap"]
"""
SNAP = """
[[opening]]
name = "{name}"
kind = "snap"
hole = 4
cap = 10
through = ["{through}"]
at = [[{at}]]
mate = "{mate}"
"""


def test_a_flap_goes_over_the_handle() -> None:
    """From the fold at 260, behind the back of 2.4, over the handle's corners, 20.4 high at 252 and 162, and
    the blade's lower end, 5.4 at 52, to the stud at 30: and half of the turn of the leather's middle."""
    halves = SNAP.format(name="cap", through="flap", at="75, 210", mate="stud")
    halves += SNAP.format(name="stud", through="back", at="100, 30", mate="cap")
    back = BACK + "lines = { hang = [[40, 250], [160, 250]] }\n"
    article = article_of(back + SHEATH + KNIFE + FLAP + halves)
    (figure,) = article.figures
    (closing,) = closings(article.punched.pattern, figure, heights_of(figure.bodies))
    way = shapely.LineString([(0, -2.4), (8, 20.4), (98, 20.4), (208, 5.4), (230, 0)]).length
    assert closing.least == pytest.approx(way + pi / 2 * 1.2, abs=0.2)
    assert [each.code for each in article.findings] == ["blade-passes", "closes-short"]
