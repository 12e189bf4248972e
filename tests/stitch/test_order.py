"""The order of seams and openings, held to small assemblies whose order the trade knows.

Orders are common practice (trade pages on wallets, bags, sheaths and belts): inner seams before
outer ones, hardware before it is covered, caps after the seams they would foul.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from handkit.errors import ProjectError

Make = Callable[[str], Any]

FLAP = """
[[piece]]
name = "flap"
rectangle = [180, 120]
on = "back"
at = [10, 136]
[[seam]]
name = "flap"
runs = ["flap: C-D", "back"]
"""

LABEL = """
[[piece]]
name = "label"
rectangle = [60, 40]
on = "front"
at = [40, 40]
[[seam]]
name = "label"
runs = ["label: D-A-B-C", "front"]
"""

LOOP = """
[[piece]]
name = "loop"
rectangle = [30, 120]
on = "back"
at = [85, 60]
behind = true
flat = false
[[seam]]
name = "loop, head"
runs = ["back: head", "loop: C-D"]
[[seam]]
name = "loop, foot"
runs = ["back: foot", "loop: A-B"]
"""


def rivet(name: str, through: str, at: str) -> str:
    return f"""
[[opening]]
name = "{name}"
kind = "rivet"
hole = 3
cap = 9
through = {through}
at = {at}
"""


def with_lines(text: str) -> str:
    """The back with the two inner lines a loop is sewn on."""
    lines = "lines = { head = [[111, 176], [89, 176]], foot = [[89, 64], [111, 64]] }"
    return text.replace("[200, 260]", f"[200, 260]\n{lines}")


def test_a_flap_in_one_row_closes_nothing_but_is_hung_on_last(planned: Make, pocket: str) -> None:
    told = planned(pocket + FLAP)
    assert told.tasks == ["front", "flap"]
    assert told.plan.seams[1].after[0].why == '"flap" would lie in front of the holes'
    first = planned(pocket + 'after = ["flap"]\n' + FLAP)
    assert first.tasks == ["flap", "front"]  # for it can be bent aside
    assert [str(finding) for finding in first.plan.findings] == [
        'p.toml:20: note: seam "front": found holes 1 to 7 and 100 to 106 with "flap" in front when worked: '
        '"flap" before "front" (the file says so); bend "flap" aside meanwhile [way-not-free]'
    ]


def test_a_flap_in_a_gentle_bow_is_still_one_row(planned: Make, pocket: str) -> None:
    """The arc's 8 mm over 180 mm turn by 20 degrees, less than a corner (worked out by hand)."""
    bowed = FLAP.replace("at = [10, 136]", 'at = [10, 130]\narc = { "C-D" = 8 }')
    stud = rivet("stud", '["back"]', "[[100, 240]]")
    told = planned(pocket + bowed + stud)
    assert told.tasks == ["front", "stud", "flap"]
    assert not told.plan.findings
    first = planned(pocket + 'after = ["flap"]\n' + bowed + stud)
    assert [(finding.code, finding.severity) for finding in first.plan.findings] == [("way-not-free", "note")]


def test_a_flap_in_two_rows_close_together_closes_only_what_is_between(planned: Make, pocket: str) -> None:
    second = '[[seam]]\nname = "flap, again"\nruns = [{ run = "flap: C-D", inset = 10 }, "back"]\n'
    told = planned(pocket + 'after = ["flap", "flap, again"]\n' + FLAP + second)
    assert told.tasks == ["flap", "flap, again", "front"]  # no circle: the front's seam is not between


def test_what_is_on_the_pocket_comes_before_the_pocket(planned: Make, pocket: str) -> None:
    told = planned(pocket + LABEL)
    assert told.tasks == ["label", "front"]
    assert told.plan.seams[1].after[0].why == '"back" would lie behind the holes'


def test_a_rivet_under_a_pocket_is_set_before(planned: Make, pocket: str) -> None:
    told = planned(pocket + rivet("strap rivet", '["back"]', "[[100, 90]]"))
    assert told.tasks == ["strap rivet", "front"]
    assert told.after("front") == ["strap rivet"]


def test_a_rivet_through_the_seams_own_layers_comes_after(planned: Make, pocket: str) -> None:
    corners = rivet("corners", '["front", "back"]', "[[9, 141], [131, 141]]")
    told = planned(pocket.replace("[[seam]]", corners + "[[seam]]"))
    assert told.tasks == ["front", "corners"]
    assert told.plan.openings[0].after[0].why == "caps would foul the clamp and the iron"


def test_a_rivet_beside_a_pocket_waits_for_no_closing(planned: Make, pocket: str) -> None:
    told = planned(pocket + rivet("handle", '["back"]', "[[100, 230]]"))
    assert told.tasks == ["front", "handle"]


def test_a_loop_on_the_outside_comes_before_the_pocket_inside(planned: Make, pocket: str) -> None:
    told = planned(with_lines(pocket) + LOOP)
    assert told.tasks[-1] == "front"
    assert told.after("front") == ["loop, foot"]  # the head stands above the front's mouth


def holder_strap(head: str, first: str = "") -> str:
    """Five lines over a label; `first` is written into the first row's seam."""
    rows = [f"row{k}" for k in range(5)]
    lines = ", ".join(f"{row} = [[{20 + 40 * k}, 104], [{20 + 40 * k}, 128]]" for k, row in enumerate(rows))
    bays = ", ".join(f"{row} = [[{8 + 50 * k}, 4], [{8 + 50 * k}, 28]]" for k, row in enumerate(rows))
    seams = [f'[[seam]]\nname = "{row}"\nruns = ["strap: {row}", "back: {row}"]\n' for row in rows]
    return (
        head
        + f'[[piece]]\nname = "back"\nrectangle = [200, 200]\nlines = {{ {lines} }}\n'
        + f'[[piece]]\nname = "strap"\nrectangle = [216, 32]\nlines = {{ {bays} }}\n'
        + 'on = "back"\nat = [12, 100]\nflat = false\n'
        + '[[piece]]\nname = "label"\nrectangle = [30, 20]\non = "back"\nat = [65, 106]\n'
        + "".join((seams[0], first, *seams[1:]))
        + f'[[seam]]\nname = "label"\nruns = ["label: A-B-C-D-A", "back"]\n{"" if not first else AFTER_ROW0}'
    )


AFTER_ROW0 = 'after = ["row0"]\n'


def test_what_lies_under_a_holder_strap_comes_before_all_its_rows(planned: Make, head: str) -> None:
    told = planned(holder_strap(head))
    assert all(told.after(f"row{k}") == ["label"] for k in range(5))
    assert told.tasks == ["label", "row0", "row1", "row2", "row3", "row4"]


def test_a_holder_strap_may_hang_by_its_first_row_where_it_must(planned: Make, head: str) -> None:
    told = planned(holder_strap(head, first="bowed = true\n"))
    assert told.tasks == ["row0", "label", "row1", "row2", "row3", "row4"]
    assert told.after("label") == ["row0"]


def test_a_gusset_closes_what_is_on_it_and_on_its_panels(planned: Make, head: str) -> None:
    box = (
        head
        + '[[piece]]\nname = "back"\nrectangle = [120, 100]\n'
        + '[[piece]]\nname = "front"\nrectangle = [120, 100]\n'
        + '[[piece]]\nname = "gusset"\nrectangle = [296, 40]\non = "back"\nflat = false\n'
        + "at = [0, 0]\n"
        + '[[piece]]\nname = "label"\nrectangle = [60, 40]\non = "front"\nat = [30, 30]\n'
        + '[[seam]]\nname = "front, gusset"\nruns = ["front: D-A-B-C", "gusset: A-B"]\nbowed = true\n'
        + '[[seam]]\nname = "back, gusset"\nruns = ["back: D-A-B-C", "gusset: D-C"]\nbowed = true\n'
        + '[[seam]]\nname = "label"\nruns = ["label: D-A-B-C", "front"]\n'
        + rivet("ring", '["gusset"]', "[[148, 20]]")
    )
    told = planned(box)
    assert told.tasks == ["ring", "label", "front, gusset", "back, gusset"]  # flat as long as may be
    assert told.after("front, gusset") == ["ring", "label"]
    assert told.after("back, gusset") == ["ring"]


def test_a_tube_closes_what_is_inside_it(planned: Make, head: str) -> None:
    """A sheath of one piece, folded and sewn: its belt loop's rivets come first."""
    told = planned(
        head
        + '[[piece]]\nname = "sheath"\nrectangle = [100, 160]\nfolds = { spine = [[50, 0], [50, 160]] }\n'
        + '[[seam]]\nname = "side"\nruns = ["sheath: D-A", "sheath: C-B"]\n'
        + rivet("loop rivets", '["sheath"]', "[[25, 100], [25, 130]]")
    )
    assert told.tasks == ["loop rivets", "side"]
    assert told.kinds().index("fold") == told.kinds().index("seam") - 1
    assert told.plan.seams[0].after[0].why == '"sheath" closes round it'


def test_a_mouths_hem_comes_before_the_pocket(planned: Make, pocket: str) -> None:
    """Facings and hems of an upper edge before it is fitted (a bag page)."""
    hem = '[[piece]]\nname = "hem"\nrectangle = [116, 12]\non = "front"\nat = [12, 138]\n'
    seam = '[[seam]]\nname = "hem"\nruns = ["hem: C-D", "front"]\n'
    told = planned(pocket + hem + seam)
    assert told.tasks == ["hem", "front"]
    assert told.after("front") == ["hem"]


def test_a_rim_asks_for_nothing_that_cannot_be(planned: Make, head: str) -> None:
    """A sheath sewn down by one leaf, 5 mm beside the seam that then closes it round."""
    leaf = "box = [[9, 20], [41, 20], [41, 140], [9, 140], [9, 20]]"
    told = planned(
        head
        + '[[piece]]\nname = "back"\nrectangle = [200, 260]\n'
        + f'[[piece]]\nname = "sheath"\nrectangle = [100, 160]\nlines = {{ {leaf} }}\n'
        + 'folds = { spine = [[50, 0], [50, 160]] }\non = "back"\nat = [30, 30]\n'
        + '[[seam]]\nname = "side"\nruns = ["sheath: D-A", "sheath: C-B"]\n'
        + '[[seam]]\nname = "leaf"\nruns = ["sheath: box", "back"]\n'
    )
    assert told.tasks == ["leaf", "side"]
    assert told.after("side") == ["leaf"]


def test_a_glued_lining_closes_before_it_is_stitched(planned: Make, pocket: str) -> None:
    lining = (
        '[[piece]]\nname = "lining"\nrectangle = [124, 138]\non = "front"\nbehind = true\nglued = true\n'
        'at = [8, 12]\n[[seam]]\nname = "mouth"\n'
        'runs = [{ run = "front: C-D", from_start = 12, from_end = 12 }, "lining"]\n'
    )
    told = planned(pocket + lining + rivet("stud", '["front"]', "[[70, 120]]"))
    assert told.tasks == ["stud", "lining", "mouth", "front"]
    assert "stud" in told.after("mouth")


def test_a_glued_label_under_a_pocket_is_glued_first(planned: Make, pocket: str) -> None:
    label = '[[piece]]\nname = "care label"\nrectangle = [40, 30]\non = "back"\nat = [80, 60]\nglued = true\n'
    told = planned(pocket.replace('[[piece]]\nname = "front"', label + '[[piece]]\nname = "front"'))
    assert told.tasks == ["care label", "front"]
    assert told.after("front") == []  # gluings are steps, and no seam's or opening's name


def test_a_box_at_one_end_of_a_tab_leaves_the_other_free(planned: Make, pocket: str) -> None:
    tab = (
        '[[piece]]\nname = "tab"\nrectangle = [30, 100]\non = "back"\nat = [85, 150]\n'
        "lines = { box = [[6, 76], [24, 76], [24, 94], [6, 94], [6, 76]] }\n"
        '[[seam]]\nname = "tab"\nruns = ["tab: box", "back"]\n'
    )
    under_box = rivet("under the box", '["back"]', "[[100, 235]]")
    tag = '[[piece]]\nname = "tag"\nrectangle = [20, 20]\non = "back"\nat = [90, 190]\n'
    at_end = '[[seam]]\nname = "tag"\nruns = ["tag: A-B", "back"]\nafter = ["tab"]\n'
    told = planned(pocket + tag + tab + under_box + at_end)
    assert told.after("tab") == ["under the box"]
    assert told.after("tag") == ["tab"]


def test_a_slot_that_stands_on_its_foot_comes_before_the_pocket_over_it(planned: Make, pocket: str) -> None:
    """Card slots: their feet are sewn first."""
    slot = '[[piece]]\nname = "slot"\nrectangle = [120, 80]\non = "back"\nat = [40, 70]\n'
    text = pocket.replace('[[piece]]\nname = "front"', slot + '[[piece]]\nname = "front"')
    told = planned(text + '[[seam]]\nname = "foot"\nruns = ["slot: A-B", "back"]\n')
    assert told.tasks == ["foot", "front"]
    assert told.after("front") == ["foot"]


def test_what_hangs_in_a_pocket_comes_before_it(planned: Make, head: str) -> None:
    """A divider hangs in a bowed front by one row; the front does not lie over its label."""
    lines = "{ left = [[30, 165], [30, 20]], foot = [[30, 20], [170, 20]], right = [[170, 20], [170, 165]], "
    lines += "rail = [[146, 126], [54, 126]] }"
    told = planned(
        head
        + f'[[piece]]\nname = "back"\nrectangle = [200, 200]\nlines = {lines}\n'
        + '[[piece]]\nname = "front"\nrectangle = [148, 153]\non = "back"\nat = [26, 16]\nflat = false\n'
        + '[[piece]]\nname = "divider"\nrectangle = [100, 90]\non = "back"\nat = [50, 40]\nflat = false\n'
        + '[[piece]]\nname = "label"\nrectangle = [40, 30]\non = "divider"\nat = [30, 30]\n'
        + '[[seam]]\nname = "left"\nruns = ["front: D-A", "back: left"]\nbowed = true\n'
        + '[[seam]]\nname = "foot"\nruns = ["front: A-B", "back: foot"]\n'
        + '[[seam]]\nname = "right"\nruns = ["front: B-C", "back: right"]\nbowed = true\n'
        + '[[seam]]\nname = "divider"\nruns = ["divider: C-D", "back: rail"]\n'
        + '[[seam]]\nname = "label"\nruns = ["label: D-A-B-C", "divider"]\n'
    )
    assert told.tasks[0] == "label"
    assert told.after("foot") == ["label", "divider"]


def test_plain_holes_are_cut_first(planned: Make, pocket: str) -> None:
    slot = '[[opening]]\nname = "strap slot"\nkind = "slot"\nslot = [30, 4]\n'
    slot += 'through = ["back"]\nat = [[100, 240]]\n'
    told = planned(pocket + LABEL + slot)
    assert told.tasks == ["strap slot", "label", "front"]
    assert told.kinds().index("opening") == told.kinds().index("mark") + 1


def test_the_file_may_say_what_comes_first(planned: Make, pocket: str) -> None:
    told = planned(pocket + 'after = ["flap"]\n' + FLAP)
    assert told.tasks == ["flap", "front"]
    assert [(b.name, b.why) for b in told.plan.seams[1].after] == [("flap", "the file says so")]


def test_a_circle_names_its_members(planned: Make, pocket: str) -> None:
    with pytest.raises(ProjectError) as refused:
        planned(pocket + LABEL + 'after = ["front"]\n')
    assert str(refused.value) == (
        'p.toml:32: error: seam "label": after: found a circle in the order of work: "front" before "label" '
        '(the file says so), "label" before "front" ("back" would lie behind the holes); allowed: an order '
        'that can be worked; take "front" out of the "after" of "label" [order-circle]'
    )


def test_a_circle_of_the_geometry_names_what_may_be_done(planned: Make, pocket: str) -> None:
    """A loop over the pocket's side seam, whose rivets the pocket covers."""
    loop = '[[piece]]\nname = "loop"\nrectangle = [40, 120]\non = "back"\nat = [14, 60]\n'
    loop += "behind = true\nflat = false\n"
    rivets = rivet("loop", '["back", "loop"]', "[[24, 70], [44, 70], [24, 190], [44, 190]]")
    places = "places = { loop = [[10, 10], [30, 10], [10, 110], [30, 110]] }\n"
    with pytest.raises(ProjectError) as refused:
        planned(pocket + loop + rivets + places)
    assert str(refused.value) == (
        'p.toml:20: error: seam "front": found a circle in the order of work: "front" before "loop" ("back" '
        'and "loop" close it in), "loop" before "front" ("front" would lie in front of the holes); allowed: '
        "an order that can be worked; sew one of them as several seams, so that its first row may come early "
        "[order-circle]"
    )


def test_a_circle_of_a_gluing_says_what_may_be_left_unglued(planned: Make, pocket: str) -> None:
    """A lining glued behind the front hides the label's stitches, and is sewn where the label covers."""
    lining = '[[piece]]\nname = "lining"\nrectangle = [124, 138]\non = "front"\nbehind = true\nglued = true\n'
    lining += "at = [8, 12]\nlines = { rib = [[52, 50], [72, 50]] }\n"
    rib = '[[seam]]\nname = "rib"\nruns = ["lining: rib", "front"]\n'
    with pytest.raises(ProjectError) as refused:
        planned(pocket + LABEL + lining + rib)
    assert str(refused.value) == (
        'p.toml:32: error: piece "lining": found a circle in the order of work: gluing "lining" before "rib" '
        '("lining" is glued down before it is held), "rib" before "label" ("label" would lie in front of the '
        'holes), "label" before gluing "lining" ("lining" would lie behind the holes); allowed: an order '
        'that can be worked; leave "lining" unglued, or let the seams pass through it [order-circle]'
    )
